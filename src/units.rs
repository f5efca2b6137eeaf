//! Amounts and money: exact, checked, in the units people said.
//!
//! An amount is a reduced fraction in a named unit; grams and millilitres are derived from it and
//! rounded once, here. Money is a whole number of minor units. No floating point anywhere.
//!
//! # Source
//! Customary factors: NIST Handbook 44 (2024), appendix C, and NIST SP 1290 (2024); exact by
//! definition where the pound (0.45359237 kg) and the US gallon (3.785411784 L) define them.

use std::cmp::Ordering;
use std::fmt;

use serde::{Deserialize, Serialize};

/// An exact non-float number: a reduced fraction with a positive denominator.
///
/// Every operation is checked: a result that does not fit is `None`, never a wrap or a rounding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "(i64, i64)", into = "(i64, i64)")]
pub struct Ratio {
    num: i64,
    den: i64,
}

impl Ratio {
    pub const ZERO: Ratio = Ratio { num: 0, den: 1 };
    pub const ONE: Ratio = Ratio { num: 1, den: 1 };

    /// `num / den`, reduced; `None` when `den` is zero or the reduced fraction does not fit.
    pub fn new(num: i64, den: i64) -> Option<Ratio> {
        Ratio::reduce(i128::from(num), i128::from(den))
    }

    pub const fn whole(num: i64) -> Ratio {
        Ratio { num, den: 1 }
    }

    fn reduce(num: i128, den: i128) -> Option<Ratio> {
        if den == 0 {
            return None;
        }
        let divisor = gcd(num.unsigned_abs(), den.unsigned_abs());
        let sign = if den < 0 { -1 } else { 1 };
        let divisor = i128::try_from(divisor).ok()? * sign;
        Some(Ratio {
            num: i64::try_from(num / divisor).ok()?,
            den: i64::try_from(den / divisor).ok()?,
        })
    }

    /// A decimal as written (`"1.5"`, `".25"`, `"12"`), read exactly; `None` for anything else.
    pub fn from_decimal(text: &str) -> Option<Ratio> {
        let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
        if whole.len() + fraction.len() == 0 || fraction.len() > 12 || whole.len() > 18 {
            return None;
        }
        if !(whole.bytes().chain(fraction.bytes())).all(|b| b.is_ascii_digit()) {
            return None;
        }
        let digits: i128 = format!("{whole}{fraction}").parse().ok()?;
        Ratio::reduce(digits, 10_i128.pow(u32::try_from(fraction.len()).ok()?))
    }

    pub fn numer(self) -> i64 {
        self.num
    }

    pub fn denom(self) -> i64 {
        self.den
    }

    pub fn is_positive(self) -> bool {
        self.num > 0
    }

    pub fn is_zero(self) -> bool {
        self.num == 0
    }

    pub fn checked_add(self, other: Ratio) -> Option<Ratio> {
        let (a, b, c, d) = self.wide(other);
        Ratio::reduce(a * d + c * b, b * d)
    }

    pub fn checked_sub(self, other: Ratio) -> Option<Ratio> {
        let (a, b, c, d) = self.wide(other);
        Ratio::reduce(a * d - c * b, b * d)
    }

    pub fn checked_mul(self, other: Ratio) -> Option<Ratio> {
        let (a, b, c, d) = self.wide(other);
        Ratio::reduce(a * c, b * d)
    }

    /// `None` when `other` is zero.
    pub fn checked_div(self, other: Ratio) -> Option<Ratio> {
        let (a, b, c, d) = self.wide(other);
        Ratio::reduce(a * d, b * c)
    }

    /// Rounded to the nearest whole number, halves away from zero.
    pub fn rounded(self) -> i64 {
        let (num, den) = (i128::from(self.num), i128::from(self.den));
        let magnitude = (num.abs() * 2 + den) / (den * 2);
        // The magnitude is at most |num| + 1/2, so it fits wherever `num` did.
        i64::try_from(magnitude * num.signum()).unwrap_or(i64::MAX)
    }

    /// The nearest double, for printing as a JSON number and for the keeping model. Lossy.
    pub fn to_f64(self) -> f64 {
        self.num as f64 / self.den as f64
    }

    fn wide(self, other: Ratio) -> (i128, i128, i128, i128) {
        (self.num.into(), self.den.into(), other.num.into(), other.den.into())
    }
}

fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

impl PartialOrd for Ratio {
    fn partial_cmp(&self, other: &Ratio) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ratio {
    fn cmp(&self, other: &Ratio) -> Ordering {
        let (a, b, c, d) = self.wide(*other);
        (a * d).cmp(&(c * b))
    }
}

impl TryFrom<(i64, i64)> for Ratio {
    type Error = &'static str;

    fn try_from((num, den): (i64, i64)) -> Result<Ratio, Self::Error> {
        Ratio::new(num, den).ok_or("a fraction needs a denominator other than zero")
    }
}

impl From<Ratio> for (i64, i64) {
    fn from(ratio: Ratio) -> (i64, i64) {
        (ratio.num, ratio.den)
    }
}

/// `3`, `1/2`, `2 1/4`: the plain text of a fraction.
impl fmt::Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, rest) = (self.num / self.den, (self.num % self.den).abs());
        match (whole, rest) {
            (w, 0) => write!(f, "{w}"),
            (0, _) => write!(f, "{}/{}", self.num, self.den),
            (w, r) => write!(f, "{w} {r}/{}", self.den),
        }
    }
}

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Derived in grams.
    Mass,
    /// Derived in millilitres.
    Volume,
    /// Kitchen counts: pieces, bunches, cans. Their weight depends on the food.
    Count,
}

/// Declares the units: variant, printed singular word, dimension, exact factor to g or ml.
macro_rules! units {
    ($($variant:ident = $word:literal $dim:ident $num:literal / $den:literal),+ $(,)?) => {
        /// A unit people say. The printed word is singular English and stable.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum Unit { $(#[serde(rename = $word)] $variant),+ }

        impl Unit {
            pub const ALL: &'static [Unit] = &[$(Unit::$variant),+];

            pub fn word(self) -> &'static str {
                match self { $(Unit::$variant => $word),+ }
            }

            pub fn from_word(word: &str) -> Option<Unit> {
                match word { $($word => Some(Unit::$variant),)+ _ => None }
            }

            pub fn dimension(self) -> Dimension {
                match self { $(Unit::$variant => Dimension::$dim),+ }
            }

            /// Exact grams or millilitres in one of this unit; 1 for kitchen counts.
            fn factor(self) -> Ratio {
                match self { $(Unit::$variant => Ratio { num: $num, den: $den }),+ }
            }
        }
    };
}

units! {
    Gram = "gram" Mass 1 / 1,
    Kilogram = "kilogram" Mass 1000 / 1,
    Milligram = "milligram" Mass 1 / 1000,
    Ounce = "ounce" Mass 45359237 / 1600000,
    Pound = "pound" Mass 45359237 / 100000,
    Stone = "stone" Mass 317514659 / 50000,
    Milliliter = "milliliter" Volume 1 / 1,
    Centiliter = "centiliter" Volume 10 / 1,
    Deciliter = "deciliter" Volume 100 / 1,
    Liter = "liter" Volume 1000 / 1,
    Teaspoon = "teaspoon" Volume 157725491 / 32000000,
    Tablespoon = "tablespoon" Volume 473176473 / 32000000,
    FluidOunce = "fluid ounce" Volume 473176473 / 16000000,
    Cup = "cup" Volume 473176473 / 2000000,
    Pint = "pint" Volume 473176473 / 1000000,
    Quart = "quart" Volume 473176473 / 500000,
    Gallon = "gallon" Volume 473176473 / 125000,
    Piece = "piece" Count 1 / 1,
    Dozen = "dozen" Count 12 / 1,
    Bunch = "bunch" Count 1 / 1,
    Head = "head" Count 1 / 1,
    Bulb = "bulb" Count 1 / 1,
    Clove = "clove" Count 1 / 1,
    Stalk = "stalk" Count 1 / 1,
    Rib = "rib" Count 1 / 1,
    Stick = "stick" Count 1 / 1,
    Spear = "spear" Count 1 / 1,
    Sprig = "sprig" Count 1 / 1,
    Leaf = "leaf" Count 1 / 1,
    Ear = "ear" Count 1 / 1,
    Slice = "slice" Count 1 / 1,
    Wedge = "wedge" Count 1 / 1,
    Handful = "handful" Count 1 / 1,
    Pinch = "pinch" Count 1 / 1,
    Dash = "dash" Count 1 / 1,
    Drop = "drop" Count 1 / 1,
    Scoop = "scoop" Count 1 / 1,
    Shot = "shot" Count 1 / 1,
    Jigger = "jigger" Count 1 / 1,
    Part = "part" Count 1 / 1,
    Inch = "inch" Count 1 / 1,
    Can = "can" Count 1 / 1,
    Jar = "jar" Count 1 / 1,
    Bottle = "bottle" Count 1 / 1,
    Carton = "carton" Count 1 / 1,
    Tube = "tube" Count 1 / 1,
    Tub = "tub" Count 1 / 1,
    Pot = "pot" Count 1 / 1,
    Package = "package" Count 1 / 1,
    Container = "container" Count 1 / 1,
    Envelope = "envelope" Count 1 / 1,
    Sheet = "sheet" Count 1 / 1,
    Bag = "bag" Count 1 / 1,
    Sack = "sack" Count 1 / 1,
    Box = "box" Count 1 / 1,
    Crate = "crate" Count 1 / 1,
    Case = "case" Count 1 / 1,
    Basket = "basket" Count 1 / 1,
    Bucket = "bucket" Count 1 / 1,
    Punnet = "punnet" Count 1 / 1,
    Tray = "tray" Count 1 / 1,
    Net = "net" Count 1 / 1,
    Bowl = "bowl" Count 1 / 1,
    Plate = "plate" Count 1 / 1,
    Glass = "glass" Count 1 / 1,
    Loaf = "loaf" Count 1 / 1,
    Roll = "roll" Count 1 / 1,
    Block = "block" Count 1 / 1,
    Brick = "brick" Count 1 / 1,
    Bar = "bar" Count 1 / 1,
    Cube = "cube" Count 1 / 1,
    Knob = "knob" Count 1 / 1,
    Portion = "portion" Count 1 / 1,
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// An exact amount in the unit people said. A plain piece count has no unit (`None`).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Quantity {
    pub value: Ratio,
    pub unit: Option<Unit>,
}

impl Quantity {
    pub fn new(value: Ratio, unit: Option<Unit>) -> Quantity {
        Quantity { value, unit }
    }

    pub fn dimension(self) -> Dimension {
        self.unit.map_or(Dimension::Count, Unit::dimension)
    }

    /// Exact grams, when the unit is one of mass.
    pub fn grams(self) -> Option<Ratio> {
        self.base_if(Dimension::Mass)
    }

    /// Exact millilitres, when the unit is one of volume.
    pub fn millilitres(self) -> Option<Ratio> {
        self.base_if(Dimension::Volume)
    }

    fn base_if(self, dimension: Dimension) -> Option<Ratio> {
        let unit = self.unit.filter(|unit| unit.dimension() == dimension)?;
        self.value.checked_mul(unit.factor())
    }

    /// The same amount in another unit of the same dimension; counts convert only to themselves
    /// and between pieces and dozens.
    pub fn to_unit(self, unit: Option<Unit>) -> Option<Quantity> {
        if self.unit == unit {
            return Some(self);
        }
        let (from, to) = (self.unit.unwrap_or(Unit::Piece), unit.unwrap_or(Unit::Piece));
        let counts = [Unit::Piece, Unit::Dozen];
        let comparable = from.dimension() == to.dimension()
            && (from.dimension() != Dimension::Count
                || (counts.contains(&from) && counts.contains(&to)));
        if !comparable {
            return None;
        }
        let value = self.value.checked_mul(from.factor())?.checked_div(to.factor())?;
        Some(Quantity { value, unit })
    }

    /// The sum in the unit of `self`; `None` across dimensions or unlike kitchen counts.
    pub fn checked_add(self, other: Quantity) -> Option<Quantity> {
        let value = self.value.checked_add(other.to_unit(self.unit)?.value)?;
        Some(Quantity { value, unit: self.unit })
    }

    /// The difference in the unit of `self`; may be negative; `None` as for [`Self::checked_add`].
    pub fn checked_sub(self, other: Quantity) -> Option<Quantity> {
        let value = self.value.checked_sub(other.to_unit(self.unit)?.value)?;
        Some(Quantity { value, unit: self.unit })
    }
}

/// Money in whole minor units of the household's currency (cents for USD, yen for JPY).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Minor(pub i64);

impl Minor {
    pub fn checked_add(self, other: Minor) -> Option<Minor> {
        self.0.checked_add(other.0).map(Minor)
    }

    /// The price of `share` of something, rounded to the nearest minor unit.
    pub fn times(self, share: Ratio) -> Option<Minor> {
        Ratio::whole(self.0).checked_mul(share).map(|r| Minor(r.rounded()))
    }
}

/// A currency by its ISO 4217 code, which fixes how many decimals a price has.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Currency(String);

impl Currency {
    /// A currency from its code in either case; `None` unless three ASCII letters.
    pub fn new(code: &str) -> Option<Currency> {
        let valid = code.len() == 3 && code.bytes().all(|b| b.is_ascii_alphabetic());
        valid.then(|| Currency(code.to_ascii_uppercase()))
    }

    /// The code of no currency (ISO 4217).
    pub const NONE: &str = "XXX";

    /// No currency said: amounts have two decimals and no symbol.
    pub fn unnamed() -> Currency {
        Currency(Currency::NONE.to_owned())
    }

    pub fn code(&self) -> &str {
        &self.0
    }

    /// Decimal digits of the minor unit.
    ///
    /// # Source
    /// ISO 4217 minor unit exponents; memory.
    pub fn decimals(&self) -> u32 {
        match self.0.as_str() {
            "BIF" | "CLP" | "DJF" | "GNF" | "ISK" | "JPY" | "KMF" | "KRW" | "PYG" | "RWF"
            | "UGX" | "VND" | "VUV" | "XAF" | "XOF" | "XPF" => 0,
            "BHD" | "IQD" | "JOD" | "KWD" | "LYD" | "OMR" | "TND" => 3,
            _ => 2,
        }
    }
}

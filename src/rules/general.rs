//! What is true of every food: the clocks in hours, general limits, refusals, who is at risk.

use serde::Deserialize;

use super::{Cite, Kind, SafetyLimit, Sign};
use crate::units::Ratio;
use crate::words::{FoodId, Verdict};

/// Everything the rule set knows that belongs to no single food.
#[derive(Clone, Debug, PartialEq)]
pub struct General {
    pub left_out: LeftOut,
    pub outage: Outage,
    /// Safety clocks by form and kind ("anything cooked").
    pub limits: Vec<GeneralLimit>,
    /// Signs that mean the same on every food of a kind; a food's own sign comes first.
    pub signs: Vec<GeneralSign>,
    pub guidance: Vec<Guidance>,
    pub at_risk: Vec<AtRisk>,
    pub animals: Vec<AnimalRule>,
    pub poison: Vec<PoisonLine>,
    pub bag: BagRules,
}

/// How long perishable food may stand at room temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeftOut {
    pub minutes: u32,
    /// The limit in great heat, in minutes.
    pub hot_minutes: u32,
    /// Great heat begins here, in degrees Celsius.
    pub hot_above_c: f64,
    pub cite: Cite,
}

/// What a fridge or freezer without power does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outage {
    /// A shut fridge keeps this many hours.
    pub fridge_hours: u32,
    pub freezer_full_hours: u32,
    pub freezer_half_hours: u32,
    /// Perishable food warmer than `warm_above_c` for longer than this is out.
    pub warm_minutes: u32,
    pub warm_above_c: f64,
    pub cite: Cite,
}

/// A safety clock for every food of some kinds in one form.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneralLimit {
    pub kinds: Vec<Kind>,
    pub limit: SafetyLimit,
}

/// A sign on every food of some kinds; no kinds means all.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneralSign {
    pub kinds: Vec<Kind>,
    pub sign: Sign,
}

/// Declares the topics, so that a topic without guidance is a fault the checker can report.
macro_rules! topics {
    ($($(#[$doc:meta])* $variant:ident),+ $(,)?) => {
        /// What a piece of general guidance is about. Every topic has at least one.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub enum Topic { $($(#[$doc])* $variant),+ }

        impl Topic {
            pub const ALL: &'static [Topic] = &[$(Topic::$variant),+];
        }
    };
}

topics! {
    /// The caution under the first safety answer of a chat.
    GeneralCaution,
    /// Somebody has already eaten it.
    EatenAlready,
    UnknownFood,
    UnknownPart,
    Foraged,
    WildMushroom,
    /// Garden, florist and house plants.
    Ornamental,
    /// "Only a little", "just a bite".
    OnlyALittle,
    /// "Grandma always did."
    Tradition,
    /// Tasting or smelling to decide.
    TasteTest,
    LeftOut,
    LeftOutRice,
    PowerCut,
    Flood,
    /// Called back by its maker or an authority.
    Recall,
    Cooling,
    Leftovers,
    CookedRice,
    Reheating,
    SlowCooker,
    Thawing,
    Refreezing,
    FreezerBurn,
    FreezerLife,
    DateBestBefore,
    DateUseBy,
    HomeCanning,
    CanSigns,
    OpenedCan,
    InOil,
    VacuumPacked,
    Fermenting,
    Pickling,
    Drying,
    MouldFirm,
    MouldSoft,
    Slime,
    RawSprouts,
    RawKidneyBeans,
    BitterSquash,
    Pits,
    CutProduce,
    CutInWater,
    StandingInWater,
    PotatoInWater,
    WashBeforeUse,
    WashHow,
    Neighbours,
    Blanching,
    Pets,
    Medicine,
    Infants,
    Pregnancy,
    Allergy,
    Illness,
    Choking,
    HotHolding,
    BakedPotatoInFoil,
    RawMeatApart,
    FrozenVegetables,
    BlanchedWater,
    PotatoWater,
    FridgeTemperature,
    FreezerTemperature,
}

/// One piece of general advice.
#[derive(Clone, Debug, PartialEq)]
pub struct Guidance {
    pub topic: Topic,
    pub verdict: Verdict,
    /// The action and its reason, in a sentence or two.
    pub text: String,
    pub cite: Cite,
}

/// Who must be more careful than others.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Who {
    Infant,
    SmallChild,
    Pregnant,
    OlderPerson,
    WeakImmunity,
    KidneyDisease,
    G6pdDeficiency,
    OnMedicines,
    Allergic,
}

/// A published warning for one group of people.
#[derive(Clone, Debug, PartialEq)]
pub struct AtRisk {
    pub who: Vec<Who>,
    /// Foods of the rule set; empty means food in general.
    pub foods: Vec<FoodId>,
    pub text: String,
    pub cite: Cite,
}

/// What an animal must not be fed.
#[derive(Clone, Debug, PartialEq)]
pub struct AnimalRule {
    /// Words for the animals ("dog", "cat", "hen"); empty means every animal.
    pub animals: Vec<String>,
    pub foods: Vec<FoodId>,
    pub text: String,
    pub cite: Cite,
}

/// What a line is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PoisonRole {
    /// A poison centre or health line that answers the public.
    Poison,
    /// An ambulance.
    Emergency,
    /// For doctors only: shown to nobody, kept so that it is not added by mistake.
    ProfessionalsOnly,
}

/// When a line answers, in the country's own time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hours {
    Always,
    /// Minutes after midnight, from and until, every day.
    Daily {
        from: u16,
        until: u16,
    },
    /// The source names no hours.
    NotStated,
}

/// A number to call.
#[derive(Clone, Debug, PartialEq)]
pub struct PoisonLine {
    /// ISO 3166-1 alpha-2, upper case.
    pub country: String,
    pub role: PoisonRole,
    pub number: String,
    pub name: String,
    pub hours: Hours,
    pub note: Option<String>,
    pub cite: Cite,
}

/// What the trimmings bag takes besides the rows of each food.
#[derive(Clone, Debug, PartialEq)]
pub struct BagRules {
    /// Strong flavours fill at most this share of the bag.
    pub strong_share: Ratio,
    /// Best within this many months in the freezer.
    pub months: u32,
    /// Words that keep a scrap out whatever it is ("mouldy").
    pub refused: Vec<String>,
    pub cite: Cite,
}

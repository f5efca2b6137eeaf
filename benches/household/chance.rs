//! Repeatable chance: every draw is named, so that all ways of eating meet the same world.

/// A stream of draws that follows from the words that named it (SplitMix64, Steele et al. 2014).
#[derive(Clone)]
pub struct Chance(u64);

impl Chance {
    pub fn named(parts: &[u64]) -> Chance {
        let mut chance = Chance(0x9e37_79b9_7f4a_7c15);
        for part in parts {
            chance.0 ^= part.wrapping_mul(0xd134_2543_de82_ef95);
            chance.next();
        }
        chance
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// In (0, 1).
    pub fn share(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    pub fn happens(&mut self, probability: f64) -> bool {
        self.share() < probability
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    pub fn exponential(&mut self) -> f64 {
        -self.share().ln()
    }

    /// Standard normal (Box and Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let (radius, turn) = ((2.0 * self.exponential()).sqrt(), self.share());
        radius * (std::f64::consts::TAU * turn).cos()
    }

    /// Some order of `0..count`.
    pub fn order(&mut self, count: usize) -> Vec<usize> {
        let mut order: Vec<usize> = (0..count).collect();
        for last in (1..count).rev() {
            order.swap(last, (self.next() % (last as u64 + 1)) as usize);
        }
        order
    }
}

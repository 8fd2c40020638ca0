//! Random numbers of one seed: the same on every machine.

/// The splitmix64 recurrence (Steele, Lea, Flood 2014): 64 bits of state, no tables.
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// Starts from a seed.
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    /// The next 64 bits.
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 up to, not including, 1.
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A number between two.
    pub fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.unit()
    }

    /// A whole number below `n`; 0 where `n` is 0.
    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }

    /// Brings a list into a random order.
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for k in (1..list.len()).rev() {
            list.swap(k, self.below(k + 1));
        }
    }
}

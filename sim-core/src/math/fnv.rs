//! FNV-1a (Fowler, Noll, Vo, 1991), 64 bits: digests that are the same on every machine.
//! Not for secrets.

/// A digest being made.
///
/// ```
/// use sim_core::math::Fnv;
///
/// let mut hash = Fnv::new();
/// hash.text("a");
/// // Published test vector of FNV-1a, 64 bits.
/// assert_eq!(hash.finish(), 0xaf63_dc4c_8601_ec8c);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Self {
        Self::new()
    }
}

impl Fnv {
    /// Nothing yet.
    #[must_use]
    pub const fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    /// Adds a byte.
    pub fn byte(&mut self, byte: u8) {
        self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }

    /// Adds bytes.
    pub fn bytes(&mut self, bytes: &[u8]) {
        bytes.iter().for_each(|b| self.byte(*b));
    }

    /// Adds a number.
    pub fn word(&mut self, word: u64) {
        self.bytes(&word.to_le_bytes());
    }

    /// Adds a number, bit by bit.
    pub fn float(&mut self, value: f64) {
        self.word(value.to_bits());
    }

    /// Adds a text.
    pub fn text(&mut self, text: &str) {
        self.bytes(text.as_bytes());
    }

    /// The digest.
    #[must_use]
    pub const fn finish(&self) -> u64 {
        self.0
    }
}

//! A digest of bytes: FNV-1a (Fowler, Noll, Vo), 64 bits.  It tells editions of a file apart;
//! it is no protection against somebody who wants two to agree.

/// A digest as it grows.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fnv1a(u64);

impl Fnv1a {
    /// Of nothing.
    pub(crate) const fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    /// With these bytes behind.
    pub(crate) fn and(self, bytes: &[u8]) -> Self {
        Self(bytes.iter().fold(self.0, |hash, byte| {
            (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
        }))
    }

    /// The digest.
    pub(crate) const fn finish(self) -> u64 {
        self.0
    }

    /// Of these bytes.
    pub(crate) fn of(bytes: &[u8]) -> u64 {
        Self::new().and(bytes).finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Test vectors of the authors' own page (draft-eastlake-fnv), from memory.
    #[test]
    fn published_digests_come_out() {
        assert_eq!(Fnv1a::of(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(Fnv1a::of(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(Fnv1a::of(b"foobar"), 0x8594_4171_f739_67e8);
    }
}

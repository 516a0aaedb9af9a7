//! What can lie between two nodes.
//!
//! Every element is a branch from its first node `a` to its second node `b`.  Its current
//! is positive from `a` through the element to `b`, and its power is what it takes up:
//! S = (V_a − V_b)·conj(I), so that a source that feeds the circuit has a negative one.
//!
//! | Element | I at mains frequency | I at direct current |
//! |---|---|---|
//! | resistance R | V/R | V/R |
//! | impedance Z, R_dc | V/Z | V/R_dc |
//! | series R, L | V/(R + jωL) | V/R (R = 0: ideal link) |
//! | capacitance C | jωC·V | 0 |
//! | voltage source E, Z | (V − E)/Z | (V − E)/Re Z |
//! | current source J | J | J |
//! | winding pair Z (2×2) | Z⁻¹·(V₁, V₂) | V₁/R₁, V₂/R₂ |
//!
//! A source is of one kind; at the other frequency it is its series impedance alone (a
//! current source: nothing), which is what superposition asks for.  A resistance of 0 or a
//! source without series impedance is an ideal link: it needs no tiny resistance, see
//! `assemble`.
//!
//! Leaves out: saturation, harmonics and transients (the plant asks for steady states),
//! and anything that depends on its own current (a lamp, a warm joint): their owners
//! iterate by [`super::Network::set`].

use serde::{Deserialize, Serialize};

use crate::electric::Complex;

/// A place that a probe can touch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct NodeId(pub(super) u32);

/// One element of a network.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ElementId(pub(super) u32);

impl NodeId {
    /// Place in the order of the nodes; the reference is 0.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

impl ElementId {
    /// Place in the order of the elements.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

/// What the circuit is solved for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Frequency {
    /// Steady alternating voltages and currents; RMS phasors.
    Alternating {
        /// Mains frequency [Hz] -- constant.
        hertz: f64,
    },
    /// Direct current; all imaginary parts are 0.
    Direct,
}

impl Frequency {
    /// Mains of North America.
    pub const SIXTY_HERTZ: Self = Self::Alternating { hertz: 60.0 };
    /// Mains of most other places.
    pub const FIFTY_HERTZ: Self = Self::Alternating { hertz: 50.0 };
}

/// Electromotive force, or the current of a current source: of which kind, and how much.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Emf {
    /// RMS phasor.
    Alternating(Complex),
    /// Direct.
    Direct(f64),
}

impl Emf {
    /// The part that acts at a frequency.
    #[inline]
    pub(super) const fn at(self, frequency: Frequency) -> Complex {
        match (self, frequency) {
            (Self::Alternating(phasor), Frequency::Alternating { .. }) => phasor,
            (Self::Direct(value), Frequency::Direct) => Complex::real(value),
            (Self::Alternating(_), Frequency::Direct)
            | (Self::Direct(_), Frequency::Alternating { .. }) => Complex::ZERO,
        }
    }

    const fn is_finite(self) -> bool {
        match self {
            Self::Alternating(phasor) => phasor.is_finite(),
            Self::Direct(value) => value.is_finite(),
        }
    }
}

/// An element from node `a` to node `b`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Element {
    /// An open contact, a broken wire: nothing, but it keeps its name and its place.
    Open,
    /// A resistance: wire, joint, closed contact, insulation [Ω], 0 or more.
    Resistance {
        /// Resistance [Ω] -- input.
        ohm: f64,
    },
    /// An impedance that is known at mains frequency only.
    Impedance {
        /// Impedance at mains frequency [Ω] -- input; not 0.
        mains_ohm: Complex,
        /// Resistance at direct current [Ω] -- input.
        direct_ohm: f64,
    },
    /// A coil: resistance and inductance in series.
    SeriesRl {
        /// Resistance [Ω] -- input.
        ohm: f64,
        /// Inductance [H] -- input.
        henry: f64,
    },
    /// A capacitance, above 0.
    Capacitance {
        /// Capacitance [F] -- input.
        farad: f64,
    },
    /// A voltage source, `a` positive, behind its own impedance; 0 Ω makes it ideal.
    VoltageSource {
        /// Open-circuit voltage V_a − V_b [V] -- input.
        volt: Emf,
        /// Series impedance [Ω] -- input.
        series_ohm: Complex,
    },
    /// A current source: pushes its current through itself from `a` to `b`.
    CurrentSource {
        /// Current [A] -- input.
        ampere: Emf,
    },
    /// First of two coupled windings; always made as a pair, by
    /// [`super::NetworkBuilder::winding_pair`].  The other is the element after it.
    WindingOfPair {
        /// Z of (V₁, V₂) = Z·(I₁, I₂) at mains frequency [Ω] -- input.  It need not be
        /// symmetric: a turning rotor induces unequal voltages either way.
        mains_ohm: [[Complex; 2]; 2],
        /// Winding resistances at direct current [Ω] -- input, above 0.
        direct_ohm: [f64; 2],
    },
    /// Second winding of the pair that the element before it describes.
    OtherOfPair,
}

impl Element {
    /// An alternating voltage source without series impedance.
    #[must_use]
    pub const fn ideal_alternating(volt: Complex) -> Self {
        Self::VoltageSource {
            volt: Emf::Alternating(volt),
            series_ohm: Complex::ZERO,
        }
    }

    /// What is wrong with the values, in a few words.
    pub(super) fn complaint(&self) -> Option<&'static str> {
        let not_negative = |x: f64| x.is_finite() && x >= 0.0;
        let positive = |x: f64| x.is_finite() && x > 0.0;
        let usable = |z: Complex| z.is_finite() && !z.is_zero();
        let (is_good, rule) = match *self {
            Self::Open | Self::OtherOfPair => (true, ""),
            Self::Resistance { ohm } => (not_negative(ohm), "a resistance is 0 ohms or more"),
            Self::Impedance {
                mains_ohm,
                direct_ohm,
            } => (
                usable(mains_ohm) && not_negative(direct_ohm),
                "an impedance is not 0 and its resistance is 0 ohms or more",
            ),
            Self::SeriesRl { ohm, henry } => (
                not_negative(ohm) && not_negative(henry),
                "resistance and inductance are 0 or more",
            ),
            Self::Capacitance { farad } => (positive(farad), "a capacitance is above 0"),
            Self::VoltageSource { volt, series_ohm } => (
                volt.is_finite() && series_ohm.is_finite() && series_ohm.re >= 0.0,
                "a source has a finite voltage and a series resistance of 0 or more",
            ),
            Self::CurrentSource { ampere } => {
                (ampere.is_finite(), "a current source has a finite current")
            }
            Self::WindingOfPair {
                mains_ohm,
                direct_ohm,
            } => (
                mains_ohm.iter().flatten().all(|z| z.is_finite())
                    && inverse_of_pair(&mains_ohm).is_some()
                    && direct_ohm.iter().all(|&r| positive(r)),
                "a winding pair has an impedance matrix with an inverse and resistances above 0",
            ),
        };
        (!is_good).then_some(rule)
    }
}

/// Inverse of a 2×2 matrix, if it has one.
pub(super) fn inverse_of_pair(z: &[[Complex; 2]; 2]) -> Option<[[Complex; 2]; 2]> {
    let determinant = z[0][0] * z[1][1] - z[0][1] * z[1][0];
    let scale = z[0][0].size() * z[1][1].size() + z[0][1].size() * z[1][0].size();
    // Windings coupled to fifteen digits have no leakage that a number could hold.
    if !determinant.is_finite() || determinant.size() <= 1e-14 * scale {
        return None;
    }
    let inverse = determinant.inverse();
    Some([
        [z[1][1] * inverse, -z[0][1] * inverse],
        [-z[1][0] * inverse, z[0][0] * inverse],
    ])
}

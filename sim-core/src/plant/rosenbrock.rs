//! One adaptive, L-stable integration step, with a continuous solution inside it.
//!
//! Method: Rodas3P of G. Steinebach, "Rosenbrock methods within OrdinaryDiffEq.jl –
//! Overview, recent developments and applications", Results in Applied Mathematics 27
//! (2025): five stages, order 3 with an embedded order 2, stiffly accurate, with an
//! interpolant built from the stages.  (An interpolant from end slopes would amplify
//! the error of stiff components by the stiffness; guards are read off it, so that
//! would misplace events.)  Explicit methods were measured 8 to 2,000 times slower on
//! this plant.
//!
//! Stage equations in Wolfbrandt's transformed variables U, with W = I/(hγ) − J:
//!   W·U_i = f(y + Σ a_ij·U_j) + Σ (c_ij/h)·U_j ,  y₁ = y + Σ m_i·U_i .
//!
//! Components come in three kinds, so that a step costs no more than its coupled
//! part: *coupled* ones (full Jacobian block), *followers* (driven by the coupled
//! ones and by themselves alone: lags and running totals, solved by substitution)
//! and *frozen* ones, which do not change in the present mode.

#![allow(
    clippy::needless_range_loop,
    reason = "stage formulas name the same component of several arrays; indices say so"
)]

use serde::{Deserialize, Serialize};

use crate::math;

/// Most coupled components that a system may have.
pub const MAX_COUPLED: usize = 16;

/// A system of autonomous ordinary differential equations y' = f(y).
pub trait System<const N: usize> {
    /// Which components change, and how they hang together.
    fn structure(&self) -> &Structure<N>;

    /// f(y) for coupled components, and the drive g of followers *without*
    /// c·z − λ·y, which the step adds; the rest is ignored.
    fn rates(&self, y: &[f64; N], rates: &mut [f64; N]);

    /// f(y) and its Jacobian: `jacobian[i][k]` is the derivative of the rate of
    /// component i by the k-th *coupled* component, for coupled ones and followers.
    fn linearize(&self, y: &[f64; N], rates: &mut [f64; N], jacobian: &mut [[f64; MAX_COUPLED]; N]);

    /// Size of an error in each component that counts as one.
    fn error_scales(&self, y: &[f64; N], scales: &mut [f64; N]);
}

/// Which components change in the present mode.
#[derive(Debug, Clone, PartialEq)]
pub struct Structure<const N: usize> {
    /// Components whose rates depend on each other, at most [`MAX_COUPLED`].
    pub coupled: Vec<usize>,
    /// Components driven by the coupled ones, in an order in which each comes after the
    /// follower that it follows.
    pub followers: Vec<Follower>,
    /// Typical magnitude of each component, to balance the linear solve.
    pub typical: [f64; N],
}

/// A component that drives no coupled one: y' = g(coupled) + c·z − λ·y, with z another
/// follower.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Follower {
    /// Which component.
    pub index: usize,
    /// Rate λ of its own decay [1/s].
    pub decay: f64,
    /// The follower z that it follows, and the factor c [1/s].
    pub follows: Option<(usize, f64)>,
}

impl Follower {
    /// A running total.
    #[must_use]
    pub const fn total(index: usize) -> Self {
        Self::lag(index, 0.0)
    }

    /// A lag behind the coupled components.
    #[must_use]
    pub const fn lag(index: usize, decay: f64) -> Self {
        Self {
            index,
            decay,
            follows: None,
        }
    }
}

/// A completed step: both ends and everything between.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Step<const N: usize> {
    /// Length [s].
    pub h: f64,
    /// State at its start.
    #[serde(with = "numbers")]
    pub start: [f64; N],
    /// State at its end.
    #[serde(with = "numbers")]
    pub end: [f64; N],
    #[serde(with = "numbers")]
    bend: [f64; N],
    #[serde(with = "numbers")]
    twist: [f64; N],
}

/// Arrays of any length as sequences: serde itself stops at generic lengths.
mod numbers {
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(super) fn serialize<S: Serializer, const N: usize>(
        numbers: &[f64; N],
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        numbers.as_slice().serialize(serializer)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>, const N: usize>(
        deserializer: D,
    ) -> Result<[f64; N], D::Error> {
        let numbers = Vec::<f64>::deserialize(deserializer)?;
        let found = numbers.len();
        numbers
            .try_into()
            .map_err(|_| D::Error::custom(format!("{found} numbers where {N} belong")))
    }
}

impl<const N: usize> Step<N> {
    /// A step of no length.
    #[must_use]
    pub fn resting(y: [f64; N]) -> Self {
        Self {
            h: 0.0,
            start: y,
            end: y,
            bend: [0.0; N],
            twist: [0.0; N],
        }
    }

    /// The same changes of state from another state on, that lies not far off; what a lag
    /// is off by dies away as it would.
    #[must_use]
    pub fn moved_to(&self, start: &[f64; N], lags: impl Iterator<Item = Follower>) -> Self {
        let mut moved = self.clone();
        for i in 0..N {
            moved.start[i] = start[i];
            moved.end[i] = start[i] + (self.end[i] - self.start[i]);
        }
        for Follower {
            index: i,
            decay,
            follows,
        } in lags.filter(|lag| lag.decay > 0.0)
        {
            let x = decay * self.h;
            // exp(-x) to the second order from above: it never changes sign.
            let stays = 1.0 / (1.0 + x * (1.0 + 0.5 * x));
            let mut off = (start[i] - self.start[i]) * stays;
            if let Some((z, factor)) = follows {
                off += (start[z] - self.start[z]) * (1.0 - stays) * factor / decay;
            }
            moved.end[i] = self.end[i] + off;
        }
        moved
    }

    /// State at the share `theta` (0 to 1) of the step.
    #[must_use]
    pub fn at(&self, theta: f64) -> [f64; N] {
        let mut y = [0.0; N];
        for (i, yi) in y.iter_mut().enumerate() {
            *yi = self.component_at(i, theta);
        }
        y
    }

    /// One component at the share `theta` of the step.
    #[inline]
    #[must_use]
    pub fn component_at(&self, i: usize, theta: f64) -> f64 {
        let rest = 1.0 - theta;
        rest * self.start[i] + theta * (self.end[i] + rest * (self.bend[i] + theta * self.twist[i]))
    }
}

/// Work done, for tests that pin it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
pub struct Work {
    /// Steps taken.
    pub accepted: u64,
    /// Steps thrown away because their error was too large or not a number.
    pub rejected: u64,
    /// Evaluations of f.
    pub rates: u64,
    /// Steps repeated from a fast cycle on record, beside those taken.
    pub repeated: u64,
}

impl std::ops::AddAssign for Work {
    fn add_assign(&mut self, o: Self) {
        self.accepted += o.accepted;
        self.rejected += o.rejected;
        self.rates += o.rates;
        self.repeated += o.repeated;
    }
}

const GAMMA: f64 = 1.0 / 3.0;
const A21: f64 = 4.0 / 3.0;
const A41: f64 = 2.90625;
const A42: f64 = 3.375;
const A43: f64 = 0.40625;
const C21: f64 = -4.0;
const C31: f64 = 8.25;
const C32: f64 = 6.75;
const C41: f64 = 1.21875;
const C42: f64 = -5.0625;
const C43: f64 = -1.96875;
const C51: f64 = 4.03125;
const C52: f64 = -15.1875;
const C53: f64 = -4.03125;
const C54: f64 = 6.0;
const H2: [f64; 5] = [1.78125, 6.75, 0.15625, -6.0, -1.0];
const H3: [f64; 4] = [4.21875, -15.1875, -3.09375, 9.0];

/// The linearization at the start of a step, reusable for other step lengths from
/// the same state.
#[derive(Debug, Clone)]
pub struct Linearization<const N: usize> {
    rates: [f64; N],
    jacobian: [[f64; MAX_COUPLED]; N],
    scales: [f64; N],
}

impl<const N: usize> Linearization<N> {
    /// Linearizes the system at a state.
    pub fn new(system: &impl System<N>, y: &[f64; N]) -> Self {
        let mut this = Self {
            rates: [0.0; N],
            jacobian: [[0.0; MAX_COUPLED]; N],
            scales: [1.0; N],
        };
        system.linearize(y, &mut this.rates, &mut this.jacobian);
        system.error_scales(y, &mut this.scales);
        this
    }

    /// How fast a coupled component nears what drives it [1/s]; nought when it is not one
    /// or runs away.
    #[must_use]
    pub fn decay_of(&self, i: usize, structure: &Structure<N>) -> f64 {
        let column = structure.coupled.iter().position(|&k| k == i);
        column.map_or(0.0, |k| (-self.jacobian[i][k]).max(0.0))
    }

    /// The component whose rate is largest for its tolerance.
    #[must_use]
    pub fn fastest(&self, structure: &Structure<N>) -> usize {
        let speed = |i: usize| (self.rates[i] / self.scales[i]).abs();
        let followers = structure.followers.iter().map(|f| f.index);
        let mut fastest = structure.coupled[0];
        for i in structure.coupled.iter().copied().chain(followers) {
            if speed(i).is_nan() || speed(i) > speed(fastest) {
                fastest = i;
            }
        }
        fastest
    }
}

/// Tries one step of length `h`; returns it with its error in units of the tolerance.
///
/// The error is infinite when the step is no step at all: a singular matrix or a
/// number that is not finite.
pub fn try_step<const N: usize>(
    system: &impl System<N>,
    y: &[f64; N],
    linear: &Linearization<N>,
    h: f64,
    tolerance: f64,
    work: &mut Work,
) -> (Step<N>, f64) {
    let structure = system.structure();
    let failed = |work: &mut Work| {
        work.rejected += 1;
        (Step::resting(*y), f64::INFINITY)
    };
    let diagonal = 1.0 / (h * GAMMA);
    let per_h = 1.0 / h;
    let Some(matrix) = Factored::new(structure, &linear.jacobian, diagonal) else {
        return failed(work);
    };
    let mut f = [0.0; N];
    let mut stage = *y;
    let mut u = [[0.0; N]; 5];

    let solve = |rates: &[f64; N], at: &[f64; N], u: &mut [f64; N]| {
        // On entry `u` holds Σ c_ij·U_j / h.
        matrix.solve(structure, linear, diagonal, rates, at, u);
    };

    solve(&linear.rates, y, &mut u[0]);
    for i in 0..N {
        stage[i] = y[i] + A21 * u[0][i];
        u[1][i] = C21 * u[0][i] * per_h;
    }
    system.rates(&stage, &mut f);
    solve(&f, &stage, &mut u[1]);
    for i in 0..N {
        u[2][i] = (C31 * u[0][i] + C32 * u[1][i]) * per_h;
    }
    solve(&linear.rates, y, &mut u[2]);
    for i in 0..N {
        stage[i] = y[i] + (A41 * u[0][i] + A42 * u[1][i] + A43 * u[2][i]);
        u[3][i] = (C41 * u[0][i] + C42 * u[1][i] + C43 * u[2][i]) * per_h;
    }
    system.rates(&stage, &mut f);
    solve(&f, &stage, &mut u[3]);
    // The fifth stage stands on the same rates as the fourth: the one gives the
    // embedded second-order end, the other the third-order end of the step.
    for i in 0..N {
        u[4][i] = (C51 * u[0][i] + C52 * u[1][i] + C53 * u[2][i] + C54 * u[3][i]) * per_h;
    }
    solve(&f, &stage, &mut u[4]);
    work.rates += 3;

    let mut step = Step {
        h,
        start: *y,
        end: *y,
        bend: [0.0; N],
        twist: [0.0; N],
    };
    // Components that rest have U = 0 in every stage, so plain loops over all serve.
    for i in 0..N {
        step.end[i] = stage[i] + u[4][i];
        step.bend[i] =
            H2[0] * u[0][i] + H2[1] * u[1][i] + H2[2] * u[2][i] + H2[3] * u[3][i] + H2[4] * u[4][i];
        step.twist[i] = H3[0] * u[0][i] + H3[1] * u[1][i] + H3[2] * u[2][i] + H3[3] * u[3][i];
    }
    let mut error: f64 = 0.0;
    let mut sum = 0.0;
    for i in 0..N {
        let e = ((u[4][i] - u[3][i]) / linear.scales[i]).abs();
        error = error.max(e);
        // `max` passes over a NaN; a sum does not.
        sum += e + step.end[i];
    }
    error /= tolerance;
    if !sum.is_finite() {
        return failed(work);
    }
    if error <= 1.0 {
        work.accepted += 1;
    } else {
        work.rejected += 1;
    }
    (step, error)
}

/// Next step length after an error, by the usual third-order rule with safety 0.9.
#[must_use]
pub fn next_length(h: f64, error: f64) -> f64 {
    if !error.is_finite() {
        return h * 0.1;
    }
    let factor = 0.9 / math::cbrt(error.max(1e-6));
    h * factor.clamp(0.15, 6.0)
}

/// LU factors of W for the coupled components, in balanced units.
struct Factored {
    n: usize,
    lu: [[f64; MAX_COUPLED]; MAX_COUPLED],
    /// Reciprocals of the diagonal of U.
    inverse: [f64; MAX_COUPLED],
    pivot: [usize; MAX_COUPLED],
}

impl Factored {
    fn new<const N: usize>(
        structure: &Structure<N>,
        jacobian: &[[f64; MAX_COUPLED]; N],
        diagonal: f64,
    ) -> Option<Self> {
        let n = structure.coupled.len();
        let mut lu = [[0.0; MAX_COUPLED]; MAX_COUPLED];
        for (r, &i) in structure.coupled.iter().enumerate() {
            let row_unit = 1.0 / structure.typical[i];
            for (c, &k) in structure.coupled.iter().enumerate() {
                lu[r][c] = -jacobian[i][c] * structure.typical[k] * row_unit;
            }
            lu[r][r] += diagonal;
        }
        let mut pivot = [0; MAX_COUPLED];
        let mut inverses = [0.0; MAX_COUPLED];
        for c in 0..n {
            let mut best = c;
            for r in c + 1..n {
                if lu[r][c].abs() > lu[best][c].abs() {
                    best = r;
                }
            }
            pivot[c] = best;
            lu.swap(c, best);
            let head = lu[c][c];
            if !(head.is_finite() && head != 0.0) {
                return None;
            }
            let inverse = 1.0 / head;
            inverses[c] = inverse;
            let pivot_row = lu[c];
            for row in lu.iter_mut().take(n).skip(c + 1) {
                let factor = row[c] * inverse;
                if factor != 0.0 {
                    row[c] = factor;
                    for k in c + 1..n {
                        row[k] -= factor * pivot_row[k];
                    }
                }
            }
        }
        Some(Self {
            n,
            lu,
            inverse: inverses,
            pivot,
        })
    }

    #[inline]
    fn solve<const N: usize>(
        &self,
        structure: &Structure<N>,
        linear: &Linearization<N>,
        diagonal: f64,
        rates: &[f64; N],
        at: &[f64; N],
        u: &mut [f64; N],
    ) {
        let n = self.n;
        let mut b = [0.0; MAX_COUPLED];
        for (r, &i) in structure.coupled.iter().enumerate() {
            b[r] = (rates[i] + u[i]) / structure.typical[i];
        }
        for c in 0..n {
            b.swap(c, self.pivot[c]);
        }
        for c in 0..n {
            let head = b[c];
            for r in c + 1..n {
                b[r] -= self.lu[r][c] * head;
            }
        }
        for c in (0..n).rev() {
            let mut sum = b[c];
            for k in c + 1..n {
                sum -= self.lu[c][k] * b[k];
            }
            b[c] = sum * self.inverse[c];
        }
        for (r, &i) in structure.coupled.iter().enumerate() {
            b[r] *= structure.typical[i];
            u[i] = b[r];
        }
        for &Follower {
            index: i,
            decay,
            follows,
        } in &structure.followers
        {
            let mut drive = rates[i] - decay * at[i] + u[i];
            if let Some((z, factor)) = follows {
                drive += factor * (at[z] + u[z]);
            }
            for (slope, change) in linear.jacobian[i].iter().zip(b.iter()).take(n) {
                drive += slope * change;
            }
            u[i] = drive / (diagonal + decay);
        }
    }
}

#[cfg(test)]
mod tests;

//! Elimination of a network's unknowns without differences.
//!
//! A node k with admittances y_km to its neighbors is removed by the star-mesh
//! transformation (A. Rosen, J. IEE 62 (1924) 916, from memory):
//! y_ij += y_ik·y_kj/Σ_m y_km.  That is Gaussian elimination, but the diagonal is summed
//! from what is left instead of being the difference of large numbers, as in the
//! Markov-chain algorithm of W. Grassmann, M. Taksar and D. Heyman, Oper. Res. 33 (1985)
//! 1107.  A wire of 1 mΩ that hangs on 1 TΩ of insulation, fifteen decades, keeps all its
//! digits; plain elimination keeps none, and insulation could not be read.
//!
//! What rounding leaves: a source behind z ohms enters as a current E/z, so the voltage of
//! a part that floats on Z ohms of insulation carries an error of ε·(E/z)·Z.  A supply of
//! 240 V behind 20 mΩ that floats on 1 GΩ: 3 mV, common to all its nodes; the voltages
//! between them are not touched.
//!
//! Only where inductance and capacitance cancel in the sum is a digit lost.  Such nodes
//! are put off to the end; if they stay bad they are solved as a dense block by LU
//! decomposition with partial pivoting (G. Golub and C. Van Loan, Matrix Computations,
//! ch. 3).
//!
//! Cost: n³/3 products for a dense network; wiring is sparse and rows that do not touch
//! the removed node are skipped.

use crate::electric::Complex;

/// A sum that keeps less than this of its terms is put off.
const CANCELLATION: f64 = 1e-3;
/// A pivot of the dense block below this part of its largest entry is none.
const NO_PIVOT: f64 = 1e-13;

/// Why there is no answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stuck {
    /// This unknown is tied to nothing.
    Untied,
    /// This unknown resonates without limit.
    Singular {
        /// The unknown.
        unknown: usize,
    },
}

/// Memory of the elimination.
#[derive(Debug, Clone, Default)]
pub(super) struct Eliminator {
    /// 1/Σy of each removed unknown.
    inverse: Vec<Complex>,
    /// Which unknown stands at each place.
    order: Vec<usize>,
    /// The block that is solved by LU.
    dense: Vec<Complex>,
    /// Potentials by place.
    u: Vec<Complex>,
}

impl Eliminator {
    /// Solves for the potentials; `y` (n rows of n + 1) and `j` are used up.
    ///
    /// # Errors
    /// When an unknown has no determined potential.
    pub(super) fn solve(
        &mut self,
        n: usize,
        y: &mut [Complex],
        j: &mut [Complex],
        potentials: &mut Vec<Complex>,
    ) -> Result<(), Stuck> {
        self.order.clear();
        self.order.extend(0..n);
        self.inverse.clear();
        self.u.clear();
        self.u.resize(n, Complex::ZERO);
        let width = n + 1;
        let mut removed = 0;
        while removed < n {
            let Some(inverse) = self.next_pivot(n, removed, y, j)? else {
                break;
            };
            self.inverse.push(inverse);
            remove(n, removed, inverse, y, j);
            removed += 1;
        }
        if removed < n {
            self.solve_block(n, removed, y, j)?;
        }
        for k in (0..removed).rev() {
            let row = &y[k * width..][..n];
            let mut sum = j[k];
            for (y, u) in row[k + 1..].iter().zip(&self.u[k + 1..]) {
                sum += *y * *u;
            }
            self.u[k] = sum * self.inverse[k];
        }
        potentials.clear();
        potentials.resize(n, Complex::ZERO);
        for (&unknown, &u) in self.order.iter().zip(&self.u) {
            potentials[unknown] = u;
        }
        Ok(())
    }

    /// Brings an unknown with a good sum to place `k`; none when all sums cancel.
    fn next_pivot(
        &mut self,
        n: usize,
        k: usize,
        y: &mut [Complex],
        j: &mut [Complex],
    ) -> Result<Option<Complex>, Stuck> {
        for candidate in k..n {
            let (sum, size) = row_sum(n, k, candidate, y);
            if size == 0.0 {
                return Err(Stuck::Untied);
            }
            if sum.size() >= CANCELLATION * size {
                if candidate != k {
                    swap(n, k, candidate, y);
                    j.swap(k, candidate);
                    self.order.swap(k, candidate);
                }
                return Ok(Some(sum.inverse()));
            }
        }
        Ok(None)
    }

    /// Solves what is left from place `k` on by LU with partial pivoting.
    fn solve_block(
        &mut self,
        n: usize,
        k: usize,
        y: &[Complex],
        j: &mut [Complex],
    ) -> Result<(), Stuck> {
        let m = n - k;
        self.dense.clear();
        let mut largest = 0.0_f64;
        for row in k..n {
            for column in k..n {
                let entry = if row == column {
                    row_sum(n, k, row, y).0
                } else {
                    -y[row * (n + 1) + column]
                };
                largest = largest.max(entry.size());
                self.dense.push(entry);
            }
        }
        let (dense, j) = (&mut self.dense, &mut j[k..]);
        for p in 0..m {
            let mut best = p;
            for row in p + 1..m {
                if dense[row * m + p].size() > dense[best * m + p].size() {
                    best = row;
                }
            }
            let pivot = dense[best * m + p];
            // False too when the pivot is not a number.
            let is_pivot = pivot.size() > NO_PIVOT * largest;
            if !is_pivot {
                return Err(Stuck::Singular {
                    unknown: self.order[k + p],
                });
            }
            if best != p {
                for column in 0..m {
                    dense.swap(p * m + column, best * m + column);
                }
                j.swap(p, best);
            }
            let inverse = pivot.inverse();
            for row in p + 1..m {
                let factor = dense[row * m + p] * inverse;
                for column in p + 1..m {
                    let above = dense[p * m + column];
                    dense[row * m + column] -= factor * above;
                }
                let above = j[p];
                j[row] -= factor * above;
            }
        }
        for p in (0..m).rev() {
            let mut sum = j[p];
            for column in p + 1..m {
                sum -= dense[p * m + column] * self.u[k + column];
            }
            self.u[k + p] = sum / dense[p * m + p];
        }
        Ok(())
    }
}

/// Σ of the admittances of place `row` to places from `k` on and the reference, and the
/// sum of their sizes.
#[inline]
fn row_sum(n: usize, k: usize, row: usize, y: &[Complex]) -> (Complex, f64) {
    let entries = &y[row * (n + 1)..][..=n];
    let (mut sum, mut size) = (Complex::ZERO, 0.0);
    for (m, entry) in entries.iter().enumerate().skip(k) {
        if m != row {
            sum += *entry;
            size += entry.size();
        }
    }
    (sum, size)
}

/// Removes place `k`: its neighbors become neighbors of each other.
#[inline]
fn remove(n: usize, k: usize, inverse: Complex, y: &mut [Complex], j: &mut [Complex]) {
    let width = n + 1;
    let (above, below) = y.split_at_mut((k + 1) * width);
    let row_k = &above[k * width + k + 1..];
    for (i, row_i) in below.chunks_exact_mut(width).enumerate() {
        let to_k = row_i[k];
        if to_k.is_zero() {
            continue;
        }
        let share = to_k * inverse;
        let through = j[k];
        j[k + 1 + i] += share * through;
        // The entry of a place with itself is written too; nobody reads it.
        for (entry, &via) in row_i[k + 1..].iter_mut().zip(row_k) {
            *entry += share * via;
        }
    }
}

/// Exchanges two places.
fn swap(n: usize, k: usize, m: usize, y: &mut [Complex]) {
    let width = n + 1;
    for column in 0..width {
        y.swap(k * width + column, m * width + column);
    }
    for row in 0..n {
        y.swap(row * width + k, row * width + m);
    }
}

//! The settings of a study: every combination of the grid's values, each with every sample.
//!
//! A setting has a number; the same number is the same setting on every machine.  The last
//! value of the grid changes fastest, the samples within it faster still.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::parameter::{Amount, Parameter, Place, Spread, put};
use super::spec::{Demand, HouseholdSpec, Sampling, Study};
use crate::faults::{Fault, FaultKind};
use crate::math::{self, Fnv};
use crate::site::{self, SiteSpec};

/// One setting, ready to be lived through.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The site as set.
    pub site: SiteSpec,
    /// Its faults.
    pub faults: Vec<Fault>,
    /// What is drawn.
    pub demand: Demand,
}

/// The value of one parameter in one setting.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseValue {
    /// As a site file would have it.
    pub text: String,
    /// SI number; none for a choice.
    pub si: Option<f64>,
}

impl Study {
    /// How many settings there are.
    #[must_use]
    pub fn n_settings(&self) -> usize {
        self.n_grid() * self.n_samples()
    }

    /// The grid's parameters with their values.
    #[must_use]
    pub fn axes(&self) -> &[super::Axis] {
        &self.axes
    }

    fn n_grid(&self) -> usize {
        self.axes.iter().map(|axis| axis.values.len()).product()
    }

    fn n_samples(&self) -> usize {
        match self.sampling {
            Some(Sampling::LatinHypercube { number, .. } | Sampling::MonteCarlo { number, .. }) => {
                number
            }
            None => 1,
        }
    }

    /// The values of a setting, one for each parameter.
    #[must_use]
    pub fn values(&self, setting: usize) -> Vec<CaseValue> {
        self.amounts(setting)
            .into_iter()
            .map(|amount| CaseValue {
                text: amount.text,
                si: amount.si,
            })
            .collect()
    }

    /// A number as a parameter's value would be written, in the unit of the study file;
    /// none for a parameter that is not there.
    #[must_use]
    pub fn amount_text(&self, parameter: usize, si: f64) -> Option<String> {
        let parameter = self.parameters.get(parameter)?;
        let unit = crate::file::quantity::find_unit(&parameter.unit);
        Some(Amount::computed(si, unit, parameter.at).text)
    }

    pub(super) fn amounts(&self, setting: usize) -> Vec<Amount> {
        let (mut in_grid, sample) = (setting / self.n_samples(), setting % self.n_samples());
        let mut amounts: Vec<Option<Amount>> = vec![None; self.parameters.len()];
        for axis in self.axes.iter().rev() {
            let n_values = axis.values.len().max(1);
            amounts[axis.parameter] = axis.values.get(in_grid % n_values).cloned();
            in_grid /= n_values;
        }
        for (idx, parameter) in self.parameters.iter().enumerate() {
            // Without samples there are no distributions, which the reader checks.
            let share = || self.shares[idx].get(sample).copied().unwrap_or(0.5);
            let si = match parameter.spread {
                Spread::Values => continue,
                // Ties look only at what stands before them, which the reader checks.
                Spread::Tied { to, times, plus } => {
                    let other = amounts[to].as_ref().and_then(|other| other.si);
                    plus + times * other.unwrap_or(0.0)
                }
                Spread::Uniform { least, most } => least + (most - least) * share(),
                Spread::Normal { mean, deviation } => mean + deviation * normal_quantile(share()),
                Spread::Triangular {
                    least,
                    likely,
                    most,
                } => triangular_quantile(least, likely, most, share()),
            };
            let unit = crate::file::quantity::find_unit(&parameter.unit);
            amounts[idx] = Some(Amount::computed(si, unit, parameter.at));
        }
        amounts.into_iter().flatten().collect()
    }

    /// A setting, ready to be lived through.
    ///
    /// # Errors
    /// Why it cannot be built, in words: a cut-out below its cut-in, say.
    pub fn case(&self, setting: usize) -> Result<Case, String> {
        let mut tree = self.tree.clone();
        let mut faults = self.faults.clone();
        let mut demand = self.demand.clone();
        for (parameter, amount) in self.parameters.iter().zip(self.amounts(setting)) {
            let si = amount.si.unwrap_or(0.0);
            match (&parameter.place, &mut demand) {
                (Place::Site(steps), _) => {
                    put(&mut tree, steps, &amount.as_value())
                        .map_err(|(message, _)| format!("{}: {message}", parameter.path))?;
                }
                (Place::Fault(kind), _) => {
                    // A bare number is one in the fault's own unit.
                    let own = match amount.unit {
                        Some(_) => 1.0,
                        None => kind.info().si_per_unit,
                    };
                    set_fault(&mut faults, *kind, si * own)?;
                }
                (Place::Occupants, Demand::Household(home)) => home.occupants = si.max(0.0),
                (Place::Garden, Demand::Household(home)) => home.garden_m3_per_s = si.max(0.0),
                (Place::Leak, Demand::Household(home)) => home.leak_m3_per_s = si.max(0.0),
                (Place::Own | Place::Occupants | Place::Garden | Place::Leak, _) => {}
            }
        }
        let site = site::parse_tree(&self.site_file, &tree, &self.study_file).map_err(|found| {
            found.first().map_or_else(
                || "the site cannot be built".to_owned(),
                |problem| format!("{}: {}", problem.part, problem.message),
            )
        })?;
        if let Demand::Household(HouseholdSpec { leak_m3_per_s, .. }) = demand
            && leak_m3_per_s > 0.0
        {
            set_fault(&mut faults, FaultKind::HouseLeak, leak_m3_per_s)?;
        }
        Ok(Case {
            site,
            faults,
            demand,
        })
    }
}

/// Where in its distribution each parameter stands in each sample, above 0 and below 1 [-].
pub(super) fn shares(parameters: &[Parameter], sampling: Option<Sampling>) -> Vec<Vec<f64>> {
    let is_spread = |spread: &Spread| !matches!(spread, Spread::Values | Spread::Tied { .. });
    parameters
        .iter()
        .map(|parameter| match sampling {
            Some(sampling) if is_spread(&parameter.spread) => samples(&parameter.path, sampling),
            _ => Vec::new(),
        })
        .collect()
}

fn samples(path: &str, sampling: Sampling) -> Vec<f64> {
    let stream = |seed: u64, purpose: &str| {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let mut name = Fnv::new();
        name.bytes(path.as_bytes());
        name.bytes(purpose.as_bytes());
        rng.set_stream(name.finish());
        rng
    };
    match sampling {
        Sampling::MonteCarlo { number, seed } => {
            let mut rng = stream(seed, "");
            (0..number).map(|_| uniform(&mut rng)).collect()
        }
        Sampling::LatinHypercube { number, seed } => {
            let mut order: Vec<u32> = (0..number as u32).collect();
            let mut rng = stream(seed, "/order");
            for i in (1..order.len()).rev() {
                order.swap(i, (rng.next_u64() % (i as u64 + 1)) as usize);
            }
            let mut rng = stream(seed, "/within");
            order
                .iter()
                .map(|slice| (f64::from(*slice) + uniform(&mut rng)) / number as f64)
                .collect()
        }
    }
}

/// Gives a fault its severity; one of nought takes it away.
fn set_fault(faults: &mut Vec<Fault>, kind: FaultKind, severity: f64) -> Result<(), String> {
    let info = kind.info();
    faults.retain(|fault| fault.kind != kind);
    if severity == 0.0 {
        return Ok(());
    }
    let (low, high) = info.range;
    let number = severity / info.si_per_unit;
    let rounding = 1e-9 * (low.abs() + high.abs());
    if !(number >= low - rounding && number <= high + rounding) {
        return Err(format!(
            "{} is out of range: {low} to {high} {}",
            info.name, info.unit
        ));
    }
    faults.push(Fault { kind, severity });
    Ok(())
}

/// Uniform above 0 and below 1, from the upper 53 bits.
fn uniform(rng: &mut ChaCha8Rng) -> f64 {
    ((rng.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
}

fn triangular_quantile(least: f64, likely: f64, most: f64, share: f64) -> f64 {
    let span = most - least;
    if span <= 0.0 {
        return least;
    }
    if share < (likely - least) / span {
        least + (share * span * (likely - least)).sqrt()
    } else {
        most - ((1.0 - share) * span * (most - likely)).sqrt()
    }
}

/// Quantile of the standard normal distribution, by bisection of its integral: slow, but
/// right to 1e-9 and without a table of coefficients.
fn normal_quantile(share: f64) -> f64 {
    let (mut low, mut high) = (-9.0_f64, 9.0_f64);
    for _ in 0..64 {
        let middle = 0.5 * (low + high);
        if normal_share(middle) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Share of the standard normal distribution below x, by its convergent series
/// ½ + φ(x)·(x + x³/3 + x⁵/15 + …).
fn normal_share(x: f64) -> f64 {
    let (mut term, mut sum, mut n) = (x, x, 1.0);
    while term.abs() > 1e-17 * sum.abs() && n < 400.0 {
        n += 2.0;
        term *= x * x / n;
        sum += term;
    }
    let density = math::exp(-0.5 * x * x) / (2.0 * core::f64::consts::PI).sqrt();
    0.5 + density * sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_of_the_normal_distribution_are_those_of_its_tables() {
        // M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), table
        // 26.1: P(1.96) = 0.97500 21048; P(1) = 0.84134 47461.
        for (share, x) in [
            (0.5, 0.0),
            (0.841_344_746_1, 1.0),
            (0.975_002_104_8, 1.96),
            (1.0 - 0.975_002_104_8, -1.96),
        ] {
            assert!((normal_quantile(share) - x).abs() < 1e-8, "{share}");
        }
    }

    #[test]
    fn a_triangle_is_split_at_its_likeliest_value() {
        assert!((triangular_quantile(0.0, 1.0, 4.0, 0.25) - 1.0).abs() < 1e-12);
        assert_eq!(triangular_quantile(2.0, 3.0, 4.0, 0.0), 2.0);
        assert_eq!(triangular_quantile(2.0, 3.0, 4.0, 1.0), 4.0);
    }
}

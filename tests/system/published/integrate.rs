//! The library's integrator on the small systems of section 9.

use sim_core::plant::rosenbrock::{
    Follower, Linearization, MAX_COUPLED, Structure, System, Work, next_length, try_step,
};

/// Local error allowed in a step, relative to the component's typical size.  The rows ask
/// for up to 10⁻⁹ over the whole run.
const TOLERANCE: f64 = 1e-12;
/// More steps than any of the rows needs.
const MOST_STEPS: usize = 2_000_000;

/// y' = rate(y), one component.
pub(super) struct Scalar<F> {
    structure: Structure<1>,
    rate: F,
}

impl<F: Fn(f64) -> f64> Scalar<F> {
    pub(super) fn new(typical: f64, rate: F) -> Self {
        Self {
            structure: Structure {
                coupled: vec![0],
                followers: vec![],
                typical: [typical],
            },
            rate,
        }
    }
}

impl<F: Fn(f64) -> f64> System<1> for Scalar<F> {
    fn structure(&self) -> &Structure<1> {
        &self.structure
    }

    fn rates(&self, y: &[f64; 1], rates: &mut [f64; 1]) {
        rates[0] = (self.rate)(y[0]);
    }

    fn linearize(
        &self,
        y: &[f64; 1],
        rates: &mut [f64; 1],
        jacobian: &mut [[f64; MAX_COUPLED]; 1],
    ) {
        self.rates(y, rates);
        // A central difference: good to about 1e-10 here, which the order of the method
        // does not notice.
        let step = 1e-5 * self.structure.typical[0];
        jacobian[0][0] = ((self.rate)(y[0] + step) - (self.rate)(y[0] - step)) / (2.0 * step);
    }

    fn error_scales(&self, _: &[f64; 1], scales: &mut [f64; 1]) {
        *scales = self.structure.typical;
    }
}

/// A first-order lag y' = (u − y)/τ behind an input u that ramps: components u and y.
pub(super) struct Lag {
    structure: Structure<2>,
    ramp_per_s: f64,
    time_constant_s: f64,
}

impl Lag {
    pub(super) fn new(ramp_per_s: f64, time_constant_s: f64) -> Self {
        Self {
            structure: Structure {
                coupled: vec![0],
                followers: vec![Follower::lag(1, 1.0 / time_constant_s)],
                typical: [1.0; 2],
            },
            ramp_per_s,
            time_constant_s,
        }
    }
}

impl System<2> for Lag {
    fn structure(&self) -> &Structure<2> {
        &self.structure
    }

    fn rates(&self, y: &[f64; 2], rates: &mut [f64; 2]) {
        // The decay of a follower is the integrator's part; its rate here is the drive alone.
        *rates = [self.ramp_per_s, y[0] / self.time_constant_s];
    }

    fn linearize(
        &self,
        y: &[f64; 2],
        rates: &mut [f64; 2],
        jacobian: &mut [[f64; MAX_COUPLED]; 2],
    ) {
        self.rates(y, rates);
        jacobian[0][0] = 0.0;
        jacobian[1][0] = 1.0 / self.time_constant_s;
    }

    fn error_scales(&self, _: &[f64; 2], scales: &mut [f64; 2]) {
        *scales = self.structure.typical;
    }
}

/// State at `end_s`.
pub(super) fn state_after<const N: usize>(
    system: &impl System<N>,
    start: [f64; N],
    end_s: f64,
) -> [f64; N] {
    let (mut time, mut y, mut h) = (0.0, start, 1e-6 * end_s);
    let mut work = Work::default();
    for _ in 0..MOST_STEPS {
        let left = end_s - time;
        let last = h >= left;
        let linear = Linearization::new(system, &y);
        let length = if last { left } else { h };
        let (step, error) = try_step(system, &y, &linear, length, TOLERANCE, &mut work);
        if error <= 1.0 {
            y = step.end;
            time += length;
            if last {
                return y;
            }
        }
        h = next_length(length, error);
    }
    panic!("no end after {MOST_STEPS} steps");
}

/// Time at which the first component has fallen or risen to `target`.
///
/// The step that passes it is taken again with ever better lengths, so that the answer
/// owes nothing to interpolation.
pub(super) fn time_to_reach<const N: usize>(
    system: &impl System<N>,
    start: [f64; N],
    target: f64,
) -> f64 {
    let (mut time, mut y, mut h) = (0.0, start, 1e-4);
    let falling = start[0] > target;
    let mut work = Work::default();
    for _ in 0..MOST_STEPS {
        let linear = Linearization::new(system, &y);
        let (step, error) = try_step(system, &y, &linear, h, TOLERANCE, &mut work);
        if error <= 1.0 {
            if (step.end[0] <= target) == falling {
                let length = super::bracket::root_between(0.0, h, |length| {
                    if length == 0.0 {
                        return y[0] - target;
                    }
                    try_step(system, &y, &linear, length, TOLERANCE, &mut Work::default())
                        .0
                        .end[0]
                        - target
                });
                return time + length;
            }
            y = step.end;
            time += h;
        }
        h = next_length(h, error);
    }
    panic!("target {target} not reached after {MOST_STEPS} steps");
}

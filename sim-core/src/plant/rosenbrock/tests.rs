//! The method against problems with known answers.

use super::*;

/// y0' = −y0², y1 follows y0 with a lag: smooth, one of each kind.
struct Smooth(Structure<2>);

impl Smooth {
    fn new() -> Self {
        Self(Structure {
            coupled: vec![0],
            followers: vec![Follower::lag(1, 0.5)],
            typical: [1.0; 2],
        })
    }
}

impl System<2> for Smooth {
    fn structure(&self) -> &Structure<2> {
        &self.0
    }
    fn rates(&self, y: &[f64; 2], rates: &mut [f64; 2]) {
        rates[0] = -y[0] * y[0];
        rates[1] = 0.5 * y[0];
    }
    fn linearize(&self, y: &[f64; 2], rates: &mut [f64; 2], j: &mut [[f64; MAX_COUPLED]; 2]) {
        self.rates(y, rates);
        j[0][0] = -2.0 * y[0];
        j[1][0] = 0.5;
    }
    fn error_scales(&self, _: &[f64; 2], scales: &mut [f64; 2]) {
        *scales = [1.0; 2];
    }
}

/// Fixed steps to t = 2 from y = (1, 0); returns the end and the middle of the last step.
fn run(n_steps: u32) -> ([f64; 2], f64) {
    let system = Smooth::new();
    let h = 2.0 / f64::from(n_steps);
    let mut y = [1.0, 0.0];
    let mut middle = 0.0;
    for _ in 0..n_steps {
        let linear = Linearization::new(&system, &y);
        let (step, _) = try_step(&system, &y, &linear, h, 1.0, &mut Work::default());
        middle = step.component_at(0, 0.5);
        y = step.end;
    }
    (y, middle)
}

#[test]
fn halving_the_step_cuts_the_error_by_eight() {
    let exact = 1.0 / 3.0;
    let coarse = (run(100).0[0] - exact).abs();
    let fine = (run(200).0[0] - exact).abs();
    let order = libm::log2(coarse / fine);
    assert!((2.8..3.4).contains(&order), "order {order}");
}

#[test]
fn the_follower_converges_with_third_order_too() {
    let reference = run(4_000).0[1];
    let coarse = (run(20).0[1] - reference).abs();
    let fine = (run(40).0[1] - reference).abs();
    let order = libm::log2(coarse / fine);
    assert!((2.7..3.6).contains(&order), "order {order}");
}

#[test]
fn the_inside_of_a_step_is_as_good_as_its_end() {
    let exact = |n: u32| 1.0 / (1.0 + 2.0 - 1.0 / f64::from(n));
    let coarse = (run(20).1 - exact(20)).abs();
    let fine = (run(40).1 - exact(40)).abs();
    assert!(coarse < 1e-5 && fine < coarse / 5.0, "{coarse} {fine}");
}

#[test]
fn a_stiff_decay_is_damped_in_one_long_step() {
    struct Stiff(Structure<1>);
    impl System<1> for Stiff {
        fn structure(&self) -> &Structure<1> {
            &self.0
        }
        fn rates(&self, y: &[f64; 1], rates: &mut [f64; 1]) {
            rates[0] = -1e8 * (y[0] - 1.0);
        }
        fn linearize(&self, y: &[f64; 1], rates: &mut [f64; 1], j: &mut [[f64; MAX_COUPLED]; 1]) {
            self.rates(y, rates);
            j[0][0] = -1e8;
        }
        fn error_scales(&self, _: &[f64; 1], scales: &mut [f64; 1]) {
            *scales = [1.0];
        }
    }
    let system = Stiff(Structure {
        coupled: vec![0],
        followers: vec![],
        typical: [1.0],
    });
    let y = [1_000.0];
    let linear = Linearization::new(&system, &y);
    let (step, _) = try_step(&system, &y, &linear, 1.0, 1.0, &mut Work::default());
    assert!((step.end[0] - 1.0).abs() < 1e-3, "{}", step.end[0]);
}

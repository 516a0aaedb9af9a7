//! The map against its own points, the affinity laws and the reference curve.

use super::*;

fn reference() -> PumpSpec {
    PumpSpec {
        placement: PumpPlacement::Submersible,
        elevation: Meters(-12.0),
        rated_speed: RadiansPerSecond(361.0),
        curve: PumpCurve::Quadratic {
            head: [70.0, -8_000.0, -2.2e7],
            power: [300.0, 2.0e5, 0.0],
            npsh_required: [1.0, 0.0, 1.0e6],
            max_flow: CubicMetersPerSecond(1.6e-3),
        },
        bowl_volume: CubicMeters(1e-3),
        rotor_inertia: KilogramSquareMeters(5e-4),
        vent_time: None,
    }
}

#[test]
fn quadratic_curve_is_reproduced_to_rounding() {
    let map = PumpMap::new(&reference());
    for q in [0.0, 1e-4, 7.3e-4, 1.5e-3] {
        let published = 70.0 - 8_000.0 * q - 2.2e7 * q * q;
        assert!((map.head_m(q, 361.0) - published).abs() < 1e-10, "{q}");
    }
}

#[test]
fn affinity_laws_hold_at_any_speed() {
    let map = PumpMap::new(&reference());
    for r in [0.05, 0.4, 0.83, 1.1] {
        let q = 6e-4;
        let full = map.head_m(q, 361.0);
        assert!((map.head_m(q * r, 361.0 * r) - full * r * r).abs() < 1e-9 * full);
        let torque = map.torque_nm(q, 361.0);
        assert!((map.torque_nm(q * r, 361.0 * r) - torque * r * r).abs() < 1e-9 * torque);
    }
}

#[test]
fn head_falls_with_flow_everywhere_and_is_continuous_at_rest() {
    let map = PumpMap::new(&reference());
    for speed in [0.0, 1e-6, 50.0, 361.0] {
        let mut previous = f64::INFINITY;
        for i in -200..=400 {
            let q = f64::from(i) * 1e-5;
            let h = map.head_m(q, speed);
            assert!(h < previous + 1e-12, "{speed} {q} {h} {previous}");
            previous = h;
        }
    }
    assert!((map.head_m(5e-4, 1e-9) - map.head_m(5e-4, 0.0)).abs() < 1e-6);
}

#[test]
fn air_takes_the_head_and_then_the_load() {
    assert!((PumpMap::head_share_with_air(0.0) - 1.0_f64).abs() < 1e-15);
    assert!(PumpMap::head_share_with_air(0.05) < 0.6_f64);
    assert!(PumpMap::head_share_with_air(0.2) == 0.0_f64);
    assert!(PumpMap::torque_share(0.0) < 0.2_f64);
}

#[test]
fn three_percent_of_head_is_lost_where_npsh_is_just_met() {
    let share: f64 = PumpMap::head_share_at_npsh(2.0, 2.0);
    assert!((share - 0.97).abs() < 1e-12);
    assert!(PumpMap::head_share_at_npsh(3.0, 2.0) == 1.0_f64);
    assert!(PumpMap::head_share_at_npsh(1.3, 2.0) == 0.0_f64);
}

#[test]
fn a_stretched_curve_is_the_same_curve_on_another_scale() {
    let mut points = reference();
    points.curve = PumpCurve::Points(
        [(0.0, 70.0), (6e-4, 57.0), (1.2e-3, 29.0)]
            .map(|(flow, head)| PumpPoint {
                flow: CubicMetersPerSecond(flow),
                head: Meters(head),
                power: Watts(300.0 + 2e5 * flow),
                npsh_required: Meters(1.0 + 1e3 * flow),
            })
            .to_vec(),
    );
    for mut spec in [reference(), points] {
        let before = PumpMap::new(&spec);
        spec.curve = spec.curve.stretched(1.6, 0.5, 0.8);
        let after = PumpMap::new(&spec);
        for q in [0.0, 1e-4, 7.3e-4, 1.1e-3] {
            let head = before.head_m(q, 361.0);
            let torque = before.torque_nm(q, 361.0);
            let npsh = before.npsh_required_m(q, 361.0);
            assert!(
                (after.head_m(1.6 * q, 361.0) - 0.5 * head).abs() < 1e-9,
                "{q}"
            );
            assert!(
                (after.torque_nm(1.6 * q, 361.0) - 0.8 * torque).abs() < 1e-12,
                "{q}"
            );
            assert!(
                (after.npsh_required_m(1.6 * q, 361.0) - npsh).abs() < 1e-9,
                "{q}"
            );
        }
    }
}

#[test]
fn a_worn_curve_lies_below_the_sound_one_and_gives_no_more_than_it_takes() {
    let mut spec = reference();
    let mut above = PumpMap::new(&spec);
    for head_left in [0.95, 0.8, 0.6, 0.4, 0.2] {
        spec.curve = reference().worn_curve(head_left);
        let worn = PumpMap::new(&spec);
        let rest = worn.shut_off_head_m();
        assert!(
            rest < 70.0 * head_left,
            "slip at rest takes some more: {rest}"
        );
        assert!(worn.max_flow_m3_per_s() < above.max_flow_m3_per_s());
        for i in 0..=20 {
            let q = worn.max_flow_m3_per_s() * f64::from(i) / 20.0;
            let (head, torque) = (worn.head_m(q, 361.0), worn.torque_nm(q, 361.0));
            assert!(head < above.head_m(q, 361.0), "{head_left} {q}");
            assert!(
                1_000.0 * 9.81 * head * q < 0.85 * torque * 361.0,
                "{head_left} {q}"
            );
        }
        above = worn;
    }
}

#[test]
fn a_pump_with_all_its_head_left_is_not_worn() {
    let mut spec = reference();
    let sound = PumpMap::new(&spec);
    spec.curve = spec.worn_curve(1.0);
    let same = PumpMap::new(&spec);
    for q in [0.0, 1e-4, 7.3e-4, 1.5e-3] {
        let apart = (same.head_m(q, 361.0) - sound.head_m(q, 361.0)).abs();
        assert!(apart < 0.02, "{q}: {apart}");
    }
}

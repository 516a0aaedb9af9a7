use sim_core::parts::*;
use sim_core::site::*;
use sim_core::units::convert::{LITER, PSI, US_GPM, kelvins_from_celsius};
use sim_core::units::*;
fn lps(v: f64) -> CubicMetersPerSecond {
    CubicMetersPerSecond(v * LITER)
}

fn psi(v: f64) -> Pascals {
    Pascals(v * PSI)
}

pub fn site() -> SiteSpec {
    SiteSpec {
        name: "bench".into(),
        title: "Bench".into(),
        altitude: Meters(100.0),
        water_temperature: Kelvins(kelvins_from_celsius(12.0)),
        air_temperature: Kelvins(kelvins_from_celsius(18.0)),
        source: SourceSpec::Cistern {
            shape: CisternShape::UprightCylinder {
                diameter: Meters(2.0),
                height: Meters(2.2),
            },
            floor: Meters(-2.6),
            initial_depth: Meters(1.7),
            refill: CubicMetersPerSecond(2e-4),
        },
        intake: IntakeSpec {
            mount: IntakeMount::Floating {
                below_surface: Meters(0.25),
                lowest_above_floor: Meters(0.1),
            },
            vortex_free: Meters(0.15),
            screen: FlowRating {
                flow: lps(1.0),
                drop: Pascals(3_000.0),
            },
        },
        suction: None,
        foot_valve: None,
        pump: PumpSpec {
            placement: PumpPlacement::Submersible,
            elevation: Meters(-2.4),
            rated_speed: RadiansPerSecond(361.0),
            curve: PumpCurve::Points(
                [
                    (0.0, 70.0, 330.0),
                    (0.4, 63.0, 480.0),
                    (0.8, 51.5, 620.0),
                    (1.2, 35.0, 720.0),
                    (1.6, 12.0, 760.0),
                ]
                .map(|(q, h, p)| PumpPoint {
                    flow: lps(q),
                    head: Meters(h),
                    power: Watts(p),
                    npsh_required: Meters(1.5 + q),
                })
                .to_vec(),
            ),
            bowl_volume: CubicMeters(1e-3),
            rotor_inertia: KilogramSquareMeters(8e-4),
            vent_time: None,
        },
        motor: MotorSpec {
            rated_power: Watts(750.0),
            rated_voltage: Volts(230.0),
            synchronous_speed: RadiansPerSecond(377.0),
            full_load_speed: RadiansPerSecond(361.0),
            breakdown_torque_ratio: 2.2,
        },
        pump_check: Some(CheckValveSpec {
            cracking_pressure: Pascals(3_000.0),
            forward: FlowRating {
                flow: lps(1.0),
                drop: Pascals(4_000.0),
            },
        }),
        run: vec![PipeSpec {
            length: Meters(60.0),
            rise: Meters(3.4),
            inside_diameter: Meters(0.025),
            wall_thickness: Meters(0.0035),
            roughness: Meters(1.5e-6),
            wall_modulus: Pascals(0.9e9),
            fittings_k: 5.0,
        }],
        wall: WallSpec {
            elevation: Meters(1.0),
            manifold_volume: CubicMeters(1.5e-3),
            check: None,
            pressure_switch: PressureSwitchSpec {
                cut_in: psi(40.0),
                cut_out: psi(60.0),
                port_lag: Seconds(0.05),
                contact_delay: Seconds(0.015),
            },
            gauge: GaugeSpec {
                full_scale: psi(100.0),
                lag: Seconds(0.2),
                stiction: psi(0.5),
                offset: Pascals(0.0),
            },
            drain_cock: FlowRating {
                flow: lps(0.3),
                drop: psi(40.0),
            },
            relief_valve: Some(ReliefValveSpec {
                set_pressure: psi(75.0),
                rating: FlowRating {
                    flow: lps(1.2),
                    drop: psi(82.0),
                },
            }),
        },
        tank: BladderTankSpec {
            shell_volume: CubicMeters(0.095),
            acceptance_volume: CubicMeters(0.088),
            precharge: psi(38.0),
            connection: FlowRating {
                flow: lps(1.0),
                drop: Pascals(4_000.0),
            },
            gas_time_constant: Seconds(60.0),
            rated_pressure: psi(100.0),
        },
        house: HouseSpec {
            valve: FlowRating {
                flow: lps(1.0),
                drop: Pascals(2_000.0),
            },
            filter: None,
            pipe: PipeSpec {
                length: Meters(12.0),
                rise: Meters(0.0),
                inside_diameter: Meters(0.0202),
                wall_thickness: Meters(0.001),
                roughness: Meters(1.5e-6),
                wall_modulus: Pascals(1.1e11),
                fittings_k: 6.0,
            },
            fixtures: vec![
                FixtureSpec {
                    name: "basin".into(),
                    elevation: Meters(1.2),
                    rating: FlowRating {
                        flow: lps(0.1),
                        drop: psi(40.0),
                    },
                    limit: Some(CubicMetersPerSecond(1.5 * US_GPM)),
                },
                FixtureSpec {
                    name: "yard-tap".into(),
                    elevation: Meters(0.5),
                    rating: FlowRating {
                        flow: lps(0.25),
                        drop: psi(40.0),
                    },
                    limit: None,
                },
            ],
        },
        supply: SupplySpec {
            voltage: Volts(230.0),
            frequency: Hertz(60.0),
        },
    }
}

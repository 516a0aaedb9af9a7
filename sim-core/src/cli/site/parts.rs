//! What is installed, part by part, in both unit systems.

use super::plan::{Plan, both, motor_power};
use crate::cli::display::fixed;
use crate::parts::{CisternShape, IntakeMount, PumpCurve, PumpPlacement, SourceSpec};
use crate::site::SiteSpec;
use crate::trace::Quantity;
use crate::units::convert::{INCH, RPM};

/// A part and what is worth knowing about it, a line each.
pub(super) struct Part {
    pub(super) name: &'static str,
    pub(super) lines: Vec<String>,
}

/// Every part, from the water's way in to its way out, then the wiring.
pub(super) fn parts(site: &SiteSpec, plan: Option<&Plan>) -> Vec<Part> {
    let part = |name, lines| Part { name, lines };
    let mut list = vec![
        part("source", source(site)),
        part("pump", pump(site)),
        part("run", run(site)),
        part("wall", wall(site)),
        part("tank", tank(site)),
        part("house", house(site)),
    ];
    if let Some(plan) = plan {
        list.push(part("wiring", wiring(plan)));
    }
    list
}

fn length(m: f64) -> String {
    both(Quantity::Length, m)
}

fn pressure(pa: f64) -> String {
    both(Quantity::GaugePressure, pa)
}

fn volume(m3: f64) -> String {
    both(Quantity::Volume, m3)
}

fn flow(m3_per_s: f64) -> String {
    both(Quantity::Flow, m3_per_s)
}

fn source(site: &SiteSpec) -> Vec<String> {
    let depth = site.source.initial_depth_m();
    let held = format!(
        "{} of water at the start, {}",
        length(depth),
        volume(site.source.volume_m3(depth))
    );
    let mut lines = match site.source {
        SourceSpec::Cistern { shape, floor, .. } => {
            let shape = match shape {
                CisternShape::UprightCylinder { diameter, height } => format!(
                    "cistern, upright, {} across, {} high",
                    length(diameter.si()),
                    length(height.si())
                ),
                CisternShape::LyingCylinder {
                    diameter,
                    length: long,
                } => format!(
                    "cistern, lying, {} across, {} long",
                    length(diameter.si()),
                    length(long.si())
                ),
                CisternShape::Box {
                    length: long,
                    width,
                    height,
                } => format!(
                    "cistern, box, {} by {}, {} high",
                    length(long.si()),
                    length(width.si()),
                    length(height.si())
                ),
            };
            vec![shape, format!("floor {} below ground", length(-floor.si()))]
        }
        SourceSpec::Well {
            static_level,
            bottom,
            casing_diameter,
            ..
        } => vec![
            format!(
                "drilled well, {} deep, casing {}",
                length(-bottom.si()),
                bore(casing_diameter.si())
            ),
            format!("water rests {} below ground", length(-static_level.si())),
        ],
    };
    lines.push(held);
    lines.push(match site.intake.mount {
        IntakeMount::Floating { below_surface, .. } => {
            format!(
                "intake floats, {} below the surface",
                length(below_surface.si())
            )
        }
        IntakeMount::Fixed { elevation } => {
            format!("intake fixed, {} below ground", length(-elevation.si()))
        }
    });
    lines
}

fn bore(m: f64) -> String {
    format!("{} in ({} mm)", fixed(m / INCH, 2), fixed(m * 1_000.0, 1))
}

fn pump(site: &SiteSpec) -> Vec<String> {
    let place = match site.pump.placement {
        PumpPlacement::Submersible => "submersible",
        PumpPlacement::SuctionLift => "above the water, suction lift",
    };
    let elevation = site.pump.elevation.si();
    let height = if elevation < 0.0 {
        format!("{} below ground", length(-elevation))
    } else {
        format!("{} above ground", length(elevation))
    };
    let (shut_off_m, most) = match &site.pump.curve {
        PumpCurve::Points(points) => (
            points.first().map_or(0.0, |p| p.head.si()),
            points.last().map_or(0.0, |p| p.flow.si()),
        ),
        PumpCurve::Quadratic { head, max_flow, .. } => (head[0], max_flow.si()),
    };
    vec![
        format!("{place}, {height}"),
        format!(
            "{} of head at no flow, up to {}",
            length(shut_off_m),
            flow(most)
        ),
        format!(
            "motor {}, {} V, {} rpm",
            motor_power(site.motor.rated_power.si()),
            fixed(site.motor.rated_voltage.si(), 0),
            fixed(site.motor.full_load_speed.si() / RPM, 0)
        ),
    ]
}

fn run(site: &SiteSpec) -> Vec<String> {
    site.run
        .iter()
        .map(|pipe| {
            format!(
                "{}, rising {}, bore {}",
                length(pipe.length.si()),
                length(pipe.rise.si()),
                bore(pipe.inside_diameter.si())
            )
        })
        .collect()
}

fn wall(site: &SiteSpec) -> Vec<String> {
    let switch = &site.wall.pressure_switch;
    let mut lines = vec![
        format!(
            "switch: cut-in {}, cut-out {}",
            pressure(switch.cut_in.si()),
            pressure(switch.cut_out.si())
        ),
        format!("tee {} above ground", length(site.wall.elevation.si())),
    ];
    if let Some(relief) = site.wall.relief_valve {
        lines.push(format!(
            "relief valve at {}",
            pressure(relief.set_pressure.si())
        ));
    }
    if let Some(pa) = site.wiring.as_ref().and_then(|w| w.low_pressure_cut_off) {
        lines.push(format!("low-pressure lever at {}", pressure(pa.si())));
    }
    lines
}

fn tank(site: &SiteSpec) -> Vec<String> {
    let tank = &site.tank;
    vec![
        format!(
            "{} shell, takes up to {}",
            volume(tank.shell_volume.si()),
            volume(tank.acceptance_volume.si())
        ),
        format!(
            "precharge {}, plate {}",
            pressure(tank.precharge.si()),
            pressure(tank.rated_pressure.si())
        ),
    ]
}

fn house(site: &SiteSpec) -> Vec<String> {
    let fixtures = site.house.fixtures.iter().map(|fixture| {
        format!(
            "{}: {} at {}",
            fixture.name,
            flow(fixture.rating.flow.si()),
            pressure(fixture.rating.drop.si())
        )
    });
    fixtures.collect()
}

fn wiring(plan: &Plan) -> Vec<String> {
    let mut lines = vec![plan.supply.clone()];
    lines.push(match &plan.ground_fault {
        Some(trip) => format!("breaker {}, ground-fault protection {trip}", plan.breaker),
        None => format!("breaker {}, no ground-fault protection", plan.breaker),
    });
    let names = ["panel to switch", "switch to splice", "splice to motor"];
    for (name, [length, size]) in names.iter().zip(&plan.cables) {
        lines.push(format!("{name}: {length} of {size} copper"));
    }
    if plan.has_float {
        lines.push("float switch in the first conductor".to_owned());
    }
    lines.push(format!("motor {}", plan.motor));
    lines
}

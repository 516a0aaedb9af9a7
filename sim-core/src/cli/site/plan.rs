//! The wiring of a site as both drawings show it: which conductors there are, what they
//! are called, what stands in them.

use crate::cli::display::{DisplayUnit, Units, fixed};
use crate::electric::conductor::{Conductor, Metal, Strand};
use crate::instruments::Bench;
use crate::parts::{CableSpec, ConductorSize, SupplySystem, WindingKind, WiringSpec};
use crate::site::SiteSpec;
use crate::trace::Quantity;
use crate::wiring::{CircuitState, MotorAtTerminals, Point, PumpCircuit, WiringDefects};

/// The wiring of a site.
#[derive(Debug, Clone)]
pub(super) struct Plan {
    /// Every point that a probe can touch at this site.
    pub(super) points: Vec<&'static Point>,
    /// Point at the panel that each of the two conductors comes from.
    pub(super) feeds: [&'static str; 2],
    /// The second conductor is a leg and not the neutral.
    pub(super) has_two_legs: bool,
    /// A second leg that the circuit does not use.
    pub(super) has_spare_leg: bool,
    pub(super) has_float: bool,
    /// The supply in one line.
    pub(super) supply: String,
    /// Rating of the breaker.
    pub(super) breaker: String,
    /// Ground-fault protection, where fitted.
    pub(super) ground_fault: Option<String>,
    /// Length, and size, of each cable: panel to switch, switch to splice, splice to motor.
    pub(super) cables: [[String; 2]; 3],
    /// Power and way of starting.
    pub(super) motor: String,
}

impl Plan {
    /// The plan of a site; none when its file has no wiring.
    pub(super) fn of(site: &SiteSpec) -> Option<Self> {
        let wiring = site.wiring.as_ref()?;
        // Points are those of the circuit itself, so that nothing is listed twice.
        let circuit = PumpCircuit::build(
            wiring,
            site.supply,
            site.air_temperature,
            &WiringDefects::none(),
            CircuitState::CLOSED,
            MotorAtTerminals::Absent,
        );
        // A site that was read has a circuit that can be put together.
        let points = Bench::points_of(&circuit.ok()?);
        let has = |name: &str| points.iter().any(|point| point.name == name);
        let has_two_legs = circuit_has_two_legs(site, wiring);
        let second = if has_two_legs {
            "panel.line2"
        } else {
            "panel.neutral"
        };
        Some(Self {
            feeds: ["panel.line1", second],
            has_two_legs,
            has_spare_leg: !has_two_legs && has("panel.line2"),
            has_float: has("float.load1"),
            supply: supply(site, wiring, has_two_legs),
            breaker: format!("{} A", wiring.breaker_rating.si()),
            ground_fault: wiring
                .ground_fault_trip
                .map(|trip| format!("{} mA", fixed(1_000.0 * trip.si(), 0))),
            cables: [
                &wiring.panel_to_switch,
                &wiring.switch_to_splice,
                &wiring.splice_to_motor,
            ]
            .map(|cable| [both(Quantity::Length, cable.length.si()), size(cable)]),
            motor: format!(
                "{}, {}",
                motor_power(site.motor.rated_power.si()),
                winding(wiring.winding)
            ),
            points,
        })
    }

    /// What the second conductor is called.
    pub(super) fn second_name(&self) -> &'static str {
        if self.has_two_legs {
            "line 2"
        } else {
            "neutral"
        }
    }
}

/// As the circuit's own builder decides: up to 150 V take one leg.
fn circuit_has_two_legs(site: &SiteSpec, wiring: &WiringSpec) -> bool {
    wiring.system == SupplySystem::SplitPhase && site.supply.voltage.si() > 150.0
}

fn supply(site: &SiteSpec, wiring: &WiringSpec, has_two_legs: bool) -> String {
    let volts = fixed(site.supply.voltage.si(), 0);
    let hertz = fixed(site.supply.frequency.si(), 0);
    let conductors = match (wiring.system, has_two_legs) {
        (SupplySystem::SinglePhase, _) => "line and neutral, single phase",
        (SupplySystem::SplitPhase, true) => "both legs of a split-phase service",
        (SupplySystem::SplitPhase, false) => "one leg and the neutral of a split-phase service",
    };
    format!("{volts} V, {hertz} Hz: {conductors}")
}

/// Horsepower and kilowatts.
pub(super) fn motor_power(watt: f64) -> String {
    let hp = watt / crate::units::convert::HORSEPOWER;
    format!("{} hp ({} kW)", fixed(hp, 2), fixed(watt / 1_000.0, 2))
}

fn winding(kind: WindingKind) -> &'static str {
    match kind {
        WindingKind::SplitPhase => "split-phase start",
        WindingKind::CapacitorStart => "capacitor start",
        WindingKind::PermanentCapacitor => "permanent capacitor",
        WindingKind::ThreeWire => "three wires, control box",
    }
}

/// A size in American gauge and in square millimeters: exact as sold, the other rounded.
fn size(cable: &CableSpec) -> String {
    match cable.conductor {
        ConductorSize::AwgCopper(gauge) => {
            let strand = if gauge >= 10 {
                Strand::Solid
            } else {
                Strand::Stranded
            };
            let conductor = Conductor::awg(i32::from(gauge), strand, Metal::Copper);
            let area = conductor.map_or_else(
                |_| String::new(),
                |c| format!(" ({} mm²)", fixed(c.area_m2 * 1e6, 1)),
            );
            format!("{gauge} AWG{area}")
        }
        ConductorSize::SquareMillimetersCopper(area) => {
            format!("{area} mm² (about {} AWG)", nearest_gauge(area))
        }
    }
}

/// The even gauge nearest in area.
fn nearest_gauge(area_mm2: f64) -> i32 {
    let off = |gauge: i32| {
        let diameter_mm = 1_000.0 * crate::electric::conductor::awg_diameter_m(gauge);
        let area = core::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm;
        (area - area_mm2).abs()
    };
    [16, 14, 12, 10, 8, 6, 4, 2]
        .into_iter()
        .min_by(|&a, &b| off(a).total_cmp(&off(b)))
        .unwrap_or(12)
}

/// A quantity in US units and, in brackets, in SI.
pub(super) fn both(quantity: Quantity, si: f64) -> String {
    let us = DisplayUnit::of(quantity, Units::Us).show(si);
    let metric = DisplayUnit::of(quantity, Units::Si).show(si);
    // Idle zeros of a whole number of feet say nothing.
    format!("{us} ({metric})").replace(".00 ", " ")
}

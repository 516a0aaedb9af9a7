//! Random actions: mostly sensible ones, some that cannot be, some that must not be.

use proptest::prelude::*;
use sim_core::catalog::PartId;
use sim_core::faults::{KindInfo, kinds};
use sim_core::session::{Action, Cover, FaultName, Moment, Port, Probe, Repair, Station, Until};
use sim_core::units::convert::PSI;
use sim_core::wiring::POINTS;

fn station() -> impl Strategy<Value = Station> {
    prop::sample::select(Station::ALL.to_vec())
}

fn part() -> impl Strategy<Value = PartId> {
    prop::sample::select(PartId::ALL.to_vec())
}

fn opening() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(0.0),
        Just(1.0),
        0.0..1.0_f64,
        Just(-1.0),
        Just(f64::NAN)
    ]
}

fn outlet() -> impl Strategy<Value = String> {
    prop::sample::select(vec![
        "kitchen-tap",
        "shower",
        "hose-bib",
        "toilet",
        "dairy-tap",
        "yard-tap",
        "bed-tap",
        "tool-sink",
        "no-such-tap",
    ])
    .prop_map(str::to_owned)
}

fn fault() -> impl Strategy<Value = FaultName> {
    let all: Vec<&'static KindInfo> = kinds().collect();
    prop::sample::select(all).prop_map(|info| FaultName(info.kind))
}

fn point() -> impl Strategy<Value = String> {
    let names: Vec<&'static str> = POINTS
        .iter()
        .map(|point| point.name)
        .chain(["nowhere"])
        .collect();
    prop::sample::select(names).prop_map(str::to_owned)
}

fn measure() -> impl Strategy<Value = Action> {
    let probe = prop::sample::select(vec![
        Probe::Volts,
        Probe::LowImpedanceVolts,
        Probe::Clamp,
        Probe::Inrush,
        Probe::Ohms,
        Probe::Insulation,
        Probe::Capacitance,
        Probe::Power,
    ]);
    let moment = prop_oneof![4 => Just(Moment::Now), 1 => Just(Moment::Starting)];
    (probe, point(), prop::option::weighted(0.9, point()), moment).prop_map(
        |(meter, from, to, moment)| Action::Measure {
            meter,
            from,
            to,
            moment,
        },
    )
}

fn seconds() -> impl Strategy<Value = f64> {
    prop_oneof![8 => 0.0..600.0_f64, 1 => Just(1_800.0), 1 => Just(-5.0)]
}

fn wait_until() -> impl Strategy<Value = Action> {
    let until = prop_oneof![
        Just(Until::PumpStarts),
        Just(Until::PumpStops),
        Just(Until::NeedleStill),
        (0.0..80.0_f64).prop_map(|psi| Until::GaugeAbove(psi * PSI)),
        (0.0..80.0_f64).prop_map(|psi| Until::GaugeBelow(psi * PSI)),
        Just(Until::SolidWater),
    ];
    (until, seconds()).prop_map(|(until, at_most)| Action::WaitUntil { until, at_most })
}

fn plain() -> impl Strategy<Value = Action> {
    prop::sample::select(vec![
        Action::Listen,
        Action::Smell,
        Action::KnockTank,
        Action::ReadGauge,
        Action::TapGauge,
        Action::DressForLiveWork,
        Action::LockOut,
        Action::RemoveLock,
        Action::ProveDead,
        Action::DischargeCapacitor,
        Action::TakeLeadsApart,
        Action::JoinLeads,
        Action::RemoveGauge,
        Action::ReadSecondGauge,
        Action::ReadAirValve,
        Action::PressAirValve,
        Action::MeasureLevel,
        Action::MeasureVacuum,
        Action::PullPump,
        Action::LowerPump { vented: false },
        Action::LowerPump { vented: true },
        Action::Vent,
        Action::Prime,
        Action::CallHelper,
        Action::CallQualified,
        Action::Disinfect,
        Action::Prove,
        Action::Hint,
        Action::Undo,
    ])
}

/// An action.
pub(crate) fn any_action() -> impl Strategy<Value = Action> {
    let repair = prop::sample::select(vec![
        Repair::Tighten,
        Repair::Clean,
        Repair::Refit,
        Repair::Rewire,
        Repair::Reset,
        Repair::Thaw,
        Repair::Fit,
        Repair::Refill,
    ]);
    let port = prop::sample::select(vec![Port::Tee, Port::Tank, Port::House]);
    let covers = prop::sample::select(Cover::ALL.to_vec());
    let psi = -5.0..150.0_f64;
    prop_oneof![
        10 => station().prop_map(|to| Action::Go { to }),
        6 => seconds().prop_map(|seconds| Action::Wait { seconds }),
        3 => wait_until(),
        12 => plain(),
        4 => prop::option::of(part()).prop_map(|at| Action::Look { at }),
        2 => part().prop_map(|part| Action::Feel { part }),
        1 => (seconds(), 0.5..60.0_f64).prop_map(|(seconds, every)| Action::LogGauge { seconds, every }),
        5 => any::<bool>().prop_map(|on| Action::SetBreaker { on }),
        2 => opening().prop_map(|opening| Action::SetHouseValve { opening }),
        2 => opening().prop_map(|opening| Action::SetTankValve { opening }),
        2 => opening().prop_map(|opening| Action::SetSourceValve { opening }),
        3 => opening().prop_map(|opening| Action::SetDrain { opening }),
        4 => (outlet(), opening()).prop_map(|(outlet, opening)| Action::SetOutlet { outlet, opening }),
        1 => any::<bool>().prop_map(|held| Action::HoldLever { held }),
        6 => covers.clone().prop_map(|cover| Action::OpenCover { cover }),
        2 => covers.prop_map(|cover| Action::CloseCover { cover }),
        10 => measure(),
        2 => port.prop_map(|port| Action::FitGauge { port }),
        2 => psi.clone().prop_map(|psi| Action::SetAir { pressure: psi * PSI }),
        1 => (outlet(), 0.001..0.02_f64).prop_map(|(outlet, volume)| Action::MeasureFlow { outlet, volume }),
        1 => part().prop_map(|part| Action::MeasureTemperature { part }),
        2 => (psi.clone(), psi).prop_map(|(a, b)| Action::AdjustSwitch { cut_in: a * PSI, cut_out: b * PSI }),
        4 => (part(), repair).prop_map(|(part, how)| Action::Repair { part, how }),
        4 => part().prop_map(|part| Action::Replace { part }),
        1 => proptest::option::of(fault()).prop_map(|about| Action::Explain { about }),
        1 => (fault(), any::<bool>()).prop_map(|(fault, keep)| Action::Suspect { fault, keep }),
        1 => prop::collection::vec(fault(), 0..3).prop_map(|faults| Action::Call { faults }),
        1 => ".{0,20}".prop_map(|text| Action::Note { text }),
    ]
}

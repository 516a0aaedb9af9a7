//! What could be done next to learn something: short scripts, each of which leaves the
//! valves as it found them.

use super::prepare::Wanted;
use crate::catalog::PartId;
use crate::session::{Action, Cover, Moment, Port, Probe, Station, Until};
use crate::site::SiteSpec;

/// Opening of the drain cock that makes the pump start soon.
const DRAW: f64 = 0.5;
/// How long one waits for a start, and for a stop [s].
const START_S: f64 = 300.0;
const STOP_S: f64 = 300.0;
/// A bucket [m³].
const BUCKET_M3: f64 = 0.01;

/// Something to try.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Candidate {
    /// For people.
    pub(super) title: String,
    pub(super) wanted: Wanted,
}

fn go(to: Station) -> Action {
    Action::Go { to }
}

const fn drain(opening: f64) -> Action {
    Action::SetDrain { opening }
}

const fn log(seconds: f64, every: f64) -> Action {
    Action::LogGauge { seconds, every }
}

fn wait(until: Until, at_most: f64) -> Action {
    Action::WaitUntil { until, at_most }
}

fn measure(meter: Probe, from: &str, to: &str, moment: Moment) -> Action {
    Action::Measure {
        meter,
        from: from.to_owned(),
        to: (!to.is_empty()).then(|| to.to_owned()),
        moment,
    }
}

struct List(Vec<Candidate>);

impl List {
    fn add(&mut self, title: &str, at: Option<Station>, actions: Vec<Action>) -> &mut Wanted {
        self.0.push(Candidate {
            title: title.to_owned(),
            wanted: Wanted {
                at,
                is_locked: false,
                is_powered: false,
                actions,
            },
        });
        let last = self.0.len() - 1;
        &mut self.0[last].wanted
    }

    fn dead(&mut self, title: &str, at: Option<Station>, actions: Vec<Action>) {
        self.add(title, at, actions).is_locked = true;
    }

    fn running(&mut self, title: &str, at: Option<Station>, actions: Vec<Action>) {
        self.add(title, at, actions).is_powered = true;
    }
}

/// The first round: what takes a minute or two and needs nothing opened.
pub(super) fn first_round() -> Vec<Action> {
    vec![Action::ReadGauge, Action::Look { at: None }, Action::Listen]
}

/// Everything that could be tried at a site.
pub(super) fn candidates(site: &SiteSpec) -> Vec<Candidate> {
    let mut list = List(Vec::new());
    at_the_wall(&mut list);
    in_the_house(&mut list, site);
    at_the_source(&mut list);
    live(&mut list);
    dead(&mut list);
    with_a_second_gauge(&mut list);
    list.0
}

fn at_the_wall(list: &mut List) {
    let wall = Some(Station::Wall);
    list.add("read the gauge", wall, vec![Action::ReadGauge]);
    list.add(
        "look round at the wall",
        wall,
        vec![Action::Look { at: None }],
    );
    list.add("listen at the wall", wall, vec![Action::Listen]);
    list.add("tap the gauge", wall, vec![Action::TapGauge]);
    list.add("knock on the tank", wall, vec![Action::KnockTank]);
    list.add(
        "press the tank's air valve",
        wall,
        vec![Action::PressAirValve],
    );
    list.add(
        "feel the pump",
        wall,
        vec![Action::Feel { part: PartId::Pump }],
    );
    list.running("watch the gauge", wall, vec![log(240.0, 40.0)]);
    let shut = Action::SetHouseValve { opening: 0.0 };
    let open = Action::SetHouseValve { opening: 1.0 };
    list.running(
        "watch the gauge with the house valve shut",
        wall,
        vec![shut.clone(), log(240.0, 40.0), open.clone()],
    );
    list.dead(
        "watch the gauge with the power locked off and the house valve shut",
        wall,
        vec![shut.clone(), log(900.0, 150.0), open.clone()],
    );
    list.dead(
        "watch the gauge with the power locked off",
        wall,
        vec![log(900.0, 150.0)],
    );
    list.dead(
        "watch the gauge between shut valves, house and source",
        wall,
        vec![
            shut,
            go(Station::Source),
            Action::SetSourceValve { opening: 0.0 },
            go(Station::Wall),
            log(600.0, 100.0),
            open,
            go(Station::Source),
            Action::SetSourceValve { opening: 1.0 },
        ],
    );
    list.running(
        "draw until the pump starts, let it run to its stop",
        wall,
        vec![
            drain(DRAW),
            wait(Until::PumpStarts, START_S),
            Action::ReadGauge,
            Action::Listen,
            drain(0.0),
            wait(Until::PumpStops, STOP_S),
            Action::ReadGauge,
        ],
    );
    list.running(
        "watch the gauge while water is drawn",
        wall,
        vec![drain(DRAW), log(120.0, 10.0), drain(0.0)],
    );
    list.running(
        "hold the lever up and watch the gauge",
        wall,
        vec![
            Action::HoldLever { held: true },
            log(60.0, 10.0),
            Action::HoldLever { held: false },
        ],
    );
    list.dead(
        "read the tank's air with the tank drained",
        wall,
        vec![
            drain(1.0),
            wait(Until::GaugeBelow(0.0), 1_800.0),
            Action::ReadAirValve,
            Action::ReadGauge,
            drain(0.0),
        ],
    );
    list.running(
        "read the vacuum while the pump runs",
        wall,
        vec![
            drain(DRAW),
            wait(Until::PumpStarts, START_S),
            Action::MeasureVacuum,
            drain(0.0),
        ],
    );
}

fn in_the_house(list: &mut List, site: &SiteSpec) {
    let house = Some(Station::House);
    list.add(
        "look round in the house",
        house,
        vec![Action::Look { at: None }],
    );
    list.add("listen in the house", house, vec![Action::Listen]);
    if let Some(outlet) = site.house.fixtures.first() {
        let outlet = &outlet.name;
        list.running(
            &format!("hold a bucket under the {outlet}"),
            house,
            vec![Action::MeasureFlow {
                outlet: outlet.clone(),
                volume: BUCKET_M3,
            }],
        );
        list.running(
            &format!("open the {outlet} and look at the water"),
            house,
            vec![
                Action::SetOutlet {
                    outlet: outlet.clone(),
                    opening: 1.0,
                },
                Action::Wait { seconds: 60.0 },
                Action::Look { at: None },
                Action::SetOutlet {
                    outlet: outlet.clone(),
                    opening: 0.0,
                },
            ],
        );
    }
}

fn at_the_source(list: &mut List) {
    let source = Some(Station::Source);
    list.add("listen at the source", source, vec![Action::Listen]);
    list.add(
        "look into the source",
        source,
        vec![
            Action::OpenCover {
                cover: Cover::Source,
            },
            Action::Look { at: None },
        ],
    );
    list.add(
        "measure the level",
        source,
        vec![
            Action::OpenCover {
                cover: Cover::Source,
            },
            Action::MeasureLevel,
        ],
    );
    list.running(
        "look into the source while the pump runs",
        source,
        vec![
            Action::OpenCover {
                cover: Cover::Source,
            },
            go(Station::Wall),
            drain(DRAW),
            wait(Until::PumpStarts, START_S),
            go(Station::Source),
            Action::Look { at: None },
            Action::Listen,
            go(Station::Wall),
            drain(0.0),
        ],
    );
}

fn live(list: &mut List) {
    let panel = Some(Station::Panel);
    let volts = |from, to| measure(Probe::Volts, from, to, Moment::Now);
    let starting = |from, to| measure(Probe::Volts, from, to, Moment::Starting);
    list.add(
        "look round at the panel",
        panel,
        vec![Action::Look { at: None }],
    );
    list.add(
        "volts in the panel",
        panel,
        vec![
            volts("panel.line1", "panel.line2"),
            volts("panel.line1", "panel.neutral"),
        ],
    );
    list.add(
        "volts in the panel",
        panel,
        vec![volts("panel.line1", "panel.neutral")],
    );
    list.add(
        "volts behind the breaker",
        panel,
        vec![volts("breaker.load1", "breaker.load2")],
    );
    list.add(
        "reset the breaker and see whether it holds",
        panel,
        vec![
            Action::SetBreaker { on: true },
            Action::Wait { seconds: 60.0 },
            Action::Look { at: None },
        ],
    );
    let wall = Some(Station::Wall);
    let look = Action::OpenCover {
        cover: Cover::Switch,
    };
    list.add(
        "look into the pressure switch",
        wall,
        vec![look, Action::Look { at: None }],
    );
    let low = |from, to| measure(Probe::LowImpedanceVolts, from, to, Moment::Now);
    list.add(
        "volts at the switch",
        wall,
        vec![
            volts("switch.line1", "switch.line2"),
            low("switch.load1", "switch.load2"),
        ],
    );
    list.running(
        "volts at the switch while the pump starts",
        wall,
        vec![
            drain(DRAW),
            starting("switch.line1", "switch.line2"),
            drain(0.0),
        ],
    );
    list.running(
        "volts behind the switch while the pump starts",
        wall,
        vec![
            drain(DRAW),
            starting("switch.load1", "switch.load2"),
            drain(0.0),
        ],
    );
    list.running(
        "volts across the contacts while the pump starts",
        wall,
        vec![
            drain(DRAW),
            starting("switch.line1", "switch.load1"),
            drain(0.0),
        ],
    );
    for (title, meter, moment) in [
        (
            "current while the pump starts",
            Probe::Clamp,
            Moment::Starting,
        ),
        ("inrush", Probe::Inrush, Moment::Starting),
    ] {
        list.running(
            title,
            wall,
            vec![
                drain(DRAW),
                measure(meter, "switch.load1", "", moment),
                drain(0.0),
            ],
        );
    }
    for (title, meter) in [
        ("current while the pump runs", Probe::Clamp),
        ("power while the pump runs", Probe::Power),
    ] {
        list.running(
            title,
            wall,
            vec![
                drain(DRAW),
                wait(Until::PumpStarts, START_S),
                Action::Wait { seconds: 10.0 },
                measure(meter, "switch.load1", "", Moment::Now),
                drain(0.0),
            ],
        );
    }
    for (title, from, to) in [
        (
            "volts into the splice box while the pump starts",
            "splice.line1",
            "splice.line2",
        ),
        (
            "volts out of the splice box while the pump starts",
            "splice.pump1",
            "splice.pump2",
        ),
        (
            "volts across a joint while the pump starts",
            "splice.line1",
            "splice.pump1",
        ),
    ] {
        list.running(
            title,
            wall,
            vec![
                drain(DRAW),
                go(Station::Splice),
                starting(from, to),
                go(Station::Wall),
                drain(0.0),
            ],
        );
    }
}

fn dead(list: &mut List) {
    let splice = Some(Station::Splice);
    let ohms = |from, to| measure(Probe::Ohms, from, to, Moment::Now);
    let insulation = |from, to| measure(Probe::Insulation, from, to, Moment::Now);
    list.dead(
        "look into the splice box",
        splice,
        vec![
            Action::OpenCover {
                cover: Cover::Splice,
            },
            Action::Look { at: None },
        ],
    );
    list.dead(
        "ohms across a joint",
        splice,
        vec![ohms("splice.line1", "splice.pump1")],
    );
    list.dead(
        "ohms of the motor",
        splice,
        vec![Action::TakeLeadsApart, ohms("splice.pump1", "splice.pump2")],
    );
    list.dead(
        "insulation towards the motor",
        splice,
        vec![
            Action::TakeLeadsApart,
            insulation("splice.pump1", "splice.earth"),
        ],
    );
    list.dead(
        "insulation towards the panel",
        splice,
        vec![
            Action::TakeLeadsApart,
            insulation("splice.line1", "splice.earth"),
        ],
    );
    list.dead(
        "insulation of the whole circuit",
        Some(Station::Wall),
        vec![insulation("switch.load1", "switch.frame")],
    );
    list.dead(
        "capacitance",
        Some(Station::Wall),
        vec![measure(
            Probe::Capacitance,
            "pump.cap1",
            "pump.cap2",
            Moment::Now,
        )],
    );
}

fn with_a_second_gauge(list: &mut List) {
    for (port, name) in [
        (Port::Tee, "tee"),
        (Port::Switch, "switch"),
        (Port::House, "house"),
    ] {
        list.add(
            &format!("a second gauge at the {name}"),
            Some(Station::Wall),
            vec![
                Action::FitGauge { port },
                drain(0.0),
                go(Station::Panel),
                Action::RemoveLock,
                Action::SetBreaker { on: true },
                go(Station::Wall),
                wait(Until::PumpStops, STOP_S),
                Action::ReadSecondGauge,
                Action::ReadGauge,
            ],
        );
    }
}

/// The test of the earth conductor, which shows nothing by itself: due on every visit.
pub(super) fn earth_test() -> Vec<Wanted> {
    ["splice.earth", "switch.frame", "panel.earth"]
        .into_iter()
        .map(|point| Wanted {
            at: None,
            is_locked: true,
            is_powered: false,
            actions: vec![measure(Probe::Ohms, point, "pump.frame", Moment::Now)],
        })
        .collect()
}

//! What is done about a fault: the remedies of the catalogue as actions, tried on the twin
//! that has it.

use super::prepare::{Plan, Wanted, drain, hold_lever, plan, repair};
use super::troubleshooter::Troubleshooter;
use crate::catalog::{PartId, Remedy};
use crate::faults::FaultKind;
use crate::session::{Action, FaultName, Repair, Station, Visit};
use crate::units::convert::PSI;

/// How far a precharge belongs below cut-in [Pa] (makers' instructions, common practice).
const BELOW_CUT_IN_PA: f64 = 2.0 * PSI;

impl Troubleshooter {
    /// The cheapest of the catalogue's remedies that cures a fault on a site thought of;
    /// none where none does.
    pub(super) fn remedy(&self, from: &Visit, kind: FaultKind) -> Option<(Plan, Visit)> {
        let entry = self.books.catalog.entry(kind)?;
        let mut best: Option<(f64, Plan, Visit)> = None;
        for remedy in &entry.remedies {
            for wanted in self.actions(*remedy, entry.part, kind) {
                let Some((script, after)) = plan(from, &wanted) else {
                    continue;
                };
                let condition = after.condition();
                let is_cured = condition
                    .hidden
                    .iter()
                    .all(|hidden| hidden.fault.kind != kind || hidden.is_cured);
                let cost = script.seconds / 60.0 * self.book.usd_per_minute + script.money;
                if is_cured && best.as_ref().is_none_or(|(least, _, _)| cost < *least) {
                    best = Some((cost, script, after));
                }
            }
        }
        best.map(|(_, script, after)| (script, after))
    }

    /// What a remedy may look like at this site.
    fn actions(&self, remedy: Remedy, part: PartId, kind: FaultKind) -> Vec<Wanted> {
        let wanted = |actions: Vec<Action>| Wanted {
            at: None,
            is_locked: false,
            is_powered: false,
            actions,
        };
        let locked = |actions: Vec<Action>| Wanted {
            at: None,
            is_locked: true,
            is_powered: false,
            actions,
        };
        let set_air = || {
            let mut actions = drain();
            actions.push(Action::SetAir {
                pressure: self.case.site.wall.pressure_switch.cut_in.si() - BELOW_CUT_IN_PA,
            });
            actions.push(Action::SetDrain { opening: 0.0 });
            actions
        };
        let switch = &self.case.site.wall.pressure_switch;
        let adjust = || Action::AdjustSwitch {
            cut_in: switch.cut_in.si(),
            cut_out: switch.cut_out.si(),
        };
        let fix = |part, how| vec![locked(vec![repair(part, how)])];
        match remedy {
            Remedy::Replace(part) => vec![locked(vec![Action::Replace { part }])],
            Remedy::Fit(part) => fix(part, Repair::Fit),
            Remedy::Clean(part) => fix(part, Repair::Clean),
            Remedy::Tighten(part) => fix(part, Repair::Tighten),
            Remedy::Refit(part) => fix(part, Repair::Refit),
            Remedy::Rewire(part) => fix(part, Repair::Rewire),
            Remedy::Thaw(part) => fix(part, Repair::Thaw),
            Remedy::AdjustSwitch => {
                let mut both = vec![adjust()];
                both.extend(set_air());
                vec![locked(vec![adjust()]), locked(both)]
            }
            Remedy::SetPrecharge => {
                let mut both = vec![adjust()];
                both.extend(set_air());
                vec![locked(set_air()), locked(both)]
            }
            Remedy::Prime => vec![locked(vec![Action::Prime]), locked(vec![Action::Vent])],
            Remedy::Open(PartId::HouseValve) => {
                vec![wanted(vec![Action::SetHouseValve { opening: 1.0 }])]
            }
            Remedy::Open(PartId::TankValve) => {
                vec![wanted(vec![Action::SetTankValve { opening: 1.0 }])]
            }
            Remedy::Open(_) => vec![wanted(vec![Action::SetSourceValve { opening: 1.0 }])],
            Remedy::Reset(PartId::Breaker) => vec![wanted(vec![Action::SetBreaker { on: true }])],
            Remedy::Reset(_) => vec![Wanted {
                is_powered: true,
                ..wanted(hold_lever())
            }],
            Remedy::Refill => fix(PartId::Source, Repair::Refill)
                .into_iter()
                .map(|w| Wanted {
                    is_locked: false,
                    ..w
                })
                .collect(),
            Remedy::Explain => vec![Wanted {
                at: Some(Station::House),
                ..wanted(vec![Action::Explain {
                    about: Some(FaultName(kind)),
                }])
            }],
            Remedy::CallQualified => {
                vec![wanted(vec![
                    Action::CallQualified,
                    repair(part, Repair::Tighten),
                ])]
            }
        }
    }
}

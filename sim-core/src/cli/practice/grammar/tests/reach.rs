//! Whether everything that a person can do can be said.

use super::*;

fn index(action: &Action) -> usize {
    match action {
        Action::Go { .. } => 0,
        Action::Wait { .. } => 1,
        Action::WaitUntil { .. } => 2,
        Action::Look { .. } => 3,
        Action::Listen => 4,
        Action::Feel { .. } => 5,
        Action::Smell => 6,
        Action::KnockTank => 7,
        Action::ReadGauge => 8,
        Action::TapGauge => 9,
        Action::LogGauge { .. } => 10,
        Action::SetBreaker { .. } => 11,
        Action::SetHouseValve { .. } => 12,
        Action::SetTankValve { .. } => 13,
        Action::SetSourceValve { .. } => 14,
        Action::SetDrain { .. } => 15,
        Action::SetOutlet { .. } => 16,
        Action::HoldLever { .. } => 17,
        Action::OpenCover { .. } => 18,
        Action::CloseCover { .. } => 19,
        Action::DressForLiveWork => 20,
        Action::LockOut => 21,
        Action::RemoveLock => 22,
        Action::ProveDead => 23,
        Action::DischargeCapacitor => 24,
        Action::TakeLeadsApart => 25,
        Action::JoinLeads => 26,
        Action::Measure { .. } => 27,
        Action::FitGauge { .. } => 28,
        Action::RemoveGauge => 29,
        Action::ReadSecondGauge => 30,
        Action::ReadAirValve => 31,
        Action::PressAirValve => 32,
        Action::SetAir { .. } => 33,
        Action::MeasureFlow { .. } => 34,
        Action::MeasureLevel => 35,
        Action::MeasureVacuum => 36,
        Action::MeasureTemperature { .. } => 37,
        Action::AdjustSwitch { .. } => 38,
        Action::Repair { .. } => 39,
        Action::Replace { .. } => 40,
        Action::PullPump => 41,
        Action::LowerPump { .. } => 42,
        Action::Vent => 43,
        Action::Prime => 44,
        Action::CallHelper => 45,
        Action::CallQualified => 46,
        Action::Disinfect => 47,
        Action::EnterSource => 48,
        Action::Explain { .. } => 49,
        Action::Note { .. } => 50,
        Action::Suspect { .. } => 51,
        Action::Call { .. } => 52,
        Action::Prove => 53,
        Action::CloseUp => 54,
        Action::Hint => 55,
        Action::Undo => 56,
    }
}

const LAST: usize = 56;

#[test]
fn every_action_can_be_said_by_a_line_that_help_shows() {
    let mut reached = [false; LAST + 1];
    for topic in Topic::ALL {
        for (example, _) in examples(topic) {
            for line in example.split(" | ") {
                let line = line.replace("TAP", "kitchen tap");
                // Terminals have short names where they are.
                let understood = Station::ALL.iter().find_map(|&station| {
                    at(station, Units::Us, |context| read(&line, context).ok())
                });
                match understood {
                    Some(Line::Act(action)) => reached[index(&action)] = true,
                    Some(_) => {}
                    None => panic!("help shows `{line}`, which is not understood"),
                }
            }
        }
    }
    // A valve is named in place of another, and a note is written as it is.
    for line in ["shut tank valve", "shut source valve", "note a thing"] {
        reached[index(&action(line, Station::Wall))] = true;
    }
    let missing: Vec<usize> = (0..=LAST).filter(|&index| !reached[index]).collect();
    assert!(
        missing.is_empty(),
        "no line for the actions numbered {missing:?}"
    );
}

#[test]
fn every_repair_meter_port_and_wait_can_be_said() {
    for (line, how) in [
        ("tighten the splice", Repair::Tighten),
        ("clean the filter", Repair::Clean),
        ("free the float", Repair::Refit),
        ("rewire the motor", Repair::Rewire),
        ("reset the breaker", Repair::Reset),
        ("thaw the port", Repair::Thaw),
        ("fit a check valve", Repair::Fit),
        ("fill the cistern", Repair::Refill),
    ] {
        assert!(
            matches!(action(line, Station::Wall), Action::Repair { how: said, .. } if said == how),
            "{line}"
        );
    }
}

//! Pump runs, read out of a recording: from each start to the stop that ends it.

use super::Recording;
use crate::plant::EventKind;

/// One run of the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PumpRun {
    /// When the motor was given power, from the start of the recording [s].
    pub start_s: f64,
    /// When it lost power; the end of the recording when it still ran [s].
    pub end_s: f64,
    /// Pressure at the tee at the start [Pa, gauge].
    pub from_pa: f64,
    /// Pressure at the tee at the stop [Pa, gauge]; none when it still ran.
    pub to_pa: Option<f64>,
}

impl PumpRun {
    /// How long the motor was powered [s].
    #[must_use]
    pub fn length_s(&self) -> f64 {
        self.end_s - self.start_s
    }
}

/// The pump's runs in order of time.
///
/// A recording that begins with the motor powered has a first run from time zero.
#[must_use]
pub fn pump_runs(recording: &Recording) -> Vec<PumpRun> {
    let first_value = |name: &str| recording.values(name).next();
    let begun = first_value("motor_on").is_some_and(|on| on > 0.5);
    let mut open = begun.then(|| PumpRun {
        start_s: 0.0,
        end_s: recording.totals.duration_s,
        from_pa: first_value("tee_pressure").unwrap_or_default(),
        to_pa: None,
    });
    let mut runs = Vec::new();
    for event in &recording.events {
        match event.kind {
            EventKind::PumpStarted => {
                // A second start without a stop cannot happen; the first one counts.
                open = open.or(Some(PumpRun {
                    start_s: event.time_s,
                    end_s: recording.totals.duration_s,
                    from_pa: event.tee_pressure_pa,
                    to_pa: None,
                }));
            }
            EventKind::PumpStopped => {
                runs.extend(open.take().map(|run| PumpRun {
                    end_s: event.time_s,
                    to_pa: Some(event.tee_pressure_pa),
                    ..run
                }));
            }
            _ => {}
        }
    }
    runs.extend(open);
    runs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trace::synthetic::{Script, run, ten_minutes};

    #[test]
    fn every_start_is_paired_with_the_stop_that_ends_it() {
        let recording = ten_minutes();
        let runs = pump_runs(&recording);
        assert_eq!(runs.len() as u64, recording.totals.pump_starts);
        for run in &runs {
            assert!(run.start_s < run.end_s);
            assert!(run.from_pa <= recording.cut_in_pa);
            assert!(run.to_pa.is_some_and(|to_pa| to_pa >= recording.cut_out_pa));
        }
    }

    #[test]
    fn a_run_that_has_not_ended_lasts_to_the_end_of_the_recording() {
        let recording = run(&Script {
            duration_s: 30.0,
            interval_s: 1.0,
            draw_s: (0.0, 60.0),
            dry: true,
        });
        let runs = pump_runs(&recording);
        assert_eq!(runs.len(), 1);
        assert_eq!((runs[0].start_s, runs[0].end_s), (0.0, 30.0));
        assert_eq!(runs[0].to_pa, None);
    }

    #[test]
    fn a_recording_that_begins_with_the_motor_on_has_a_run_from_zero() {
        let mut recording = ten_minutes();
        let first_stop = pump_runs(&recording)[0].end_s;
        let motor_on = crate::trace::CHANNELS
            .iter()
            .position(|channel| channel.name == "motor_on")
            .unwrap();
        recording.samples[0].values[motor_on] = 1.0;
        recording.events.retain(|event| event.time_s >= first_stop);
        let runs = pump_runs(&recording);
        assert_eq!((runs[0].start_s, runs[0].end_s), (0.0, first_stop));
    }
}

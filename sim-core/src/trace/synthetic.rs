//! A made-up recording for tests of whatever draws or writes one: a crude tank that
//! fills and empties between cut-in and cut-out.  No physics to rely on.

use super::{CHANNELS, Recording, Sample, Totals};
use crate::math;
use crate::plant::{Event, EventKind};
use crate::units::convert::{LITER, PSI};

/// What the made-up run looks like.
pub(crate) struct Script {
    pub(crate) duration_s: f64,
    pub(crate) interval_s: f64,
    /// Seconds of each period in which the house draws, and the period.
    pub(crate) draw_s: (f64, f64),
    /// Whether the run begins with an empty line.
    pub(crate) dry: bool,
}

const PUMP_M3_PER_S: f64 = 38.0 / 60_000.0;
const HOUSE_M3_PER_S: f64 = 12.0 / 60_000.0;
const ATMOSPHERE: f64 = 101_325.0;

/// Ten minutes of a charged line with a tap that runs half of the time.
pub(crate) fn ten_minutes() -> Recording {
    run(&Script {
        duration_s: 600.0,
        interval_s: 1.0,
        draw_s: (120.0, 240.0),
        dry: false,
    })
}

pub(crate) fn run(script: &Script) -> Recording {
    let (cut_in_pa, cut_out_pa) = (30.0 * PSI, 50.0 * PSI);
    let precharge_pa = 28.0 * PSI;
    let shell_m3 = 76.0 * LITER;
    let mut water_m3 = if script.dry { 0.0 } else { 15.0 * LITER };
    let (mut motor_on, mut gauge_pa, mut front) =
        (script.dry, 0.0, if script.dry { 0.0 } else { 1.0 });
    let mut recording = Recording {
        site: "orchard-cottage".to_owned(),
        title: "Orchard cottage on a buried cistern".to_owned(),
        cut_in_pa,
        cut_out_pa,
        samples: Vec::new(),
        events: Vec::new(),
        totals: Totals {
            duration_s: script.duration_s,
            lowest_house_pressure_pa: Some(29.2 * PSI),
            ..Totals::default()
        },
    };
    let n_samples = (script.duration_s / script.interval_s).round() as usize;
    for i in 0..=n_samples {
        let time_s = i as f64 * script.interval_s;
        let phase = time_s % script.draw_s.1;
        let house = if !script.dry && phase >= 10.0 && phase < 10.0 + script.draw_s.0 {
            HOUSE_M3_PER_S
        } else {
            0.0
        };
        let primed = front >= 1.0;
        let pressure = |water_m3: f64| {
            if primed {
                (precharge_pa + ATMOSPHERE) * shell_m3 / (shell_m3 - water_m3) - ATMOSPHERE
            } else {
                0.0
            }
        };
        let tee_pa = pressure(water_m3);
        let pump = if motor_on { PUMP_M3_PER_S } else { 0.0 };
        let mut event = |kind| {
            recording.events.push(Event {
                time_s,
                kind,
                tee_pressure_pa: tee_pa,
                pump_flow_m3_per_s: pump,
            });
        };
        if i == 0 && motor_on {
            event(EventKind::ContactsClosed);
            event(EventKind::PumpStarted);
            recording.totals.pump_starts += 1;
        }
        if motor_on && tee_pa >= cut_out_pa {
            motor_on = false;
            event(EventKind::ContactsOpened);
            event(EventKind::PumpStopped);
            event(EventKind::CheckShut);
        } else if !motor_on && tee_pa <= cut_in_pa {
            motor_on = true;
            event(EventKind::ContactsClosed);
            event(EventKind::PumpStarted);
            event(EventKind::CheckOpened);
            recording.totals.pump_starts += 1;
        }
        if !primed && motor_on {
            front += script.interval_s / 60.0;
            if front >= 1.0 {
                event(EventKind::WaterArrived);
                event(EventKind::BladderFilling);
            }
        }
        let pump = if motor_on { PUMP_M3_PER_S } else { 0.0 };
        if i == 0 {
            gauge_pa = tee_pa;
        }
        gauge_pa += (tee_pa - gauge_pa) * (1.0 - math::exp(-script.interval_s / 2.0));
        let value = |name: &str| match name {
            "tee_pressure" | "switch_pressure" | "tank_pressure" => tee_pa,
            "house_pressure" => tee_pa - if house > 0.0 { 2.0 * PSI } else { 0.0 },
            "gauge_pressure" => gauge_pa,
            "pump_flow" => pump,
            "house_flow" => house,
            "tank_water" => water_m3,
            "tank_air_temperature" => 285.15,
            "front" => front.min(1.0),
            "source_level" => 1.4,
            "shaft_speed" => f64::from(motor_on) * 361.0,
            "shaft_power" => f64::from(motor_on) * 410.0,
            "motor_on" | "contacts" => f64::from(motor_on),
            _ => 0.0,
        };
        recording.samples.push(Sample {
            time_s,
            values: CHANNELS.iter().map(|channel| value(channel.name)).collect(),
        });
        let totals = &mut recording.totals;
        totals.pump_run_s += f64::from(motor_on) * script.interval_s;
        totals.used_m3 += house * script.interval_s;
        totals.drawn_m3 += pump * script.interval_s;
        totals.shaft_energy_j += f64::from(motor_on) * 410.0 * script.interval_s;
        if primed {
            water_m3 += (pump - house) * script.interval_s;
        }
    }
    recording
}

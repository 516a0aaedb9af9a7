//! Which site each kind of fault is examined on.

/// Kinds of faults, each with the site that shows it, family by family.
pub(super) const CASES: &[(&str, &str)] = &[
    // Water's way to the wall.
    ("run.leak", "orchard-cottage"),
    ("check_valve.weeping", "orchard-cottage"),
    ("check_valve.stuck_open", "orchard-cottage"),
    ("check_valve.stuck_shut", "orchard-cottage"),
    ("intake.clogged_screen", "orchard-cottage"),
    ("pump.air_lock", "orchard-cottage"),
    ("source.low", "garden-shed"),
    // Tank.
    ("tank.lost_precharge", "orchard-cottage"),
    ("tank.excess_precharge", "orchard-cottage"),
    ("tank.waterlogged", "orchard-cottage"),
    // Machine.
    ("pump.jammed", "orchard-cottage"),
    ("pump.worn_impellers", "orchard-cottage"),
    ("pump.sheared_coupling", "orchard-cottage"),
    ("pump.reversed", "orchard-cottage"),
    ("pump.clogged_nozzle", "garden-shed"),
    ("pump.seal_leak", "garden-shed"),
    ("pump.oversized", "boatyard-washdown"),
    ("motor.bearing_drag", "orchard-cottage"),
    // Circuit.
    ("splice.high_resistance", "boatyard-washdown"),
    ("splice.open", "boatyard-washdown"),
    ("supply.open_leg", "boatyard-washdown"),
    ("supply.open_neutral", "orchard-cottage"),
    ("supply.wrong_voltage", "boatyard-washdown"),
    ("earth.open", "orchard-cottage"),
    ("motor.insulation", "garden-shed"),
    ("motor.open_start_capacitor", "orchard-cottage"),
    ("motor.open_winding", "orchard-cottage"),
    // Control.
    ("pressure_switch.plugged_port", "orchard-cottage"),
    ("pressure_switch.burnt_contacts", "boatyard-washdown"),
    ("pressure_switch.welded_contacts", "orchard-cottage"),
    ("float_switch.stuck_open", "orchard-cottage"),
    ("float_switch.stuck_closed", "orchard-cottage"),
    ("pressure_switch.cut_out_high", "orchard-cottage"),
    ("pressure_switch.small_differential", "orchard-cottage"),
    ("pressure_switch.raised", "orchard-cottage"),
    ("pressure_switch.leaking_diaphragm", "orchard-cottage"),
    ("pressure_switch.frozen_port", "orchard-cottage"),
    ("pressure_switch.cut_off_tripped", "hill-farm"),
    // Gauge.
    ("gauge.stuck", "orchard-cottage"),
    ("gauge.offset", "orchard-cottage"),
    ("gauge.plugged_snubber", "orchard-cottage"),
    // House and demand.
    ("house.leak", "orchard-cottage"),
    ("toilet.running", "orchard-cottage"),
    ("house.steady_draw", "orchard-cottage"),
    ("house.heavy_draw", "hill-farm"),
    ("house.small_draws", "orchard-cottage"),
    ("fixture.too_high", "boatyard-washdown"),
    ("heater.expansion", "orchard-cottage"),
];

//! Section 6: conductors, insulation, and circuits.

use sim_core::electric::conductor::{
    Conductor, Metal, NEC_COPPER_PER_K, Strand, awg_diameter_m, k_method_drop_v, k_ohm_cmil_per_ft,
    winding_temperature,
};
use sim_core::electric::insulation::{HALVING_RISE_K, LEAST_AT_40_C_OHM, temperature_factor};
use sim_core::units::convert::{FOOT, INCH, ZERO_CELSIUS, kelvins_from_celsius};
use sim_core::units::{Kelvins, Meters};

use super::check::Check;
use crate::netlist;

/// Where table 8 of the NEC holds.
const TABLE_TEMPERATURE: Kelvins = Kelvins(ZERO_CELSIUS + 75.0);

/// Resistance of 1000 ft at 75 °C [Ω].
fn ohm_per_kft(gauge: i32, metal: Metal) -> f64 {
    Conductor::awg(gauge, Strand::Stranded, metal)
        .expect("the table has the gauge")
        .resistance_ohm(Meters(1_000.0 * FOOT), TABLE_TEMPERATURE)
}

/// Magnitude of the voltage between two nodes of a netlist [V].
fn volts(netlist: &str, a: &str, b: &str) -> f64 {
    let netlist = netlist::load(netlist);
    let node = |name| netlist.network.node(name).expect("the node is there");
    let solution = netlist.network.solve(netlist.frequency);
    let solution = solution.expect("the netlist can be solved");
    solution.between(node(a), node(b)).magnitude()
}

/// Magnitude of the current in an element of a netlist [A].
fn amperes(netlist: &str, element: &str) -> f64 {
    let netlist = netlist::load(netlist);
    let element = netlist.network.element(element);
    let solution = netlist.network.solve(netlist.frequency);
    let solution = solution.expect("the netlist can be solved");
    solution
        .current(element.expect("the element is there"))
        .magnitude()
}

pub(super) fn checks() -> Vec<Check> {
    let mut checks = conductors();
    checks.extend(circuits());
    checks
}

fn conductors() -> Vec<Check> {
    vec![
        Check::new("ELE-01", || awg_diameter_m(14) / INCH),
        Check::new("ELE-02", || awg_diameter_m(12) / INCH),
        Check::new("ELE-03", || awg_diameter_m(10) / INCH),
        Check::new("ELE-04", || awg_diameter_m(8) / INCH),
        Check::new("ELE-07", || ohm_per_kft(12, Metal::Copper)),
        Check::new("ELE-10", || ohm_per_kft(6, Metal::Copper)),
        Check::new("ELE-11", || NEC_COPPER_PER_K),
        Check::new("ELE-13", || {
            winding_temperature(Kelvins(kelvins_from_celsius(20.0)), 1.2).si() - ZERO_CELSIUS
        }),
        Check::new("ELE-16", || k_method_drop_v(12.9, 8.0, 250.0, 6_530.0)),
        Check::new("ELE-17", || {
            k_ohm_cmil_per_ft(ohm_per_kft(8, Metal::Aluminum), 16_510.0)
        }),
        Check::new("ELE-46", || LEAST_AT_40_C_OHM / 1e6),
        Check::new("ELE-47", || {
            let from_k = kelvins_from_celsius(40.0);
            temperature_factor(from_k, from_k + HALVING_RISE_K)
        }),
    ]
}

fn circuits() -> Vec<Check> {
    vec![
        Check::new("ELE-57", || volts("n1_panel_normal", "l1", "n")),
        Check::new("ELE-58", || volts("n1_panel_normal", "l2", "n")),
        Check::new("ELE-59", || volts("n2_open_neutral", "l1", "n")),
        Check::new("ELE-60", || volts("n2_open_neutral", "l2", "n")),
        Check::new("ELE-63", || volts("n3b_open_hot_120off", "l2", "n")),
        Check::new("ELE-64", || volts("n4_hr_joint_loaded", "b", "c")),
        Check::new("ELE-65", || volts("n4_hr_joint_loaded", "a", "b")),
        Check::new("ELE-66", || volts("n4b_hr_joint_unloaded", "b", "c")),
        Check::new("ELE-69", || amperes("n6_ground_leak", "VE") * 1e3),
        Check::new("ELE-70", || volts("n7_phantom_hiz", "f", "0")),
        Check::new("ELE-71", || volts("n7b_phantom_loz", "f", "0")),
    ]
}

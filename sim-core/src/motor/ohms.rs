//! What an ohmmeter reads between a motor's leads with the power off.
//!
//! Direct current passes windings only: a capacitor that is charged stops it.  None means
//! an open circuit ("OL").  The start switch of a motor at rest is closed unless it has
//! failed or is a relay or electronic one outside; the condition says which.
//! Left out: meter leads, cable and splices (the network's), and that a rotor at rest
//! does not matter at DC.

use super::spec::{feeds_direct_current, strap_scale};
use super::{Condition, InductionMotor, Strap, WindingState, copper_factor};

/// Resistances between the three leads of a motor without its control box [Ω].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeadResistances {
    /// Between common and main: the main winding.
    pub common_main_ohm: Option<f64>,
    /// Between common and start: the auxiliary winding.
    pub common_start_ohm: Option<f64>,
    /// Between main and start: both in series, the highest of the three.
    pub main_start_ohm: Option<f64>,
}

impl InductionMotor {
    /// Resistance of the main winding as strapped [Ω].
    #[must_use]
    pub fn main_winding_ohm(&self, condition: &Condition) -> Option<f64> {
        let sound = condition.faults.main == WindingState::Sound;
        sound.then(|| {
            strap_scale(condition.strap)
                * self.main_ohm
                * (1.0 - condition.faults.shorted_turns)
                * copper_factor(condition.winding_celsius)
        })
    }

    /// Resistance of the auxiliary winding itself [Ω].
    #[must_use]
    pub fn auxiliary_winding_ohm(&self, condition: &Condition) -> Option<f64> {
        let sound = condition.faults.auxiliary == WindingState::Sound;
        sound.then(|| self.auxiliary_ohm * copper_factor(condition.winding_celsius))
    }

    /// Between the three leads, control box taken off.
    #[must_use]
    pub fn lead_resistances(&self, condition: &Condition) -> LeadResistances {
        let main = self.main_winding_ohm(condition);
        let start = self.auxiliary_winding_ohm(condition);
        LeadResistances {
            common_main_ohm: main,
            common_start_ohm: start,
            main_start_ohm: main.zip(start).map(|(a, b)| a + b),
        }
    }

    /// Between the two line leads: the main winding, and beside it the auxiliary where
    /// wire and a closed switch join it.
    #[must_use]
    pub fn line_resistance_ohm(&self, condition: &Condition) -> Option<f64> {
        let main = self.main_winding_ohm(condition);
        let joined = feeds_direct_current(&self.starting, condition);
        let auxiliary = self.auxiliary_winding_ohm(condition).filter(|_| joined);
        match condition.strap {
            Strap::Parallel => beside(main, auxiliary),
            // The auxiliary lies across one half; through an open main nothing passes.
            Strap::Series => {
                let half = 0.5 * main?;
                beside(Some(half), auxiliary).map(|across| half + across)
            }
        }
    }
}

fn beside(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a * b / (a + b)),
        (one, None) => one,
        (None, other) => other,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{CapacitorState, StartSwitch, WindingState, sets};
    use super::*;

    #[test]
    fn the_highest_of_the_three_pairs_leaves_out_the_common_lead() {
        let motor = sets::THREE_WIRE_ONE_AND_HALF_HP;
        let r = motor.lead_resistances(&motor.condition(StartSwitch::Closed, 25.0));
        let (main, start) = (r.common_main_ohm.unwrap(), r.common_start_ohm.unwrap());
        assert!(start > main);
        assert_eq!(r.main_start_ohm, Some(main + start));
    }

    #[test]
    fn a_capacitor_hides_the_auxiliary_winding_from_an_ohmmeter() {
        let motor = sets::CAPACITOR_START_ONE_HP;
        let mut condition = motor.condition(StartSwitch::Closed, 25.0);
        assert_eq!(motor.line_resistance_ohm(&condition), Some(motor.main_ohm));
        condition.faults.start_capacitor = CapacitorState::Shorted;
        assert!(motor.line_resistance_ohm(&condition).unwrap() < motor.main_ohm);
    }

    #[test]
    fn a_split_phase_motor_at_rest_reads_both_windings_side_by_side() {
        let motor = sets::TWO_WIRE_055_KW;
        let mut condition = motor.condition(StartSwitch::Closed, 25.0);
        let both = motor.line_resistance_ohm(&condition).unwrap();
        let expected = 1.0 / (1.0 / motor.main_ohm + 1.0 / motor.auxiliary_ohm);
        assert!((both - expected).abs() < 1e-12);
        condition.faults.main = WindingState::Open;
        assert_eq!(
            motor.line_resistance_ohm(&condition),
            Some(motor.auxiliary_ohm)
        );
        condition.faults.auxiliary = WindingState::Open;
        assert_eq!(motor.line_resistance_ohm(&condition), None);
    }

    #[test]
    fn series_halves_read_four_times_parallel_ones_and_heat_adds_a_fifth() {
        let motor = sets::CAPACITOR_START_HALF_HP;
        let mut condition = motor.condition(StartSwitch::Open, 25.0);
        condition.strap = Strap::Series;
        let cold = motor.line_resistance_ohm(&condition).unwrap();
        assert!((cold / motor.main_ohm - 4.0).abs() < 1e-12);
        condition.winding_celsius = 76.9;
        let hot = motor.line_resistance_ohm(&condition).unwrap();
        assert!((hot / cold - 1.2).abs() < 1e-3);
        condition.faults.shorted_turns = 0.1;
        let shorted = motor.line_resistance_ohm(&condition).unwrap();
        assert!((shorted / hot - 0.9).abs() < 1e-12);
    }
}

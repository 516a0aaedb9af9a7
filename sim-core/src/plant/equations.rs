//! The plant's equations laid open to an independent integrator.
//!
//! A referee takes [`Equations`] in the modes in force, integrates them with a method of
//! its own until a guard turns positive, and hands the state back with
//! [`Plant::resume_at`], which changes the mode as the engine would.

use std::sync::Arc;

use super::controls::{Command, CommandError, Controls};
use super::engine::{Plant, StepError};
use super::model::Model;
use super::modes::{Guard, Modes};
use super::rosenbrock::{Structure, System};
use super::state::N_STATES;
use super::system::{PlantSystem, structure};

/// Number of components in the state vector of a plant.
pub const STATE_LENGTH: usize = N_STATES;

/// The plant's equations in one set of modes.
#[derive(Debug, Clone)]
pub struct Equations {
    model: Arc<Model>,
    modes: Modes,
    controls: Controls,
    structure: Structure<N_STATES>,
}

impl Equations {
    /// Rates of all components; nought for those that rest in these modes.
    pub fn rates(&self, y: &[f64; STATE_LENGTH], rates: &mut [f64; STATE_LENGTH]) {
        let system = PlantSystem::new(&self.model, self.modes, &self.controls, &self.structure);
        let mut all = [0.0; N_STATES];
        system.rates(y, &mut all);
        *rates = [0.0; N_STATES];
        for &i in &self.structure.coupled {
            rates[i] = all[i];
        }
        for follower in &self.structure.followers {
            let i = follower.index;
            let followed = follower.follows.map_or(0.0, |(z, factor)| factor * y[z]);
            rates[i] = all[i] + followed - follower.decay * y[i];
        }
    }

    /// Guards that may fire in these modes, with values that turn positive when they do.
    #[must_use]
    pub fn guards(&self, y: &[f64; STATE_LENGTH]) -> Vec<(Guard, f64)> {
        self.model
            .guards(y, &self.modes, &self.controls)
            .as_slice()
            .to_vec()
    }

    /// What the clock changes next, and when [s].
    #[must_use]
    pub fn next_timer(&self) -> Option<(f64, Guard)> {
        self.modes.next_timer()
    }

    /// Size of an error in each component that tolerance 1 allows.
    #[must_use]
    pub fn error_scales(&self, y: &[f64; STATE_LENGTH]) -> [f64; STATE_LENGTH] {
        let system = PlantSystem::new(&self.model, self.modes, &self.controls, &self.structure);
        let mut scales = [1.0; N_STATES];
        system.error_scales(y, &mut scales);
        scales
    }

    /// The modes these equations hold in.
    #[must_use]
    pub fn modes(&self) -> &Modes {
        &self.modes
    }
}

impl Plant {
    /// The equations in force at the present tick.
    #[must_use]
    pub fn equations(&self) -> Equations {
        Equations {
            model: Arc::clone(&self.model),
            modes: self.state.modes,
            controls: self.state.controls.clone(),
            structure: structure(&self.model, &self.state.modes, &self.state.controls),
        }
    }

    /// State vector at the present tick.
    #[must_use]
    pub fn state_vector(&self) -> [f64; STATE_LENGTH] {
        self.state_now()
    }

    /// Does something to a plant that a referee has brought to a time; the plant's own
    /// ticks stand still.
    ///
    /// # Errors
    /// When the command asks for what cannot be.
    pub fn apply_at(&mut self, time_s: f64, command: Command) -> Result<(), CommandError> {
        self.apply_at_time(command, time_s, self.state.step.end)
    }

    /// Time with the motor powered, up to a time to which a referee has brought the plant
    /// [s].
    #[must_use]
    pub fn pump_run_to(&self, time_s: f64) -> f64 {
        self.state.run_s
            + self
                .state
                .powered_since_s
                .map_or(0.0, |since| time_s - since)
    }

    /// Puts the plant at a time and state that a referee has found, and makes the mode
    /// change of the guard that fired there, with all that follow from it at the same
    /// instant.  Returns the time and state to go on from.
    ///
    /// # Errors
    /// When parts switch without end.
    pub fn resume_at(
        &mut self,
        time_s: f64,
        y: [f64; STATE_LENGTH],
        fired: Option<Guard>,
    ) -> Result<(f64, [f64; STATE_LENGTH]), StepError> {
        self.settle_at(time_s, y, fired)?;
        Ok((self.state.step_start_s, self.state.step.end))
    }
}

//! What a cycle run comes to.

/// Why a stretch of time was left to the plant engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Reason {
    /// Air is in the pipes or the pump, or finds its way in.
    Air,
    /// The sensing port is too slow for the switch to be taken as following the tee.
    SlowPort,
    /// The switch's contacts do not follow its spring.
    Contacts,
    /// A motor, breaker or joint may get too hot.
    Heat,
    /// The pump does not get going, or not at every start.
    NoStart,
    /// The pump does not reach cut-out against a shut house.
    DeadHead,
    /// Water comes back through the pump, or has another way of its own.
    BackFlow,
    /// Something draws, swells or loses air by itself.
    ByItself,
    /// The tank's connection, shape or setting leaves no steady working range.
    Tank,
    /// A run of the pump was shorter than the assumptions allow.
    ShortRun,
    /// The pump was soon asked to start again.
    ShortRest,
    /// The tank ran empty before the pump started, or the house lost its pressure.
    Emptied,
    /// The water in the source stands too low.
    SourceLow,
    /// Outlets of the house draw air at low pressure.
    LowPressure,
    /// No steady state was found where one was assumed.
    NotSteady,
    /// The pipes' walls give so much that they store water beside the tank.
    SoftPipes,
}

impl Reason {
    /// Every reason, in order.
    pub const ALL: [Self; 16] = [
        Self::Air,
        Self::SlowPort,
        Self::Contacts,
        Self::Heat,
        Self::NoStart,
        Self::DeadHead,
        Self::BackFlow,
        Self::ByItself,
        Self::Tank,
        Self::ShortRun,
        Self::ShortRest,
        Self::Emptied,
        Self::SourceLow,
        Self::LowPressure,
        Self::NotSteady,
        Self::SoftPipes,
    ];
}

/// What was left to the plant engine for one reason.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandOver {
    /// Why.
    pub reason: Reason,
    /// How often.
    pub count: u64,
    /// How long in all [s].
    pub seconds: f64,
}

/// One run of the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PumpRun {
    /// When the motor was given power, from the start [s].
    pub start_s: f64,
    /// How long it had power [s].
    pub seconds: f64,
    /// Lowest pressure in the house pipes from the start to the stop, at the height of the
    /// tee [Pa, gauge].
    pub lowest_pa: f64,
    /// Whether the plant engine ran it.
    pub by_plant: bool,
}

/// Number of bins of a [`PressureShare`].
const BINS: usize = 512;
/// Width of a bin [Pa].
const BIN_PA: f64 = 2_000.0;

/// Pressures at one outlet while it was open, weighted with time.
#[derive(Debug, Clone, PartialEq)]
pub struct PressureShare {
    lowest_pa: Option<f64>,
    seconds: f64,
    bins: Vec<f64>,
}

impl PressureShare {
    pub(super) fn new() -> Self {
        Self {
            lowest_pa: None,
            seconds: 0.0,
            bins: vec![0.0; BINS],
        }
    }

    /// Lowest pressure while open [Pa, gauge]; none when it was never open.
    #[must_use]
    pub fn lowest_pa(&self) -> Option<f64> {
        self.lowest_pa
    }

    /// How long it was open [s].
    #[must_use]
    pub fn seconds(&self) -> f64 {
        self.seconds
    }

    /// Pressure below which it stood for a share of the time that it was open [Pa, gauge],
    /// to the width of a bin of 2 kPa; none when it was never open.
    #[must_use]
    pub fn quantile_pa(&self, share: f64) -> Option<f64> {
        if self.seconds <= 0.0 {
            return None;
        }
        let wanted = share.clamp(0.0, 1.0) * self.seconds;
        let mut sum = 0.0;
        for (i, &seconds) in self.bins.iter().enumerate() {
            if seconds > 0.0 && sum + seconds >= wanted {
                let within = ((wanted - sum) / seconds).clamp(0.0, 1.0);
                return Some((i as f64 + within) * BIN_PA);
            }
            sum += seconds;
        }
        Some(BINS as f64 * BIN_PA)
    }

    /// Median over the time that it was open [Pa, gauge].
    #[must_use]
    pub fn median_pa(&self) -> Option<f64> {
        self.quantile_pa(0.5)
    }

    pub(super) fn lower_to(&mut self, pa: f64) {
        self.lowest_pa = Some(self.lowest_pa.map_or(pa, |lowest| lowest.min(pa)));
    }

    pub(super) fn set_lowest(&mut self, lowest_pa: Option<f64>) {
        self.lowest_pa = lowest_pa;
    }

    /// Adds time at a pressure; returns the bin.
    pub(super) fn add(&mut self, pa: f64, seconds: f64) -> usize {
        let bin = ((pa * (1.0 / BIN_PA)).max(0.0) as usize).min(BINS - 1);
        self.bins[bin] += seconds;
        self.seconds += seconds;
        bin
    }

    pub(super) fn take(&mut self, bin: usize, seconds: f64) {
        self.bins[bin] -= seconds;
        self.seconds -= seconds;
    }
}

/// Upper ends of the classes in which runs are counted by their length [s]; the last class
/// has none.
pub const RUN_CLASSES_S: [f64; 9] = [6.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 3_600.0];

/// What a cycle run came to.
#[derive(Debug, Clone, PartialEq)]
pub struct CycleRun {
    /// How long was simulated [s].
    pub duration_s: f64,
    /// Times that the motor was given power.
    pub starts: u64,
    /// Time that the motor had power [s].
    pub run_s: f64,
    /// Energy from the supply [J]; nothing where the site has no wiring.
    pub supply_energy_j: f64,
    /// Work of the motor on the shaft [J].
    pub shaft_energy_j: f64,
    /// Water that left by the house's outlets [m³].
    pub used_m3: f64,
    /// Water that the pump took out of the source, net of what came back [m³].
    pub drawn_m3: f64,
    /// Finished runs by their length: counts of runs shorter than each of
    /// [`RUN_CLASSES_S`], and of the rest.
    pub runs_by_length: [u64; RUN_CLASSES_S.len() + 1],
    /// Starts of each day from the start of the run.
    pub starts_per_day: Vec<u32>,
    /// Most starts in any sixty minutes.
    pub most_starts_in_an_hour: u32,
    /// Pressures at each outlet while it was open, in the site's order.
    pub pressures: Vec<PressureShare>,
    /// Stretches left to the plant engine.
    pub hand_overs: u64,
    /// Their length in all [s].
    pub hand_over_s: f64,
    /// The same by reason, in order of reason; reasons that did not come up are left out.
    pub reasons: Vec<HandOver>,
}

impl CycleRun {
    pub(super) fn new(end_s: f64, n_fixtures: usize) -> Self {
        let days = (end_s / 86_400.0).ceil().max(0.0) as usize;
        Self {
            duration_s: end_s,
            starts: 0,
            run_s: 0.0,
            supply_energy_j: 0.0,
            shaft_energy_j: 0.0,
            used_m3: 0.0,
            drawn_m3: 0.0,
            runs_by_length: [0; RUN_CLASSES_S.len() + 1],
            starts_per_day: vec![0; days],
            most_starts_in_an_hour: 0,
            pressures: (0..n_fixtures).map(|_| PressureShare::new()).collect(),
            hand_overs: 0,
            hand_over_s: 0.0,
            reasons: Vec::with_capacity(Reason::ALL.len()),
        }
    }

    pub(super) fn count_hand_over(&mut self, reason: Reason, seconds: f64) {
        self.hand_overs += 1;
        self.hand_over_s += seconds;
        match self.reasons.iter_mut().find(|h| h.reason == reason) {
            Some(known) => {
                known.count += 1;
                known.seconds += seconds;
            }
            None => {
                self.reasons.push(HandOver {
                    reason,
                    count: 1,
                    seconds,
                });
                self.reasons.sort_by_key(|h| h.reason);
            }
        }
    }

    pub(super) fn count_length(&mut self, seconds: f64) {
        let class = RUN_CLASSES_S.iter().position(|&top| seconds < top);
        self.runs_by_length[class.unwrap_or(RUN_CLASSES_S.len())] += 1;
    }
}

//! One stretch of the settled course: along it in long steps, to the switch's setting.

use super::book::Book;
use super::calibrate::felt;
use super::gas::{Gas, Leg, Pose, Rates, SourceNow, Sums};
use super::result::PumpRun;
use super::sheet::{HOUSE, Lanes, TEE};

/// How near to the switch's setting a straight line is good enough for the rest [Pa].
const CLOSE_PA: f64 = 50.0;
/// Most tries to come so near.
const MOST_TRIES: u32 = 20;

/// What ended a stretch of the settled course.
pub(super) enum Ended {
    /// The time was up.
    InTime,
    /// The switch tripped.
    Tripped(Rates),
    /// The tank ran empty.
    Empty,
}

/// One stretch with the outlets and the pump as they are.
pub(super) struct Track<'a> {
    pub(super) gas: &'a Gas,
    pub(super) cut: f64,
    /// 1 where the switch trips on rising pressure, −1 on falling.
    pub(super) sign: f64,
    pub(super) port_s: f64,
    /// Longest step [s], and as a share of the time in which the pressure would change by
    /// itself.
    pub(super) longest_s: f64,
    pub(super) pressure_share: f64,
}

impl Track<'_> {
    #[inline(always)]
    fn beyond(&self, rates: &Rates) -> f64 {
        self.sign * (felt(rates) - self.cut)
    }

    #[allow(
        clippy::too_many_arguments,
        reason = "the parts of one engine, borrowed apart"
    )]
    pub(super) fn follow<F: FnMut(&PumpRun)>(
        &self,
        now_s: &mut f64,
        until_s: f64,
        mut rates: Rates,
        pose: &mut Pose,
        sums: &mut Sums,
        felt_pa: &mut Option<f64>,
        source: &SourceNow,
        lanes: &impl Lanes,
        book: &mut Book<F>,
        open: &[usize],
    ) -> Ended {
        if *now_s >= until_s {
            return Ended::InTime;
        }
        let mut go = |leg: &Leg, now_s: &mut f64, pose: &mut Pose| {
            let middle = leg.middle(source, lanes);
            sums.add(&leg.sums(&middle));
            if !open.is_empty() || self.sign > 0.0 {
                let house = [leg.first.lanes, middle, leg.last.lanes].map(|l| l[HOUSE]);
                book.pressures(open, house, leg.seconds, *now_s);
            }
            *pose = leg.to;
            *now_s += leg.seconds;
        };
        let mut beyond = self.beyond(&rates);
        if beyond >= 0.0 {
            // A change of demand has carried the tee past the setting: the port follows.
            let ahead = rates.lanes[TEE];
            let wait_s = felt_pa.take().map_or(0.0, |felt_pa| {
                let ratio = (felt_pa - ahead) / (self.cut - ahead);
                if ratio > 1.0 && ratio < 1e6 {
                    self.port_s * crate::math::ln(ratio)
                } else {
                    0.0
                }
            });
            let h = wait_s.min(until_s - *now_s);
            if h > 0.0 {
                let leg = self.rare_leg(pose, &rates, h, source, lanes);
                go(&leg, now_s, pose);
                rates = leg.last;
            }
            if *now_s < until_s {
                return Ended::Tripped(rates);
            }
            // The port is not there yet.
            *felt_pa = Some(ahead + (self.cut - ahead) * ratio_left(h, wait_s, self.port_s));
            return Ended::InTime;
        }
        loop {
            let left_s = until_s - *now_s;
            let longest_s =
                self.gas
                    .longest_step(&rates.speeds, self.longest_s, self.pressure_share);
            // What is left in two halves rather than in a long step and a stub.
            let h = if left_s <= longest_s {
                left_s
            } else if left_s <= 2.0 * longest_s {
                0.5 * left_s
            } else {
                longest_s
            };
            let leg = self.leg(pose, &rates, h, source, lanes);
            let after = self.beyond(&leg.last);
            if after.is_nan() || after >= 0.0 {
                let leg = self.cut(&leg, beyond, after, source, lanes);
                go(&leg, now_s, pose);
                return Ended::Tripped(leg.last);
            }
            if leg.to.water <= 0.0 {
                let share = (pose.water / (pose.water - leg.to.water)).clamp(0.0, 1.0);
                let leg = self.rare_leg(pose, &rates, share * h, source, lanes);
                go(&leg, now_s, pose);
                return Ended::Empty;
            }
            go(&leg, now_s, pose);
            (rates, beyond) = (leg.last, after);
            if h >= left_s {
                *now_s = until_s;
                *felt_pa = Some(felt(&rates));
                return Ended::InTime;
            }
        }
    }

    #[inline(always)]
    fn leg(
        &self,
        pose: &Pose,
        rates: &Rates,
        seconds: f64,
        source: &SourceNow,
        lanes: &impl Lanes,
    ) -> Leg {
        let (to, last) = self.gas.step(pose, &rates.speeds, seconds, source, lanes);
        Leg {
            from: *pose,
            to,
            first: *rates,
            last,
            seconds,
        }
    }

    /// The same where it is not worth its length in the loop.
    #[inline(never)]
    fn rare_leg(
        &self,
        pose: &Pose,
        rates: &Rates,
        seconds: f64,
        source: &SourceNow,
        lanes: &impl Lanes,
    ) -> Leg {
        self.leg(pose, rates, seconds, source, lanes)
    }

    /// The part of a step that ends where the switch trips.
    fn cut(
        &self,
        leg: &Leg,
        before: f64,
        after: f64,
        source: &SourceNow,
        lanes: &impl Lanes,
    ) -> Leg {
        let (mut low, mut at_low, mut high, mut at_high) = (0.0, before, 1.0, after);
        let mut share = crossing(leg, before, after);
        let mut cut = *leg;
        for _ in 0..MOST_TRIES {
            // A shorter step from the same beginning ...
            let seconds = share * leg.seconds;
            cut = self.rare_leg(&leg.from, &leg.first, seconds, source, lanes);
            let value = self.beyond(&cut.last);
            let slope = (at_high - at_low) / ((high - low) * leg.seconds);
            // ... and what little that is off is made good at the speeds there.
            if value.abs() < CLOSE_PA {
                let more_s = -value / slope;
                cut.to = cut.to.ahead(&cut.last.speeds, more_s);
                cut.seconds += more_s;
                break;
            }
            if value < 0.0 {
                (low, at_low) = (share, value);
            } else {
                (high, at_high) = (share, value);
            }
            share = (low * at_high - high * at_low) / (at_high - at_low);
        }
        cut
    }
}

/// Share of a step after which what the switch feels crosses its setting: along the cubic
/// that rises at the ends as the tank's pressure does.
fn crossing(leg: &Leg, before: f64, after: f64) -> f64 {
    let rise = after - before;
    let (first, last) = (&leg.first.speeds, &leg.last.speeds);
    let per_pa = rise / (last.pressure_pa - first.pressure_pa);
    let bend = |rate: f64| (rate * per_pa * leg.seconds / rise).clamp(0.0, 3.0);
    let (a, b) = (bend(first.pressure_rate), bend(last.pressure_rate));
    let straight = -before / rise;
    let mut share = straight;
    // With slopes of 0 to 3 times the chord's it never turns back.
    for _ in 0..3 {
        let rest = 1.0 - share;
        let value = share + share * rest * (rest * (a - 1.0) - share * (b - 1.0)) - straight;
        let slope =
            6.0 * share * rest + a * rest * (1.0 - 3.0 * share) - b * share * (2.0 - 3.0 * share);
        share = (share - value / slope.max(0.1)).clamp(0.0, 1.0);
    }
    if share.is_nan() { straight } else { share }
}

/// How far the port is from where it goes, over how far the setting is: 1 when it trips.
fn ratio_left(gone_s: f64, wait_s: f64, port_s: f64) -> f64 {
    crate::math::exp((wait_s - gone_s) / port_s)
}

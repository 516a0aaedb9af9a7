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
    pub(super) longest_s: f64,
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
        let mut rates = self.gas.rates(pose, source, lanes);
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
                let leg = self.leg(pose, &rates, h, source, lanes);
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
            let longest_s = self.gas.longest_step(&rates.speeds, self.longest_s);
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
                let leg = self.leg(pose, &rates, share * h, source, lanes);
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

    /// The part of a step that ends where the switch trips.
    fn cut(
        &self,
        leg: &Leg,
        before: f64,
        after: f64,
        source: &SourceNow,
        lanes: &impl Lanes,
    ) -> Leg {
        // Along the cubic through its ends, by false position ...
        let (mut low, mut at_low, mut high, mut at_high) = (0.0, before, 1.0, after);
        let mut cut = *leg;
        for _ in 0..MOST_TRIES {
            let share = (low * at_high - high * at_low) / (at_high - at_low);
            cut.to = leg.pose_at(share);
            cut.seconds = share * leg.seconds;
            cut.last = self.gas.rates(&cut.to, source, lanes);
            let value = self.beyond(&cut.last);
            let slope = (at_high - at_low) / ((high - low) * leg.seconds);
            if value < 0.0 {
                (low, at_low) = (share, value);
            } else {
                (high, at_high) = (share, value);
            }
            // ... and what little that is off is made good at the speeds there.
            if value.abs() < CLOSE_PA {
                let more_s = -value / slope;
                cut.to = cut.to.ahead(&cut.last.speeds, more_s);
                cut.seconds += more_s;
                break;
            }
        }
        cut
    }
}

/// How far the port is from where it goes, over how far the setting is: 1 when it trips.
fn ratio_left(gone_s: f64, wait_s: f64, port_s: f64) -> f64 {
    crate::math::exp((wait_s - gone_s) / port_s)
}

//! One stretch of the settled course: along it in long steps, to the switch's setting.

use super::book::Book;
use super::calibrate::felt;
use super::gas::{Gas, Pose, Rates, SourceNow, Sums};
use super::result::PumpRun;
use super::sheet::{HOUSE, LANES, TEE};

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
    #[inline]
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
        felt_pa: Option<f64>,
        source: &SourceNow,
        lanes: &impl Fn(f64, f64) -> [f64; LANES],
        book: &mut Book<F>,
        open: &[usize],
    ) -> Ended {
        if *now_s >= until_s {
            return Ended::InTime;
        }
        let mut rates = self.gas.rates(pose, source, lanes);
        let mut beyond = self.beyond(&rates);
        if beyond >= 0.0 {
            // A change of demand has carried the tee past the setting: the port follows.
            let ahead = rates.lanes[TEE];
            let wait_s = felt_pa.map_or(0.0, |felt_pa| {
                let ratio = (felt_pa - ahead) / (self.cut - ahead);
                if ratio > 1.0 && ratio < 1e6 {
                    self.port_s * crate::math::ln(ratio)
                } else {
                    0.0
                }
            });
            let h = wait_s.min(until_s - *now_s);
            if h > 0.0 {
                let (end, last, middle, add) = self.gas.step(pose, &rates, h, source, lanes);
                note(book, open, &rates, &middle, &last, h, *now_s);
                (*pose, rates) = (end, last);
                sums.add(&add);
                *now_s += h;
            }
            return if *now_s >= until_s {
                Ended::InTime
            } else {
                Ended::Tripped(rates)
            };
        }
        loop {
            let left_s = until_s - *now_s;
            let h = self.gas.longest_step(&rates, self.longest_s);
            let is_last = h >= left_s;
            let h = if is_last { left_s } else { h };
            let (end, last, middle, add) = self.gas.step(pose, &rates, h, source, lanes);
            let after = self.beyond(&last);
            if after.is_nan() || after >= 0.0 {
                let tripped = self.locate(pose, &rates, beyond, h, after, source, lanes);
                let (h, end, last, middle, add) = tripped;
                note(book, open, &rates, &middle, &last, h, *now_s);
                *pose = end;
                sums.add(&add);
                *now_s += h;
                return Ended::Tripped(last);
            }
            if end.water <= 0.0 {
                let share = (pose.water / (pose.water - end.water)).clamp(0.0, 1.0);
                let h = share * h;
                let (end, last, middle, add) = self.gas.step(pose, &rates, h, source, lanes);
                note(book, open, &rates, &middle, &last, h, *now_s);
                *pose = end;
                sums.add(&add);
                *now_s += h;
                return Ended::Empty;
            }
            note(book, open, &rates, &middle, &last, h, *now_s);
            (*pose, rates, beyond) = (end, last, after);
            sums.add(&add);
            if is_last {
                *now_s = until_s;
                return Ended::InTime;
            }
            *now_s += h;
        }
    }

    /// Finds the step that ends where the switch trips.
    #[allow(
        clippy::too_many_arguments,
        reason = "both ends of a step and what it is made of"
    )]
    fn locate(
        &self,
        pose: &Pose,
        rates: &Rates,
        before: f64,
        h: f64,
        after: f64,
        source: &SourceNow,
        lanes: &impl Fn(f64, f64) -> [f64; LANES],
    ) -> (f64, Pose, Rates, Rates, Sums) {
        let (mut low, mut at_low) = (0.0, before);
        let (mut high, mut at_high) = (h, after);
        let mut best = h;
        for _ in 0..6 {
            best = low - at_low * (high - low) / (at_high - at_low);
            let (_, last, ..) = self.gas.step(pose, rates, best, source, lanes);
            let value = self.beyond(&last);
            if value.abs() < 0.05 {
                break;
            }
            if value < 0.0 {
                (low, at_low) = (best, value);
            } else {
                (high, at_high) = (best, value);
            }
        }
        let (end, last, middle, add) = self.gas.step(pose, rates, best, source, lanes);
        (best, end, last, middle, add)
    }
}

/// Writes the pressures of a step down.
#[inline]
fn note<F: FnMut(&PumpRun)>(
    book: &mut Book<F>,
    open: &[usize],
    first: &Rates,
    middle: &Rates,
    last: &Rates,
    h: f64,
    now_s: f64,
) {
    let sixth = h / 6.0;
    book.pressure(open, first.lanes[HOUSE], sixth, now_s);
    book.pressure(open, middle.lanes[HOUSE], 4.0 * sixth, now_s);
    book.pressure(open, last.lanes[HOUSE], sixth, now_s);
    book.lowest(open, first.lanes[HOUSE].min(last.lanes[HOUSE]));
}

//! Curves of pumps that are not what they were made to be.

use super::{PumpCurve, PumpMap, PumpPoint, PumpSpec};
use crate::units::{CubicMetersPerSecond, Meters, Watts};

/// Water that slips back inside a pump whose head is gone altogether, at shut-off, over
/// the largest flow of its curve (training value, common practice, no source).
const SLIP_SHARE: f64 = 0.5;
/// Points laid on a worn curve beside the first.
const POINTS: u32 = 24;

impl PumpCurve {
    /// The same curve with flow, head and shaft power each times a factor above 0.
    #[must_use]
    pub fn stretched(&self, flow: f64, head: f64, power: f64) -> Self {
        match self {
            Self::Points(points) => Self::Points(
                points
                    .iter()
                    .map(|p| PumpPoint {
                        flow: CubicMetersPerSecond(p.flow.si() * flow),
                        head: Meters(p.head.si() * head),
                        power: Watts(p.power.si() * power),
                        npsh_required: p.npsh_required,
                    })
                    .collect(),
            ),
            Self::Quadratic {
                head: h,
                power: p,
                npsh_required: n,
                max_flow,
            } => {
                let scaled = |c: &[f64; 3], factor: f64| {
                    [
                        c[0] * factor,
                        c[1] * factor / flow,
                        c[2] * factor / (flow * flow),
                    ]
                };
                Self::Quadratic {
                    head: scaled(h, head),
                    power: scaled(p, power),
                    npsh_required: scaled(n, 1.0),
                    max_flow: CubicMetersPerSecond(max_flow.si() * flow),
                }
            }
        }
    }
}

impl PumpSpec {
    /// The pump's curve with worn impellers that have a share of their head left (above 0,
    /// 1 for sound ones).
    ///
    /// Water slips back from outlet to eye in proportion to the square root of head, so the
    /// wheels pass more than the pump gives; power falls half as much as head, for the
    /// slip has to be driven too (training values).
    #[must_use]
    pub fn worn_curve(&self, head_left: f64) -> PumpCurve {
        let map = PumpMap::new(self);
        let (speed, most) = (map.rated_speed_rad_per_s(), map.max_flow_m3_per_s());
        let slip_at_rest = SLIP_SHARE * (1.0 - head_left) * most;
        let slip = |through: f64| {
            let share = map.head_m(through, speed) / map.shut_off_head_m();
            slip_at_rest * share.max(0.0).sqrt()
        };
        let most_given = most - slip(most);
        let points = (0..=POINTS).map(|i| {
            let given = most_given * f64::from(i) / f64::from(POINTS);
            // What is given grows with what passes the wheels: halve the bracket.
            let (mut low, mut high) = (given, most);
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                if middle - slip(middle) < given {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            PumpPoint {
                flow: CubicMetersPerSecond(given),
                head: Meters(map.head_m(high, speed) * head_left),
                power: Watts(map.torque_nm(high, speed) * speed * 0.5 * (1.0 + head_left)),
                npsh_required: Meters(map.npsh_required_m(high, speed)),
            }
        });
        PumpCurve::Points(points.collect())
    }
}

//! What a pump does to water, in numbers that need no pump: head and pressure, water
//! power, affinity laws, and where a pump curve meets a system curve.
//!
//! - Head: h = p/(ρ·g).  Water power: P = ρ·g·Q·H; shaft power: P/η.
//! - Affinity, same impeller, speed ratio r = n₂/n₁: Q ~ r, H ~ r², P ~ r³ (dimensional
//!   analysis; true while Reynolds number matters little).  A curve H(Q) at speed 1
//!   becomes r²·H(Q/r).
//! - Total head of a system: lift + pressure head + losses.
//!
//! Leaves out: change of efficiency with speed, and everything that a particular pump
//! adds (see `crate::parts::PumpSpec`).

use crate::units::convert::STANDARD_GRAVITY;

/// Head of a pressure [m of the fluid].
///
/// ```
/// use sim_core::units::convert::PSI;
/// use sim_core::water::pumping::head_m_from_pressure;
///
/// // 40 psi carries water 28 m up.
/// assert!((head_m_from_pressure(40.0 * PSI, 999.7) - 28.13).abs() < 0.01);
/// ```
#[must_use]
pub fn head_m_from_pressure(pressure_pa: f64, density_kg_per_m3: f64) -> f64 {
    pressure_pa / (density_kg_per_m3 * STANDARD_GRAVITY)
}

/// Pressure of a head [Pa].
#[must_use]
pub fn pressure_pa_from_head(head_m: f64, density_kg_per_m3: f64) -> f64 {
    density_kg_per_m3 * STANDARD_GRAVITY * head_m
}

/// Greatest height from which water can be sucked [m], without losses: (p_atm − p_v)/(ρ·g).
#[must_use]
pub fn suction_lift_limit_m(
    atmospheric_pressure_pa: f64,
    vapor_pressure_pa: f64,
    density_kg_per_m3: f64,
) -> f64 {
    head_m_from_pressure(
        atmospheric_pressure_pa - vapor_pressure_pa,
        density_kg_per_m3,
    )
}

/// Power that the water receives [W]: pressure rise times flow.
#[must_use]
pub fn water_power_w(flow_m3_per_s: f64, pressure_rise_pa: f64) -> f64 {
    flow_m3_per_s * pressure_rise_pa
}

/// Power that the shaft must deliver [W], efficiency above 0 and up to 1.
#[must_use]
pub fn shaft_power_w(flow_m3_per_s: f64, pressure_rise_pa: f64, efficiency: f64) -> f64 {
    water_power_w(flow_m3_per_s, pressure_rise_pa) / efficiency
}

/// Pressure rise that a given power gives to a flow [Pa], flow above zero.
#[must_use]
pub fn pressure_rise_pa_from_power(water_power_w: f64, flow_m3_per_s: f64) -> f64 {
    water_power_w / flow_m3_per_s
}

/// Flow at another speed [same unit as `flow`], speed ratio r = new/old.
#[must_use]
pub fn affinity_flow(flow: f64, speed_ratio: f64) -> f64 {
    flow * speed_ratio
}

/// Head at another speed [same unit as `head`].
#[must_use]
pub fn affinity_head(head: f64, speed_ratio: f64) -> f64 {
    head * speed_ratio * speed_ratio
}

/// Power at another speed [same unit as `power`].
#[must_use]
pub fn affinity_power(power: f64, speed_ratio: f64) -> f64 {
    power * speed_ratio * speed_ratio * speed_ratio
}

/// A quadratic c₀ + c₁·Q + c₂·Q² [m], Q in m³/s: a pump curve, or a system curve with
/// lift c₀.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuadraticHead {
    /// c₀ [m] -- constant.
    pub at_rest_m: f64,
    /// c₁ [s/m²] -- constant.
    pub linear: f64,
    /// c₂ [s²/m⁵] -- constant.
    pub quadratic: f64,
}

impl QuadraticHead {
    /// Head at a flow [m].
    #[must_use]
    pub fn at(&self, flow_m3_per_s: f64) -> f64 {
        self.at_rest_m + flow_m3_per_s * (self.linear + flow_m3_per_s * self.quadratic)
    }

    /// A pump curve at another speed: r²·H(Q/r).
    #[must_use]
    pub fn at_speed_ratio(&self, speed_ratio: f64) -> Self {
        Self {
            at_rest_m: affinity_head(self.at_rest_m, speed_ratio),
            linear: self.linear * speed_ratio,
            quadratic: self.quadratic,
        }
    }

    /// Flow at which this pump curve meets `system` [m³/s], `None` when the pump cannot
    /// lift the water that far.
    ///
    /// The difference must fall with flow from rest on, as that of a stable pump curve
    /// and a system curve does.
    #[must_use]
    pub fn operating_flow_m3_per_s(&self, system: &Self) -> Option<f64> {
        // a − b·Q − c·Q² = 0, in the form that does not cancel.
        let a = self.at_rest_m - system.at_rest_m;
        let b = system.linear - self.linear;
        let c = system.quadratic - self.quadratic;
        if a < 0.0 {
            return None;
        }
        let denominator = b + (b * b + 4.0 * a * c).sqrt();
        (denominator > 0.0).then(|| 2.0 * a / denominator)
    }
}

/// Total head of a pumped system [m]: lift, pressure to be met at the far end, losses.
#[must_use]
pub fn total_head_m(
    lift_m: f64,
    end_pressure_pa: f64,
    loss_pa: f64,
    density_kg_per_m3: f64,
) -> f64 {
    lift_m + head_m_from_pressure(end_pressure_pa + loss_pa, density_kg_per_m3)
}

/// Flow at which a falling pump curve meets a rising system curve [m³/s], both any
/// function of flow; `None` when the pump cannot reach the system's head at rest.
///
/// Answers `most_flow_m3_per_s` when the curves have not met by then.  By bisection to
/// the last bit, so the curves need not be smooth.
#[must_use]
pub fn operating_flow_m3_per_s(
    pump_head_m: impl Fn(f64) -> f64,
    system_head_m: impl Fn(f64) -> f64,
    most_flow_m3_per_s: f64,
) -> Option<f64> {
    let surplus_m = |flow: f64| pump_head_m(flow) - system_head_m(flow);
    if surplus_m(0.0) < 0.0 {
        return None;
    }
    if surplus_m(most_flow_m3_per_s) >= 0.0 {
        return Some(most_flow_m3_per_s);
    }
    let (mut low, mut high) = (0.0, most_flow_m3_per_s);
    loop {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            return Some(middle);
        }
        if surplus_m(middle) >= 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const PUMP: QuadraticHead = QuadraticHead {
        at_rest_m: 70.0,
        linear: -8_000.0,
        quadratic: -2.2e7,
    };
    const SYSTEM: QuadraticHead = QuadraticHead {
        at_rest_m: 40.0,
        linear: 0.0,
        quadratic: 4.0e6,
    };

    #[test]
    fn head_and_pressure_are_inverse() {
        let pressure = pressure_pa_from_head(23.4, 998.0);
        assert_relative_eq!(
            head_m_from_pressure(pressure, 998.0),
            23.4,
            max_relative = 1e-14
        );
    }

    #[test]
    fn closed_form_and_bisection_find_the_same_operating_point() {
        let closed = PUMP.operating_flow_m3_per_s(&SYSTEM).unwrap();
        let searched = operating_flow_m3_per_s(|q| PUMP.at(q), |q| SYSTEM.at(q), 0.01).unwrap();
        assert_relative_eq!(closed, searched, max_relative = 1e-12);
        assert_relative_eq!(PUMP.at(closed), SYSTEM.at(closed), max_relative = 1e-12);
    }

    #[test]
    fn a_pump_that_cannot_lift_the_water_has_no_operating_point() {
        let too_high = QuadraticHead {
            at_rest_m: 71.0,
            ..SYSTEM
        };
        assert_eq!(PUMP.operating_flow_m3_per_s(&too_high), None);
        assert_eq!(
            operating_flow_m3_per_s(|q| PUMP.at(q), |q| too_high.at(q), 0.01),
            None
        );
    }

    #[test]
    fn a_scaled_curve_obeys_the_affinity_laws_point_by_point() {
        let ratio = 0.7;
        let scaled = PUMP.at_speed_ratio(ratio);
        for flow in [0.0, 3e-4, 9e-4] {
            assert_relative_eq!(
                scaled.at(affinity_flow(flow, ratio)),
                affinity_head(PUMP.at(flow), ratio),
                max_relative = 1e-12
            );
        }
    }
}

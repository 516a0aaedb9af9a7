//! Settled quantities over tank pressure, as cubics in even cells.

/// Flow into the tank while its pressure rests [m³/s].
pub(super) const N: usize = 0;
/// What that flow loses per rate of tank pressure [m³/Pa].
pub(super) const B: usize = 1;
/// Flow out of the source [m³/s], and what is added per rate of tank pressure [m³/Pa].
pub(super) const PUMPED: usize = 2;
pub(super) const PUMPED_LAG: usize = 3;
/// Pressure at the tee [Pa, gauge], and what the switch feels beyond it per rate of tank
/// pressure [s].
pub(super) const TEE: usize = 4;
pub(super) const TEE_LAG: usize = 5;
/// Flow out of the house's outlets [m³/s].
pub(super) const USED: usize = 6;
/// Pressure in the house pipes [Pa, gauge].
pub(super) const HOUSE: usize = 7;
/// Power from the supply [W], and what is added per rate of tank pressure [W·s/Pa].
pub(super) const SUPPLY: usize = 8;
pub(super) const SUPPLY_LAG: usize = 9;
/// Power on the shaft [W], and what is added per rate of tank pressure [W·s/Pa].
pub(super) const SHAFT: usize = 10;
pub(super) const SHAFT_LAG: usize = 11;
/// Number of quantities.
pub(super) const LANES: usize = 12;
/// The first so many are all that the course of the slow state hangs on.
pub(super) const DRIVE: usize = 4;
/// The first so many are all that is not nought while the pump rests.
pub(super) const RESTING: usize = 8;

/// Where quantities at a tank pressure and a surface of the source come from.
pub(super) trait Lanes {
    /// The first so many quantities.
    fn at<const L: usize>(&self, pressure_pa: f64, surface_m: f64) -> [f64; L];

    /// The first [`DRIVE`] quantities.
    #[inline(always)]
    fn drive(&self, pressure_pa: f64, surface_m: f64) -> [f64; DRIVE] {
        self.at(pressure_pa, surface_m)
    }

    /// All of them.
    #[inline(always)]
    fn all(&self, pressure_pa: f64, surface_m: f64) -> [f64; LANES] {
        self.at(pressure_pa, surface_m)
    }
}

/// Added to a number of cells it leaves the whole number in the lowest bits; quicker than a
/// conversion.
const WHOLE: f64 = 4_503_599_627_370_496.0;

/// Quantities over tank pressure.
#[derive(Debug, Clone)]
pub(super) struct Sheet {
    low_pa: f64,
    per_pa: f64,
    /// Number of the last cell.
    last: f64,
    /// Coefficients of each cell, lowest power first, in the share of the cell.
    cells: Vec<[[f64; LANES]; 4]>,
}

impl Sheet {
    pub(super) fn through(low_pa: f64, high_pa: f64, nodes: &[[f64; LANES]]) -> Self {
        let n_cells = nodes.len() - 1;
        let mut sheet = Self {
            low_pa,
            per_pa: n_cells as f64 / (high_pa - low_pa),
            last: (n_cells - 1) as f64,
            cells: vec![[[0.0; LANES]; 4]; n_cells],
        };
        sheet.refill(nodes);
        sheet
    }

    /// Lays the cubics through other values at the same pressures.
    pub(super) fn refill(&mut self, nodes: &[[f64; LANES]]) {
        let last = nodes.len() - 1;
        for lane in 0..LANES {
            let y = |i: usize| nodes[i][lane];
            // Slopes of fourth order inside, of third at the ends.
            let slope = |i: usize| {
                if i == 0 {
                    (-11.0 * y(0) + 18.0 * y(1) - 9.0 * y(2) + 2.0 * y(3)) / 6.0
                } else if i == last {
                    (11.0 * y(i) - 18.0 * y(i - 1) + 9.0 * y(i - 2) - 2.0 * y(i - 3)) / 6.0
                } else if i == 1 {
                    (-2.0 * y(0) - 3.0 * y(1) + 6.0 * y(2) - y(3)) / 6.0
                } else if i == last - 1 {
                    (2.0 * y(i + 1) + 3.0 * y(i) - 6.0 * y(i - 1) + y(i - 2)) / 6.0
                } else {
                    (8.0 * (y(i + 1) - y(i - 1)) - (y(i + 2) - y(i - 2))) / 12.0
                }
            };
            let mut left = slope(0);
            for (i, cell) in self.cells.iter_mut().enumerate() {
                let right = slope(i + 1);
                let rise = y(i + 1) - y(i);
                cell[0][lane] = y(i);
                cell[1][lane] = left;
                cell[2][lane] = 3.0 * rise - 2.0 * left - right;
                cell[3][lane] = left + right - 2.0 * rise;
                left = right;
            }
        }
    }

    /// Cell and share of the cell at a pressure; the end cells go on beyond their ends.
    #[inline(always)]
    pub(super) fn place(&self, pressure_pa: f64) -> (usize, f64) {
        let x = (pressure_pa - self.low_pa) * self.per_pa;
        let whole = (x - 0.5).max(0.0).min(self.last) + WHOLE;
        let cell = whole.to_bits() as u32 as usize;
        (cell, x - (whole - WHOLE))
    }

    /// The first quantities at a place.
    #[inline(always)]
    pub(super) fn first<const L: usize>(&self, (cell, u): (usize, f64)) -> [f64; L] {
        let c = &self.cells[cell];
        let mut out = [0.0; L];
        for lane in 0..L {
            out[lane] = ((c[3][lane] * u + c[2][lane]) * u + c[1][lane]) * u + c[0][lane];
        }
        out
    }
}

/// Sheets of a resting pump are looked up without the source.
impl Lanes for Sheet {
    #[inline(always)]
    fn at<const L: usize>(&self, pressure_pa: f64, _: f64) -> [f64; L] {
        let (cell, u) = self.place(pressure_pa);
        let c = &self.cells[cell];
        let mut out = [0.0; L];
        for lane in 0..L.min(RESTING) {
            out[lane] = ((c[3][lane] * u + c[2][lane]) * u + c[1][lane]) * u + c[0][lane];
        }
        out
    }
}

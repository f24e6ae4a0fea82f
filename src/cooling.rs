//! How long a bottle takes to a temperature: Newton's law with a heat transfer worked out from the bottle, the wall and what stands around it.
//!
//! `T(t) = Ta + (T0 - Ta) exp(-t / tau)`, `tau = C / (U A)`, where U changes with the temperature, so that the law is integrated in
//! small steps. The bottle is a closed cylinder, two and a half times as high as wide; its side and one end exchange heat.
//! Natural convection: S. W. Churchill and H. H. S. Chu, International Journal of Heat and Mass Transfer 18 (1975) 1323 (vertical
//! plate, any Rayleigh number). Cross flow: S. W. Churchill and M. Bernstein, Journal of Heat Transfer 99 (1977) 300. Both correlations,
//! and the properties of air and water in them, are from memory; the water figures are those of the usual handbook table.
//! Open vessels, which steam, cool faster than this; draughts and shapes differ: ±30 % in air, ±40 % in water.

use std::f64::consts::PI;

use thiserror::Error;

/// Specific heat of water, J/(g K).
const WATER_J_PER_G_K: f64 = 4.18;
/// Specific heat of ice, J/(g K).
const ICE_J_PER_G_K: f64 = 2.1;
/// Heat of melting of ice, J/g.
const MELTING_J_PER_G: f64 = 334.0;
/// Stefan-Boltzmann constant, W/(m² K⁴).
const STEFAN_BOLTZMANN: f64 = 5.670_374e-8;
/// Emissivity of glass and plastic; usual handbook value, from memory.
const EMISSIVITY: f64 = 0.92;
/// Absolute zero, °C.
const ZERO_K_C: f64 = -273.15;
/// Speed of air from a fan, m/s; a small table fan, common practice.
const FAN_M_PER_S: f64 = 2.0;
/// Film coefficient on both sides of a bottle that is swirled in moving water, W/(m² K); estimate.
const SWIRLED_W_PER_M2_K: f64 = 1500.0;
/// Longest time that is worked out, minutes: a week.
const LONGEST_MINUTES: f64 = 7.0 * 24.0 * 60.0;

/// What stands around the bottle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Around {
    /// Still air.
    Air,
    /// Air from a fan, about 2 m/s.
    MovingAir,
    /// Quiet water.
    Water,
    /// Moving water, the bottle swirled in it.
    MovingWater,
}

impl Around {
    /// How far off the time may be, as a share of it: 0.3 in air, 0.4 in water (common practice, no source).
    pub(crate) fn doubt(self) -> f64 {
        match self {
            Self::Air | Self::MovingAir => 0.3,
            Self::Water | Self::MovingWater => 0.4,
        }
    }
}

/// What the bottle is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum BottleMaterial {
    /// Glass, 3 mm.
    Glass,
    /// Plastic, 1 mm.
    Plastic,
    /// Steel, 0.6 mm: a tank or a jug.
    Steel,
}

impl BottleMaterial {
    /// Wall thickness, m.
    fn wall_m(self) -> f64 {
        match self {
            Self::Glass => 0.003,
            Self::Plastic => 0.001,
            Self::Steel => 0.0006,
        }
    }

    /// Conductivity of heat, W/(m K); handbook values from memory.
    fn conductivity(self) -> f64 {
        match self {
            Self::Glass => 1.0,
            Self::Plastic => 0.4,
            Self::Steel => 16.0,
        }
    }

    /// Density, kg/m³; handbook values from memory.
    fn density(self) -> f64 {
        match self {
            Self::Glass => 2500.0,
            Self::Plastic => 950.0,
            Self::Steel => 7900.0,
        }
    }

    /// Specific heat, J/(g K); handbook values from memory.
    pub(crate) fn specific_heat_j_per_g_k(self) -> f64 {
        match self {
            Self::Glass => 0.84,
            Self::Plastic => 1.9,
            Self::Steel => 0.5,
        }
    }
}

/// Why there is no answer.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum CoolingError {
    /// The target is the temperature around.
    #[error("it never reaches the temperature around it exactly")]
    Never,
    /// The target lies beyond what stands around.
    #[error("{around_c} °C around it cannot bring it from {from_c} °C to {to_c} °C")]
    WrongWay {
        /// Start, °C.
        from_c: f64,
        /// Target, °C.
        to_c: f64,
        /// Around, °C.
        around_c: f64,
    },
    /// More than a week.
    #[error("it takes longer than a week")]
    TooLong,
    /// Ice cannot warm.
    #[error("ice cools: {to_c} °C is not below {from_c} °C")]
    IceWarms {
        /// Start, °C.
        from_c: f64,
        /// Target, °C.
        to_c: f64,
    },
    /// Ice warmer than 0 °C, or a bath below it.
    #[error("{celsius} °C is no temperature of ice")]
    NoIce {
        /// As given, °C.
        celsius: f64,
    },
    /// Water freezes.
    #[error("below 0 °C water is ice: {celsius} °C is out of range")]
    Frozen {
        /// As given, °C.
        celsius: f64,
    },
}

impl CoolingError {
    /// What to do about it.
    pub(crate) fn fix(&self) -> &'static str {
        match self {
            Self::Never => "say how near is near enough: --within 0.5C, or a temperature half a degree off",
            Self::WrongWay { .. } => "give a bath on the other side of the temperature wanted",
            Self::TooLong => "use a water bath, or ice",
            Self::IceWarms { .. } => "to warm a bottle stand it in warm water: --in water --around 30C",
            Self::NoIce { .. } => "give 0C or below, such as -18C from a freezer",
            Self::Frozen { .. } => "give temperatures from 0C to 100C",
        }
    }
}

/// A full, closed bottle in its surroundings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CoolingBottle {
    /// Volume of the liquid, mL.
    pub volume_ml: f64,
    pub material: BottleMaterial,
    pub around: Around,
}

impl CoolingBottle {
    /// Inside width of a cylinder that is two and a half times as high, m.
    fn width_m(&self) -> f64 {
        (4.0 * self.volume_ml * 1e-6 / (2.5 * PI)).cbrt()
    }

    /// Surface that exchanges heat: side and one end, outside, m².
    fn area_m2(&self) -> f64 {
        let outside = self.width_m() + 2.0 * self.material.wall_m();
        PI * outside * 2.5 * self.width_m() + PI * outside * outside / 4.0
    }

    /// Heat capacity of liquid and bottle, J/K; the liquid counts as water.
    pub(crate) fn heat_capacity_j_per_k(&self) -> f64 {
        let width = self.width_m() + self.material.wall_m();
        let shell_m3 = (PI * width * 2.5 * width + PI * width * width / 2.0) * self.material.wall_m();
        let shell = shell_m3 * self.material.density() * 1000.0 * self.material.specific_heat_j_per_g_k();
        self.volume_ml * WATER_J_PER_G_K + shell
    }

    /// Overall coefficient at a temperature of the liquid, W/(m² K): inside film, wall, outside film in series.
    fn overall_w_per_m2_k(&self, liquid_c: f64, around_c: f64) -> f64 {
        let wall = self.material.wall_m() / self.material.conductivity();
        if self.around == Around::MovingWater {
            return 1.0 / (2.0 / SWIRLED_W_PER_M2_K + wall);
        }
        let height = 2.5 * self.width_m();
        let outside_width = self.width_m() + 2.0 * self.material.wall_m();
        let difference = liquid_c - around_c;
        // Wall temperatures from the fluxes, which must be the same through all three layers.
        let (mut inner_c, mut outer_c) = (liquid_c - 0.2 * difference, around_c + 0.6 * difference);
        let mut overall = 0.0;
        for _ in 0..30 {
            let inside =
                plate_w_per_m2_k(&WATER, f64::midpoint(liquid_c, inner_c), liquid_c - inner_c, height);
            let film_c = f64::midpoint(outer_c, around_c);
            let outside = match self.around {
                Around::Air => {
                    plate_w_per_m2_k(&AIR, film_c, outer_c - around_c, height) + radiation(outer_c, around_c)
                }
                Around::MovingAir => {
                    cross_flow_w_per_m2_k(&AIR, film_c, FAN_M_PER_S, outside_width)
                        + radiation(outer_c, around_c)
                }
                Around::Water | Around::MovingWater => {
                    plate_w_per_m2_k(&WATER, film_c, outer_c - around_c, height)
                }
            };
            overall = 1.0 / (1.0 / inside + wall + 1.0 / outside);
            let flux = overall * difference;
            inner_c = f64::midpoint(inner_c, liquid_c - flux / inside);
            outer_c = f64::midpoint(outer_c, around_c + flux / outside);
        }
        overall
    }

    /// Time constant at a temperature of the liquid, minutes; against a bath of limited volume that of both together.
    pub(crate) fn time_constant_minutes(&self, liquid_c: f64, around_c: f64, bath_ml: Option<f64>) -> f64 {
        let own = self.heat_capacity_j_per_k();
        let capacity = bath_ml.map_or(own, |bath| 1.0 / (1.0 / own + 1.0 / (bath * WATER_J_PER_G_K)));
        capacity / (self.overall_w_per_m2_k(liquid_c, around_c) * self.area_m2()) / 60.0
    }
}

/// A question about time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CoolingCourse {
    pub bottle: CoolingBottle,
    /// Start, °C.
    pub from_c: f64,
    /// Around it, °C; of a limited bath its temperature at the start.
    pub around_c: f64,
    /// Volume of the bath, mL; without it the bath is held at its temperature.
    pub bath_ml: Option<f64>,
    /// A time constant that was measured, minutes, in place of the one worked out.
    pub time_constant_minutes: Option<f64>,
}

impl CoolingCourse {
    /// Where it settles after a long wait, °C: the temperature around, or that of the mixture with a limited bath.
    pub(crate) fn settles_c(&self) -> f64 {
        match self.bath_ml {
            None => self.around_c,
            Some(bath) => {
                let (own, bath) = (self.bottle.heat_capacity_j_per_k(), bath * WATER_J_PER_G_K);
                (own * self.from_c + bath * self.around_c) / (own + bath)
            }
        }
    }

    /// Minutes until a temperature.
    ///
    /// # Errors
    /// Where it is never reached, or only after a week.
    pub(crate) fn minutes_to(&self, to_c: f64) -> Result<f64, CoolingError> {
        self.minutes_in_steps(to_c, 200)
    }

    /// The same to about a thousandth, ten times as quickly.
    ///
    /// # Errors
    /// As [`Self::minutes_to`].
    pub(crate) fn about_minutes_to(&self, to_c: f64) -> Result<f64, CoolingError> {
        self.minutes_in_steps(to_c, 20)
    }

    fn minutes_in_steps(&self, to_c: f64, steps: u32) -> Result<f64, CoolingError> {
        self.check()?;
        let settles = self.settles_c();
        let (start, end) = (self.from_c - settles, to_c - settles);
        if (self.from_c - to_c).abs() < 1e-9 {
            return Ok(0.0);
        }
        if end.abs() < 1e-9 {
            return Err(CoolingError::Never);
        }
        if start * end < 0.0 || end.abs() > start.abs() {
            return Err(CoolingError::WrongWay { from_c: self.from_c, to_c, around_c: self.around_c });
        }
        if let Some(tau) = self.time_constant_minutes {
            return Ok(tau * (start / end).ln());
        }
        // Equal steps of the logarithm: the coefficient changes little in each.
        let ratio = (end / start).powf(1.0 / f64::from(steps));
        let (mut minutes, mut left) = (0.0, start);
        for _ in 0..steps {
            let middle = settles + left * ratio.sqrt();
            minutes += self.tau(middle) * -ratio.ln();
            left *= ratio;
            if minutes > LONGEST_MINUTES {
                return Err(CoolingError::TooLong);
            }
        }
        Ok(minutes)
    }

    /// Temperature after a time, °C.
    ///
    /// # Errors
    /// Where a temperature is out of range.
    pub(crate) fn celsius_after(&self, minutes: f64) -> Result<f64, CoolingError> {
        self.check()?;
        let settles = self.settles_c();
        let start = self.from_c - settles;
        if let Some(tau) = self.time_constant_minutes {
            return Ok(settles + start * (-minutes / tau).exp());
        }
        let steps = 400_u32;
        let step = minutes.min(LONGEST_MINUTES) / f64::from(steps);
        let mut left = start;
        for _ in 0..steps {
            let half = left * (-step / 2.0 / self.tau(settles + left)).exp();
            left *= (-step / self.tau(settles + half)).exp();
        }
        Ok(settles + left)
    }

    fn tau(&self, liquid_c: f64) -> f64 {
        // The bath's own temperature moves with the liquid's; the difference between them is what drives.
        let settles = self.settles_c();
        let around = match self.bath_ml {
            None => self.around_c,
            Some(bath) => {
                settles
                    - (liquid_c - settles) * self.bottle.heat_capacity_j_per_k() / (bath * WATER_J_PER_G_K)
            }
        };
        self.bottle.time_constant_minutes(liquid_c, around, self.bath_ml)
    }

    fn check(&self) -> Result<(), CoolingError> {
        let water = matches!(self.bottle.around, Around::Water | Around::MovingWater);
        let frozen = |celsius: f64| !(0.0..=100.0).contains(&celsius);
        if frozen(self.from_c) {
            return Err(CoolingError::Frozen { celsius: self.from_c });
        }
        if water && frozen(self.around_c) {
            return Err(CoolingError::Frozen { celsius: self.around_c });
        }
        Ok(())
    }
}

/// Volume of a bath that ends at the temperature wanted by itself, mL: heat given is heat taken, nothing lost.
///
/// None where the bath is not on the far side of the temperature wanted.
pub(crate) fn bath_ending_at_ml(bottle: &CoolingBottle, from_c: f64, to_c: f64, bath_c: f64) -> Option<f64> {
    let given = bottle.heat_capacity_j_per_k() * (from_c - to_c);
    let taken = WATER_J_PER_G_K * (to_c - bath_c);
    (taken.abs() > 1e-9).then_some(given / taken).filter(|ml| *ml > 0.0)
}

/// Temperature of liquids and things put together, °C: mass × specific heat × temperature, nothing lost. Pairs are J/K and °C.
pub(crate) fn mixed_c(bodies: &[(f64, f64)]) -> f64 {
    let total: f64 = bodies.iter().map(|(capacity, _)| capacity).sum();
    bodies.iter().map(|(capacity, celsius)| capacity * celsius).sum::<f64>() / total
}

/// Heat capacity of a volume of water, J/K.
pub(crate) fn water_j_per_k(volume_ml: f64) -> f64 {
    volume_ml * WATER_J_PER_G_K
}

/// What becomes of the ice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ice {
    /// In a bag: its melt water stays apart but comes to the same temperature.
    InABag,
    /// It becomes part of the batch, whose volume is that of water and ice together.
    PartOfIt,
}

/// Ice for a batch, g, nothing lost: `m (334 + 2.1 (0 - Ti) + 4.18 T) = C (T0 - T)`.
///
/// # Errors
/// Where ice cannot do it.
pub(crate) fn ice_g(
    volume_ml: f64,
    from_c: f64,
    to_c: f64,
    ice_c: f64,
    ice: Ice,
) -> Result<f64, CoolingError> {
    if !(-60.0..=0.0).contains(&ice_c) {
        return Err(CoolingError::NoIce { celsius: ice_c });
    }
    for celsius in [from_c, to_c] {
        if !(0.0..=100.0).contains(&celsius) {
            return Err(CoolingError::Frozen { celsius });
        }
    }
    if to_c >= from_c {
        return Err(CoolingError::IceWarms { from_c, to_c });
    }
    let taken_per_g = MELTING_J_PER_G - ICE_J_PER_G_K * ice_c + WATER_J_PER_G_K * to_c;
    let given = volume_ml * WATER_J_PER_G_K * (from_c - to_c);
    Ok(match ice {
        Ice::InABag => given / taken_per_g,
        Ice::PartOfIt => given / (taken_per_g + WATER_J_PER_G_K * (from_c - to_c)),
    })
}

/// Properties of a fluid over temperature; rows of °C, conductivity W/(m K), kinematic viscosity 1e-6 m²/s, Prandtl number, expansion 1e-4/K.
struct Fluid {
    rows: &'static [[f64; 5]],
}

/// Water; the usual handbook table, from memory.
const WATER: Fluid = Fluid {
    rows: &[
        [0.0, 0.561, 1.79, 13.5, 0.68],
        [10.0, 0.580, 1.307, 9.4, 0.88],
        [20.0, 0.598, 1.004, 7.0, 2.07],
        [30.0, 0.615, 0.801, 5.4, 3.03],
        [40.0, 0.631, 0.658, 4.3, 3.85],
        [50.0, 0.644, 0.554, 3.6, 4.57],
        [60.0, 0.654, 0.475, 3.0, 5.23],
        [80.0, 0.670, 0.365, 2.2, 6.4],
        [100.0, 0.679, 0.294, 1.75, 7.5],
    ],
};

/// Air at sea level; the usual handbook table, from memory.
const AIR: Fluid = Fluid {
    rows: &[
        [-40.0, 0.0211, 9.9, 0.72, 42.9],
        [0.0, 0.0243, 13.3, 0.715, 36.6],
        [20.0, 0.0257, 15.1, 0.713, 34.1],
        [40.0, 0.0271, 17.0, 0.711, 31.9],
        [60.0, 0.0285, 18.9, 0.709, 30.0],
        [100.0, 0.0314, 23.1, 0.704, 26.8],
    ],
};

impl Fluid {
    /// The properties at a temperature, interpolated, held at the ends.
    fn at(&self, celsius: f64) -> [f64; 5] {
        let after = self.rows.iter().position(|row| row[0] >= celsius);
        match after {
            Some(0) => self.rows.first().copied().unwrap_or([0.0; 5]),
            None => self.rows.last().copied().unwrap_or([0.0; 5]),
            Some(index) => {
                let (Some(low), Some(high)) = (self.rows.get(index - 1), self.rows.get(index)) else {
                    return [0.0; 5];
                };
                let share = (celsius - low[0]) / (high[0] - low[0]);
                let mut mixed = *low;
                for (value, top) in mixed.iter_mut().zip(high) {
                    *value += share * (top - *value);
                }
                mixed
            }
        }
    }
}

/// Natural convection at a vertical plate (Churchill and Chu 1975):
/// `Nu = (0.825 + 0.387 Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27))²`, W/(m² K).
fn plate_w_per_m2_k(fluid: &Fluid, film_c: f64, difference_k: f64, height_m: f64) -> f64 {
    let [_, conductivity, viscosity, prandtl, expansion] = fluid.at(film_c);
    let viscosity = viscosity * 1e-6;
    let rayleigh = 9.81 * expansion * 1e-4 * difference_k.abs().max(0.01) * height_m.powi(3) * prandtl
        / (viscosity * viscosity);
    let nusselt = (0.825
        + 0.387 * rayleigh.powf(1.0 / 6.0) / (1.0 + (0.492 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0))
    .powi(2);
    nusselt * conductivity / height_m
}

/// Cylinder in cross flow (Churchill and Bernstein 1977), W/(m² K).
fn cross_flow_w_per_m2_k(fluid: &Fluid, film_c: f64, speed_m_per_s: f64, width_m: f64) -> f64 {
    let [_, conductivity, viscosity, prandtl, _] = fluid.at(film_c);
    let reynolds = speed_m_per_s * width_m / (viscosity * 1e-6);
    let nusselt = 0.3
        + 0.62 * reynolds.sqrt() * prandtl.cbrt() / (1.0 + (0.4 / prandtl).powf(2.0 / 3.0)).powf(0.25)
            * (1.0 + (reynolds / 282_000.0).powf(5.0 / 8.0)).powf(0.8);
    nusselt * conductivity / width_m
}

/// Radiation as a film coefficient, W/(m² K).
fn radiation(surface_c: f64, around_c: f64) -> f64 {
    let (surface, around) = (surface_c - ZERO_K_C, around_c - ZERO_K_C);
    EMISSIVITY * STEFAN_BOLTZMANN * (surface * surface + around * around) * (surface + around)
}

#[cfg(test)]
mod tests;

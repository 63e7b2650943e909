//! Moist air: saturation over water and ice, dew and frost point, humidity, density, vapor diffusion, latent heat.
//!
//! Relative humidity below 0 °C is against ice, as the ASHRAE handbook has it; weather stations report it, and the dew
//! point, against supercooled water (WMO), 5 % more vapor at −5 °C and 10 % at −10 °C.

use super::{OutOfRange, air_film::ATMOSPHERE, check_range, water::ICE_POINT};

/// Triple point of water, K: where the curves over ice and over water meet.
pub const TRIPLE_POINT: f64 = 273.16;
/// Specific gas constant of water vapor, J/(kg·K) (ASHRAE Fundamentals, ch. 1).
pub const GAS_CONSTANT_OF_VAPOR: f64 = 461.524;
/// Molar mass of water over that of dry air (ASHRAE Fundamentals, ch. 1).
const MASS_RATIO: f64 = 0.621_945;
/// Molar mass of water, kg/mol (IAPWS).
const MOLAR_MASS: f64 = 0.018_015_268;

const OVER_ICE: [f64; 2] = [173.15, TRIPLE_POINT];
const OVER_WATER: [f64; 2] = [ICE_POINT, 473.15];
/// Temperatures accepted for air, K.
const AIR: [f64; 2] = [223.15, 373.15];
/// Pressures accepted, Pa: about 4000 m above the sea to below it.
const PRESSURES: [f64; 2] = [60_000.0, 110_000.0];

/// Coefficients of 1/T, 1, T, T², T³, T⁴ and ln T in ln p, with T in K and p in Pa: eqs. 5 and 6 of the handbook.
const ICE_CURVE: [f64; 7] =
    [-5.674_535_9e3, 6.392_524_7, -9.677_843e-3, 6.221_570_1e-7, 2.074_782_5e-9, -9.484_024e-13, 4.163_501_9];
const WATER_CURVE: [f64; 7] =
    [-5.800_220_6e3, 1.391_499_3, -4.864_023_9e-2, 4.176_476_8e-5, -1.445_209_3e-8, 0.0, 6.545_967_3];

/// ln p and its slope per K.
fn log_pressure([a, b, c, d, e, f, g]: &[f64; 7], t: f64) -> [f64; 2] {
    let value = a / t + b + t * (c + t * (d + t * (e + t * f))) + g * libm::log(t);
    let slope = (g - a / t) / t + c + t * (2.0 * d + t * (3.0 * e + t * 4.0 * f));
    [value, slope]
}

/// Newton on ln p, which is nearly straight; a step that leaves the bracket is replaced by halving it.
fn temperature_of(
    curve: &[f64; 7],
    [mut low, mut high]: [f64; 2],
    vapor_pressure: f64,
) -> Result<f64, OutOfRange> {
    let ends = [low, high].map(|t| libm::exp(log_pressure(curve, t)[0]));
    let wanted = libm::log(check_range("vapor pressure", vapor_pressure, ends, "Pa")?);
    let mut t = 0.5 * (low + high);
    for _ in 0..100 {
        let [value, slope] = log_pressure(curve, t);
        if value > wanted {
            high = t;
        } else {
            low = t;
        }
        let newton = t - (value - wanted) / slope;
        let next = if newton >= low && newton <= high { newton } else { 0.5 * (low + high) };
        if (next - t).abs() < 1e-9 {
            return Ok(next);
        }
        t = next;
    }
    Ok(t)
}

/// What a surface at the saturation temperature gathers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deposit {
    /// Liquid water.
    Dew,
    /// Ice.
    Frost,
}

impl Deposit {
    /// Frost below the triple point (K), dew from there on. Dew may stay supercooled some degrees below; no credit is
    /// taken for it.
    #[must_use]
    pub fn at(temperature: f64) -> Self {
        if temperature < TRIPLE_POINT { Self::Frost } else { Self::Dew }
    }
}

/// Saturation vapor pressure (Pa) over liquid water, from a temperature (K).
///
/// # Valid for
/// 273.15 to 473.15 K; refused outside (supercooled water too). Pure phase: the few parts in a thousand by which air
/// raises it (enhancement factor) are left out.
/// # Source
/// Hyland and Wexler, ASHRAE Trans. 89 (1983) 500; ASHRAE Fundamentals, ch. 1, eq. 6.
/// # Example
/// ASHRAE 2017, ch. 1, Table 3: 3169.7 Pa at 25 °C: matches to 300 ppm, as all of that table from −20 to 100 °C.
/// ```
/// let p = coldsill_heat::physics::moist_air::saturation_over_water(298.15).unwrap();
/// assert!((p / 3169.7 - 1.0).abs() < 300e-6);
/// ```
pub fn saturation_over_water(temperature: f64) -> Result<f64, OutOfRange> {
    let t = check_range("temperature", temperature, OVER_WATER, "K")?;
    Ok(libm::exp(log_pressure(&WATER_CURVE, t)[0]))
}

/// Saturation vapor pressure (Pa) over ice, from a temperature (K).
///
/// # Valid for
/// 173.15 to 273.16 K; refused outside.
/// # Source
/// Hyland and Wexler (1983); ASHRAE Fundamentals, ch. 1, eq. 5.
/// # Example
/// ASHRAE 2017, ch. 1, Table 3: 103.24 Pa at −20 °C: matches to 300 ppm.
/// ```
/// let p = coldsill_heat::physics::moist_air::saturation_over_ice(253.15).unwrap();
/// assert!((p / 103.24 - 1.0).abs() < 300e-6);
/// ```
pub fn saturation_over_ice(temperature: f64) -> Result<f64, OutOfRange> {
    let t = check_range("temperature", temperature, OVER_ICE, "K")?;
    Ok(libm::exp(log_pressure(&ICE_CURVE, t)[0]))
}

/// Saturation vapor pressure (Pa) at a temperature (K): over ice below the triple point, over water from there on.
///
/// # Valid for
/// 173.15 to 473.15 K; refused outside. The handbook changes curves at 0 °C, where they differ by 97 ppm; at the
/// triple point they meet to 0.01 ppm.
/// # Source
/// As [`saturation_over_ice`] and [`saturation_over_water`].
/// # Example
/// ASHRAE 2017, ch. 1, Table 3: 401.74 Pa at −5 °C and 872.6 Pa at 5 °C: matches to 300 ppm.
/// ```
/// use coldsill_heat::physics::moist_air::saturation;
/// assert!((saturation(268.15).unwrap() / 401.74 - 1.0).abs() < 300e-6);
/// assert!((saturation(278.15).unwrap() / 872.6 - 1.0).abs() < 300e-6);
/// ```
pub fn saturation(temperature: f64) -> Result<f64, OutOfRange> {
    let t = check_range("temperature", temperature, [OVER_ICE[0], OVER_WATER[1]], "K")?;
    match Deposit::at(t) {
        Deposit::Frost => saturation_over_ice(t),
        Deposit::Dew => saturation_over_water(t),
    }
}

/// Dew point (K): where a vapor pressure (Pa) saturates over liquid water. The exact inverse, not the handbook's
/// regression.
///
/// # Valid for
/// 611.2 Pa to 1.555 MPa, dew points of 273.15 to 473.15 K; refused outside: below, it is the [`frost_point`]. To
/// 1e-6 K.
/// # Source
/// Inverse of [`saturation_over_water`].
/// # Example
/// 67 °F at 67 %: 55.6937 °F by PsychroLib 2.5.0, 55.6961 °F by CoolProp 8.0.0 (real-gas air): matches.
/// ```
/// use coldsill_heat::physics::moist_air::*;
/// let t = dew_point(vapor_pressure(292.5944, 0.67).unwrap()).unwrap();
/// assert!((t * 1.8 - 459.67 - 55.6937).abs() < 0.001);
/// ```
pub fn dew_point(vapor_pressure: f64) -> Result<f64, OutOfRange> {
    temperature_of(&WATER_CURVE, OVER_WATER, vapor_pressure)
}

/// Frost point (K): where a vapor pressure (Pa) saturates over ice.
///
/// # Valid for
/// 0.0014 to 611.65 Pa, frost points of 173.15 to 273.16 K; refused outside. To 1e-6 K.
/// # Source
/// Inverse of [`saturation_over_ice`].
/// # Example
/// 70 °F at 15 %: 21.5920 °F by PsychroLib 2.5.0, 21.5957 °F by CoolProp 8.0.0: matches.
/// ```
/// use coldsill_heat::physics::moist_air::*;
/// let t = frost_point(vapor_pressure(294.2611, 0.15).unwrap()).unwrap();
/// assert!((t * 1.8 - 459.67 - 21.5920).abs() < 0.001);
/// ```
pub fn frost_point(vapor_pressure: f64) -> Result<f64, OutOfRange> {
    temperature_of(&ICE_CURVE, OVER_ICE, vapor_pressure)
}

/// Temperature (K) of a surface that begins to gather dew or frost from a vapor pressure (Pa): the dew point, or the
/// frost point below the triple point. [`Deposit::at`] it says which.
///
/// # Valid for
/// 0.0014 Pa to 1.555 MPa; refused outside. To 1e-6 K.
/// # Source
/// Inverse of [`saturation`].
/// # Example
/// 70 °F at 51 %: 51.0622 °F by PsychroLib 2.5.0, 51.0661 °F by CoolProp 8.0.0: matches.
/// ```
/// use coldsill_heat::physics::moist_air::*;
/// let t = saturation_temperature(vapor_pressure(294.2611, 0.51).unwrap()).unwrap();
/// assert!((t * 1.8 - 459.67 - 51.0622).abs() < 0.001);
/// assert_eq!(Deposit::at(t), Deposit::Dew);
/// ```
pub fn saturation_temperature(vapor_pressure: f64) -> Result<f64, OutOfRange> {
    if vapor_pressure > saturation_over_ice(TRIPLE_POINT)? {
        dew_point(vapor_pressure)
    } else {
        frost_point(vapor_pressure)
    }
}

/// Partial pressure of vapor (Pa) in air of a temperature (K) and a relative humidity (0 to 1).
///
/// # Valid for
/// 173.15 to 473.15 K; humidity against ice below 0 °C.
/// # Source
/// ASHRAE Fundamentals, ch. 1: φ = p_w/p_ws.
/// # Example
/// 21 °C at 40 %: 995.1 Pa: recomputed.
/// ```
/// let p = coldsill_heat::physics::moist_air::vapor_pressure(294.15, 0.40).unwrap();
/// assert!((p - 995.1).abs() < 0.05);
/// ```
pub fn vapor_pressure(air_temperature: f64, relative_humidity: f64) -> Result<f64, OutOfRange> {
    let humidity = check_range("relative humidity", relative_humidity, [0.0, 1.0], "")?;
    Ok(humidity * saturation(air_temperature)?)
}

/// Relative humidity (0 to 1) of air of a temperature (K) with a vapor pressure (Pa).
///
/// # Valid for
/// As [`vapor_pressure`], whose inverse it is; more vapor than saturates is refused.
/// # Source
/// As [`vapor_pressure`].
/// # Example
/// ASHRAE, ch. 1, Example 1, read off the chart: 40 °C with 20 °C wet bulb is at 14 %: matches.
/// ```
/// use coldsill_heat::physics::moist_air::*;
/// let w = humidity_ratio_of_wet_bulb(313.15, 293.15, 101_325.0).unwrap();
/// let p = vapor_pressure_of_ratio(w, 101_325.0).unwrap();
/// assert!((relative_humidity(313.15, p).unwrap() - 0.14).abs() < 0.005);
/// assert!((dew_point(p).unwrap() - 280.15).abs() < 0.5); // 7 °C
/// ```
pub fn relative_humidity(air_temperature: f64, vapor_pressure: f64) -> Result<f64, OutOfRange> {
    let saturated = saturation(air_temperature)?;
    Ok(check_range("vapor pressure", vapor_pressure, [0.0, saturated], "Pa")? / saturated)
}

/// Humidity ratio (kg of vapor per kg of dry air) from a vapor pressure and the pressure of the air (Pa).
///
/// # Valid for
/// 60 to 110 kPa, vapor up to half of it. Ideal gases: handbook tables with real air lie 0.5 % above.
/// # Source
/// ASHRAE Fundamentals, ch. 1: W = 0.621945 p_w/(p − p_w).
/// # Example
/// ASHRAE 2017, ch. 1, Table 2, saturated at 5 °C: 0.005425: matches to 0.5 %.
/// ```
/// use coldsill_heat::physics::moist_air::*;
/// let w = humidity_ratio(saturation(278.15).unwrap(), 101_325.0).unwrap();
/// assert!((w / 0.005425 - 1.0).abs() < 0.005);
/// ```
pub fn humidity_ratio(vapor_pressure: f64, pressure: f64) -> Result<f64, OutOfRange> {
    let p = check_range("pressure", pressure, PRESSURES, "Pa")?;
    let vapor = check_range("vapor pressure", vapor_pressure, [0.0, 0.5 * p], "Pa")?;
    Ok(MASS_RATIO * vapor / (p - vapor))
}

/// Vapor pressure (Pa) from a humidity ratio (kg/kg) and the pressure of the air (Pa): the inverse of
/// [`humidity_ratio`].
///
/// # Valid for
/// 60 to 110 kPa, ratios of 0 to 0.62.
/// # Source
/// As there.
/// # Example
/// 6.40 g/kg at one atmosphere: 1032 Pa: recomputed.
/// ```
/// let p = coldsill_heat::physics::moist_air::vapor_pressure_of_ratio(0.0064, 101_325.0).unwrap();
/// assert!((p - 1032.0).abs() < 0.5);
/// ```
pub fn vapor_pressure_of_ratio(humidity_ratio: f64, pressure: f64) -> Result<f64, OutOfRange> {
    let p = check_range("pressure", pressure, PRESSURES, "Pa")?;
    let w = check_range("humidity ratio", humidity_ratio, [0.0, 0.62], "kg/kg")?;
    Ok(p * w / (MASS_RATIO + w))
}

/// Humidity ratio (kg/kg) from the dry and the wet bulb (K) of a psychrometer and the pressure (Pa).
///
/// # Valid for
/// 223.15 to 373.15 K, a wet bulb no warmer than the dry one, 60 to 110 kPa; below 0 °C the wick is taken as iced.
/// Readings that leave no vapor in the air are refused. The thermodynamic wet bulb: an aspirated or slung
/// psychrometer comes within about 0.3 K of it, one hung still does not.
/// # Source
/// ASHRAE Fundamentals, ch. 1, eqs. 33 and 35.
/// # Example
/// ASHRAE, ch. 1, Example 1, read off the chart to 0.1 g/kg: 40 °C and 20 °C give 6.5 g/kg: matches.
/// ```
/// let w = coldsill_heat::physics::moist_air::humidity_ratio_of_wet_bulb(313.15, 293.15, 101_325.0).unwrap();
/// assert!((1000.0 * w - 6.5).abs() < 0.1);
/// ```
pub fn humidity_ratio_of_wet_bulb(dry_bulb: f64, wet_bulb: f64, pressure: f64) -> Result<f64, OutOfRange> {
    let dry = check_range("dry bulb", dry_bulb, AIR, "K")?;
    let wet = check_range("wet bulb", wet_bulb, [AIR[0], dry], "K")?;
    let saturated = humidity_ratio(saturation(wet)?, pressure)?;
    let (t, t_wet) = (dry - ICE_POINT, wet - ICE_POINT);
    // kJ/kg and kJ/(kg·K)
    let (latent, left) = match Deposit::at(wet) {
        Deposit::Dew => (2501.0 - 2.326 * t_wet, 2501.0 + 1.86 * t - 4.186 * t_wet),
        Deposit::Frost => (2830.0 - 0.24 * t_wet, 2830.0 + 1.86 * t - 2.1 * t_wet),
    };
    check_range("humidity ratio", (latent * saturated - 1.006 * (t - t_wet)) / left, [0.0, 0.62], "kg/kg")
}

/// Density of moist air (kg/m³) from its temperature (K), vapor pressure and pressure (Pa); ideal gases.
///
/// # Valid for
/// 223.15 to 373.15 K, 60 to 110 kPa, vapor up to saturation. Within 0.1 % of real air.
/// # Source
/// ASHRAE Fundamentals, ch. 1, with R of 287.042 and 461.524 J/(kg·K).
/// # Example
/// 21 °C at 40 %: 1.1956 kg/m³ by PsychroLib 2.5.0, 1.1960 by CoolProp 8.0.0: matches to 0.1 %.
/// ```
/// use coldsill_heat::physics::moist_air::*;
/// let p = vapor_pressure(294.15, 0.40).unwrap();
/// assert!((density(294.15, p, 101_325.0).unwrap() - 1.1956).abs() < 0.0001);
/// ```
pub fn density(air_temperature: f64, vapor_pressure: f64, pressure: f64) -> Result<f64, OutOfRange> {
    let t = check_range("air temperature", air_temperature, AIR, "K")?;
    let p = check_range("pressure", pressure, PRESSURES, "Pa")?;
    let vapor = check_range("vapor pressure", vapor_pressure, [0.0, saturation(t)?.min(0.5 * p)], "Pa")?;
    Ok(((p - vapor) / MASS_RATIO + vapor) / (GAS_CONSTANT_OF_VAPOR * t))
}

/// Diffusivity of water vapor in air (m²/s) from temperature (K) and pressure (Pa):
/// D = 2.178e-5 (T/273.15)^1.81 × 101325/p.
///
/// # Valid for
/// 223.15 to 373.15 K, 60 to 110 kPa; measured above 0 °C only. Published values spread by 6 %: 2.26e-5 and 2.31e-5
/// (Schirmer 1938) are in use at 0 °C too, which puts 4 % more on a rate of condensation.
/// The formula in the example lies within 2 % from −20 to 40 °C, 4 % below at −50 °C.
/// # Source
/// Massman, Atmospheric Environment 32 (1998) 1111: a review of measurements (coefficients seen in public code).
/// # Example
/// Sherwood and Pigford (1952), as ASHRAE Fundamentals, ch. 6, has it: D = 0.926/p T^2.5/(T + 245) in mm²/s with p in
/// kPa (from memory): 25.8 mm²/s at 25 °C: matches to 1.5 %. Incropera, Table A.8: 26 mm²/s (from memory).
/// ```
/// let d = coldsill_heat::physics::moist_air::vapor_diffusivity(298.15, 101_325.0).unwrap();
/// assert!((d / 25.83e-6 - 1.0).abs() < 0.015);
/// ```
pub fn vapor_diffusivity(temperature: f64, pressure: f64) -> Result<f64, OutOfRange> {
    let t = check_range("temperature", temperature, AIR, "K")?;
    let p = check_range("pressure", pressure, PRESSURES, "Pa")?;
    Ok(2.178e-5 * libm::pow(t / ICE_POINT, 1.81) * ATMOSPHERE / p)
}

/// Pressure of the standard atmosphere (Pa) at an altitude (m).
///
/// # Valid for
/// −5000 to 11 000 m; refused outside. Weather moves it by 3 % either way.
/// # Source
/// ASHRAE Fundamentals, ch. 1, eq. 3: p = 101 325 (1 − 2.25577e-5 Z)^5.2559.
/// # Example
/// ASHRAE 2017, ch. 1, Table 1: 95 461 Pa at 500 m and 89 875 Pa at 1000 m: matches to 1 Pa.
/// ```
/// use coldsill_heat::physics::moist_air::standard_pressure;
/// assert!((standard_pressure(500.0).unwrap() - 95_461.0).abs() < 1.0);
/// assert!((standard_pressure(1000.0).unwrap() - 89_875.0).abs() < 1.0);
/// ```
pub fn standard_pressure(altitude: f64) -> Result<f64, OutOfRange> {
    let z = check_range("altitude", altitude, [-5000.0, 11_000.0], "m")?;
    Ok(ATMOSPHERE * libm::pow(1.0 - 2.25577e-5 * z, 5.2559))
}

/// Heat (J/kg) given up by vapor that becomes dew, or frost below the triple point, at a temperature (K).
///
/// # Valid for
/// 223.15 to 323.15 K; refused outside. Within 0.12 % (dew) and 0.05 % (frost) of IAPWS and of the slope of the curves.
/// # Source
/// Dew: 2501 − 2.326 t kJ/kg, t in °C (ASHRAE Fundamentals, ch. 1, in eq. 33). Frost: Murphy and Koop, Q. J. R.
/// Meteorol. Soc. 131 (2005) 1539, eq. 5 (seen in public code): 46782.5 + 35.8925 T − 0.07414 T² + 541.5 exp(−(T/123.75)²) J/mol.
/// # Example
/// IAPWS-95 at 20 °C (CoolProp 8.0.0): 2453.5 kJ/kg of dew: matches to 0.05 %. Handbooks print 2834 kJ/kg for frost at
/// 0 °C (from memory), dew and the heat of fusion together: matches.
/// ```
/// use coldsill_heat::physics::moist_air::latent_heat;
/// assert!((latent_heat(293.15).unwrap() / 2_453_519.0 - 1.0).abs() < 0.0005);
/// assert!((latent_heat(273.15).unwrap() / 2.834e6 - 1.0).abs() < 0.0005);
/// ```
pub fn latent_heat(temperature: f64) -> Result<f64, OutOfRange> {
    let t = check_range("temperature", temperature, [223.15, 323.15], "K")?;
    Ok(match Deposit::at(t) {
        Deposit::Dew => 2_501_000.0 - 2326.0 * (t - ICE_POINT),
        Deposit::Frost => {
            let molar =
                46_782.5 + t * (35.8925 - t * 0.07414) + 541.5 * libm::exp(-(t / 123.75) * (t / 123.75));
            molar / MOLAR_MASS
        }
    })
}

//! Surface humidity as ISO 13788 judges it, with the saturation formula of its own Annex E.
//!
//! The 80 % criterion is about monthly means: it says nothing of one cold night, and a design low must not be put to
//! it. Saturation for dew and frost points is [`super::moist_air`]'s.

use super::{OutOfRange, check_range};

/// Greatest monthly-mean relative humidity at a surface without risk of mold (ISO 13788).
pub const CRITICAL_HUMIDITY: f64 = 0.80;

/// Temperatures accepted, K.
const TEMPERATURES: [f64; 2] = [243.15, 323.15];
/// Pa at 0 °C, where both branches meet.
const AT_ZERO: f64 = 610.5;
const ZERO: f64 = super::water::ICE_POINT;
/// Factor and offset (K) from 0 °C up, and below it.
const OVER_WATER: [f64; 2] = [17.269, 237.3];
const OVER_ICE: [f64; 2] = [21.875, 265.5];

/// Saturation vapor pressure (Pa) by Annex E, from a temperature (K):
/// 610.5 exp(17.269 θ/(237.3 + θ)) from 0 °C up, 610.5 exp(21.875 θ/(265.5 + θ)) below, θ in °C.
///
/// # Valid for
/// 243.15 to 323.15 K; refused outside. Within 0.25 % of Hyland and Wexler from −10 °C up; 0.5 % below them at −20 °C and
/// 1.0 % at −30 °C.
/// # Source
/// ISO 13788:2012, Annex E (from memory; the constants seen in public code).
/// # Example
/// −10, 0, 10 and 20 °C: 259.33, 610.50, 1227.31 and 2336.95 Pa: recomputed.
/// ```
/// use coldsill_heat::physics::iso13788::saturation;
/// for (celsius, pa) in [(-10.0, 259.33), (0.0, 610.50), (10.0, 1227.31), (20.0, 2336.95)] {
///     assert!((saturation(celsius + 273.15).unwrap() - pa).abs() < 0.01);
/// }
/// ```
pub fn saturation(temperature: f64) -> Result<f64, OutOfRange> {
    Ok(curve(check_range("temperature", temperature, TEMPERATURES, "K")? - ZERO))
}

fn curve(celsius: f64) -> f64 {
    let [factor, offset] = if celsius < 0.0 { OVER_ICE } else { OVER_WATER };
    AT_ZERO * libm::exp(factor * celsius / (offset + celsius))
}

/// Temperature (K) at which a vapor pressure (Pa) saturates by Annex E: the closed inverse of [`saturation`].
///
/// # Valid for
/// 37.6 Pa to 12.3 kPa; refused outside.
/// # Source
/// As there: θ = 237.3 L/(17.269 − L) or 265.5 L/(21.875 − L), L = ln(p/610.5).
/// # Example
/// 20 °C at 50 %, 1168.5 Pa: 9.27 °C: recomputed.
/// ```
/// use coldsill_heat::physics::iso13788::*;
/// let t = saturation_temperature(0.5 * saturation(293.15).unwrap()).unwrap();
/// assert!((t - 273.15 - 9.27).abs() < 0.005);
/// ```
pub fn saturation_temperature(vapor_pressure: f64) -> Result<f64, OutOfRange> {
    let ends = TEMPERATURES.map(|t| curve(t - ZERO));
    let log = libm::log(check_range("vapor pressure", vapor_pressure, ends, "Pa")? / AT_ZERO);
    let [factor, offset] = if log < 0.0 { OVER_ICE } else { OVER_WATER };
    Ok(ZERO + offset * log / (factor - log))
}

/// Relative humidity at a surface, from the monthly means of the vapor pressure indoors (Pa) and of the surface
/// temperature (K): p_i/p_sat(θ_si). Above 1 the surface is wet.
///
/// # Valid for
/// Monthly means; 243.15 to 323.15 K, up to 20 kPa.
/// # Source
/// ISO 13788:2012, clause on surface humidity (from memory).
/// # Example
/// At the dew point it is 1: closed form.
/// ```
/// use coldsill_heat::physics::iso13788::*;
/// let dew = saturation_temperature(1168.5).unwrap();
/// assert!((surface_humidity(1168.5, dew).unwrap() - 1.0).abs() < 1e-9);
/// ```
pub fn surface_humidity(vapor_pressure: f64, surface_temperature: f64) -> Result<f64, OutOfRange> {
    Ok(check_range("vapor pressure", vapor_pressure, [0.0, 20_000.0], "Pa")?
        / saturation(surface_temperature)?)
}

/// Least monthly-mean surface temperature (K) that keeps [`CRITICAL_HUMIDITY`] at a monthly-mean vapor pressure
/// indoors (Pa). Wood that touches the metal of an outlet meets the criterion where the metal is no colder.
///
/// # Valid for
/// 30.1 Pa to 9.8 kPa; refused outside.
/// # Source
/// ISO 13788:2012: p_sat(θ_si,min) = p_i/0.8.
/// # Example
/// DIN 4108-2, 20 °C at 50 %: 12.6 °C (from memory): matches.
/// ```
/// use coldsill_heat::physics::iso13788::*;
/// let least = least_surface_temperature(0.5 * saturation(293.15).unwrap()).unwrap();
/// assert!((least - 273.15 - 12.6).abs() < 0.05);
/// ```
pub fn least_surface_temperature(vapor_pressure: f64) -> Result<f64, OutOfRange> {
    saturation_temperature(vapor_pressure / CRITICAL_HUMIDITY)
}

/// Temperature factor f_Rsi of a surface between outdoors and indoors (K): (θ_si − θ_e)/(θ_i − θ_e).
///
/// # Valid for
/// Indoors at least 1 K warmer than outdoors; refused otherwise, the factor having no meaning there.
/// # Source
/// ISO 13788:2012; ISO 10211.
/// # Example
/// DIN 4108-2: 12.6 °C between −5 and 20 °C gives 0.70 (from memory): matches.
/// ```
/// let f = coldsill_heat::physics::iso13788::temperature_factor(285.75, 268.15, 293.15).unwrap();
/// assert!((f - 0.70).abs() < 0.005);
/// ```
pub fn temperature_factor(surface: f64, outdoors: f64, indoors: f64) -> Result<f64, OutOfRange> {
    let surface = check_range("surface temperature", surface, [150.0, 400.0], "K")?;
    let outdoors = check_range("outdoor temperature", outdoors, [150.0, 399.0], "K")?;
    let indoors = check_range("indoor temperature", indoors, [outdoors + 1.0, 400.0], "K")?;
    Ok((surface - outdoors) / (indoors - outdoors))
}

#[cfg(test)]
mod tests {
    use super::super::moist_air;
    use super::*;

    #[test]
    fn the_published_case_rounds_to_12_6_degrees_and_0_70() {
        // DIN 4108-2 (from memory): 20 °C and 50 % indoors, −5 °C outdoors. Unrounded 12.62 °C and 0.705.
        let least = least_surface_temperature(0.5 * saturation(293.15).unwrap()).unwrap();
        assert!((least - ZERO - 12.62).abs() < 0.01, "{least}");
        let factor = temperature_factor(least, 268.15, 293.15).unwrap();
        assert!((factor - 0.705).abs() < 0.0005, "{factor}");
    }

    #[test]
    fn its_formula_stays_by_hyland_and_wexler() {
        // Another fit of the same measurements: it lies below, by up to 0.25 % from −10 °C up, and 1.1 %
        // at −30 °C.
        for celsius in -29..=49 {
            let t = f64::from(celsius) + ZERO;
            let share = saturation(t).unwrap() / moist_air::saturation(t).unwrap() - 1.0;
            let most = if celsius >= -10 { 0.0025 } else { 0.011 };
            assert!(share < 0.0 && share > -most, "{celsius}: {share}");
        }
    }

    #[test]
    fn the_inverse_returns_the_temperature() {
        for celsius in -29..=49 {
            let t = f64::from(celsius) + ZERO;
            assert!((saturation_temperature(saturation(t).unwrap()).unwrap() - t).abs() < 1e-9, "{celsius}");
        }
    }

    #[test]
    fn wood_at_the_least_temperature_stands_at_eighty_percent() {
        for vapor in [300.0, 610.0, 995.0, 1500.0] {
            let least = least_surface_temperature(vapor).unwrap();
            assert!((surface_humidity(vapor, least).unwrap() - 0.8).abs() < 1e-9);
            assert!(surface_humidity(vapor, least - 1.0).unwrap() > CRITICAL_HUMIDITY);
            assert!(surface_humidity(vapor, least + 1.0).unwrap() < CRITICAL_HUMIDITY);
        }
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(saturation(20.0).is_err()); // degrees Celsius by mistake
        assert!(saturation_temperature(0.0).is_err());
        assert!(surface_humidity(-1.0, 280.0).is_err());
        assert!(temperature_factor(285.0, 293.0, 293.0).is_err());
        assert!(temperature_factor(f64::NAN, 268.0, 293.0).is_err());
    }
}

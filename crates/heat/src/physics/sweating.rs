//! Sweating: dew and frost on a cold surface, with the latent heat given back to it.
//!
//! Vapor reaches a surface as heat does (Lewis relation). The driving difference is one of partial pressures turned
//! into density at the film temperature; taking each density at its own temperature would count the contraction of
//! the air by cold as a lack of vapor and lower the rate of a surface 20 K colder by 15 %. Radiation carries no
//! vapor: only the convective film counts for the mass, both count for the heat. Bulk motion toward the surface
//! (p_v/p, about 1 %) is left out, and so is any drying when it warms again.

use super::moist_air::{
    Deposit, GAS_CONSTANT_OF_VAPOR, latent_heat, saturation, saturation_temperature, vapor_diffusivity,
};
use super::{OutOfRange, Spread, air_film::air, check_range, interpolate, water::ICE_POINT};

/// Temperatures accepted for surfaces and air, K.
const TEMPERATURES: [f64; 2] = [223.15, 323.15];
/// Films and conductances accepted, W/(m²·K).
const FILMS: [f64; 2] = [0.0, 1e5];

/// Lewis number of vapor in air, α/D, at a film temperature (K) and a pressure (Pa).
///
/// # Valid for
/// 223.15 to 373.15 K, 60 to 110 kPa.
/// # Source
/// Definition; [`air`] and [`vapor_diffusivity`], with the 6 % spread of the latter.
/// # Example
/// Texts give about 0.85 for vapor in air (from memory): matches to 2 %.
/// ```
/// let le = coldsill_heat::physics::sweating::lewis_number(283.15, 101_325.0).unwrap();
/// assert!((le - 0.85).abs() < 0.017);
/// ```
pub fn lewis_number(film_temperature: f64, pressure: f64) -> Result<f64, OutOfRange> {
    Ok(air(film_temperature, pressure)?.diffusivity / vapor_diffusivity(film_temperature, pressure)?)
}

/// Mass transfer coefficient (m/s) from a convective film h_c (W/(m²·K)), density (kg/m³) and specific heat
/// (J/(kg·K)) of the gas, and its Lewis number: h_m = h_c/(ρ c_p Le^(2/3)).
///
/// # Valid for
/// Forced and natural convection alike, dilute vapor; Le of 0.1 to 10.
/// # Source
/// Chilton and Colburn, Ind. Eng. Chem. 26 (1934) 1183; Incropera and DeWitt, eq. 6.60.
/// # Example
/// Incropera, Ex. 6.8 (from memory): a cloth wetted with a volatile liquid (200 kg/kmol, 100 kJ/kg, 5000 Pa) in dry
/// air of 40 °C, ρ 1.16, c_p 1007, Le 1.13, settles where h (T∞ − T) = h_fg h_m ρ_v, at 5.9 °C: matches.
/// ```
/// use coldsill_heat::physics::sweating::mass_transfer_coefficient;
/// let per_film = mass_transfer_coefficient(1.0, 1.16, 1007.0, 1.13).unwrap();
/// let product = 100e3 * per_film * 5000.0 * 200.0 / 8314.46; // (T∞ − T) T, K²
/// assert!((product - 9490.0).abs() < 10.0);
/// let cloth = 0.5 * (313.0 + (313.0_f64.powi(2) - 4.0 * product).sqrt()); // the book counts 0 °C as 273 K
/// assert!((cloth - 273.0 - 5.9).abs() < 0.1);
/// ```
pub fn mass_transfer_coefficient(
    convection: f64,
    density: f64,
    specific_heat: f64,
    lewis: f64,
) -> Result<f64, OutOfRange> {
    let h = check_range("convective film", convection, FILMS, "W/(m²·K)")?;
    let rho = check_range("density", density, [0.1, 10.0], "kg/m³")?;
    let c = check_range("specific heat", specific_heat, [100.0, 10_000.0], "J/(kg·K)")?;
    let le = check_range("Lewis number", lewis, [0.1, 10.0], "")?;
    Ok(by_lewis(h, rho * c, le))
}

/// h_c/(ρ c_p Le^(2/3)), with ρ c_p in J/(m³·K).
fn by_lewis(convection: f64, heat_per_volume: f64, lewis: f64) -> f64 {
    convection / (heat_per_volume * libm::pow(lewis, 2.0 / 3.0))
}

/// The damp air before a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Air temperature, and that of what the surface sees, K.
    pub temperature: f64,
    /// Vapor pressure, Pa.
    pub vapor_pressure: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// Convective film, W/(m²·K).
    pub convection: f64,
    /// Radiation film, W/(m²·K).
    pub radiation: f64,
}

/// What arrives at a wet surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrival {
    /// Vapor deposited, kg/(m²·s); negative where a wet surface dries.
    pub mass_flux: f64,
    /// Latent heat given to the surface, W/m², of the same sign.
    pub heat_flux: f64,
    /// Whether it is dew or frost.
    pub deposit: Deposit,
}

/// Mass and latent heat that a wet or iced surface of a temperature (K) takes from damp air. A dry surface warmer
/// than the dew point gets nothing: there a negative flux means only that it stays dry.
///
/// # Valid for
/// 223.15 to 323.15 K, 60 to 110 kPa, air up to saturation; refused outside. Saturation over ice below the triple
/// point, so dew that stays supercooled is taken as frost, which gathers faster. As uncertain as the convective film
/// (10 % between correlations) and the diffusivity (4 %).
/// # Source
/// [`mass_transfer_coefficient`] with dry air at the mean of the two temperatures: h_m (p_v − p_s)/(R_v T_film).
/// # Example
/// Film of 3.5 W/(m²·K), room 21 °C at 40 %, surface 0 °C: 32.7 g/(m²·h), about 23 W/m² as dew; a recomputation with
/// Le 0.86, not a published value, which it matches to 1 %.
/// ```
/// use coldsill_heat::physics::{moist_air::vapor_pressure, sweating::*};
/// let room = Surroundings {
///     temperature: 294.15, vapor_pressure: vapor_pressure(294.15, 0.40).unwrap(), pressure: 101_325.0,
///     convection: 3.5, radiation: 0.0,
/// };
/// let grams_an_hour = arrival(&room, 273.15).unwrap().mass_flux * 3.6e6;
/// assert!((grams_an_hour / 32.7 - 1.0).abs() < 0.01);
/// ```
pub fn arrival(room: &Surroundings, surface_temperature: f64) -> Result<Arrival, OutOfRange> {
    let surface = check_range("surface temperature", surface_temperature, TEMPERATURES, "K")?;
    let still = check_range("air temperature", room.temperature, TEMPERATURES, "K")?;
    let vapor = check_range("vapor pressure", room.vapor_pressure, [0.0, saturation(still)?], "Pa")?;
    let film = 0.5 * (surface + still);
    let convection = check_range("convective film", room.convection, FILMS, "W/(m²·K)")?;
    let dry = air(film, room.pressure)?;
    // ρ c_p = k/α
    let transfer =
        by_lewis(convection, dry.conductivity / dry.diffusivity, lewis_number(film, room.pressure)?);
    let mass_flux = transfer * (vapor - saturation(surface)?) / (GAS_CONSTANT_OF_VAPOR * film);
    Ok(Arrival { mass_flux, heat_flux: mass_flux * latent_heat(surface)?, deposit: Deposit::at(surface) })
}

/// A surface that has come to rest between damp air and something colder behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settled {
    /// Temperature of the surface, K.
    pub temperature: f64,
    /// What it would be in dry air, K.
    pub without_vapor: f64,
    /// Mass, latent heat and kind of what it gathers; `None` if it stays dry.
    pub arrival: Arrival,
}

/// Temperature of a surface, with the latent heat of what it gathers returned, from the damp air before it, the
/// conductance (W/(m²·K)) from the surface to a sink behind it and the sink's temperature (K):
/// (h_c + h_r)(T_air − T) + L G(T) = U (T − T_sink).
///
/// # Valid for
/// 223.15 to 323.15 K, 60 to 110 kPa, both films and the conductance up to 1e5 W/(m²·K) and not all nothing. One
/// temperature over the whole surface. The left side falls and the right side rises with T, so there is one root
/// between the temperature in dry air and the dew point; found by halving to 1e-9 K. Where frost and dew share the
/// surface the root is the triple point, and the kind given is dew.
/// # Source
/// Heat balance; [`arrival`].
/// # Example
/// No published value; the balance it states closes. Room 21 °C at 40 %, 20 W/(m²·K) to a sink at 0 °C: 3.50 °C in
/// dry air, (4 × 21 + 20 × 0)/24, and warmer by what the latent heat adds.
/// ```
/// use coldsill_heat::physics::{moist_air::vapor_pressure, sweating::*};
/// let room = Surroundings {
///     temperature: 294.15, vapor_pressure: vapor_pressure(294.15, 0.40).unwrap(), pressure: 101_325.0,
///     convection: 3.5, radiation: 0.5,
/// };
/// let it = settled(&room, 20.0, 273.15).unwrap();
/// assert!((it.without_vapor - 273.15 - 3.5).abs() < 0.01 && it.temperature > it.without_vapor);
/// let from_room = 4.0 * (294.15 - it.temperature) + it.arrival.heat_flux;
/// assert!((from_room - 20.0 * (it.temperature - 273.15)).abs() < 1e-6); // W/m²
/// ```
pub fn settled(room: &Surroundings, conductance: f64, sink: f64) -> Result<Settled, OutOfRange> {
    let inward = check_range("conductance", conductance, FILMS, "W/(m²·K)")?;
    let sink = check_range("sink temperature", sink, TEMPERATURES, "K")?;
    let radiation = check_range("radiation film", room.radiation, FILMS, "W/(m²·K)")?;
    let film =
        check_range("films together", room.convection + radiation, [1e-6, 2.0 * FILMS[1]], "W/(m²·K)")?;
    let without_vapor = (film * room.temperature + inward * sink) / (film + inward);
    let dry = arrival(room, without_vapor)?;
    if dry.mass_flux <= 0.0 {
        let arrival = Arrival { mass_flux: 0.0, heat_flux: 0.0, ..dry };
        return Ok(Settled { temperature: without_vapor, without_vapor, arrival });
    }
    let (mut low, mut high) = (without_vapor, saturation_temperature(room.vapor_pressure)?);
    while high - low > 1e-9 {
        let middle = 0.5 * (low + high);
        let gain = film * (room.temperature - middle) + arrival(room, middle)?.heat_flux;
        if gain > inward * (middle - sink) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Settled { temperature: high, without_vapor, arrival: arrival(room, high)? })
}

/// Indoor humidity that windows bear, by outdoor temperature: °F, share.
const CAP: [[f64; 2]; 6] =
    [[-20.0, 0.15], [-10.0, 0.20], [0.0, 0.25], [10.0, 0.30], [20.0, 0.35], [30.0, 0.40]];
/// Outdoor temperature above which no cap is printed, °F.
const CAP_ENDS: f64 = 40.0;

/// Relative humidity (0 to 1) above which a heated house of about 70 °F is advised not to go, by outdoor temperature
/// (K); none above 40 °F, where it is as stated. It stands for what houses have where nobody states it, since wet
/// windows dry the air down to about that; it is advice, not a measurement, and a stated humidity goes before it.
///
/// # Valid for
/// 223.15 to 323.15 K. Straight lines between rows; held at 15 % below −20 °F and at 40 % from 30 to 40 °F. The
/// spread of 5 points either way holds the tables in use: some start each step 10 °F colder.
/// # Source
/// Common practice without a first source: 15, 20, 25, 30, 35 and 40 % at −20, −10, 0, 10, 20 and 30 °F. A leaflet of
/// the Minnesota Department of Public Service has 15 % below −20 °F, then 20, 25, 30 and 35 % up to −10, 0, 10 and
/// 20 °F and 40 % from 20 to 40 °F (seen in public copies).
/// # Example
/// −10 °F: 20 %, with 25 % as the greatest: matches the rows.
/// ```
/// let cap = coldsill_heat::physics::sweating::humidity_cap(249.8167).unwrap().unwrap();
/// assert!((cap.used - 0.20).abs() < 1e-4 && (cap.high - 0.25).abs() < 1e-4);
/// ```
pub fn humidity_cap(outdoors: f64) -> Result<Option<Spread>, OutOfRange> {
    let t = check_range("outdoor temperature", outdoors, TEMPERATURES, "K")?;
    let fahrenheit = (t - ICE_POINT) * 1.8 + 32.0;
    if fahrenheit > CAP_ENDS {
        return Ok(None);
    }
    let used = interpolate(&CAP, fahrenheit.clamp(CAP[0][0], CAP[CAP.len() - 1][0]), 1);
    Ok(Some(Spread::new(used - 0.05, used, used + 0.05)))
}

//! Surface films: dry air, natural convection on a horizontal tube, radiation, and the films that standards state.

use super::{OutOfRange, Spread, Standing, check_range, interpolate};

/// Stefan-Boltzmann constant, W/(m²·K⁴) (CODATA 2018, exact).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Standard acceleration of gravity, m/s² (3rd CGPM, 1901).
pub const GRAVITY: f64 = 9.806_65;
/// Standard atmosphere, Pa.
pub const ATMOSPHERE: f64 = 101_325.0;
/// Specific gas constant of dry air, J/(kg·K) (ASHRAE Fundamentals, ch. 1).
const GAS_CONSTANT: f64 = 287.042;

/// Heat capacity by volume of still dry air at 273.15 K and one atmosphere, J/(m³·K): 1.2923 kg/m³ times
/// 1005.68 J/(kg·K), as in the tables of [`air`].
pub const STILL_AIR_CAPACITY: f64 = ATMOSPHERE / (GAS_CONSTANT * 273.15) * 1005.68;

/// Temperatures accepted, K: the span of the air table.
const TEMPERATURES: [f64; 2] = [223.15, 373.15];
/// Pressures accepted, Pa: about 4000 m above the sea to below it. k, μ and c_p do not vary with pressure there.
const PRESSURES: [f64; 2] = [60_000.0, 110_000.0];

/// Dry air at one atmosphere: K, k in W/(m·K), μ in Pa·s, c_p in J/(kg·K).
/// CoolProp 8.0.0 (Lemmon et al. 2000; Lemmon and Jacobsen 2004), by `tests/reference/physics.py`.
const AIR: [[f64; 4]; 16] = [
    [223.15, 0.020416, 1.4614e-5, 1005.92],
    [233.15, 0.021225, 1.5152e-5, 1005.71],
    [243.15, 0.022023, 1.5681e-5, 1005.58],
    [253.15, 0.022812, 1.6201e-5, 1005.54],
    [263.15, 0.023591, 1.6714e-5, 1005.57],
    [273.15, 0.024360, 1.7218e-5, 1005.68],
    [283.15, 0.025121, 1.7716e-5, 1005.88],
    [293.15, 0.025874, 1.8206e-5, 1006.14],
    [303.15, 0.026618, 1.8689e-5, 1006.49],
    [313.15, 0.027354, 1.9165e-5, 1006.92],
    [323.15, 0.028083, 1.9635e-5, 1007.43],
    [333.15, 0.028804, 2.0099e-5, 1008.02],
    [343.15, 0.029518, 2.0557e-5, 1008.70],
    [353.15, 0.030225, 2.1009e-5, 1009.46],
    [363.15, 0.030926, 2.1455e-5, 1010.30],
    [373.15, 0.031620, 2.1896e-5, 1011.23],
];

/// Conductivity of still dry air at 273.15 K, W/(m·K), as in the table of [`air`].
pub const STILL_AIR_CONDUCTIVITY: f64 = AIR[5][1];

/// Dry air at one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Thermal conductivity k, W/(m·K).
    pub conductivity: f64,
    /// Kinematic viscosity ν = μ/ρ, m²/s.
    pub kinematic_viscosity: f64,
    /// Thermal diffusivity α = k/(ρ c_p), m²/s.
    pub diffusivity: f64,
    /// Prandtl number Pr = ν/α.
    pub prandtl: f64,
}

/// Properties of dry air at a film temperature (K) and a pressure (Pa); density by the ideal gas law.
///
/// # Valid for
/// 223.15 to 373.15 K and 60 to 110 kPa; refused outside. The ideal gas law is within 0.15 % there, the straight
/// lines between 10 K rows within 0.01 %. Damp room air differs by less than 1 %.
/// # Source
/// CoolProp 8.0.0: Lemmon, Jacobsen, Penoncello, Friend, J. Phys. Chem. Ref. Data 29 (2000) 331; Lemmon and
/// Jacobsen, Int. J. Thermophysics 25 (2004) 21.
/// # Example
/// Incropera, Table A.4, 300 K (k 26.3e-3, ν 15.89e-6, Pr 0.707; from memory): matches to 1 %.
/// ```
/// let air = coldsill_heat::physics::air_film::air(300.0, 101_325.0).unwrap();
/// assert!((air.conductivity - 0.0263).abs() < 0.0003);
/// assert!((air.kinematic_viscosity - 15.89e-6).abs() < 0.16e-6);
/// assert!((air.prandtl - 0.707).abs() < 0.007);
/// ```
pub fn air(film_temperature: f64, pressure: f64) -> Result<Air, OutOfRange> {
    let t = check_range("film temperature", film_temperature, TEMPERATURES, "K")?;
    let p = check_range("pressure", pressure, PRESSURES, "Pa")?;
    let density = p / (GAS_CONSTANT * t);
    let conductivity = interpolate(&AIR, t, 1);
    let kinematic_viscosity = interpolate(&AIR, t, 2) / density;
    let diffusivity = conductivity / (density * interpolate(&AIR, t, 3));
    Ok(Air { conductivity, kinematic_viscosity, diffusivity, prandtl: kinematic_viscosity / diffusivity })
}

/// Mean Nusselt number of a long horizontal cylinder in still air:
/// Nu = {0.60 + 0.387 Ra^(1/6) / \[1 + (0.559/Pr)^(9/16)\]^(8/27)}², Ra on the diameter.
///
/// # Valid for
/// Ra from 0 to 1e12; refused outside. The authors recommend Ra of at least 1e-5; at 0 the correlation leaves
/// Nu = 0.36, which stands for pure conduction. Other correlations for the same case lie up to 10 % above (Morgan,
/// Kuehn and Goldstein).
/// # Source
/// Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049; as eq. 9.34 in Incropera and DeWitt.
/// # Example
/// Çengel, Heat Transfer, Ex. 9-1 (from memory): Ra 1.869e6, Pr 0.7241 gives Nu 17.40: matches.
/// ```
/// let nu = coldsill_heat::physics::air_film::churchill_chu(1.869e6, 0.7241).unwrap();
/// assert!((nu - 17.40).abs() < 0.005);
/// ```
pub fn churchill_chu(rayleigh: f64, prandtl: f64) -> Result<f64, OutOfRange> {
    let ra = check_range("Rayleigh number", rayleigh, [0.0, 1e12], "")?;
    let pr = check_range("Prandtl number", prandtl, [1e-3, 1e5], "")?;
    let shape = libm::pow(1.0 + libm::pow(0.559 / pr, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.60 + 0.387 * libm::pow(ra, 1.0 / 6.0) / shape;
    Ok(root * root)
}

/// Film coefficient in W/(m²·K) of a horizontal tube in still air at one atmosphere, from its outside diameter (m),
/// surface and air temperature (K): h = Nu k/D, properties at the mean of the two, β = 1/T of that mean.
///
/// # Valid for
/// Diameters of 1 mm to 1 m and temperatures of 223.15 to 373.15 K; refused outside. Convection only: add
/// [`radiation`]. Cold and warm tubes are alike: the sign of the difference does not matter. As the difference goes
/// to 0, h goes to 0.36 k/D.
/// # Source
/// [`churchill_chu`] with [`air`].
/// # Example
/// Library ht 1.2.0 with air from CoolProp at 13 °C and β = 1/T, D 28.6 mm, 5 °C in air of 21 °C: Ra 43404.5,
/// h 5.5587: matches to 0.1 % (5.5631 with the β of real air).
/// ```
/// let h = coldsill_heat::physics::air_film::natural_convection_cylinder(0.0286, 278.15, 294.15).unwrap();
/// assert!((h - 5.5587).abs() < 0.0056);
/// ```
pub fn natural_convection_cylinder(
    diameter: f64,
    surface_temperature: f64,
    air_temperature: f64,
) -> Result<f64, OutOfRange> {
    natural_convection_cylinder_at(ATMOSPHERE, diameter, surface_temperature, air_temperature)
}

/// As [`natural_convection_cylinder`], at a pressure (Pa): thin air convects less.
///
/// # Valid for
/// 60 to 110 kPa; otherwise as there.
/// # Source
/// As there.
/// # Example
/// Mile-high air (83.4 kPa) gives 0.91 of the sea-level film, since Ra goes with p²: no independent value.
pub fn natural_convection_cylinder_at(
    pressure: f64,
    diameter: f64,
    surface_temperature: f64,
    air_temperature: f64,
) -> Result<f64, OutOfRange> {
    let d = check_range("diameter", diameter, [0.001, 1.0], "m")?;
    let surface = check_range("surface temperature", surface_temperature, TEMPERATURES, "K")?;
    let still = check_range("air temperature", air_temperature, TEMPERATURES, "K")?;
    let film = 0.5 * (surface + still);
    let it = air(film, pressure)?;
    let difference = (surface - still).abs();
    let rayleigh = GRAVITY * difference * d * d * d / (film * it.kinematic_viscosity * it.diffusivity);
    Ok(churchill_chu(rayleigh, it.prandtl)? * it.conductivity / d)
}

/// Radiation film in W/(m²·K) between a small surface and large surroundings (K): h = ε σ (T1² + T2²)(T1 + T2).
/// Exact: h (T1 − T2) is ε σ (T1⁴ − T2⁴).
///
/// # Valid for
/// Emissivity of 0 to 1, temperatures of 150 to 400 K (a clear night sky reaches down to about 200 K); gray surfaces.
/// # Source
/// Incropera and DeWitt, eq. 1.9; ISO 6946, annex on surface resistances, writes it 4 ε σ T_m³.
/// # Example
/// 4 σ T³ at 13 °C is 5.3144 (`ht`), within 0.1 % for 5 °C against 21 °C: recomputed.
/// ```
/// let h = coldsill_heat::physics::air_film::radiation(1.0, 286.15, 286.15).unwrap();
/// assert!((h - 5.3144).abs() < 1e-4);
/// ```
pub fn radiation(
    emissivity: f64,
    surface_temperature: f64,
    surroundings_temperature: f64,
) -> Result<f64, OutOfRange> {
    let e = check_range("emissivity", emissivity, [0.0, 1.0], "")?;
    let a = check_range("surface temperature", surface_temperature, [150.0, 400.0], "K")?;
    let b = check_range("surroundings temperature", surroundings_temperature, [150.0, 400.0], "K")?;
    Ok(e * STEFAN_BOLTZMANN * (a * a + b * b) * (a + b))
}

/// A film of a flat wall as a standard states it, radiation at emissivity 0.9 included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallFilm {
    /// What it is for.
    pub name: &'static str,
    /// Film coefficient, W/(m²·K).
    pub coefficient: f64,
    /// Wind it is stated for, m/s; none where it stands for still air.
    pub wind: Option<f64>,
    /// Where it is published.
    pub source: &'static str,
    /// How the value came to be here.
    pub standing: Standing,
}

/// Interior, horizontal heat flow: Rsi 0.13 m²·K/W.
pub const ISO_INTERIOR: WallFilm = WallFilm {
    name: "interior, horizontal flow",
    coefficient: 1.0 / 0.13,
    wind: None,
    source: "ISO 6946, Rsi 0.13 m²·K/W",
    standing: Standing::Seen,
};
/// Exterior: Rse 0.04 m²·K/W, for 4 m/s.
pub const ISO_EXTERIOR: WallFilm = WallFilm {
    name: "exterior",
    coefficient: 1.0 / 0.04,
    wind: Some(4.0),
    source: "ISO 6946, Rse 0.04 m²·K/W",
    standing: Standing::Seen,
};
/// Still indoor air on a vertical surface.
pub const ASHRAE_STILL: WallFilm = WallFilm {
    name: "still air, vertical surface",
    coefficient: 8.29,
    wind: None,
    source: "ASHRAE Fundamentals, ch. 26, surface films",
    standing: Standing::FromMemory,
};
/// Outdoor air at 15 mph (6.7 m/s), the winter value. The coldest nights are usually calm, so it bounds the film of
/// a wall from above; a small head in the same wind has a larger one (57 to 67 for a 28.6 mm tube by `ht` 1.2.0).
pub const ASHRAE_WIND_WINTER: WallFilm = WallFilm {
    name: "wind of 15 mph",
    coefficient: 34.0,
    wind: Some(6.7),
    source: "ASHRAE Fundamentals, ch. 26, surface films",
    standing: Standing::FromMemory,
};
/// Outdoor air at 7.5 mph (3.4 m/s), the summer value.
pub const ASHRAE_WIND_SUMMER: WallFilm = WallFilm {
    name: "wind of 7.5 mph",
    coefficient: 22.7,
    wind: Some(3.4),
    source: "ASHRAE Fundamentals, ch. 26, surface films",
    standing: Standing::FromMemory,
};

/// Every stated wall film.
pub const WALL_FILMS: [WallFilm; 5] =
    [ISO_INTERIOR, ISO_EXTERIOR, ASHRAE_STILL, ASHRAE_WIND_WINTER, ASHRAE_WIND_SUMMER];

/// Total emissivity of bright metal. Thermal-imaging and heat-transfer tables print 0.02 to 0.09 (seen).
pub const BRIGHT: Spread = Spread::new(0.02, 0.05, 0.09);
/// Total emissivity of tarnished copper or brass in service. Tables print 0.46 to 0.56 for oxidised brass and 0.4 to
/// 0.8 for oxidised copper (seen), but 0.22 for dull brass plate (seen): metal between bright and oxidised spans all.
pub const TARNISHED: Spread = Spread::new(0.4, 0.5, 0.6);
/// Total emissivity of paint and of plastic pipe, whatever the color (tables print 0.80 to 0.97, seen).
pub const PAINTED: Spread = Spread::new(0.80, 0.90, 0.97);

#[cfg(test)]
mod tests {
    use super::*;

    /// Çengel's air table is older than the one used here: k 2.6 % lower, Pr 2.7 % higher at 45 °C.
    const OLDER_AIR_TABLE: f64 = 0.03;

    #[test]
    fn cengels_hot_pipe_matches_with_his_own_properties_and_nearly_with_ours() {
        // Çengel, Heat Transfer, Ex. 9-1 (from memory): D 80 mm, L 6 m, 70/20 °C, k 0.02699, ν 1.749e-5, Pr 0.7241.
        let (k, nu, pr, d) = (0.02699_f64, 1.749e-5_f64, 0.7241_f64, 0.08_f64);
        let ra = 9.81 * 50.0 * d * d * d / (318.15 * nu * nu) * pr;
        assert!((ra - 1.869e6).abs() < 0.002e6, "{ra}");
        let h = churchill_chu(ra, pr).unwrap() * k / d;
        assert!((h - 5.87).abs() < 0.005, "{h}");
        assert!((h * std::f64::consts::PI * d * 6.0 * 50.0 - 443.0).abs() < 1.0);
        let ours = natural_convection_cylinder(d, 343.15, 293.15).unwrap();
        assert!((ours / 5.87 - 1.0).abs() < OLDER_AIR_TABLE, "{ours}");
    }

    #[test]
    fn cengels_hot_pipe_radiates_as_printed() {
        // Ex. 9-1, ε = 1: 553 W from π 0.08 × 6 m² over 50 K, the book's kelvins being °C + 273.
        let area = std::f64::consts::PI * 0.08 * 6.0;
        let watts = radiation(1.0, 343.0, 293.0).unwrap() * area * 50.0;
        assert!((watts - 553.0).abs() < 1.0, "{watts}");
    }

    #[test]
    fn incroperas_steam_pipe_matches() {
        // Ex. 9.4 (from memory): D 0.1 m, 165/23 °C, k 0.0313, ν 22.8e-6, α 32.8e-6, Pr 0.697, ε 0.85: Ra 5.073e6,
        // about 325 W/m by convection (the exact formula gives 322: the book rounds Nu to 23.3) and 441 by radiation.
        let ra = 9.8_f64 * 142.0 * 1e-3 / (367.0 * 22.8e-6 * 32.8e-6);
        assert!((ra / 5.073e6 - 1.0).abs() < 0.001, "{ra}");
        let watts = churchill_chu(ra, 0.697).unwrap() * 0.0313 / 0.1 * std::f64::consts::PI * 0.1 * 142.0;
        assert!((watts / 325.0 - 1.0).abs() < 0.012, "{watts}");
        // 165 °C is beyond this room's range, so the radiation is written out.
        let (a, b) = (438.15_f64, 296.15_f64);
        let h = 0.85 * STEFAN_BOLTZMANN * (a * a + b * b) * (a + b);
        assert!((h * std::f64::consts::PI * 0.1 * 142.0 - 441.0).abs() < 2.0);
        assert!(radiation(0.85, a, b).is_err());
    }

    #[test]
    fn the_air_table_agrees_with_sutherlands_laws() {
        // White, Viscous Fluid Flow: μ0 1.716e-5 at 273 K, S 111 K, and k0 0.0241, S 194 K: both within 2 %.
        for t in [233.15, 258.0, 273.15, 286.15, 300.0, 330.0, 370.0] {
            let it = air(t, ATMOSPHERE).unwrap();
            let r = t / 273.0;
            let mu = 1.716e-5 * r * r.sqrt() * (273.0 + 111.0) / (t + 111.0);
            let k = 0.0241 * r * r.sqrt() * (273.0 + 194.0) / (t + 194.0);
            let density = ATMOSPHERE / (287.05 * t);
            assert!((it.kinematic_viscosity * density / mu - 1.0).abs() < 0.02, "{t}");
            assert!((it.conductivity / k - 1.0).abs() < 0.025, "{t}: {} {k}", it.conductivity);
            assert!((0.69..0.73).contains(&it.prandtl), "{t}");
        }
    }

    #[test]
    fn a_cold_tube_and_a_warm_one_have_the_same_film() {
        let a = natural_convection_cylinder(0.0286, 278.15, 294.15).unwrap();
        let b = natural_convection_cylinder(0.0286, 294.15, 278.15).unwrap();
        assert!((a - b).abs() < 1e-12);
    }

    #[test]
    fn without_a_difference_only_conduction_is_left() {
        let h = natural_convection_cylinder(0.0286, 286.15, 286.15).unwrap();
        let conduction = 0.36 * air(286.15, ATMOSPHERE).unwrap().conductivity / 0.0286;
        assert!((h - conduction).abs() < 1e-9);
        // it is approached as the sixth root of the difference: three decades bring it √10 nearer
        let excess = |kelvin: f64| {
            let near = natural_convection_cylinder(0.0286, 286.15, 286.15 + kelvin).unwrap();
            (near / h).sqrt() - 1.0
        };
        for kelvin in [1e-3, 1e-6, 1e-9] {
            let ratio = excess(kelvin) / excess(kelvin * 1e-3);
            assert!((ratio / 10.0_f64.sqrt() - 1.0).abs() < 0.02, "{kelvin}: {ratio}");
        }
    }

    #[test]
    fn thin_air_convects_less_but_not_by_more_than_its_density() {
        let sea = natural_convection_cylinder(0.0286, 278.15, 294.15).unwrap();
        let denver = natural_convection_cylinder_at(83_400.0, 0.0286, 278.15, 294.15).unwrap();
        assert!(denver < sea && denver > sea * 83_400.0 / ATMOSPHERE, "{}", denver / sea);
    }

    #[test]
    fn iso_6946_prints_these_radiation_films_for_a_black_body() {
        // ISO 6946, annex: 4 σ T³ (from memory), printed to 0.1.
        for (celsius, want) in [(-10.0, 4.1), (0.0, 4.6), (10.0, 5.1), (20.0, 5.7), (30.0, 6.3)] {
            let t = celsius + 273.15;
            assert!((radiation(1.0, t, t).unwrap() - want).abs() < 0.051, "{celsius}");
        }
        // and builds Rsi and Rse on them: hr 0.9 × 5.7 + hci 2.5, and 0.9 × 5.1 + 4 + 4v at 4 m/s.
        let inside = radiation(0.9, 293.15, 293.15).unwrap() + 2.5;
        assert!((1.0 / inside - 1.0 / ISO_INTERIOR.coefficient).abs() < 0.005);
        let outside = radiation(0.9, 283.15, 283.15).unwrap() + 4.0 + 4.0 * 4.0;
        assert!((1.0 / outside - 1.0 / ISO_EXTERIOR.coefficient).abs() < 0.005);
    }

    #[test]
    fn stated_films_are_named_once_and_convert_to_the_handbooks_other_unit() {
        for (i, a) in WALL_FILMS.iter().enumerate() {
            assert!((5.0..40.0).contains(&a.coefficient), "{}", a.name);
            assert!(!WALL_FILMS[..i].iter().any(|b| b.name == a.name), "{} twice", a.name);
        }
        // Inch-pound editions print the same films as 1.46, 6.0 and 4.0 Btu/(h·ft²·°F).
        for (film, btu) in [(ASHRAE_STILL, 1.46), (ASHRAE_WIND_WINTER, 6.0), (ASHRAE_WIND_SUMMER, 4.0)] {
            assert!((film.coefficient / 5.678_26 - btu).abs() < 0.015, "{}", film.name);
        }
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(natural_convection_cylinder(-0.02, 280.0, 290.0).is_err());
        assert!(natural_convection_cylinder(0.02, f64::NAN, 290.0).is_err());
        assert!(natural_convection_cylinder(0.02, 20.0, 290.0).is_err()); // degrees Celsius by mistake
        assert!(radiation(1.2, 280.0, 290.0).is_err());
        assert!(radiation(0.9, 280.0, f64::INFINITY).is_err());
        assert!(air(280.0, 101.325).is_err()); // kilopascals by mistake
        assert!(churchill_chu(-1.0, 0.7).is_err());
    }

    #[test]
    fn still_air_stores_what_handbooks_print() {
        // ISO 10456: air 1.23 kg/m³ at 10 °C and 1008 J/(kg·K); at 0 °C 283.15/273.15 as dense. Three figures.
        let iso = 1.23 * 1008.0 * 283.15 / 273.15;
        assert!((STILL_AIR_CAPACITY / iso - 1.0).abs() < 0.015, "{STILL_AIR_CAPACITY} {iso}");
        // At 0 °C and one atmosphere dry air weighs 1.293 kg/m³ (CRC Handbook), 1006 J/(kg·K).
        assert!((STILL_AIR_CAPACITY / (1.293 * 1006.0) - 1.0).abs() < 0.001);
    }
}

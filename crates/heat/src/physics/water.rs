//! Water and ice at atmospheric pressure.

use super::{OutOfRange, check_range, interpolate};

/// Ice point, K.
pub const ICE_POINT: f64 = 273.15;
/// Heat of fusion at the ice point, J/kg: 333.4265 kJ/kg by IAPWS-95 and IAPWS-06 at equal Gibbs energy
/// (handbooks print 333.4 to 334 kJ/kg).
pub const HEAT_OF_FUSION: f64 = 333_426.5;
/// Volume growth on freezing, as a fraction: 999.843 / 916.722 − 1, 9.07 % (IAPWS-95, IAPWS-06).
pub const FREEZING_GROWTH: f64 = 999.843 / 916.722 - 1.0;

/// Liquid: °C, ρ in kg/m³, c_p in J/(kg·K), k in W/(m·K).
/// CoolProp 8.0.0 (IAPWS-95; IAPWS R15-11), by `tests/reference/physics.py`.
const LIQUID: [[f64; 4]; 9] = [
    [0.0, 999.843, 4219.44, 0.55566],
    [5.0, 999.967, 4205.04, 0.56779],
    [10.0, 999.702, 4195.16, 0.57878],
    [15.0, 999.103, 4188.46, 0.58880],
    [20.0, 998.207, 4184.05, 0.59801],
    [25.0, 997.048, 4181.31, 0.60652],
    [30.0, 995.649, 4179.82, 0.61439],
    [35.0, 994.033, 4179.26, 0.62170],
    [40.0, 992.216, 4179.41, 0.62849],
];

/// Ice Ih: °C, ρ, c_p by IAPWS-06; k by CoolProp's `FoodIce`, where tables spread by 4 %.
const ICE: [[f64; 4]; 4] = [
    [-40.0, 922.219, 1804.51, 2.6320],
    [-20.0, 919.565, 1949.83, 2.3852],
    [-10.0, 918.166, 2023.10, 2.2922],
    [0.0, 916.722, 2096.70, 2.2196],
];

/// Density, specific heat and conductivity of one phase.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    /// Density, kg/m³.
    pub density: f64,
    /// Specific heat at constant pressure, J/(kg·K).
    pub specific_heat: f64,
    /// Thermal conductivity, W/(m·K).
    pub conductivity: f64,
}

/// Liquid water at a temperature (K).
///
/// # Valid for
/// 273.15 to 313.15 K at about one atmosphere; refused outside (supercooled water too). Straight lines between 5 K
/// rows: within 0.01 % in density and 0.03 % in conductivity. Conduction only: the buoyant exchange of still water in
/// a tube is not in it.
/// # Source
/// IAPWS-95 (R6-95) and IAPWS R15-11, through CoolProp 8.0.0.
/// # Example
/// IAPWS at 4 °C: 999.975 kg/m³, 0.5655 W/(m·K) (library `iapws` 1.5.5): matches.
/// ```
/// let water = coldsill_heat::physics::water::liquid(277.15).unwrap();
/// assert!((water.density - 999.975).abs() < 0.04);
/// assert!((water.conductivity - 0.5655).abs() < 0.0002);
/// ```
pub fn liquid(temperature: f64) -> Result<Phase, OutOfRange> {
    let t = check_range("water temperature", temperature, [ICE_POINT, 313.15], "K")? - ICE_POINT;
    Ok(phase(&LIQUID, t))
}

/// Ice at a temperature (K).
///
/// # Valid for
/// 233.15 to 273.15 K; refused outside. Conductivity is uncertain by about 4 %: at 0 °C ISO 10456 has 2.20 and the
/// CRC Handbook 2.14 against 2.22 here.
/// # Source
/// IAPWS R10-06 for density and specific heat; CoolProp 8.0.0 `INCOMP::FoodIce` for conductivity.
/// # Example
/// ISO 10456 at −10 °C: 2.30 W/(m·K) (from memory): matches to 1 %.
/// ```
/// let ice = coldsill_heat::physics::water::ice(263.15).unwrap();
/// assert!((ice.conductivity - 2.30).abs() < 0.023);
/// ```
pub fn ice(temperature: f64) -> Result<Phase, OutOfRange> {
    let t = check_range("ice temperature", temperature, [233.15, ICE_POINT], "K")? - ICE_POINT;
    Ok(phase(&ICE, t))
}

/// The temperature span (K) over which [`freezing_curve`] lets water freeze: a numerical melting range, so that
/// enthalpy has one temperature everywhere. Pure water has none.
pub const MELTING_RANGE: f64 = 0.01;

/// One point of [`freezing_curve`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// Temperature, K.
    pub temperature: f64,
    /// Enthalpy by volume of tube, J/m³; 0 for liquid at the ice point.
    pub enthalpy: f64,
    /// Thermal conductivity, W/(m·K).
    pub conductivity: f64,
}

/// Enthalpy and conductivity of the water in a tube of constant volume by temperature: ascending in both, straight
/// lines between the points.
///
/// Over either phase the slope is ρ c_p of that phase. Fusion takes ρ h of *ice* at 0 °C, 305.7 MJ/m³: a tube full of
/// ice holds 9 % less mass than one full of water, and the water that the growth displaces leaves at the ice point and
/// takes nothing with it. It is spread over [`MELTING_RANGE`] below the ice point, where conductivity goes from that of
/// water to that of ice. No supercooling.
///
/// # Valid for
/// 233.15 to 313.15 K; nothing is said of the ends. Between 5 K points a chord misses the enthalpy by less than
/// 0.02 K. Still water: no buoyant exchange.
/// # Source
/// The tables of [`liquid`] and [`ice`]; [`HEAT_OF_FUSION`].
/// # Example
/// Ice tables (Çengel, A-8, from memory): 78.3 kJ/kg from −40 to 0 °C, times 919.5 kg/m³ is 72.0 MJ/m³: matches to
/// half a percent.
/// ```
/// let curve = coldsill_heat::physics::water::freezing_curve();
/// let just_frozen = curve.iter().rfind(|it| it.temperature < 273.15).unwrap();
/// assert!(((just_frozen.enthalpy - curve[0].enthalpy) / 72.0e6 - 1.0).abs() < 0.006);
/// ```
#[must_use]
pub fn freezing_curve() -> Vec<CurvePoint> {
    const STEP: f64 = 5.0;
    let mut ice_side = vec![(-MELTING_RANGE, phase(&ICE, -MELTING_RANGE))];
    ice_side.extend((1..=8).map(|i| -STEP * f64::from(i)).map(|it| (it, phase(&ICE, it))));
    let water_side = (0..=8).map(|i| STEP * f64::from(i)).map(|it| (it, phase(&LIQUID, it)));
    let fusion = phase(&ICE, 0.0).density * HEAT_OF_FUSION;
    let mut curve = heated(ice_side.into_iter(), -fusion);
    curve.reverse();
    curve.extend(heated(water_side, 0.0));
    curve
}

/// The enthalpy along a row of temperatures (°C), from that of the first by trapezoids of ρ c_p.
fn heated(states: impl Iterator<Item = (f64, Phase)>, first: f64) -> Vec<CurvePoint> {
    let mut points: Vec<CurvePoint> = Vec::new();
    let (mut enthalpy, mut last) = (first, None);
    for (celsius, phase) in states {
        let capacity = phase.density * phase.specific_heat;
        if let Some((before, its_capacity)) = last {
            enthalpy += (capacity + its_capacity) / 2.0 * (celsius - before);
        }
        last = Some((celsius, capacity));
        let (temperature, conductivity) = (ICE_POINT + celsius, phase.conductivity);
        points.push(CurvePoint { temperature, enthalpy, conductivity });
    }
    points
}

fn phase(rows: &[[f64; 4]], celsius: f64) -> Phase {
    Phase {
        density: interpolate(rows, celsius, 1),
        specific_heat: interpolate(rows, celsius, 2),
        conductivity: interpolate(rows, celsius, 3),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Printed to five figures; straight lines fall below a curved table by up to this share.
    const BETWEEN_ROWS: f64 = 3e-4;

    #[test]
    fn water_between_rows_matches_kells_density_equation() {
        // Kell, J. Chem. Eng. Data 20 (1975) 97, eq. 16: an independent fit of measured density.
        for t in [0.0, 2.5, 4.0, 7.5, 12.5, 18.0, 25.0, 33.0, 40.0] {
            let kell = (999.839_52 + 16.945_176 * t - 7.987_040_1e-3 * t * t - 46.170_461e-6 * t * t * t
                + 105.563_02e-9 * t * t * t * t
                - 280.542_53e-12 * t * t * t * t * t)
                / (1.0 + 16.879_850e-3 * t);
            let ours = liquid(ICE_POINT + t).unwrap().density;
            assert!((ours / kell - 1.0).abs() < 1e-4, "{t}: {ours} {kell}");
        }
    }

    #[test]
    fn conductivity_of_water_matches_ramires_standard() {
        // Ramires et al., J. Phys. Chem. Ref. Data 24 (1995) 1377: k = 0.6065 (−1.48445 + 4.12292 t − 1.63866 t²),
        // t = T/298.15, uncertain by 0.7 % at these temperatures.
        for celsius in [1.0, 5.0, 12.0, 20.0, 37.0] {
            let t = (celsius + 273.15) / 298.15;
            let ramires = 0.6065 * (-1.48445 + 4.12292 * t - 1.63866 * t * t);
            let ours = liquid(ICE_POINT + celsius).unwrap().conductivity;
            assert!((ours / ramires - 1.0).abs() < 0.007 + BETWEEN_ROWS, "{celsius}: {ours} {ramires}");
        }
    }

    #[test]
    fn ice_conductivity_stays_within_the_published_four_percent() {
        // CRC Handbook (from memory): 2.14 at 0, 2.3 at −10, 2.4 at −20 °C; ISO 10456: 2.20 and 2.30.
        for (celsius, printed) in [(0.0, 2.14), (-10.0, 2.3), (-20.0, 2.4), (0.0, 2.20), (-10.0, 2.30)] {
            let ours = ice(ICE_POINT + celsius).unwrap().conductivity;
            assert!((ours / printed - 1.0).abs() < 0.04, "{celsius}: {ours}");
        }
    }

    #[test]
    fn freezing_grows_the_volume_by_nine_percent() {
        assert!((FREEZING_GROWTH - 0.0907).abs() < 0.5e-4);
        let grown = liquid(ICE_POINT).unwrap().density / ice(ICE_POINT).unwrap().density - 1.0;
        assert!((grown - FREEZING_GROWTH).abs() < 1e-12);
        // 2.9 % in each direction, as handbooks print it.
        assert!((libm::cbrt(1.0 + FREEZING_GROWTH) - 1.029).abs() < 0.0005);
    }

    #[test]
    fn heat_of_fusion_is_the_handbooks_144_btu_per_pound() {
        // 144 Btu/lb is the trade's rounded figure; 143.35 exactly.
        assert!((HEAT_OF_FUSION / 2326.0 - 143.35).abs() < 0.05);
    }

    #[test]
    fn each_phase_is_refused_outside_its_range() {
        assert!(liquid(273.0).is_err());
        assert!(ice(273.2).is_err());
        assert!(liquid(20.0).is_err()); // degrees Celsius by mistake
        assert!(ice(f64::NAN).is_err());
    }

    #[test]
    fn the_freezing_curve_ascends_and_covers_both_phases() {
        let curve = freezing_curve();
        for pair in curve.windows(2) {
            assert!(pair[0].temperature < pair[1].temperature && pair[0].enthalpy < pair[1].enthalpy);
        }
        let (first, last) = (curve[0], curve[curve.len() - 1]);
        assert!((first.temperature - 233.15).abs() < 1e-9 && (last.temperature - 313.15).abs() < 1e-9);
    }

    #[test]
    fn freezing_a_full_tube_gives_off_what_handbooks_give_for_its_volume_of_ice() {
        // 333.4 kJ/kg and 917 kg/m³ as handbooks print them: half of the last digits is 0.015 % and 0.055 %.
        let rounding = 0.05 / 333.4 + 0.5 / 917.0;
        let curve = freezing_curve();
        let at = curve.iter().position(|it| it.temperature >= ICE_POINT).unwrap();
        let (ice_end, water_end) = (curve[at - 1], curve[at]);
        let step = water_end.enthalpy - ice_end.enthalpy;
        assert!((step / (333.4e3 * 917.0) - 1.0).abs() < rounding, "{step}");
        assert!((water_end.temperature - ice_end.temperature - MELTING_RANGE).abs() < 1e-9);
        assert!(water_end.enthalpy.abs() < f64::EPSILON);
        // CRC Handbook (from memory): water 0.5562 at 0 °C; ice 2.14, ISO 10456 2.20, within the 4 % of the ice table.
        assert!((water_end.conductivity - 0.5562).abs() < 0.002);
        assert!((ice_end.conductivity / 2.14 - 1.0).abs() < 0.04, "{}", ice_end.conductivity);
    }

    #[test]
    fn the_curve_climbs_by_the_heat_capacity_of_each_phase() {
        // Steam tables (from memory): 4.18 to 4.22 kJ/(kg·K) and 992 to 1000 kg/m³; ice 1.8 to 2.1 and 917 to 922.
        let curve = freezing_curve();
        for pair in curve.windows(2) {
            let slope = (pair[1].enthalpy - pair[0].enthalpy) / (pair[1].temperature - pair[0].temperature);
            if pair[0].temperature >= ICE_POINT {
                assert!((992.0 * 4178.0..1000.0 * 4220.0).contains(&slope), "{slope}");
            } else if pair[1].temperature < ICE_POINT {
                assert!((917.0 * 1800.0..922.5 * 2106.0).contains(&slope), "{slope}");
            }
        }
        // 167.53 kJ/kg from 0 to 40 °C (steam tables), times the 992.2 to 999.8 kg/m³ the tube holds on the way.
        let warmed = curve[curve.len() - 1].enthalpy;
        assert!((167.53e3 * 992.2..167.53e3 * 999.9).contains(&warmed), "{warmed}");
    }
}

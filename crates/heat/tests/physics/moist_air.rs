//! Saturation, dew and frost points, humidity and latent heat against PsychroLib, CoolProp and the handbook.

use coldsill_heat::physics::moist_air::*;

const ATMOSPHERE: f64 = 101_325.0;

fn kelvin(celsius: f64) -> f64 {
    celsius + 273.15
}

fn kelvin_of(fahrenheit: f64) -> f64 {
    (fahrenheit + 459.67) / 1.8
}

#[test]
fn dew_and_frost_points_match_two_libraries() {
    // °F, RH, PsychroLib 2.5.0 (Hyland and Wexler, inverted to 1e-10 K), CoolProp 8.0.0 HAPropsSI('D', ...).
    // The same formula on the one side: printed to 1e-6 °F. Real air on the other, up to 0.0055 °F from the first.
    let (same_formula, real_air) = (2e-6, 0.01);
    for (fahrenheit, humidity, psychrolib, coolprop) in [
        (67.0, 0.67, 55.693749, 55.696127),
        (70.0, 0.51, 51.062216, 51.066090),
        (72.0, 0.35, 42.884449, 42.889951),
        (68.0, 0.40, 42.807674, 42.812111),
        (72.0, 0.50, 52.365549, 52.369820),
        (70.0, 0.15, 21.591997, 21.595651),
        (70.0, 0.10, 13.251709, 13.254424),
        (70.0, 0.05, -0.352076, -0.352183),
        (80.0, 0.90, 76.799913, 76.801234),
        (60.0, 0.30, 28.914920, 28.916920),
        (40.0, 0.40, 19.246602, 19.245757),
        (90.0, 0.75, 80.998927, 81.003564),
    ] {
        let p = vapor_pressure(kelvin_of(fahrenheit), humidity).unwrap();
        let ours = saturation_temperature(p).unwrap() * 1.8 - 459.67;
        assert!((ours - psychrolib).abs() < same_formula, "{fahrenheit} {humidity}: {ours} {psychrolib}");
        assert!((ours - coolprop).abs() < real_air, "{fahrenheit} {humidity}: {ours} {coolprop}");
    }
}

#[test]
fn saturation_matches_psychrolib_to_the_last_printed_figure() {
    for (celsius, psychrolib) in [
        (-99.0, 0.001721123),
        (-60.0, 1.081673),
        (-40.0, 12.84525),
        (-30.0, 38.01568),
        (-20.0, 103.2604),
        (-10.0, 259.9029),
        (-5.0, 401.7641),
        (-1.0, 562.6715),
        (0.0, 611.1536),
        (0.02, 612.1015),
        (1.0, 657.0717),
        (5.0, 872.4867),
        (10.0, 1227.995),
        (20.0, 2338.804),
        (25.0, 3169.216),
        (50.0, 12_349.86),
        (100.0, 101_418.7),
        (200.0, 1_555_074.0),
    ] {
        let ours = saturation(kelvin(celsius)).unwrap();
        assert!((ours / psychrolib - 1.0).abs() < 5e-7, "{celsius}: {ours} {psychrolib}");
    }
}

#[test]
fn saturation_matches_what_the_handbook_prints() {
    // ASHRAE 2017, ch. 1, Table 3: computed from IAPWS, which the formulas follow to 300 ppm (not at −60 °C).
    for (celsius, printed) in
        [(-20.0, 103.24), (-5.0, 401.74), (5.0, 872.6), (25.0, 3169.7), (50.0, 12_351.3), (100.0, 101_418.0)]
    {
        let ours = saturation(kelvin(celsius)).unwrap();
        assert!((ours / printed - 1.0).abs() < 300e-6, "{celsius}: {ours} {printed}");
    }
}

#[test]
fn saturation_over_ice_matches_the_iapws_sublimation_curve() {
    // IAPWS R14-08(2011), eq. 6, another fit: the two part by 320 ppm at −40 °C, the handbook's 300 ppm at warmer.
    for (celsius, iapws) in
        [(-5.0, 401.741), (-10.0, 259.874), (-20.0, 103.239), (-30.0, 38.0051), (-40.0, 12.8412)]
    {
        let ours = saturation_over_ice(kelvin(celsius)).unwrap();
        assert!((ours / iapws - 1.0).abs() < 350e-6, "{celsius}: {ours} {iapws}");
    }
}

#[test]
fn the_two_curves_meet_at_the_triple_point_and_not_at_zero() {
    // 611.657 Pa (IAPWS); Hyland and Wexler made both curves pass through it: to the figures of their coefficients.
    let [ice, water] =
        [saturation_over_ice(TRIPLE_POINT).unwrap(), saturation_over_water(TRIPLE_POINT).unwrap()];
    assert!((ice / water - 1.0).abs() < 2e-8, "{ice} {water}");
    assert!((ice / 611.657 - 1.0).abs() < 1e-6, "{ice}");
    let gap = saturation_over_water(273.15).unwrap() / saturation_over_ice(273.15).unwrap() - 1.0;
    assert!((gap - 97e-6).abs() < 1e-6, "{gap}");
}

#[test]
fn saturation_rises_without_a_step_from_end_to_end() {
    let steps: Vec<f64> = (0..=30_000).map(|i| saturation(173.15 + 0.01 * f64::from(i)).unwrap()).collect();
    assert!(steps.windows(2).all(|pair| pair[0] < pair[1]));
}

#[test]
fn dew_and_frost_points_return_the_temperature_to_a_millionth() {
    for i in 0..=3000 {
        let t = 173.15 + 0.1 * f64::from(i);
        let found = saturation_temperature(saturation(t).unwrap()).unwrap();
        assert!((found - t).abs() < 1e-6, "{t}: {found}");
    }
    for t in [273.15, 273.16, 273.17, 473.15] {
        assert!((dew_point(saturation_over_water(t).unwrap()).unwrap() - t).abs() < 1e-6, "{t}");
    }
    for t in [173.15, 273.15, 273.16] {
        assert!((frost_point(saturation_over_ice(t).unwrap()).unwrap() - t).abs() < 1e-6, "{t}");
    }
}

#[test]
fn the_handbooks_regression_for_the_dew_point_is_close_but_not_exact() {
    // ASHRAE, ch. 1, eqs. 37 and 38 (from memory), °C, α = ln p/kPa; the handbook allows 0.05 K.
    for (celsius, humidity) in [(21.0, 0.40), (21.0, 0.70), (30.0, 0.60), (21.0, 0.15), (5.0, 0.50)] {
        let p = vapor_pressure(kelvin(celsius), humidity).unwrap();
        let a = libm::log(p / 1000.0);
        let above =
            6.54 + 14.526 * a + 0.7389 * a * a + 0.09486 * a * a * a + 0.4569 * libm::pow(p / 1000.0, 0.1984);
        let below = 6.09 + 12.608 * a + 0.4959 * a * a;
        let printed = if above > 0.0 { above } else { below };
        let ours = saturation_temperature(p).unwrap() - 273.15;
        assert!((ours - printed).abs() < 0.05, "{celsius} {humidity}: {ours} {printed}");
    }
}

#[test]
fn density_and_humidity_ratio_match_two_libraries() {
    // °C, RH, Pa, PsychroLib kg/m³ and kg/kg (ideal gases, as here), CoolProp kg/m³ and kg/kg (real air).
    let (printed, real_density, real_ratio) = (1e-5, 0.001, 0.006);
    for (celsius, humidity, pressure, psychrolib, ratio, coolprop, real) in [
        (-20.0, 0.8, ATMOSPHERE, 1.393989, 0.00050747, 1.395249, 0.00050972),
        (0.0, 0.9, ATMOSPHERE, 1.289668, 0.00339463, 1.290450, 0.00340895),
        (21.0, 0.4, ATMOSPHERE, 1.195603, 0.00616842, 1.196048, 0.00619563),
        (21.0, 0.5, 83_436.0, 0.982618, 0.00941204, 0.982924, 0.00944866),
        (35.0, 0.9, ATMOSPHERE, 1.123888, 0.03272570, 1.124266, 0.03288971),
    ] {
        let p = vapor_pressure(kelvin(celsius), humidity).unwrap();
        let ours = density(kelvin(celsius), p, pressure).unwrap();
        assert!((ours / psychrolib - 1.0).abs() < printed, "{celsius}: {ours} {psychrolib}");
        assert!((ours / coolprop - 1.0).abs() < real_density, "{celsius}: {ours} {coolprop}");
        let w = humidity_ratio(p, pressure).unwrap();
        assert!((w / ratio - 1.0).abs() < printed, "{celsius}: {w} {ratio}");
        assert!((w / real - 1.0).abs() < real_ratio, "{celsius}: {w} {real}");
        assert!((vapor_pressure_of_ratio(w, pressure).unwrap() / p - 1.0).abs() < 1e-12);
        assert!((relative_humidity(kelvin(celsius), p).unwrap() - humidity).abs() < 1e-12);
    }
}

#[test]
fn saturated_humidity_ratio_is_within_the_handbooks_real_gas_of_half_a_percent() {
    // ASHRAE 2017, ch. 1, Table 2 at 101 325 Pa, with the enhancement factor that ideal gases lack.
    for (celsius, printed) in [(-20.0, 0.0006373), (-5.0, 0.0024863), (5.0, 0.005425), (25.0, 0.020173)] {
        let ours = humidity_ratio(saturation(kelvin(celsius)).unwrap(), ATMOSPHERE).unwrap();
        assert!(ours < printed && ours / printed > 0.994, "{celsius}: {ours} {printed}");
    }
}

#[test]
fn the_wet_bulb_matches_psychrolib_above_and_below_freezing() {
    for (dry, wet, pressure, psychrolib) in [
        (40.0, 20.0, ATMOSPHERE, 0.00640079),
        (30.0, 19.9, ATMOSPHERE, 0.01038345),
        (21.0, 13.0, 83_436.0, 0.00806315),
        (5.0, 1.0, ATMOSPHERE, 0.00244179),
        (-2.0, -4.0, ATMOSPHERE, 0.00198360),
        (-10.0, -11.0, ATMOSPHERE, 0.00110685),
    ] {
        let w = humidity_ratio_of_wet_bulb(kelvin(dry), kelvin(wet), pressure).unwrap();
        assert!((w - psychrolib).abs() < 1e-8, "{dry} {wet}: {w} {psychrolib}");
    }
}

#[test]
fn the_standard_atmosphere_matches_psychrolib() {
    for (altitude, psychrolib) in [
        (-500.0, 107_477.537),
        (0.0, 101_325.0),
        (500.0, 95_460.812),
        (1000.0, 89_874.519),
        (1609.344, 83_427.511),
        (3000.0, 70_108.422),
    ] {
        assert!((standard_pressure(altitude).unwrap() - psychrolib).abs() < 0.001, "{altitude}");
    }
}

#[test]
fn latent_heat_of_dew_matches_iapws() {
    // CoolProp 8.0.0, IAPWS-95: h_g − h_f. The handbook's straight line leaves it by 0.09 % at 40 °C.
    for (celsius, iapws) in [
        (0.02, 2_500_915.0),
        (5.0, 2_489_042.0),
        (10.0, 2_477_187.0),
        (20.0, 2_453_519.0),
        (30.0, 2_429_811.0),
        (40.0, 2_405_977.0),
    ] {
        let ours = latent_heat(kelvin(celsius)).unwrap();
        assert!((ours / iapws - 1.0).abs() < 0.001, "{celsius}: {ours} {iapws}");
    }
}

#[test]
fn latent_heat_of_frost_follows_from_the_slope_of_the_curve_over_ice() {
    // Clapeyron: L = R T² d ln p/dT, the vapor an ideal gas; at 611 Pa it is one to 0.05 %.
    for celsius in [-49.0, -40.0, -30.0, -20.0, -10.0, -1.0] {
        let t = kelvin(celsius);
        let ln = |t: f64| libm::log(saturation_over_ice(t).unwrap());
        let clapeyron = 461.524 * t * t * (ln(t + 0.01) - ln(t - 0.01)) / 0.02;
        let ours = latent_heat(t).unwrap();
        assert!((ours / clapeyron - 1.0).abs() < 0.0006, "{celsius}: {ours} {clapeyron}");
    }
}

#[test]
fn diffusivity_lies_where_published_formulas_lie() {
    // Sherwood and Pigford (1952), in ASHRAE ch. 6 (from memory): fits of the same measurements, within 2 %. Schirmer (1938), 2.31e-5 at 0 °C with
    // the same exponent: 6 % above, as the function says.
    for celsius in [-20.0, 0.0, 10.0, 25.0, 40.0] {
        let t = kelvin(celsius);
        let sherwood = 0.926e-6 / 101.325 * t * t * t.sqrt() / (t + 245.0);
        let ours = vapor_diffusivity(t, ATMOSPHERE).unwrap();
        assert!((ours / sherwood - 1.0).abs() < 0.02, "{celsius}: {ours} {sherwood}");
        let schirmer = 2.31e-5 * libm::pow(t / 273.15, 1.81);
        assert!((ours / schirmer - 0.943).abs() < 0.001, "{celsius}");
    }
    let halved = vapor_diffusivity(290.0, 80_000.0).unwrap() / vapor_diffusivity(290.0, 100_000.0).unwrap();
    assert!((halved - 1.25).abs() < 1e-12);
}

#[test]
fn nonsense_is_refused() {
    for t in [20.0, 172.0, 474.0, f64::NAN, f64::INFINITY] {
        assert!(saturation(t).is_err(), "{t}");
    }
    assert!(saturation_over_water(272.0).is_err()); // supercooled
    assert!(saturation_over_ice(274.0).is_err());
    for p in [0.0, -1.0, 1e-4, 2e6, f64::NAN] {
        assert!(saturation_temperature(p).is_err(), "{p}");
    }
    assert!(dew_point(600.0).is_err() && frost_point(620.0).is_err());
    assert!(vapor_pressure(294.0, 40.0).is_err()); // percent by mistake
    assert!(relative_humidity(294.0, 3000.0).is_err()); // more than saturates
    assert!(humidity_ratio(1000.0, 101.3).is_err()); // kilopascals by mistake
    assert!(humidity_ratio_of_wet_bulb(290.0, 295.0, ATMOSPHERE).is_err());
    assert!(humidity_ratio_of_wet_bulb(313.15, 275.0, ATMOSPHERE).is_err()); // less than no vapor
    assert!(density(294.0, 3000.0, ATMOSPHERE).is_err());
    assert!(vapor_diffusivity(20.0, ATMOSPHERE).is_err());
    assert!(standard_pressure(12_000.0).is_err());
    assert!(latent_heat(373.15).is_err());
}

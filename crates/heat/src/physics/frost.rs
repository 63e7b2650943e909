//! Depth of frost in soil from a winter's freezing index: a cross-check of the authority's frost depth, never instead.
//!
//! Stefan's depth counts latent heat alone. The modified Berggren formula multiplies it by λ, at most 1, for the heat
//! that the soil also gives off by cooling; λ is read from a chart by custom, and solved here from the equation behind
//! the chart (Neumann's, with the mean of frozen and unfrozen properties). All three take a surface held at one
//! temperature for the whole season on uniform soil without snow, all of whose water freezes at 0 °C. Clays keep some
//! water unfrozen, so frost goes deeper there than the formula says; snow and turf keep it shallower.

mod soil;

pub use soil::{SOILS, SURFACES, Soil, Surface, Texture, find_soil, find_surface, kersten};

use super::water::{HEAT_OF_FUSION, ICE_POINT};
use super::{OutOfRange, check_range};

/// Seconds in a day; an index of 1 °F·day is 48 000 K·s.
pub const DAY: f64 = 86_400.0;

/// Thermal properties of a soil by its volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    /// Conductivity frozen, W/(m·K).
    pub k_frozen: f64,
    /// Conductivity unfrozen, W/(m·K).
    pub k_unfrozen: f64,
    /// Heat capacity frozen, J/(m³·K).
    pub c_frozen: f64,
    /// Heat capacity unfrozen, J/(m³·K).
    pub c_unfrozen: f64,
    /// Latent heat of its water, J/m³.
    pub latent: f64,
}

impl Ground {
    /// The properties of a soil of a dry density (kg/m³) and water content (mass of water over dry mass), with its
    /// conductivities frozen and unfrozen (W/(m·K)).
    ///
    /// # Valid for
    /// 300 to 2400 kg/m³, water 0.02 to 1.5, 0.1 to 6 W/(m·K); refused outside. A soil with less water has no use for
    /// a formula of latent heat.
    /// # Source
    /// TM 5-852-6, chapter 2: C = γ (0.17 + w) unfrozen, γ (0.17 + 0.5 w) frozen, in Btu/(lb·°F) of dry soil
    /// (mean seen, 0.17 + 0.75 w), L = 144 γ w (seen; 143.35 here).
    /// # Example
    /// 100 lb/ft³ with 15 %: mean 28.3 Btu/(ft³·°F), 2160 Btu/ft³: matches (from memory), the latent heat to 0.5 %.
    /// ```
    /// use coldsill_heat::physics::frost::Ground;
    /// let it = Ground::new(1601.85, 0.15, 1.385, 1.246).unwrap();
    /// assert!((0.5 * (it.c_frozen + it.c_unfrozen) / 67_066.0 - 28.3).abs() < 0.1);
    /// assert!((it.latent / 37_259.0 / 2160.0 - 1.0).abs() < 0.006);
    /// ```
    pub fn new(dry_density: f64, water: f64, k_frozen: f64, k_unfrozen: f64) -> Result<Self, OutOfRange> {
        /// Specific heats, J/(kg·K): 0.17, 1 and 0.5 Btu/(lb·°F).
        const SOLIDS: f64 = 0.17 * 4186.8;
        const WATER: f64 = 4186.8;
        const ICE: f64 = 0.5 * 4186.8;
        let density = check_range("dry density", dry_density, [300.0, 2400.0], "kg/m³")?;
        let water = check_range("water content", water, [0.02, 1.5], "")?;
        Ok(Self {
            k_frozen: check_range("frozen conductivity", k_frozen, [0.1, 6.0], "W/(m·K)")?,
            k_unfrozen: check_range("unfrozen conductivity", k_unfrozen, [0.1, 6.0], "W/(m·K)")?,
            c_frozen: density * (SOLIDS + ICE * water),
            c_unfrozen: density * (SOLIDS + WATER * water),
            latent: density * water * HEAT_OF_FUSION,
        })
    }

    /// Both phases with the mean of their properties, as the modified Berggren formula has them.
    fn averaged(&self) -> Self {
        let k = 0.5 * (self.k_frozen + self.k_unfrozen);
        let c = 0.5 * (self.c_frozen + self.c_unfrozen);
        Self { k_frozen: k, k_unfrozen: k, c_frozen: c, c_unfrozen: c, latent: self.latent }
    }
}

/// Depth of frost (m) by Stefan from the surface's freezing index (K·s): √(2 k I / L), k frozen.
///
/// # Valid for
/// Indices of 0 to 6000 K·d; refused outside. Heat of cooling is left out, so it is an upper bound.
/// # Source
/// Stefan 1891; TM 5-852-6.
/// # Example
/// 2500 °F·days on silt of 100 lb/ft³ and 15 %: 6.7 ft: closed form √(48 × 0.80 × 2500 / 2160).
/// ```
/// use coldsill_heat::physics::frost::*;
/// let it = Ground::new(1601.85, 0.15, 0.80 * 1.7307, 0.72 * 1.7307).unwrap();
/// assert!((stefan_depth(&it, 2500.0 * 48_000.0).unwrap() / 0.3048 - 6.67).abs() < 0.03);
/// ```
pub fn stefan_depth(ground: &Ground, surface_index: f64) -> Result<f64, OutOfRange> {
    let index = check_range("surface freezing index", surface_index, [0.0, 6000.0 * DAY], "K·s")?;
    Ok((2.0 * ground.k_frozen * index / ground.latent).sqrt())
}

/// Neumann's coefficient γ for ground frozen from a surface held `below` the ice point and begun `above` it (K); the
/// front stands at 2 γ √(a t), with a the frozen diffusivity.
///
/// # Valid for
/// `below` 0.01 to 60 K, `above` 0 to 40 K; refused outside. Uniform ground, infinitely deep.
/// # Source
/// Carslaw and Jaeger, Conduction of Heat in Solids, § 11.2: e^(−γ²)/erf γ − (k_u/k_f) √(a_f/a_u) (above/below)
/// e^(−γ² a_f/a_u) / erfc(γ √(a_f/a_u)) = γ L √π / (c_f below).
/// # Example
/// Ground at +2 °C, surface −10 °C (Lunardini 1981): 0.2760 published, 0.2755 here: matches to 0.2 %.
/// ```
/// use coldsill_heat::physics::frost::*;
/// let it = Ground {
///     k_frozen: 2.324, k_unfrozen: 1.860, c_frozen: 1.966e6, c_unfrozen: 2.862e6, latent: 331.0 * 333.7e3,
/// };
/// assert!((neumann_coefficient(&it, 10.0, 2.0).unwrap() - 0.2760).abs() < 0.0006);
/// ```
pub fn neumann_coefficient(ground: &Ground, below: f64, above: f64) -> Result<f64, OutOfRange> {
    let below = check_range("surface below the ice point", below, [0.01, 60.0], "K")?;
    let above = check_range("ground above the ice point", above, [0.0, 40.0], "K")?;
    let ratio = (ground.k_frozen / ground.c_frozen * ground.c_unfrozen / ground.k_unfrozen).sqrt();
    let warmth = ground.k_unfrozen / ground.k_frozen * ratio * above / below;
    let latent = ground.latent * std::f64::consts::PI.sqrt() / (ground.c_frozen * below);
    // What the frozen side carries off, less what comes from below and what freezing gives; it falls throughout.
    let surplus = |gamma: f64| {
        let square = gamma * gamma;
        let from_below = if above > 0.0 {
            warmth * libm::exp(-square * ratio * ratio) / libm::erfc(gamma * ratio)
        } else {
            0.0
        };
        libm::exp(-square) / libm::erf(gamma) - from_below - gamma * latent
    };
    // 2.5 keeps erfc well above the least number; no soil reaches it
    let (mut low, mut high) = (1e-9, 2.5 / ratio.max(1.0));
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if surplus(middle) > 0.0 { low = middle } else { high = middle }
    }
    Ok(0.5 * (low + high))
}

/// A winter and the site's year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Winter {
    /// Air-freezing index, K·s.
    pub air_index: f64,
    /// Length of the freezing season, s.
    pub season: f64,
    /// Mean annual air temperature, K; the ground is taken to start at it.
    pub mean_annual: f64,
    /// Surface index over air index, the n-factor; see [`SURFACES`].
    pub n_factor: f64,
}

/// A depth of frost with the numbers behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frost {
    /// Depth, m.
    pub depth: f64,
    /// The same by latent heat alone and mean conductivity, m.
    pub stefan: f64,
    /// Depth over Stefan's.
    pub lambda: f64,
    /// Ground above the ice point over surface below it.
    pub thermal_ratio: f64,
    /// Heat of cooling through the surface's step over latent heat.
    pub fusion_parameter: f64,
}

/// Depth of frost by the modified Berggren formula, λ √(2 k n I / L) with k the mean conductivity and λ from
/// [`neumann_coefficient`] with mean properties, not from the chart.
///
/// # Valid for
/// Air indices of 1 to 6000 K·d, seasons of 5 to 365 days, a mean annual temperature of 273.15 to 303.15 K (permafrost
/// is refused), n-factors of 0.1 to 1.5. Uniform soil; field depths scatter by a quarter about it.
/// # Source
/// Aldrich, Highway Research Board Bulletin 135 (1956); TM 5-852-6 (UFC 3-130-06), chapter 3.
/// # Example
/// TM 5-852-6, paragraph on homogeneous soils (from memory): sandy silt, 100 lb/ft³, 15 %, surface index 2500 °F·days in
/// 160 days, mean annual 37.2 °F: λ 0.89 off the chart, 5.8 ft. Here λ 0.895, 5.8 ft: matches.
/// ```
/// use coldsill_heat::physics::frost::*;
/// let it = Ground::new(1601.85, 0.15, 0.80 * 1.7307, 0.72 * 1.7307).unwrap();
/// let winter = Winter {
///     air_index: 2500.0 * 48_000.0, season: 160.0 * DAY, mean_annual: 273.15 + 5.2 / 1.8, n_factor: 1.0,
/// };
/// assert!((modified_berggren(&it, &winter).unwrap().depth / 0.3048 - 5.8).abs() < 0.06);
/// ```
pub fn modified_berggren(ground: &Ground, winter: &Winter) -> Result<Frost, OutOfRange> {
    let air = check_range("air-freezing index", winter.air_index, [DAY, 6000.0 * DAY], "K·s")?;
    let season = check_range("freezing season", winter.season, [5.0 * DAY, 365.0 * DAY], "s")?;
    let mean = check_range("mean annual temperature", winter.mean_annual, [ICE_POINT, 303.15], "K")?;
    let n = check_range("n-factor", winter.n_factor, [0.1, 1.5], "")?;
    let (below, above) = (n * air / season, mean - ICE_POINT);
    let it = ground.averaged();
    let gamma = neumann_coefficient(&it, below, above)?;
    let depth = 2.0 * gamma * (it.k_frozen / it.c_frozen * season).sqrt();
    let stefan = (2.0 * it.k_frozen * below * season / it.latent).sqrt();
    Ok(Frost {
        depth,
        stefan,
        lambda: depth / stefan,
        thermal_ratio: above / below,
        fusion_parameter: it.c_frozen * below / it.latent,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const LUNARDINI: Ground = Ground {
        k_frozen: 2.324,
        k_unfrozen: 1.860,
        c_frozen: 1.966e6,
        c_unfrozen: 2.862e6,
        latent: 331.0 * 333.7e3,
    };

    /// The sandy silt of TM 5-852-6: 100 lb/ft³, 15 %, 0.80 and 0.72 Btu/(h·ft·°F).
    fn silt() -> Ground {
        Ground::new(1601.85, 0.15, 0.80 * 1.730_735, 0.72 * 1.730_735).unwrap()
    }

    fn winter() -> Winter {
        Winter {
            air_index: 2500.0 * 48_000.0,
            season: 160.0 * DAY,
            mean_annual: ICE_POINT + 5.2 / 1.8,
            n_factor: 1.0,
        }
    }

    #[test]
    fn the_front_in_moist_ground_stands_where_it_is_published() {
        // Lunardini 1981 after Jumikis 1966: X = 3.6 cm h^-1/2 √t at 42.55 cm²/h; 17.64, 55.77, 96.60, 136.61 cm. The
        // published γ is rounded to 3.6, and its conductivities are recalled: 0.5 %.
        let published = 0.005;
        let gamma = neumann_coefficient(&LUNARDINI, 10.0, 2.0).unwrap();
        assert!((LUNARDINI.k_frozen / LUNARDINI.c_frozen * 3600.0 * 1e4 / 42.55 - 1.0).abs() < 1e-3);
        for (days, cm) in [(1.0, 17.64), (10.0, 55.77), (30.0, 96.60), (60.0, 136.61)] {
            let front = 200.0 * gamma * (LUNARDINI.k_frozen / LUNARDINI.c_frozen * days * DAY).sqrt();
            assert!((front / cm - 1.0).abs() < published, "{days}: {front}");
        }
    }

    #[test]
    fn ground_at_the_ice_point_gives_stefans_own_solution() {
        // Alexiades and Solomon; Carslaw and Jaeger: √π λ e^(λ²) erf λ = St.
        for (stefan, lambda) in [
            (0.01, 0.070_593),
            (0.05, 0.156_821),
            (0.1, 0.220_016),
            (0.2, 0.306_424),
            (0.5, 0.464_786),
            (1.0, 0.620_063),
        ] {
            let it = Ground {
                k_frozen: 2.0,
                k_unfrozen: 0.5,
                c_frozen: 2e6,
                c_unfrozen: 4e6,
                latent: 2e7 / stefan,
            };
            let got = neumann_coefficient(&it, 10.0, 0.0).unwrap();
            assert!((got - lambda).abs() < 1e-6, "{stefan}: {got}");
        }
    }

    #[test]
    fn water_freezes_as_a_root_finder_has_it() {
        // scipy 1.17.1, brentq on Neumann's equation; ice 2.22 W/(m·K), 2050 J/(kg·K), water 0.57, 4210, ρ 917 in both.
        let water = Ground {
            k_frozen: 2.22,
            k_unfrozen: 0.57,
            c_frozen: 917.0 * 2050.0,
            c_unfrozen: 917.0 * 4210.0,
            latent: 917.0 * 333.6e3,
        };
        for (below, above, want) in [(10.0, 0.0, 0.17353), (10.0, 4.0, 0.16590), (20.0, 10.0, 0.22222)] {
            let got = neumann_coefficient(&water, below, above).unwrap();
            assert!((got - want).abs() < 6e-6, "{below} {above}: {got}");
        }
    }

    #[test]
    fn the_manuals_example_comes_out_within_the_reading_of_its_chart() {
        // TM 5-852-6: α 0.33, μ 0.20, λ 0.89, 5.8 ft (from memory). A chart is read to 0.01, 1 % of λ.
        let it = modified_berggren(&silt(), &winter()).unwrap();
        assert!((it.thermal_ratio - 0.33).abs() < 0.005, "{}", it.thermal_ratio);
        assert!((it.fusion_parameter - 0.20).abs() < 0.006, "{}", it.fusion_parameter);
        assert!((it.lambda - 0.89).abs() < 0.01, "{}", it.lambda);
        assert!((it.depth / 0.3048 / 5.8 - 1.0).abs() < 0.01, "{}", it.depth / 0.3048);
    }

    #[test]
    fn lambda_falls_from_one_with_warmth_and_with_sensible_heat() {
        // The chart's shape: λ is 1 where nothing but latent heat counts, and falls with both its parameters.
        let lambda = |above: f64, index: f64| {
            let it = Winter { mean_annual: ICE_POINT + above, air_index: index * DAY, ..winter() };
            modified_berggren(&silt(), &it).unwrap().lambda
        };
        assert!(lambda(0.0, 20.0) > 0.995);
        for index in [200.0, 1000.0, 3000.0] {
            for above in [0.0, 2.0, 5.0] {
                assert!(lambda(above, index) <= 1.0);
                assert!(lambda(above + 3.0, index) < lambda(above, index), "{above} {index}");
            }
            assert!(lambda(0.0, 2.0 * index) < lambda(0.0, index), "{index}");
        }
    }

    #[test]
    fn depth_grows_with_the_root_of_the_index_under_stefan_and_shrinks_under_turf() {
        let [one, four] = [500.0, 2000.0].map(|it| stefan_depth(&silt(), it * DAY).unwrap());
        assert!((four / one - 2.0).abs() < 1e-12);
        let bare = modified_berggren(&silt(), &Winter { n_factor: 0.7, ..winter() }).unwrap().depth;
        let turf = modified_berggren(&silt(), &Winter { n_factor: 0.5, ..winter() }).unwrap().depth;
        assert!(turf < bare && bare < stefan_depth(&silt(), winter().air_index).unwrap());
    }

    #[test]
    fn permafrost_and_slips_of_the_unit_are_refused() {
        for it in [
            Winter { mean_annual: 270.0, ..winter() },
            Winter { mean_annual: 5.0, ..winter() }, // degrees Celsius by mistake
            Winter { air_index: 2500.0, ..winter() }, // degree-days by mistake
            Winter { season: 160.0, ..winter() },    // days by mistake
            Winter { n_factor: 0.0, ..winter() },
            Winter { air_index: f64::NAN, ..winter() },
        ] {
            assert!(modified_berggren(&silt(), &it).is_err(), "{it:?}");
        }
        assert!(Ground::new(100.0, 0.15, 1.0, 1.0).is_err()); // lb/ft³ by mistake
        assert!(Ground::new(1600.0, 15.0, 1.0, 1.0).is_err()); // percent by mistake
        assert!(stefan_depth(&silt(), -1.0).is_err());
        assert!(neumann_coefficient(&silt(), 0.0, 2.0).is_err());
    }
}

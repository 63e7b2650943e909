//! A plane front that freezes its way into a half space, against Stefan's and Neumann's closed forms. λ is solved for
//! here from the transcendental equation and held against the printed value before it is held against a transient.

use crate::thermal::case::{Case, Within};
use crate::thermal::march::{Body, Matter, between, even, ice, root, substance, temperatures, until};
use coldsill_heat::thermal::{Control, Line, NetworkError, Solver, graded};

const HOUR: f64 = 3600.0;

/// Frozen and thawed: conductivity W/mK and capacity J/m³K; latent heat J/m³.
#[derive(Clone, Copy)]
struct Ground {
    frozen: [f64; 2],
    thawed: [f64; 2],
    latent: f64,
}

fn diffusivity([conductivity, capacity]: [f64; 2]) -> f64 {
    conductivity / capacity
}

impl Ground {
    /// λ of X = 2λ√(α t), α that of the frozen side, for a surface `below` the freezing point and ground `above` it, K
    /// (Carslaw & Jaeger §11.2; Alexiades & Solomon §2.1-2.2).
    fn lambda(self, below: f64, above: f64) -> f64 {
        let Self { frozen, thawed, latent } = self;
        let nu = (diffusivity(frozen) / diffusivity(thawed)).sqrt();
        let pi = std::f64::consts::PI.sqrt();
        let drawn = |it: f64| frozen[1] * below * libm::exp(-it * it) / libm::erf(it);
        // k/√α is √(k c).
        let ratio = (thawed[0] * thawed[1] / (frozen[0] * frozen[1])).sqrt();
        let fed = |it: f64| frozen[1] * above * ratio * libm::exp(-it * it * nu * nu) / libm::erfc(it * nu);
        root(1e-6, 3.0, |it| drawn(it) - fed(it) - pi * it * latent)
    }

    /// Neumann's temperature at a depth and time.
    fn temperature(self, below: f64, above: f64, depth: f64, time: f64) -> f64 {
        let lambda = self.lambda(below, above);
        let length = (4.0 * diffusivity(self.frozen) * time).sqrt();
        let nu = (diffusivity(self.frozen) / diffusivity(self.thawed)).sqrt();
        let eta = depth / length;
        if eta < lambda {
            -below * (1.0 - libm::erf(eta) / libm::erf(lambda))
        } else {
            above * (1.0 - libm::erfc(eta * nu) / libm::erfc(lambda * nu))
        }
    }
}

/// A front on its way, read at some times.
struct Front {
    /// X, m
    depths: Vec<f64>,
    /// Nodes m and temperatures at the last time.
    nodes: Vec<f64>,
    temperatures: Vec<f64>,
    /// X/(2√(α t)) at the last time.
    lambda: f64,
}

/// Width of the change of phase, as a fraction of the surface's distance below it.
const WIDTH: f64 = 1e-4;

/// Freezes ground from a surface `below` and ground `above` freezing, K. `reach` is what the ground is cut off at,
/// `fine` the width of its cells as far as the front comes.
fn freeze(
    ground: Ground,
    [below, above]: [f64; 2],
    edges: Vec<f64>,
    times: &[f64],
) -> Result<Front, NetworkError> {
    let Ground { frozen, thawed, latent } = ground;
    let curve = substance(frozen[0], frozen[1], thawed[0], thawed[1], latent, WIDTH * below)?;
    let body = Body::column(edges, Matter::Wet, 0.0)?;
    let solver = Solver::analyse(&body.network)?;
    let last = *times.last().expect("a time");
    let control = Control { kelvin: 0.002 * below, phase: 0.02, first: 1e-7 * last, longest: last / 200.0 };
    let mut march = body.march(&solver, curve, above, control)?;
    let mut depths = Vec::new();
    let mut part = 0.0;
    for &time in times {
        part = until(&mut march, &|_| vec![-below], time)?;
        let [before, now] = ice(&march, &body);
        depths.push(before + part * (now - before));
    }
    let depth = *depths.last().expect("a time");
    Ok(Front {
        nodes: body.nodes(),
        temperatures: temperatures(&march, part),
        lambda: depth / (4.0 * diffusivity(frozen) * last).sqrt(),
        depths,
    })
}

/// √π λ e^(λ²) erf λ = St.
const ONE_PHASE: Case = Case {
    name: "Stefan's λ by Stefan number",
    source: "Alexiades & Solomon, Mathematical Modeling of Melting and Freezing Processes; Carslaw & Jaeger §11.2, \
             from memory; recomputed",
    independent: true,
    expect: &[
        ("St 0.01", 0.070593),
        ("St 0.05", 0.156821),
        ("St 0.1", 0.220016),
        ("St 0.2", 0.306424),
        ("St 0.5", 0.464786),
        ("St 1", 0.620063),
    ],
    tolerance: Within::Units(5e-7),
    because: "printed to six decimals",
};
/// Of a transient's front in 160 cells, as a part: where nothing flows from the thawed side, steps to 2 % of a cell's
/// latent heat leave less than 1e-4.
const ONE_SIDED: f64 = 2e-4;
/// As `ONE_SIDED` where heat flows from the thawed side too: the front's cell, 0.15 mm of 20 mm, then stands between two
/// slopes and leaves up to 1.2e-3.
const FRONT: f64 = 2e-3;

#[test]
fn one_phase_fronts_advance_as_stefan_has_them_at_every_stefan_number() -> Result<(), NetworkError> {
    let below = 10.0;
    let numbers = [0.01, 0.05, 0.1, 0.2, 0.5, 1.0];
    let grounds = numbers.map(|it| Ground { frozen: [1.0, 1.0], thawed: [1.0, 1.0], latent: below / it });
    let exact = grounds.map(|it| it.lambda(below, 0.0));
    ONE_PHASE.hold(&exact);
    for ((ground, number), exact) in grounds.into_iter().zip(numbers).zip(exact) {
        // At time 1 the front is 0.8 of the way.
        let front = freeze(ground, [below, 0.0], even(200, 2.513 * exact), &[1.0])?;
        assert!(
            (front.lambda / exact - 1.0).abs() < ONE_SIDED,
            "St {number}: λ {}, not {exact}",
            front.lambda
        );
    }
    Ok(())
}

/// Water and ice of one density: k 2.22 and 0.57 W/mK, c 2050 and 4210 J/kgK, 917 kg/m³, 333.6 kJ/kg.
const WATER: Ground =
    Ground { frozen: [2.22, 2050.0 * 917.0], thawed: [0.57, 4210.0 * 917.0], latent: 917.0 * 333.6e3 };

/// The same at 0 °C to more digits: IAPWS-95 and IAPWS-06, the conductivity of ice from CoolProp's FoodIce. The water
/// stays at 0 °C, so that its own properties have no part.
const ICE_AT_ZERO: Ground = Ground {
    frozen: [2.2196, 2096.70 * 916.722],
    thawed: [0.57, 4210.0 * 916.722],
    latent: 916.722 * 333.4265e3,
};

const PLATE: Case = Case {
    name: "λ of ice on a cold wall, water at 0 °C",
    source: "Stefan's equation solved with scipy 1.17 for ice at 0 °C (c 2096.70 J/kgK, 333.4265 kJ/kg)",
    independent: true,
    expect: &[
        ("wall at -1 °C", 0.056014),
        ("-5 °C", 0.124733),
        ("-10 °C", 0.175503),
        ("-20 °C", 0.245748),
        ("-30 °C", 0.298107),
    ],
    tolerance: Within::Units(1e-6),
    because: "one of the last of six digits; two of them are cut off, not rounded",
};

const HOUR_OF_ICE: Case = Case {
    name: "ice on a wall at -10 °C after 1 h",
    source: "as the λ; k 2.2196 W/mK, 916.722 kg/m³",
    independent: true,
    expect: &[("mm", 22.6317)],
    tolerance: Within::Units(5e-5),
    because: "printed to four decimals",
};

#[test]
fn ice_grows_on_a_cold_wall_as_stefan_has_it() -> Result<(), NetworkError> {
    let walls = [1.0, 5.0, 10.0, 20.0, 30.0];
    let exact = walls.map(|below| ICE_AT_ZERO.lambda(below, 0.0));
    PLATE.hold(&exact);
    let length = (4.0 * diffusivity(ICE_AT_ZERO.frozen) * HOUR).sqrt();
    HOUR_OF_ICE.hold(&[1000.0 * length * exact[2]]);
    for (below, exact) in walls.into_iter().zip(exact) {
        let front = freeze(ICE_AT_ZERO, [below, 0.0], even(200, 2.513 * exact * length / 2.0), &[HOUR])?;
        assert!(
            (front.lambda / exact - 1.0).abs() < ONE_SIDED,
            "-{below} °C: λ {}, not {exact}",
            front.lambda
        );
    }
    Ok(())
}

/// Wall and water, K from freezing.
const WARM: [[f64; 2]; 6] = [[10.0, 0.0], [10.0, 4.0], [10.0, 10.0], [20.0, 4.0], [20.0, 10.0], [5.0, 4.0]];
const NEUMANN: Case = Case {
    name: "λ of ice on a cold wall, water above 0 °C",
    source: "Neumann's equation with k 2.22 and 0.57, c 2050 and 4210, ρ 917 in both, L 333.6 kJ/kg; recomputed only",
    independent: true,
    expect: &[
        ("-10, 0 °C", 0.17353),
        ("-10, 4 °C", 0.16590),
        ("-10, 10 °C", 0.15553),
        ("-20, 4 °C", 0.23425),
        ("-20, 10 °C", 0.22222),
        ("-5, 4 °C", 0.11654),
    ],
    tolerance: Within::Units(5.01e-6),
    because: "printed to five decimals",
};
const NEUMANN_HOUR: Case = Case {
    name: "ice on a cold wall after 1 h",
    source: NEUMANN.source,
    independent: true,
    expect: &[
        ("-10, 0 °C, mm", 22.63),
        ("-10, 4 °C", 21.63),
        ("-10, 10 °C", 20.28),
        ("-20, 4 °C", 30.55),
        ("-20, 10 °C", 28.98),
        ("-5, 4 °C", 15.20),
    ],
    tolerance: Within::Part(FRONT),
    because: "as all fronts of a transient",
};

#[test]
fn ice_grows_into_warm_water_as_neumann_has_it() -> Result<(), NetworkError> {
    NEUMANN.hold(&WARM.map(|[below, above]| WATER.lambda(below, above)));
    let mut fronts = Vec::new();
    for it in WARM {
        // The water is disturbed to about 2.5 √(4 α t) of its own, 60 mm.
        let edges =
            graded(&[Line::new(0.0, 0.00015), Line::new(0.035, 0.00015), Line::new(0.3, 0.01)], 1.05, 0.01)?;
        let front = freeze(WATER, it, edges, &[HOUR])?;
        fronts.push(1000.0 * front.depths[0]);
    }
    NEUMANN_HOUR.hold(&fronts);
    Ok(())
}

/// α_f 42.55 and α_u 23.39 cm²/h, as c_f 1.966e6 and c_u 2.862e6 J/m³K have them with the conductivities; 331 kg/m³ of
/// water at 333.7 kJ/kg.
const LOAM: Ground = Ground { frozen: [2.324, 1.966e6], thawed: [1.860, 2.862e6], latent: 331.0 * 333.7e3 };

const GROUND_FRONT: Case = Case {
    name: "freezing front in moist ground",
    source: "Lunardini 1981 / Jumikis 1966, as set as an exercise in Bonan 2019, Climate Change and Terrestrial Ecosystem \
             Modeling, supplement 5.3: X = 3.6 cm √(t/h), surface -10 °C, ground +2 °C",
    independent: true,
    expect: &[("1 d, cm", 17.64), ("10 d", 55.77), ("30 d", 96.60), ("60 d", 136.61)],
    tolerance: Within::Part(0.005),
    because: "3.6 is given to two digits and stands for γ 0.27595, the inputs for λ 0.27551; the front for 2e-3",
};
const GROUND_WARMTH: Case = Case {
    name: "temperatures in freezing ground after 60 d",
    source: "Neumann's solution with the γ of that front; computed from its formula",
    independent: true,
    expect: &[("25 cm, °C", -8.125), ("55 cm", -5.888), ("85 cm", -3.682), ("115 cm", -1.520)],
    tolerance: Within::Units(0.03),
    because: "a front off by 0.36 % (see there) moves -1.5 °C, 116 cm off the surface, by 0.03 K",
};
/// λ of the inputs; they have four digits, and both conductivities follow from α and c only to those.
const LOAM_LAMBDA: f64 = 0.27551;
const FOUR_DIGITS: f64 = 2e-5;

#[test]
fn ground_freezes_as_neumann_has_it() -> Result<(), NetworkError> {
    /// K, between a transient and Neumann with the same inputs: the front's 2e-3 of 10 K.
    const TEMPERATURE: f64 = 0.02;
    let exact = LOAM.lambda(10.0, 2.0);
    assert!((exact - LOAM_LAMBDA).abs() < FOUR_DIGITS, "λ {exact}");
    let edges = graded(&[Line::new(0.0, 0.005), Line::new(1.5, 0.005), Line::new(12.0, 0.3)], 1.05, 0.3)?;
    let times = [1.0, 10.0, 30.0, 60.0].map(|it| it * 24.0 * HOUR);
    let front = freeze(LOAM, [10.0, 2.0], edges, &times)?;
    assert!((front.lambda / exact - 1.0).abs() < FRONT, "λ {}, not {exact}", front.lambda);
    let centimeters: Vec<f64> = front.depths.iter().map(|it| 100.0 * it).collect();
    GROUND_FRONT.hold(&centimeters);
    let depths = [0.25, 0.55, 0.85, 1.15];
    GROUND_WARMTH.hold(&depths.map(|it| between(&front.nodes, &front.temperatures, it)));
    for (node, got) in front.nodes.iter().zip(&front.temperatures) {
        let exact = LOAM.temperature(10.0, 2.0, *node, times[3]);
        assert!((got - exact).abs() < TEMPERATURE, "at {node} m: {got}, not {exact}");
    }
    Ok(())
}

//! A bare water pipe in an unheated, insulated attic, against what was found in one.
//!
//! University of Illinois, Building Research Council, for the insurers' property-loss institute (as told by kxan.com,
//! 2019-11-12): uninsulated pipe in an unheated, insulated attic began to freeze when outdoors fell just below 20 °F; the
//! attic ran 5 to 6 °F above outdoors; water supercools first. Of the pipe and the course of the cold nothing is told.
//!
//! The pipe here: full of still water, nothing warm along it. A pipe without a source of heat settles at the attic's own
//! temperature: without supercooling its first ice has to come with the attic at 32 °F, and no film, metal or size can
//! move that. What they do move is time.

use crate::section::common::*;
use crate::section::spells::*;
use coldsill_heat::physics::air_film::{natural_convection_cylinder, radiation};
use coldsill_heat::physics::{tubes, water};
use coldsill_heat::section::Micro;
use coldsill_heat::thermal::{Axis, Control, Film, Grid, Knot, Network, Solver, Store, Substance, Transient};
use std::f64::consts::PI;

/// °F that the attic runs above outdoors.
const ABOVE: [f64; 2] = [5.0, 6.0];
/// What was found: ice began with outdoors just below this, °F.
const FOUND: f64 = 20.0;
/// Still water supercools by 4 to 6 K before it freezes (Gilpin, Int. J. Heat Mass Transfer 20 (1977) 693; from memory).
const SUPERCOOLS: [f64; 2] = [4.0, 6.0];

/// A pipe across its axis: rings of water, one of pipe, a film.
struct Pipe {
    name: &'static str,
    /// Inner and outer radius, m.
    radii: [f64; 2],
    /// W/mK and J/m³K.
    wall: [f64; 2],
    emissivity: f64,
}

fn pipes() -> [Pipe; 3] {
    let of = |name, kind, wall, emissivity| {
        let tube = tubes::tube(kind, tubes::Size::ThreeQuarter);
        Pipe { name, radii: [tube.bore() / 2.0, tube.outside_diameter / 2.0], wall, emissivity }
    };
    // Heat capacities as in the spells; copper bright from the mill and tarnished.
    [
        of("3/4 in copper, bright", tubes::Kind::CopperL, [339.0, 3.44e6], 0.05),
        of("3/4 in copper, tarnished", tubes::Kind::CopperL, [339.0, 3.44e6], 0.5),
        of("3/4 in PEX", tubes::Kind::Pex, [0.38, 2.16e6], 0.9),
    ]
}

/// Hours to the ice point, to first ice and to blocked.
#[derive(Clone, Copy, Debug)]
struct Times {
    first: Option<f64>,
    blocked: Option<f64>,
}

fn substance() -> Substance {
    let knot = |it: water::CurvePoint| Knot {
        temperature: it.temperature,
        enthalpy: it.enthalpy,
        conductivity: it.conductivity,
    };
    Substance::new(water::freezing_curve().into_iter().map(knot).collect()).expect("water's curve")
}

impl Pipe {
    /// Film at a surface at the ice point in still air, W/m²K.
    fn film(&self, air: f64) -> f64 {
        let convects = natural_convection_cylinder(2.0 * self.radii[1], water::ICE_POINT, air);
        convects.expect("in range") + radiation(self.emissivity, water::ICE_POINT, air).expect("in range")
    }

    /// From one temperature everywhere, the attic's air going from there to another over some hours; °F, for some hours.
    fn freezes(&self, start: f64, air: f64, falls: f64, hours: f64) -> Times {
        const RINGS: u32 = 12;
        let [inner, outer] = self.radii;
        let mut edges: Vec<f64> = (0..=RINGS).map(|it| inner * f64::from(it) / f64::from(RINGS)).collect();
        edges.push(outer);
        let grid = Grid::cylindrical(edges, vec![0.0, 1.0]).expect("the grid");
        let film = 1.0 / self.film(kelvin(air));
        let conducts = |_: [usize; 3], at: [f64; 3]| Some(if at[0] < inner { 0.568 } else { self.wall[0] });
        let faces =
            |at: &coldsill_heat::thermal::Exposed| (at.face.axis == Axis::First).then(|| Film::new(0, film));
        let network = Network::over(&grid, 1, conducts, faces).expect("the network");
        let volume = |number| grid.volume(grid.position(number));
        let wet = RINGS as usize;
        let store = |number| match number {
            it if it < wet => Store { volume: volume(it), substance_fraction: 1.0, ..Store::default() },
            it => Store { capacity: volume(it) * self.wall[1], ..Store::default() },
        };
        let stores = (0..=wet).map(store).collect();
        let solver = Solver::analyse(&network).expect("it factorises");
        let control = Control { kelvin: 0.1, phase: 0.03, first: 10.0, longest: 600.0 };
        let mut transient =
            Transient::new(&solver, network, stores, substance(), vec![kelvin(start); wet + 1], control)
                .expect("it sets out");
        let outside = |time: f64| {
            let part = if falls > 0.0 { (time / (falls * HOUR)).min(1.0) } else { 1.0 };
            vec![kelvin(start + part * (air - start))]
        };
        let mut times = Times { first: None, blocked: None };
        loop {
            let [_, to] = transient.advance(&outside).expect("a step");
            let frozen: Vec<f64> = (0..wet).map(|it| transient.frozen(it)[1]).collect();
            if times.first.is_none() && frozen.iter().any(|it| *it > 0.0) {
                times.first = Some(to / HOUR);
            }
            if frozen.iter().all(|it| *it > 0.999) {
                times.blocked = Some(to / HOUR);
            }
            if times.blocked.is_some() || to > hours * HOUR {
                return times;
            }
        }
    }

    /// The same by hand, taking water and pipe as of one temperature and the film as the whole resistance: the time to
    /// the ice point is C/(hA) ln(Δ1/Δ2), that to freeze the water L V/(hA Δ2), h.
    fn by_hand(&self, start: f64, air: f64) -> [f64; 2] {
        let [inner, outer] = self.radii;
        let around = self.film(kelvin(air)) * 2.0 * PI * outer;
        let bore = PI * inner * inner;
        // Water at 5 °C: 1000 kg/m³ at 4205 J/kgK (IAPWS-95; from memory).
        let capacity = bore * 4.205e6 + PI * (outer * outer - inner * inner) * self.wall[1];
        let [warm, cold] = [start, 32.0].map(|it| (it - air) / 1.8);
        let reaches = capacity / around * libm::log(warm / cold);
        // 916.7 kg/m³ of ice at 333.4 kJ/kg.
        [reaches / HOUR, (reaches + bore * 305.7e6 / (around * cold)) / HOUR]
    }
}

#[test]
fn first_ice_is_just_below_twenty_as_was_found_once_the_least_supercooling_is_counted() {
    // Outdoors at first ice: the attic at the ice point, less what the water supercools, less what the attic is warmer.
    let outdoors = |above: f64, supercools: f64| 32.0 - 1.8 * supercools - above;
    for above in ABOVE {
        let [least, most] = SUPERCOOLS.map(|it| outdoors(above, it));
        println!(
            "attic {above} °F above outdoors: first ice at {:.1} °F outdoors as modelled; water supercooling by 4 to 6 K: \
             {least:.1} to {most:.1}",
            outdoors(above, 0.0)
        );
    }
    // As modelled ice begins 6 to 7 °F warmer than was found: the sign is the safe one.
    let modelled = ABOVE.map(|it| outdoors(it, 0.0));
    assert!(modelled.iter().all(|it| (6.0..=7.0).contains(&(it - FOUND))), "{modelled:?}");
    // "Just below 20 °F": within the least supercooling and an attic as found.
    let least = ABOVE.map(|it| outdoors(it, SUPERCOOLS[0]));
    assert!(least.iter().all(|it| *it < FOUND && *it > FOUND - 1.5), "{least:?}");
}

#[test]
fn a_pipe_has_ice_once_the_attic_is_below_freezing_and_never_above() {
    for pipe in pipes() {
        // A tenth of a degree either side, held for a month: what time cannot do the steady state does not.
        let [colder, warmer] = [31.9, 32.1].map(|air| pipe.freezes(50.0, air, 0.0, 720.0));
        println!("{}: first ice in an attic at 31.9 °F after {} h", pipe.name, shown(colder.first));
        assert!(colder.first.is_some() && warmer.first.is_none(), "{}", pipe.name);
    }
}

#[test]
fn hours_in_an_attic_agree_with_a_balance_by_hand() {
    /// The water's and the ice's own resistance and heat, which the balance leaves out: with a film of 4 to 9 W/m²K the
    /// bore of 10 mm radius has a Biot number h r/k below 0.16 for water and 0.04 for ice; half of the former counts
    /// in the mean, and a plastic pipe of 2.5 mm at 0.38 W/mK adds h δ/k, 0.06.
    const PART: f64 = 0.12;
    for pipe in pipes() {
        for outdoors in [20.0, 15.0, 10.0, 0.0] {
            let air = outdoors + 5.5;
            let times = pipe.freezes(50.0, air, 0.0, 400.0);
            let [reaches, frozen] = pipe.by_hand(50.0, air);
            let (first, blocked) = (times.first.expect("it freezes"), times.blocked.expect("it freezes"));
            println!(
                "{:24} {outdoors:4} °F outdoors: first ice {first:.1} h ({reaches:.1} by hand), blocked {blocked:.1} h \
                 ({frozen:.1} by hand)",
                pipe.name
            );
            assert!((first / reaches - 1.0).abs() < PART, "{} {outdoors}: {first} {reaches}", pipe.name);
            assert!((blocked / frozen - 1.0).abs() < PART, "{} {outdoors}: {blocked} {frozen}", pipe.name);
        }
    }
}

#[test]
fn after_first_ice_the_heat_of_fusion_keeps_the_bore_open_for_ten_hours_or_more() {
    // Outdoors from 40 °F down to 20 °F over 12 h and held, the attic 5.5 °F above.
    for pipe in pipes() {
        let times = pipe.freezes(45.5, 25.5, 12.0, 400.0);
        let (first, blocked) = (times.first.expect("it freezes"), times.blocked.expect("it freezes"));
        println!("{:24} 40 to 20 °F over 12 h: first ice {first:.1} h, blocked {blocked:.1} h", pipe.name);
        // The attic passes 32 °F after 8.1 h; no film gives ice before.
        assert!((8.1..12.0).contains(&first) && blocked - first > 10.0, "{}: {first} {blocked}", pipe.name);
    }
}

#[test]
fn an_outlet_before_such_an_attic_freezes_between_the_attics_threshold_and_32() {
    // 5 to 6 °F above 20 °F outdoors with the house at 68 °F is a share of 0.104 to 0.125.
    for above in ABOVE {
        let share = above / (68.0 - FOUND);
        let attic = (32.0 - share * 68.0) / (1.0 - share);
        for supply in [copper_pipe(), pex_pipe()] {
            let mut spec = outlet(built_in("2x6-siding"), BRASS, supply, 8.0);
            spec.behind.share = Micro::of(share);
            let holds = fahrenheit(solved(&spec).good_to(kelvin(68.0)).expect("it freezes")[1]);
            println!(
                "share {share:.3}: the attic is at 32 °F at {attic:.1} °F outdoors, the seat at {holds:.1}"
            );
            assert!(holds > attic && holds < 32.0, "{holds} {attic}");
            let capacities = in_wall(&spec, "2x6-siding");
            let hold = |low: f64| followed(&spec, &capacities, &step(40.0, low, 72.0));
            assert!(hold(holds - 1.0).blocked.is_some() && hold(holds + 1.5).blocked.is_none(), "{holds}");
        }
    }
}

//! What a spell must not depend on: steps, mesh, where it is read; and what bounds it whatever happens in it.

use crate::common::*;
use crate::spells::*;
use coldsill::section::{Bore, Boundary, Ended, Goal, Inlet, Micro, Sleeve, Spec, Weather};

/// Name, wall, outlet and spell.
type Case = (&'static str, &'static str, Spec, Weather);

fn full(mut spec: Spec) -> Spec {
    spec.bore = Bore::Full;
    spec
}

fn in_the_cavity(mut spec: Spec) -> Spec {
    spec.inlet = Inlet::InWall;
    spec
}

fn sleeved(mut spec: Spec) -> Spec {
    spec.supply.sleeve = Some(Sleeve { thickness: Micro::of(0.5 * INCH), conductivity: Micro::of(0.036) });
    spec
}

/// Outlets that close inside and at the face, drained and full, on copper and plastic, in several walls; spells stepped
/// and with a daily swing. All of them freeze.
fn freezing() -> Vec<Case> {
    let [framed, slab, block] = ["2x6-siding", "slab-2x4-brick", "block-8-bare"];
    let at = |key: &str, metal, supply, seat| outlet(built_in(key), metal, supply, seat);
    vec![
        ("brass 4 in, drained, PEX", framed, at(framed, BRASS, pex_pipe(), 4.0), step(32.0, 0.0, 48.0)),
        ("the same, swinging", framed, at(framed, BRASS, pex_pipe(), 4.0), swinging(32.0, 10.0, 10.0, 2.0)),
        ("brass at the face, copper", framed, at(framed, BRASS, copper_pipe(), 0.0), step(40.0, 18.0, 48.0)),
        (
            "the same, swinging",
            framed,
            at(framed, BRASS, copper_pipe(), 0.0),
            swinging(40.0, 15.0, 10.0, 2.0),
        ),
        (
            "brass at the face, PEX",
            framed,
            at(framed, BRASS, pex_pipe(), 0.0),
            swinging(40.0, 15.0, 10.0, 2.0),
        ),
        (
            "brass 4 in, hose on, PEX",
            framed,
            full(at(framed, BRASS, pex_pipe(), 4.0)),
            swinging(32.0, 5.0, 10.0, 2.0),
        ),
        (
            "copper 6 in, drained, copper, sleeved",
            framed,
            sleeved(at(framed, COPPER, copper_pipe(), 6.0)),
            swinging(32.0, -20.0, 15.0, 2.0),
        ),
        (
            "stainless 3 in, drained, PEX",
            "2x4-siding",
            at("2x4-siding", STAINLESS, pex_pipe(), 3.0),
            swinging(32.0, -5.0, 10.0, 2.0),
        ),
        (
            "brass at the face, copper in the cavity",
            slab,
            in_the_cavity(at(slab, BRASS, copper_pipe(), 0.0)),
            step(32.0, 15.0, 72.0),
        ),
        (
            "brass 5 in, PEX in the cavity",
            slab,
            in_the_cavity(at(slab, BRASS, pex_pipe(), 5.0)),
            swinging(40.0, 0.0, 10.0, 2.0),
        ),
        (
            "brass 4 in, drained, copper",
            block,
            at(block, BRASS, copper_pipe(), 4.0),
            swinging(32.0, -5.0, 10.0, 2.0),
        ),
    ]
}

#[test]
fn hours_to_blocked_do_not_depend_on_steps_or_mesh() {
    for (name, wall, spec, weather) in freezing() {
        let weather = Weather { goal: Goal::Blocked, ..weather };
        let capacities = in_wall(&spec, wall);
        let usual = followed(&spec, &capacities, &weather);
        print!("{name:40} {wall:16} first {} ", shown(hours(usual.first_ice)));
        let b = |c: &coldsill::section::Course| {
            blocked(c).map_or("-".into(), |x| format!("{:.3}@{:.2}", x[0], x[1]))
        };
        print!("{}", b(&usual));
        for c in [FINE_STEPS, FINE_MESH, FINE_BOTH] {
            let it = closely(&spec, &capacities, &weather, c);
            print!(" {}", b(&it));
        }
        println!();
    }
    let _ = (Ended::Clear, Boundary { outdoors: 0.0, room: 0.0 });
}

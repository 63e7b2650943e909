//! What the trade says of hours and days of cold, against sections followed through them. Common practice, no source.
//!
//! On a slab in the south a plain bibb closes at the face, its supply turned down in the outer wall: it freezes in a spell of
//! a few days at 15 to 20 °F. A freeze-resistant outlet whose seat is well inside a heated room does not know of such a
//! spell. An insulated cover helps for some time. And a plain copper run through a thin foam box at -30 °F into a warm
//! room did not freeze solid in four days.

use crate::common::*;
use crate::spells::*;
use coldsill::section::{Bore, Course, Inlet, Micro, Ranged, Sleeve, Spec, Supply, Weather};

const SLAB: &str = "slab-2x4-brick";
/// Outdoors before the spell, °F.
const BEFORE: f64 = 45.0;

/// Down within a day and held for some days, then back within a day.
fn held(low: f64, days: f64) -> Weather {
    let end = 24.0 * (days + 1.0);
    weather(&[[0.0, BEFORE], [24.0, low], [end, low], [end + 24.0, BEFORE]], end + 24.0, end + 120.0)
}

/// A brass bibb with its water up to the face, the supply turned down at once: beside the brick. And one whose supply
/// comes through the brick, full of water, and turns down in the batt behind the sheathing.
fn bibbs(supply: Supply) -> [(&'static str, Spec); 2] {
    let turned = |seat| {
        let mut spec = outlet(built_in(SLAB), BRASS, supply, seat);
        (spec.inlet, spec.bore) = (Inlet::InWall, Bore::Full);
        spec
    };
    [("turned down in the brick", turned(0.0)), ("turned down in the batt", turned(5.5))]
}

fn plumbing() -> Vec<(String, Spec)> {
    let foam = Sleeve { thickness: Micro::of(0.5 * INCH), conductivity: Micro::of(0.036) };
    let mut all = Vec::new();
    for (name, supply) in supplies() {
        for (sleeve, what) in [(None, "bare"), (Some(foam), "1/2 in foam")] {
            for (place, spec) in bibbs(Supply { sleeve, ..supply }) {
                all.push((format!("{name}, {what}, {place}"), spec));
            }
        }
    }
    all
}

fn through(spec: &Spec, wall: &str, weather: &Weather) -> Course {
    followed(spec, &in_wall(spec, wall), weather)
}

fn covered(mut spec: Spec) -> Spec {
    spec.cover = Micro::of(0.5);
    spec
}

#[test]
fn explore_trade() {
    for (name, spec) in plumbing() {
        for low in [20.0, 15.0] {
            for days in [3.0, 4.0] {
                let c = through(&spec, SLAB, &held(low, days));
                let d = through(&covered(spec.clone()), SLAB, &held(low, days));
                println!(
                    "{name:45} {low} {days} d: first {} blocked {:?} most {:.2} plug {:.0} mm {:?}; covered first {} blocked {:?} plug {:.0}",
                    shown(hours(c.first_ice)),
                    blocked(&c),
                    c.most_frozen,
                    c.longest_plug * 1e3,
                    c.ended,
                    shown(hours(d.first_ice)),
                    blocked(&d),
                    d.longest_plug * 1e3
                );
            }
        }
    }
    for (key, metal, seat) in [
        ("2x6-siding", BRASS, 12.0),
        ("2x6-siding", STAINLESS, 8.0),
        ("rim-joist-batt", BRASS, 12.0),
        ("rim-joist-batt", COPPER, 12.0),
    ] {
        for (n, s) in supplies() {
            let spec = outlet(built_in(key), metal, s, seat);
            let c = through(&spec, key, &held(15.0, 4.0));
            println!("{key} {metal} {seat} {n}: coldest {:.1} {:?}", fahrenheit(c.coldest_seat), c.ended);
        }
    }
    for film in [8.0, 10.0] {
        let mut spec = outlet(vec![layer(1.625, 0.029)], COPPER, copper_pipe(), 0.0);
        spec.outdoor_film = Ranged::exact(film);
        spec.behind.room = Micro::of(kelvin(70.0));
        let s = solved(&spec);
        let at = state(-30.0, 70.0);
        for st in s.stations.iter().filter(|it| it.depth > 0.0 && it.depth < 0.5) {
            print!("{:.1}:{:.1} ", st.depth / INCH, fahrenheit(st.share.temperature(&at)));
        }
        println!();
        let mut w = step(70.0, -30.0, 96.0);
        w.room = vec![[0.0, kelvin(70.0)]];
        let c = followed(&spec, &holding(&spec, &[3.6e4]), &w);
        println!(
            "film {film}: first {} blocked {:?} most {:.2} plug {:.2} in {:?} at 24 h {:?} at 95 {:?}; seat steady {:.1}",
            shown(hours(c.first_ice)),
            blocked(&c),
            c.most_frozen,
            c.longest_plug / INCH,
            c.ended,
            c.moments[24].plug / INCH,
            c.moments[95].plug / INCH,
            fahrenheit(s.seat.temperature(&at))
        );
    }
}

//! Resistances of built-in walls between studs against sums of handbook and trade figures, and filled block against the
//! series-parallel method.

use coldsill::physics::materials;
use coldsill::wall::BUILT_IN;
use serde::Deserialize;

/// 1 h·ft²·°F/Btu in m²K/W, by the definitions of its units.
const R: f64 = 0.176_110;
const INCH: f64 = 0.0254;

#[derive(Deserialize)]
struct Line {
    wall: String,
    r: f64,
    within: f64,
    source: String,
}

#[test]
fn resistances_are_those_of_handbook_and_trade() {
    let mut reader = csv::Reader::from_reader(&include_bytes!("data/resistance.csv")[..]);
    let lines: Vec<Line> = reader.deserialize().collect::<Result<_, _>>().expect("the data is right");
    assert!(lines.len() >= 20);
    let mut wrong = Vec::new();
    for line in &lines {
        let wall =
            BUILT_IN.iter().find(|it| *it.key == *line.wall).unwrap_or_else(|| panic!("{}", line.wall));
        let ours = wall.resistance() / R;
        if (ours / line.r - 1.0).abs() > line.within {
            wrong.push(format!("{}: {ours:.2}, not {} ({})", line.wall, line.r, line.source));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn filled_block_lies_between_what_the_series_parallel_method_gives_for_its_fills() {
    // A two-core 8 in unit, 7 5/8 in: face shells 1.31 in each, the rest webs, a quarter of the face, beside cores, as the
    // trade's tables are worked out. Concrete of 125 lb/ft³ 6.7 Btu·in/(h·ft²·°F); perlite 0.33, vermiculite 0.45.
    let by_hand = |fill: f64| {
        let (shells, web) = (2.0 * 1.31, 7.625 - 2.0 * 1.31);
        let across = 0.25 / (web / 6.7) + 0.75 / (web / fill);
        shells / 6.7 + 1.0 / across
    };
    let (perlite, vermiculite) = (by_hand(0.33), by_hand(0.45));
    let spread = materials::find("concrete-block-filled-cores").unwrap().conductivity;
    let [best, used, worst] = [spread.low, spread.used, spread.high].map(|k| 7.625 * INCH / k / R);
    assert!(perlite > vermiculite);
    assert!(worst <= vermiculite && perlite <= best + 0.2, "{worst} {vermiculite} {perlite} {best}");
    assert!((used / perlite - 1.0).abs() < 0.25, "{used} {perlite}");
}

#[test]
fn the_trades_usual_walls_are_all_there() {
    assert!(BUILT_IN.len() >= 40, "{}", BUILT_IN.len());
    for word in
        ["eifs", "icf", "sip", "log", "cmu", "adobe", "double stud", "mobile home", "tilt-up", "stem wall"]
    {
        assert!(BUILT_IN.iter().any(|it| it.is_called(word)), "{word}");
    }
}

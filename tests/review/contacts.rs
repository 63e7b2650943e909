//! Metals that meet: fasteners and flange, flange and cladding, fasteners and treated wood, barrel and supply.

use crate::review::shared::{comment, review, world};
use coldsill::expr::Value;
use coldsill::input::Memory;
use coldsill::review::{self, OutletReview, Review};
use coldsill::ruleset::Outcome;

const FASTENERS: &str = "materials/fasteners-waste-against-flange";
const TREATED: &str = "materials/fasteners-not-accepted-in-treated-wood";
const CLADDING: &str = "materials/flange-bare-on-metal-cladding";
const SUPPLY: &str = "materials/barrel-bare-on-steel-supply";

fn outlets(headings: &str, rows: &[&str]) -> Review {
    let rows: String =
        rows.iter().zip(1..).map(|(cells, number)| format!("HB-{number},hose bibb,{cells}\n")).collect();
    review(&format!("Mark,Kind,{headings}\n{rows}"), "honolulu-hi")
}

fn outcomes(review: &Review, rule: &str) -> Vec<Outcome> {
    review.outlets.iter().map(|outlet| comment(outlet, rule).outcome).collect()
}

/// The gap that a comment tells, V.
fn volts(outlet: &OutletReview, rule: &str, fact: &str) -> f64 {
    let values = &comment(outlet, rule).values;
    match values.iter().find(|it| &*it.name == fact).map(|it| &it.value) {
        Some(Ok(Value::Quantity(it))) => it.is,
        other => panic!("{fact}: {other:?}"),
    }
}

#[test]
fn pairs_of_the_index_come_out_as_the_trade_reads_it() {
    let rows = [
        "brass,copper",       // 0.05
        "stainless,brass",    // 0.10, 18 % chromium
        "stainless,copper",   // 0.15, at the limit; sea water would say 0.28 V and the copper
        "steel,copper",       // 0.50
        "zinc plated,copper", // 0.90
        "hdg,copper",         // 0.85
        "zinc plated,brass",  // 0.85
        "brass,steel",        // 0.45, but the flange is the large anode
    ];
    let review = outlets("Fasteners,Flange", &rows);
    let want = [
        Outcome::NoComment,
        Outcome::NoComment,
        Outcome::NoComment,
        Outcome::Revise,
        Outcome::Revise,
        Outcome::Revise,
        Outcome::Revise,
        Outcome::NoComment,
    ];
    assert_eq!(outcomes(&review, FASTENERS), want);
    // Anodic index after MIL-F-14072: copper 0.35, steel 0.85, hot-dip zinc 1.20, zinc plate 1.25, yellow brass 0.40.
    for (row, gap) in [(3, 0.50), (4, 0.90), (5, 0.85), (6, 0.85)] {
        let got = volts(&review.outlets[row], FASTENERS, "metals.fastener_gap");
        assert!((got - gap).abs() < 1e-9, "{}: {got}", rows[row]);
        let limit = volts(&review.outlets[row], FASTENERS, "metals.gap_limit");
        assert!((limit - 0.15).abs() < 1e-9, "outdoors");
    }
}

#[test]
fn the_coast_has_the_limit_of_the_outdoors_and_not_a_wider_one() {
    let files =
        Memory::new().with("job.yaml", "climate: honolulu-hi\nexposure: coastal\nschedule: s.csv\n").with(
            "s.csv",
            "Mark,Kind,Fasteners,Flange\nA,hose bibb,zinc plated,brass\nB,hose bibb,stainless,brass\n",
        );
    let review = review::run(&world(&files, "job.yaml", None));
    assert_eq!(outcomes(&review, FASTENERS), [Outcome::Revise, Outcome::NoComment]);
    let limit = volts(&review.outlets[0], FASTENERS, "metals.gap_limit");
    assert!((limit - 0.15).abs() < 1e-9, "{limit}");
}

#[test]
fn active_stainless_steel_has_no_index() {
    let review = outlets("Fasteners,Flange", &["active stainless,brass", "stainless,brass"]);
    assert_eq!(outcomes(&review, FASTENERS), [Outcome::Clarify, Outcome::NoComment]);
    let open = comment(&review.outlets[0], FASTENERS).open.clone().expect("it is open");
    assert!(open.absent.iter().any(|(_, why)| why.contains("index does not list")), "{open:?}");
    assert!(review.questions.is_empty() || review.questions.iter().all(|it| &*it.fact != "outlet.fasteners"));
}

#[test]
fn treated_wood_takes_what_the_code_names_and_no_other() {
    // "hot-dipped zinc-coated galvanized steel, stainless steel, silicon bronze or copper" (IRC R317.3.1).
    let rows = [
        "hdg,PT",
        "stainless,PT",
        "silicon bronze,PT",
        "copper,PT",
        "zinc plated,PT",
        "steel,PT",
        "brass,PT",
        "zinc plated,plywood",
        "zinc plated,",
        ",PT",
    ];
    let review = outlets("Fasteners,Blocking", &rows);
    let (ok, bad, out) = (Outcome::NoComment, Outcome::Revise, Outcome::DoesNotApply);
    assert_eq!(outcomes(&review, TREATED), [ok, ok, ok, ok, bad, bad, bad, out, out, out]);
}

#[test]
fn a_yes_or_no_column_for_treated_wood_is_understood() {
    let review = outlets("Fasteners,Treated wood", &["zinc plated,yes", "zinc plated,no"]);
    assert_eq!(outcomes(&review, TREATED), [Outcome::Revise, Outcome::DoesNotApply]);
    assert!(review.problems.is_empty());
}

#[test]
fn only_a_stated_gasket_separates_flange_and_siding() {
    let rows = [
        "brass,aluminum siding,",
        "brass,aluminum siding,yes",
        "brass,aluminum siding,no",
        "chrome,metal panel,",
        "zamak,steel siding,",
        "brass,brick,",
        "brass,,",
    ];
    let review = outlets("Flange,Cladding,Gasket", &rows);
    let (ok, told, out) = (Outcome::NoComment, Outcome::Advise, Outcome::DoesNotApply);
    assert_eq!(outcomes(&review, CLADDING), [told, ok, told, told, ok, out, out]);
    // Yellow brass 0.40, wrought aluminum 0.90; chromium plate 0.60, hot-dip zinc 1.20.
    for (row, gap) in [(0, 0.50), (3, 0.60)] {
        let got = volts(&review.outlets[row], CLADDING, "metals.cladding_gap");
        assert!((got - gap).abs() < 1e-9, "{}: {got}", rows[row]);
    }
}

#[test]
fn cladding_is_the_outermost_layer_unless_stated() {
    let files = Memory::new()
        .with(
            "job.yaml",
            "climate: honolulu-hi\n\
             walls:\n\
             \x20 clad: { layers: [{ material: aluminum, thickness: 0.03 in }, { material: fiberglass-batt, thickness: 5.5 in }] }\n\
             \x20 odd: { layers: [{ name: zinc shingles, conductivity: 110 W/mK, thickness: 0.03 in }, { material: osb, thickness: 0.5 in }] }\n\
             schedule: s.csv\n",
        )
        .with(
            "s.csv",
            "Mark,Kind,Flange,Wall,Cladding\n\
             A,hose bibb,brass,metal-panel-4,\n\
             B,hose bibb,brass,clad,\n\
             C,hose bibb,brass,2x6,\n\
             D,hose bibb,brass,2x6,aluminum\n\
             E,hose bibb,brass,metal-panel-4,brick\n\
             F,hose bibb,brass,odd,\n\
             G,hose bibb,brass,,\n",
        );
    let review = review::run(&world(&files, "job.yaml", None));
    let (told, out) = (Outcome::Advise, Outcome::DoesNotApply);
    // A metal sheet that the table does not have is no pass; a rule that only advises asks nothing.
    assert_eq!(outcomes(&review, CLADDING), [told, told, out, told, out, told, out]);
    assert!(comment(&review.outlets[5], CLADDING).open.is_some());
}

#[test]
fn only_steel_with_copper_or_stainless_needs_a_fitting() {
    let rows = [
        "copper,galv",
        "stainless,galv",
        "brass,galv", // a copper alloy is itself the accepted fitting
        "galv,copper",
        "galv,galv",
        "copper,PEX",
        "copper,copper",
        "stainless,copper", // 0.15
        "silicon brass,galv",
        ",galv",
    ];
    let review = outlets("Barrel,Supply", &rows);
    let (ok, told, out) = (Outcome::NoComment, Outcome::Advise, Outcome::DoesNotApply);
    assert_eq!(outcomes(&review, SUPPLY), [told, told, ok, told, ok, out, out, out, told, out]);
    // Copper 0.35, hot-dip zinc 1.20.
    let gap = volts(&review.outlets[0], SUPPLY, "metals.supply_gap");
    assert!((gap - 0.85).abs() < 1e-9, "{gap}");
}

#[test]
fn salt_air_takes_other_metals_than_the_index_would() {
    let rows = [
        ("316,bronze,stainless", "none"),
        ("304,bronze,stainless", "fasteners of stainless (304)"),
        ("stainless,bronze,bronze", "fasteners of stainless (grade not stated)"),
        ("silicon bronze,zamak,brass", "flange of zinc die cast, barrel of brass"),
        ("316,aluminum,copper", "flange of aluminum"),
    ];
    let lines: String =
        rows.iter().zip(1..).map(|((cells, _), number)| format!("HB-{number},hose bibb,{cells}\n")).collect();
    let at = |exposure: &str| {
        let files = Memory::new()
            .with("job.yaml", format!("climate: honolulu-hi\nexposure: {exposure}\nschedule: s.csv\n"))
            .with("s.csv", format!("Mark,Kind,Fasteners,Flange,Barrel\n{lines}"));
        review::run(&world(&files, "job.yaml", None))
    };
    const SALT: &str = "materials/metal-unsuited-to-salt-air";
    let (coast, inland) = (at("coastal"), at("exterior"));
    assert!(outcomes(&inland, SALT).iter().all(|it| *it == Outcome::DoesNotApply));
    for (outlet, (cells, wanted)) in coast.outlets.iter().zip(rows) {
        let comment = comment(outlet, SALT);
        let is_right = comment.outcome == if wanted == "none" { Outcome::NoComment } else { Outcome::Advise };
        assert!(is_right, "{cells}: {:?}", comment.outcome);
        let said =
            comment.values.iter().find(|it| &*it.name == "metals.unsuited_to_salt").map(|it| &it.value);
        assert_eq!(said, Some(&Ok(Value::Text(wanted.into()))), "{cells}");
    }
}

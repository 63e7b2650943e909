//! Water that stays: in the barrel after it closes, and shut in beside ice.

use crate::review::shared::{comment, review, world};
use coldsill::expr::Value;
use coldsill::input::Memory;
use coldsill::review::{self, Absence, OutletReview, Review, Shown};
use coldsill::ruleset::Outcome;
use coldsill::units::Quantity;

const SHUT_IN: &str = "bursting/ice-shuts-water-in";
const FALLS_INWARD: &str = "draining/barrel-falls-inward";
const MANUFACTURERS_SLOPE: &str = "draining/slope-short-of-manufacturers";
const LEVEL: &str = "draining/barrel-set-level";

const PSI: f64 = 6894.757;

/// Outlets HB-1, HB-2 and on in a wall of Minneapolis, a row for each line of cells.
fn schedule(headings: &str, rows: &[&str]) -> String {
    let rows: String =
        rows.iter().zip(1..).map(|(cells, number)| format!("HB-{number},2x6,none,{cells}\n")).collect();
    format!("Mark,Wall,Supply insulation,{headings}\n{rows}")
}

fn outlets(headings: &str, rows: &[&str]) -> Review {
    review(&schedule(headings, rows), "minneapolis-mn")
}

/// What the calculation sheet of a mark shows of a fact.
fn on_sheet(headings: &str, rows: &[&str], mark: &str, fact: &str) -> Shown {
    let files = Memory::new().with("s.csv", schedule(headings, rows));
    let world = world(&files, "s.csv", Some("minneapolis-mn"));
    let sheets = review::sheets(&world, &review::run(&world), mark).expect("the mark is there");
    let [sheet] = sheets.as_slice() else { panic!("{} sheets", sheets.len()) };
    let all = sheet.more.iter().chain(&sheet.outlet.findings.facts);
    all.into_iter().find(|it| &*it.name == fact).unwrap_or_else(|| panic!("{fact} is not shown")).clone()
}

fn outcomes(review: &Review, rule: &str) -> Vec<Outcome> {
    review.outlets.iter().map(|outlet| comment(outlet, rule).outcome).collect()
}

fn shown<'r>(outlet: &'r OutletReview, rule: &str, fact: &str) -> &'r Shown {
    let values = &comment(outlet, rule).values;
    values.iter().find(|it| &*it.name == fact).unwrap_or_else(|| panic!("{rule} does not read {fact}"))
}

fn quantity(shown: &Shown) -> Quantity {
    match &shown.value {
        Ok(Value::Quantity(it)) => *it,
        other => panic!("{}: {other:?}", shown.name),
    }
}

fn word(shown: &Shown) -> String {
    let fact = &shown.name;
    match &shown.value {
        Ok(Value::Text(it)) => it.to_string(),
        Ok(Value::YesNo(it)) => it.to_string(),
        Ok(it @ (Value::Quantity(_) | Value::List(_))) => panic!("{fact}: {it:?}"),
        Err(Absence::Because(why)) => format!("absent: {why}"),
        Err(other) => panic!("{fact}: {other:?}"),
    }
}

#[test]
fn a_plain_bibb_in_deep_cold_has_its_bursting_figures() {
    let (headings, rows) = ("Kind,Barrel,Supply,Supply size", ["hose bibb,brass,copper,1/2 in"]);
    let of = |fact: &str| on_sheet(headings, &rows, "HB-1", fact);
    // 2tS/D, 47 ksi, 7/8 in across, 0.032 to 0.065 in thick.
    let barrel = quantity(&of("burst.barrel_pressure"));
    for (got, want) in [(barrel.low, 3437.7), (barrel.high, 6982.9), (barrel.is, 3437.7)] {
        assert!((got / PSI - want).abs() < 0.1, "{} psi, {want}", got / PSI);
    }
    // Melting pressures of IAPWS R14-08: 13.2 MPa at -1 °C, 25.7 at -2, 37.6 at -3, 49.0 at -4; 23.7 and 48.1 MPa lie between, and
    // the curve bends by less than 0.02 K from a straight line in a step of 1 K.
    let at = quantity(&of("burst.barrel_yields_at"));
    let line = |mpa: f64, low: f64, high: f64, from: f64| from - (mpa - low) / (high - low) + 273.15;
    let (warm, cold) = (line(23.70, 13.2, 25.7, -1.0), line(48.15, 37.6, 49.0, -3.0));
    assert!((at.high - warm).abs() < 0.03 && (at.low - cold).abs() < 0.03, "{at:?}");
    // Copper Tube Handbook: type L, 1/2 in, 3885 psi annealed and 7765 drawn; scipy's brentq on the IAPWS equation puts
    // them at -2.09 and -4.41 °C, printed to 0.01.
    let supply = quantity(&of("burst.supply_pressure"));
    assert!((supply.low / PSI - 3885.0).abs() < 0.5 && (supply.high / PSI - 7765.0).abs() < 0.5);
    let at = quantity(&of("burst.supply_yields_at"));
    assert!((at.high - 271.06).abs() < 0.006 && (at.low - 268.74).abs() < 0.006, "{at:?}");
    assert!(word(&of("burst.first")).starts_with("absent: either may be first"));
}

#[test]
fn a_stated_thickness_is_taken_as_it_stands_and_the_weaker_tube_goes_first() {
    let of = |mark: &str, fact: &str| {
        let rows = ["hose bibb,copper,0.035 in,galv", "hose bibb,galv,0.065 in,copper"];
        on_sheet("Kind,Barrel,Barrel thickness,Supply", &rows, mark, fact)
    };
    let barrel = quantity(&of("HB-1", "burst.barrel_pressure"));
    // 2 × 0.035 × 32 ksi / 0.875
    assert!((barrel.low / PSI - 2560.0).abs() < 0.1 && (barrel.high / PSI - 2560.0).abs() < 0.1);
    assert_eq!(word(&of("HB-1", "burst.first")), "barrel");
    // 2 × 0.065 × 48 ksi / 0.875 = 7131 psi lies between soft and hard copper.
    assert!(word(&of("HB-2", "burst.first")).starts_with("absent: either"));
}

#[test]
fn a_plastic_supply_has_a_reason_where_metal_has_a_figure() {
    let (headings, rows) = ("Kind,Barrel,Supply", ["hose bibb,brass,PEX", "hose bibb,brass,CPVC"]);
    let says = |mark: &str| word(&on_sheet(headings, &rows, mark, "burst.supply_pressure"));
    assert!(says("HB-1").contains("PEX swells"), "{}", says("HB-1"));
    assert!(says("HB-2").contains("cracks rather than swells"), "{}", says("HB-2"));
}

#[test]
fn only_a_check_valve_in_the_branch_shuts_water_in_the_supply() {
    // The columns of a house's regulator are none of an outlet's.
    let review = outlets(
        "Kind,Closes,Nominal length,Barrel,Supply,Check valve,PRV",
        &[
            "hose bibb,,,brass,copper,no,yes",
            "hose bibb,,,brass,copper,,yes",
            "hose bibb,,,brass,copper,yes,",
            "sillcock,inside,4 in,brass,copper,yes,",
        ],
    );
    let want = [Outcome::NoComment, Outcome::DoesNotApply, Outcome::Advise, Outcome::Advise];
    assert_eq!(outcomes(&review, SHUT_IN), want);
    let shut_in = |row: usize| word(shown(&review.outlets[row], SHUT_IN, "burst.shut_in"));
    assert_eq!([2, 3].map(shut_in), ["barrel and supply", "supply"]);
    assert!(review.questions.iter().all(|it| &*it.fact != "outlet.check_valve"));
}

#[test]
fn only_a_barrel_that_stays_full_has_water_shut_in() {
    let review = outlets(
        "Kind,Closes,Nominal length,Barrel,Supply,ASSE,Hose left on,Self-draining",
        &[
            "sillcock,inside,14 in,stainless,copper,1019-B,yes,",
            "sillcock,inside,14 in,stainless,copper,1019-A,,",
            "sillcock,inside,14 in,stainless,copper,1019-A,yes,",
            "sillcock,inside,14 in,stainless,copper,1011,,",
            "sillcock,inside,14 in,stainless,copper,,,no",
        ],
    );
    // Drained, neither of the first two freezes.
    let want = [Outcome::NoComment, Outcome::NoComment, Outcome::Advise, Outcome::Advise, Outcome::Advise];
    assert_eq!(outcomes(&review, SHUT_IN), want);
    for row in [2, 3, 4] {
        assert_eq!(word(shown(&review.outlets[row], SHUT_IN, "burst.shut_in")), "barrel");
    }
}

#[test]
fn a_branch_that_stays_open_shuts_nothing_in() {
    let review = outlets(
        "Kind,Closes,Nominal length,Barrel,Supply,ASSE,Check valve",
        &["sillcock,inside,14 in,stainless,copper,1019-B,yes"],
    );
    assert_eq!(outcomes(&review, SHUT_IN), [Outcome::NoComment]);
}

#[test]
fn where_it_never_freezes_nothing_is_said_of_bursting() {
    let row = "Mark,Kind,Barrel,Wall,Supply,Check valve\nA,hose bibb,brass,2x6,copper,yes\n";
    let review = review(row, "honolulu-hi");
    assert_eq!(comment(&review.outlets[0], SHUT_IN).outcome, Outcome::DoesNotApply);
}

#[test]
fn a_barrel_pitched_inwards_keeps_a_wedge_and_says_whether_ice_has_room() {
    let review = outlets(
        "Kind,Closes,Seat depth,Barrel,Supply,Slope",
        &[
            "sillcock,inside,8 in,brass,copper,1/4 in/ft",
            "sillcock,inside,8 in,brass,copper,5°",
            "sillcock,inside,8 in,brass,copper,-1/4 in/ft",
            "sillcock,inside,8 in,brass,copper,-1 1/2 in/ft",
        ],
    );
    let [_, _, shallow, full] = review.outlets.as_slice() else { panic!("four outlets") };
    assert_eq!(
        outcomes(&review, FALLS_INWARD),
        [Outcome::NoComment, Outcome::NoComment, Outcome::Revise, Outcome::Revise]
    );
    // 8 in at 1 1/2 in per ft rise 1 in, more than the bore of 0.785 in: the bore is full at the seat.
    assert_eq!(word(shown(full, FALLS_INWARD, "drain.free_to_swell")), "false");
    assert_eq!(word(shown(shallow, FALLS_INWARD, "drain.free_to_swell")), "true");
    let deepest = |outlet| quantity(shown(outlet, FALLS_INWARD, "drain.deepest_water")).is / 0.0254;
    assert!((deepest(full) - 0.785).abs() < 1e-9, "{}", deepest(full));
    // 8 in at 1/4 in per ft rise 1/6 in, above the 2.78 mm that a puddle's edge stands (capillary length at 0 °C).
    assert!((deepest(shallow) - (1.0 / 6.0 + 2.78 / 25.4)).abs() < 0.001, "{}", deepest(shallow));
    let share = |outlet| quantity(shown(outlet, FALLS_INWARD, "drain.share_when_frozen")).is;
    assert!(share(full) > share(shallow));
}

#[test]
fn a_slope_is_held_to_the_manufacturers_and_to_no_other() {
    // tan 5° × 12 = 1.0499: 1.05 in/ft is just over, 1.04 just under.
    let row = |slopes| format!("sillcock,inside,8 in,brass,copper,{slopes}");
    let rows = ["1/4 in/ft,", "1/4 in/ft,1/4 in/ft", "1/4 in/ft,5°", "1.05 in/ft,5°", "1.04 in/ft,5°", ",5°"]
        .map(row);
    let review = outlets(
        "Kind,Closes,Seat depth,Barrel,Supply,Slope,Required slope",
        &rows.iter().map(String::as_str).collect::<Vec<_>>(),
    );
    let want = [
        Outcome::DoesNotApply,
        Outcome::NoComment,
        Outcome::Revise,
        Outcome::NoComment,
        Outcome::Revise,
        Outcome::DoesNotApply,
    ];
    assert_eq!(outcomes(&review, MANUFACTURERS_SLOPE), want);
}

#[test]
fn a_level_barrel_whose_puddle_has_room_is_advice() {
    let review = outlets(
        "Kind,Closes,Seat depth,Barrel,Supply,Slope",
        &[
            "sillcock,inside,8 in,brass,copper,0",
            "sillcock,inside,8 in,brass,copper,-1/16 in/ft",
            "sillcock,inside,8 in,brass,copper,-3/16 in/ft",
        ],
    );
    use Outcome::{Advise, DoesNotApply, NoComment, Revise};
    assert_eq!(outcomes(&review, FALLS_INWARD), [NoComment, NoComment, Revise]);
    assert_eq!(outcomes(&review, LEVEL), [Advise, Advise, DoesNotApply]);
    // A puddle as deep as the capillary length, 2.78 mm, in a bore of 0.785 in around a stem: R = 9.97 mm, R − d = 7.19 mm,
    // segment R² arccos(7.19/9.97) − 7.19 √(2·9.97·2.78 − 2.78²) = 26.4 mm², 8 in long: 5.4 mL.
    let kept = quantity(shown(&review.outlets[0], LEVEL, "drain.water_kept")).is;
    assert!((kept * 1e6 - 5.4).abs() < 0.1, "{kept}");
}

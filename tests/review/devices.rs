//! Backflow devices by their standards: what a cell says of them is kept, and each comment follows from a scope.

use crate::review::shared::{comment, review, world};
use coldsill::expr::Value;
use coldsill::input::Memory;
use coldsill::review::{self, OutletReview, Review};
use coldsill::ruleset::Outcome;

const HOSE_LEFT_ON: &str = "freezing/hose-left-on-freezes-barrel";
const HOLDS_WATER: &str = "backflow/device-holds-water-in-barrel";
const OTHER_OUTLET: &str = "backflow/device-for-another-outlet";
const AGAINST: &str = "backflow/standard-against-device";
const BY_HAND: &str = "backflow/device-comes-off-by-hand";
const PRESSURE: &str = "backflow/pressure-stands-on-device";
const TOO_HIGH: &str = "backflow/hose-carried-too-high";
const IRRIGATION: &str = "backflow/irrigation-without-own-device";
const CHEMICALS: &str = "backflow/chemicals-fed-through-hose";
const NO_DEVICE: &str = "backflow/no-device-at-hose-thread";

/// Brass sillcocks of 8 in in a heated room of Minneapolis, the rest as given, a row for each line of cells.
fn sillcocks(headings: &str, rows: &[&str]) -> Review {
    let rows: String = rows
        .iter()
        .zip(1..)
        .map(|(cells, number)| format!("HB-{number},sillcock,inside,2x6,8 in,brass,copper,none,{cells}\n"))
        .collect();
    let known = "Mark,Kind,Closes,Wall,Nominal length,Barrel,Supply,Supply insulation";
    review(&format!("{known},{headings}\n{rows}"), "minneapolis-mn")
}

fn outcomes(review: &Review, rule: &str) -> Vec<Outcome> {
    review.outlets.iter().map(|outlet| comment(outlet, rule).outcome).collect()
}

fn si(outlet: &OutletReview, rule: &str, fact: &str) -> f64 {
    let values = &comment(outlet, rule).values;
    match values.iter().find(|it| &*it.name == fact).map(|it| &it.value) {
        Some(Ok(Value::Quantity(it))) => it.is,
        other => panic!("{fact}: {other:?}"),
    }
}

#[test]
fn types_of_one_standard_are_different_devices() {
    // ASSE 1019 type B drains with the hose attached, types A and C with it removed; 1053 likewise (scopes).
    let review = sillcocks(
        "Backflow",
        &["ASSE 1019-B", "ASSE 1019-A", "ASSE 1019", "Integral VB", "asse 1053 type b", "1019-C"],
    );
    let on = [Outcome::NoComment, Outcome::Advise, Outcome::Advise, Outcome::Advise, Outcome::NoComment];
    assert_eq!(outcomes(&review, HOSE_LEFT_ON)[..5], on);
    // A bare number is a standard under that heading only.
    assert_eq!(review.problems.len(), 1);
    assert_eq!(outcomes(&review, NO_DEVICE)[..5], [Outcome::NoComment; 5]);
}

#[test]
fn stated_standard_gives_the_device_with_a_reason() {
    let review = sillcocks("ASSE", &["1019-B", "1019-A", "1011"]);
    assert_eq!(outcomes(&review, NO_DEVICE), [Outcome::NoComment; 3]);
    let draining = [Outcome::NoComment, Outcome::Advise, Outcome::Advise];
    assert_eq!(outcomes(&review, HOSE_LEFT_ON), draining);
    let devices: Vec<_> =
        review.assumed.iter().filter(|it| &*it.fact.name == "outlet.backflow_device").collect();
    assert_eq!(devices.len(), 2, "an integral and a screwed-on one");
    assert!(devices.iter().all(|it| &*it.why == "its stated standard is for such a device"));
}

#[test]
fn unreadable_standard_passes_nothing() {
    let review = sillcocks("Backflow,Backflow standard", &["Integral VB,ASSE 1919-B", ",ASSE 1919-B"]);
    assert_eq!(review.problems.len(), 2);
    assert_eq!(outcomes(&review, HOSE_LEFT_ON), [Outcome::Advise; 2]);
    assert_eq!(outcomes(&review, NO_DEVICE), [Outcome::NoComment, Outcome::Clarify]);
}

#[test]
fn device_must_let_the_barrel_drain_if_a_full_one_freezes() {
    let rows = [
        "HCVB,",
        "CSA B64.2,",
        "CSA B64.2.2,",
        "ASSE 1052,",
        "ASSE 1053-A,",
        "dual check,",
        "HCVB,yes",
        "none,",
    ];
    let review = sillcocks("Backflow,Self-draining", &rows);
    let want = [
        Outcome::Revise,
        Outcome::Revise,
        Outcome::NoComment, // automatic draining, its title says
        Outcome::Revise,
        Outcome::NoComment,
        Outcome::Clarify, // may be 1052 or 1053
        Outcome::NoComment,
        Outcome::NoComment,
    ];
    assert_eq!(outcomes(&review, HOLDS_WATER), want);
    let asked: Vec<_> =
        review.questions.iter().filter(|it| &*it.fact == "outlet.backflow_standard").collect();
    let [question] = asked.as_slice() else { panic!("{} questions about the standard", asked.len()) };
    assert_eq!(question.asked_of.iter().map(AsRef::as_ref).collect::<Vec<_>>(), ["HB-6"]);
}

#[test]
fn a_screwed_on_breaker_is_no_matter_where_it_never_freezes() {
    let review = review("Mark,Kind,Closes,Backflow\nA,sillcock,inside,HCVB\n", "honolulu-hi");
    assert_eq!(comment(&review.outlets[0], HOLDS_WATER).outcome, Outcome::DoesNotApply);
}

#[test]
fn hydrant_standard_fits_by_where_the_outlet_closes() {
    let review = review(
        "Mark,Kind,Closes,Backflow\n\
         A,sillcock,inside,ASSE 1019-A\n\
         B,hose bibb,face,ASSE 1019-A\n\
         C,hose bibb,face,Integral VB\n\
         D,hose bibb,face,ASSE 1011\n\
         E,yard hydrant,below grade,ASSE 1057 type 3\n\
         F,sillcock,inside,ASSE 1057 type 3\n\
         G,hose bibb,face,ASSE 1035\n\
         H,wall hydrant,,ASSE 1053-A\n",
        "honolulu-hi",
    );
    let want = [
        Outcome::NoComment,
        Outcome::Revise,
        Outcome::NoComment, // built in, says its name, and no more
        Outcome::NoComment,
        Outcome::NoComment,
        Outcome::Revise,
        Outcome::Revise,
        Outcome::Clarify,
    ];
    assert_eq!(outcomes(&review, OTHER_OUTLET), want);
}

#[test]
fn a_standard_that_is_none_of_the_devices_own_is_asked_about() {
    let rows = ["Integral VB,1019-B", "Integral VB,1011", "SVB,1056", "none,1011", "HCVB,"];
    let review = sillcocks("Backflow,ASSE", &rows);
    let want =
        [Outcome::NoComment, Outcome::Clarify, Outcome::NoComment, Outcome::Clarify, Outcome::DoesNotApply];
    assert_eq!(outcomes(&review, AGAINST), want);
}

#[test]
fn a_device_that_comes_off_by_hand_is_no_permanent_one() {
    // IRC P2902.4.3 as quoted in public: "a permanently attached hose connection vacuum breaker".
    let files = Memory::new().with("job.yaml", "climate: minneapolis-mn\nschedule: s.csv\n").with(
        "s.csv",
        "Mark,Kind,ASSE\nA,yard hydrant,1057 type 5\nB,yard hydrant,1057 type 1\nC,yard hydrant,1057\n",
    );
    let found = outcomes(&review::run(&world(&files, "job.yaml", None)), BY_HAND);
    assert_eq!(found, [Outcome::Revise, Outcome::NoComment, Outcome::Clarify]);
}

#[test]
fn a_timer_asks_for_a_device_that_may_stand_under_pressure() {
    let rows = ["Integral VB,timer", "PVB,timer", "Integral VB,hose", "Integral VB,", "ASSE 1053-B,timer"];
    let review = sillcocks("Backflow,Serves", &rows);
    let want = [
        Outcome::Revise,
        Outcome::NoComment,
        Outcome::DoesNotApply,
        Outcome::DoesNotApply,
        Outcome::Clarify, // its hours were not seen
    ];
    assert_eq!(outcomes(&review, PRESSURE), want);
    // ASSE 1019: 12 h of continuous pressure at most.
    let hours = si(&review.outlets[0], PRESSURE, "backflow.pressure_hours") / 3600.0;
    assert!((hours - 12.0).abs() < 1e-9, "{hours}");
}

#[test]
fn a_hose_may_be_carried_ten_feet_up_and_no_higher() {
    // ASSE 1011 and 1019: 10 ft of raised hose; ASSE 1001 stands no back pressure.
    let rows =
        ["HCVB,10 ft", "HCVB,10'-1\"", "Integral VB,14 ft", "AVB,1 ft", "AVB,0 ft", "ASSE 1053-A,2 ft"];
    let review = sillcocks("Backflow,Hose rise", &rows);
    let want = [
        Outcome::NoComment,
        Outcome::Revise,
        Outcome::Revise,
        Outcome::Revise,
        Outcome::NoComment,
        Outcome::Clarify,
    ];
    assert_eq!(outcomes(&review, TOO_HIGH), want);
}

#[test]
fn irrigation_and_chemicals_need_their_own_devices() {
    let rows = [
        "Integral VB,irrigation",
        "ASSE 1056,drip",
        "AVB,irrigation",
        ",irrigation",
        "HCVB,fertilizer injection",
    ];
    let review = sillcocks("Backflow,Serves", &rows);
    let want =
        [Outcome::Revise, Outcome::NoComment, Outcome::NoComment, Outcome::Clarify, Outcome::DoesNotApply];
    assert_eq!(outcomes(&review, IRRIGATION), want);
    let chemicals = outcomes(&review, CHEMICALS);
    assert_eq!((chemicals[0], chemicals[4]), (Outcome::NoComment, Outcome::Revise));
}

#[test]
fn suitable_devices_get_no_comment() {
    let review = sillcocks("Backflow", &["Integral VB", "ASSE 1019-A", "ASSE 1053-B"]);
    for outlet in &review.outlets {
        for it in outlet.findings.comments.iter().filter(|it| it.rule.id.starts_with("backflow/")) {
            let silent = matches!(it.outcome, Outcome::NoComment | Outcome::DoesNotApply);
            assert!(silent, "{} {:?}", it.rule.id, it.outcome);
        }
    }
    assert!(review.questions.iter().all(|it| !it.fact.contains("backflow")));
}

#[test]
fn a_house_rule_can_go_by_the_degree_of_hazard() {
    // IPC's table of devices has hose connection vacuum breakers for high or low hazard; none was seen for ASSE 1057.
    let files = Memory::new()
        .with("job.yaml", "climate: honolulu-hi\nrules: [house.yaml]\nschedule: s.csv\n")
        .with("s.csv", "Mark,Kind,Backflow\nA,hose bibb,HCVB\nB,yard hydrant,ASSE 1057 type 1\n")
        .with(
            "house.yaml",
            "amendment: house\n\
             about: For a plant nursery.\n\
             add:\n\
             \x20 - id: hazard\n\
             \x20   title: Not for high hazard\n\
             \x20   basis: company\n\
             \x20   why: Sprayers hang on every hose.\n\
             \x20   needs: backflow.high_hazard\n\
             \x20   outcome: revise\n\
             \x20   says: \"High hazard: {backflow.high_hazard}.\"\n\
             \x20   cases:\n\
             \x20     - { name: screwed on, given: { outlet.backflow_device: hose connection vacuum breaker }, gives: no comment }\n\
             \x20     - { name: another, given: { backflow.high_hazard: no }, gives: revise }\n",
        );
    let review = review::run(&world(&files, "job.yaml", None));
    assert_eq!(outcomes(&review, "house/hazard"), [Outcome::NoComment, Outcome::Clarify]);
}

#[test]
fn stated_not_draining_overrides_the_standard() {
    let review =
        sillcocks("Backflow,Self-draining", &["ASSE 1019-B,no", "ASSE 1019-B,", "ASSE 1019-B,perhaps"]);
    assert_eq!(review.problems.len(), 1);
    let holds = outcomes(&review, HOLDS_WATER);
    assert_eq!(holds, [Outcome::Revise, Outcome::NoComment, Outcome::Clarify]);
    let shut = outcomes(&review, "freezing/standing-water-in-barrel-freezes-shut");
    assert_eq!(shut, [Outcome::Revise, Outcome::DoesNotApply, Outcome::Clarify]);
    let bursts = outcomes(&review, "bursting/ice-shuts-water-in");
    assert_eq!(bursts[..2], [Outcome::Advise, Outcome::NoComment]);
}

#[test]
fn a_reduced_pressure_assembly_suits_irrigation_and_chemicals() {
    let rows =
        ["RPZ,irrigation", "ASSE 1013,chemicals", "reduced pressure,hose timer", "CSA B64.4,chemicals"];
    let review = sillcocks("Backflow,Serves", &rows);
    assert!(review.problems.is_empty());
    for rule in [IRRIGATION, CHEMICALS, PRESSURE, HOLDS_WATER] {
        for outcome in outcomes(&review, rule) {
            assert!(matches!(outcome, Outcome::NoComment | Outcome::DoesNotApply), "{rule} {outcome:?}");
        }
    }
}

#[test]
fn a_type_is_kept_however_it_is_set_off_and_wherever_it_stands() {
    for text in ["ASSE 1053-B", "ASSE 1053 B", "asse 1053 type b"] {
        let review = sillcocks("Backflow", &[text]);
        assert_eq!(outcomes(&review, HOSE_LEFT_ON), [Outcome::NoComment], "{text}");
        let files = Memory::new()
            .with("job.yaml", "climate: minneapolis-mn\nschedule: s.csv\nproducts: p.csv\n")
            .with("p.csv", format!("Model,Backflow device\nGEN-8,{text}\n"))
            .with(
                "s.csv",
                "Mark,Model,Kind,Closes,Wall,Nominal length,Barrel,Supply,Supply insulation\n\
                 A,GEN-8,sillcock,inside,2x6,8 in,brass,copper,none\n",
            );
        let review = review::run(&world(&files, "job.yaml", None));
        assert_eq!(outcomes(&review, HOSE_LEFT_ON), [Outcome::NoComment], "{text} of product data");
    }
    for text in ["ASSE 1057-1", "ASSE 1057 1", "1057-1", "1057 type 1"] {
        let files = format!("Mark,Kind,ASSE\nA,yard hydrant,{text}\n");
        let review = review(&files, "honolulu-hi");
        assert!(review.problems.is_empty(), "{text}");
    }
}

//! What is asked: once for each fact, of types of outlet, by how much an answer settles.

use coldsill::facts::{Sources, open};
use coldsill::input::Memory;
use coldsill::review::{self, Question, Review};
use coldsill::ruleset::{Outcome, RuleFile};
use coldsill::shipped;

/// Rules of which it is plain by hand what one answer decides.
const RULES: &str = "\
set: house
about: Rules to ask about
rules:
  - id: both
    title: t
    basis: company
    why: w
    needs: outlet.sleeve and outlet.flashing
    outcome: revise
    says: s
    cases:
      - { name: both, given: { outlet.sleeve: yes, outlet.flashing: yes }, gives: no comment }
      - { name: no sleeve, given: { outlet.sleeve: no }, gives: revise }
  - id: alike
    title: t
    basis: company
    why: w
    needs: (outlet.fire_rated and outlet.firestop) or (not outlet.fire_rated and not outlet.firestop)
    outcome: revise
    says: s
    cases:
      - { name: both, given: { outlet.fire_rated: yes, outlet.firestop: yes }, gives: no comment }
      - { name: one, given: { outlet.fire_rated: yes, outlet.firestop: no }, gives: revise }
      - { name: not known, given: { outlet.firestop: no }, gives: clarify }
  - id: low
    title: t
    basis: company
    why: w
    needs: outlet.height >= 6 in
    outcome: revise
    says: s
    cases:
      - { name: high, given: { outlet.height: 20 in }, gives: no comment }
      - { name: low, given: { outlet.height: 2 in }, gives: revise }
  - id: flange
    title: t
    basis: company
    why: w
    applies: outlet.kind = \"sillcock\"
    needs: outlet.flange = \"brass\"
    outcome: revise
    says: s
    cases:
      - { name: brass, given: { outlet.kind: sillcock, outlet.flange: brass }, gives: no comment }
      - { name: steel, given: { outlet.kind: sillcock, outlet.flange: stainless }, gives: revise }
";

fn asked(schedule: &str) -> Review {
    let climates = shipped::climates().expect("the shipped climates are right");
    let files = Memory::new().with("s.csv", schedule);
    let base_rules = [RuleFile { name: "house.yaml", bytes: RULES.as_bytes() }];
    let sources = Sources {
        files: &files,
        source: "s.csv",
        climate: Some("dallas-tx"),
        design_low: None,
        answers: &[],
        rules: &[],
        presets: Default::default(),
        sheet: None,
        base_rules: &base_rules,
        climates,
    };
    review::run(&open(&sources).unwrap_or_else(|problems| panic!("{problems:?}")))
}

#[track_caller]
fn question<'r>(review: &'r Review, fact: &str) -> &'r Question {
    let found: Vec<_> = review.questions.iter().filter(|it| &*it.fact == fact).collect();
    assert_eq!(found.len(), 1, "{fact} is asked once");
    found[0]
}

#[test]
fn an_answer_that_decides_by_itself_settles_and_one_that_needs_another_only_waits() {
    let review = asked("Mark,Qty,Kind,Flange\nA,3,sillcock,brass\nB,,sillcock,brass\n");
    // "No sleeve" is a revision whatever the flashing; a firestop alone says nothing of a rule that compares it.
    for (fact, settles, quantity) in [
        ("outlet.sleeve", 2, Some(3.0)),
        ("outlet.flashing", 2, Some(3.0)),
        ("outlet.height", 2, Some(3.0)),
        ("outlet.fire_rated", 0, None),
        ("outlet.firestop", 0, None),
    ] {
        let it = question(&review, fact);
        assert_eq!((it.settles, it.settles_quantity, it.waits), (settles, quantity, 2), "{fact}");
    }
    let order: Vec<_> = review.questions.iter().map(|it| it.settles).collect();
    assert!(order.is_sorted_by(|a, b| a >= b), "{order:?}");
}

#[test]
fn rows_that_differ_only_in_whose_they_are_and_where_they_stand_are_one_type() {
    let review = asked(
        "Mark,Qty,Location,Kind,Barrel,Length,Wall,Supply,Notes\n\
         HB-1,12,North,wall hydrant,brass,10 in,2x6,PEX,first\n\
         HB-2,6,South,wall hydrant,brass,10 in,rim joist batt,copper,\n\
         HB-3,6,East,wall hydrant,brass,12 in,2x6,PEX,\n\
         HB-1,,West,wall hydrant,brass,254 mm,2x6,PEX,\n",
    );
    let types = &question(&review, "outlet.sleeve").types;
    let rows: Vec<Vec<u32>> =
        types.iter().map(|it| it.outlets.iter().map(|it| it.1.number).collect()).collect();
    assert_eq!(rows, [vec![2, 3, 5], vec![4]]);
    // 12 + 6, and a row that states none.
    assert_eq!(types[0].quantity, Some(18.0));
    let said: Vec<&str> = types[0].says.iter().map(|it| &*it.name).collect();
    assert_eq!(said, ["outlet.kind", "outlet.barrel", "outlet.nominal_length"]);
}

#[test]
fn what_every_waiting_type_waits_for_is_asked_once_for_all_and_what_some_do_type_by_type() {
    let review = asked("Mark,Kind,Flange\nA,sillcock,\nB,hose bibb,brass\n");
    assert_eq!(question(&review, "outlet.flange").types.len(), 1);
    assert!(question(&review, "outlet.sleeve").of_all);
    let review = asked("Mark,Kind,Barrel,Flange\nA,sillcock,brass,\nB,sillcock,copper,\nC,hose bibb,,\n");
    let flange = question(&review, "outlet.flange");
    assert_eq!((flange.types.len(), flange.of_all), (2, false));
}

#[test]
fn what_turns_on_an_answer_names_the_outcomes_that_it_alone_decides() {
    let review = asked("Mark,Kind,Flange\nA,hose bibb,brass\n");
    let turns = review::turns_of(&question(&review, "outlet.sleeve").types);
    let [turn] = turns.as_slice() else { panic!("{turns:?}") };
    let outcomes: Vec<Outcome> = turn.settled.iter().map(|it| it.outcome).collect();
    // With a sleeve it still hangs on the flashing.
    assert_eq!(outcomes, [Outcome::Revise]);
    assert_eq!(turn.rules.len(), 1);
}

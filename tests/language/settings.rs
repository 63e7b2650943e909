//! Settings of rule files that are a yes or no or a list of words, and what amendments make of them.

use coldsill::expr::Value;
use coldsill::ruleset::{RuleFile, Rules, load};

use crate::language::catalogue::{Catalogue, NAMES};

const SET: &str = r#"
set: company
about: Made up.
settings:
  barrels: { is: [stainless, Brass], of: outlet.barrel, about: barrels that are kept in stock }
  models: { is: [WH-12], of: outlet.model, about: models that are kept in stock }
  strict: { is: yes, about: whether the rest of the list counts }
rules:
  - id: barrel-not-in-stock
    title: The barrel is not in stock
    basis: company
    why: Spares are kept for what is in stock.
    applies: company/strict
    needs: outlet.barrel in company/barrels or outlet.model in company/models
    outcome: advise
    says: "The barrel is {outlet.barrel}, not {company/barrels}."
    cases:
      - { name: in stock, given: { outlet.barrel: brass }, gives: no comment }
      - { name: not in stock, given: { outlet.barrel: copper, outlet.model: X }, gives: advise }
"#;

fn loaded(files: &[&str]) -> Result<Rules, Vec<String>> {
    // The last is the one that is looked at.
    let names = ["set.yaml", "rules.yaml"].into_iter().skip(2 - files.len());
    let files: Vec<RuleFile<'_>> =
        files.iter().zip(names).map(|(it, name)| RuleFile { name, bytes: it.as_bytes() }).collect();
    let first = u16::try_from(NAMES.len()).unwrap();
    load(&files, &Catalogue, first).map_err(|problems| problems.iter().map(ToString::to_string).collect())
}

fn amended(settings: &str) -> Result<Rules, Vec<String>> {
    loaded(&[SET, &format!("amendment: North County\nsettings: {settings}\n")])
}

/// The problems of a set with one setting of its own.
fn refused(setting: &str) -> Vec<String> {
    loaded(&[&format!("set: s\nabout: x\nsettings:\n  a: {setting}\nrules: []\n")]).unwrap_err()
}

fn list(words: &[&str]) -> Value {
    Value::List(words.iter().map(|it| (*it).into()).collect())
}

#[test]
fn words_of_a_list_are_spelt_as_the_fact_has_them() {
    let rules = loaded(&[SET]).unwrap();
    assert_eq!(rules.setting_named("company/barrels").unwrap().value, list(&["stainless", "brass"]));
    assert_eq!(rules.setting_named("company/models").unwrap().value, list(&["WH-12"]));
    assert_eq!(rules.setting_named("company/strict").unwrap().value, Value::YesNo(true));
}

#[test]
fn a_yes_or_no_is_printed_as_it_holds() {
    for (rules, text) in [(loaded(&[SET]), "yes"), (amended("{ company/strict: no }"), "no")] {
        assert_eq!(&*rules.unwrap().setting_named("company/strict").unwrap().text, text);
    }
}

#[test]
fn every_setting_is_found_by_its_slot() {
    let rules = loaded(&[SET]).unwrap();
    for setting in &rules.settings {
        assert_eq!(rules.setting(setting.slot).unwrap().name, setting.name);
    }
}

#[test]
fn an_amendment_takes_the_place_of_the_whole_list() {
    let rules = amended("{ company/barrels: [stainless], company/strict: no }").unwrap();
    let barrels = rules.setting_named("company/barrels").unwrap();
    assert_eq!(barrels.value, list(&["stainless"]));
    assert_eq!(barrels.changes.iter().map(|it| &*it.by.name).collect::<Vec<_>>(), ["North County"]);
    assert_eq!(&*barrels.text, "stainless");
    assert_eq!(rules.setting_named("company/strict").unwrap().value, Value::YesNo(false));
}

#[test]
fn an_amendment_cannot_name_words_the_fact_does_not_have() {
    assert_eq!(
        amended("{ company/barrels: [stainles, gold] }").unwrap_err(),
        [
            "rules.yaml, line 2, column 31: \"stainles\" is not a value of outlet.barrel; expected copper, brass or \
             stainless; did you mean \"stainless\"?",
            "rules.yaml, line 2, column 41: \"gold\" is not a value of outlet.barrel; expected copper, brass or \
             stainless",
        ]
    );
}

#[test]
fn an_amendment_cannot_change_what_kind_a_setting_is_of() {
    assert_eq!(
        amended("{ company/barrels: stainless, company/strict: 4 in }").unwrap_err(),
        [
            "rules.yaml, line 2, column 30: the setting company/barrels should be a list, not a text; expected [stainless]",
            "rules.yaml, line 2, column 57: \"4 in\" does not say whether the setting company/strict holds; expected \
             yes or no",
        ]
    );
}

#[test]
fn a_list_says_of_which_fact_it_is() {
    assert_eq!(
        refused("{ is: [stainless], about: x }"),
        ["rules.yaml, line 4, column 6: the setting \"a\" has no \"of\""]
    );
    assert_eq!(
        refused("{ is: [stainless], about: x, of: outlet.barel }"),
        [
            "rules.yaml, line 4, column 39: \"outlet.barel\" is not a known name; did you mean \"outlet.barrel\"?"
        ]
    );
    assert_eq!(
        refused("{ is: [8 in], about: x, of: outlet.seat_depth }"),
        [
            "rules.yaml, line 4, column 34: \"outlet.seat_depth\" is not a fact that is a word or a text; expected a \
             fact such as outlet.barrel"
        ]
    );
}

#[test]
fn a_list_holds_words_and_none_twice() {
    assert_eq!(
        refused("{ is: [], about: x, of: outlet.barrel }"),
        ["rules.yaml, line 4, column 12: the setting s/a has no words; expected at least one word of \
             outlet.barrel"]
    );
    assert_eq!(
        refused("{ is: [brass, Brass], about: x, of: outlet.barrel }"),
        ["rules.yaml, line 4, column 20: \"Brass\" is in the list twice"]
    );
    assert_eq!(
        refused("{ is: [' '], about: x, of: outlet.model }"),
        ["rules.yaml, line 4, column 13: \" \" is an empty text"]
    );
}

#[test]
fn only_a_quantity_has_bounds() {
    assert_eq!(
        refused("{ is: yes, about: x, between: [no, yes] }"),
        [
            "rules.yaml, line 4, column 27: \"between\" is not a key of the setting \"a\"; expected is or about"
        ]
    );
    assert_eq!(
        refused("{ is: [brass], of: outlet.barrel, about: x, between: [1 in, 2 in] }"),
        [
            "rules.yaml, line 4, column 50: \"between\" is not a key of the setting \"a\"; expected is, about or of"
        ]
    );
    assert_eq!(
        refused("{ is: 4 in, about: x }"),
        ["rules.yaml, line 4, column 6: the setting \"a\" has no \"between\""]
    );
}

#[test]
fn a_case_may_set_a_yes_or_no_and_no_list() {
    let with = |given: &str| SET.replace("given: { outlet.barrel: brass }", &format!("given: {{ {given} }}"));
    let rules = loaded(&[&with("company/strict: no")]).unwrap();
    assert_eq!(rules.rules[0].cases[0].given, [(rules.settings[2].slot, Value::YesNo(false))]);
    assert_eq!(
        loaded(&[&with("company/barrels: brass")]).unwrap_err(),
        ["rules.yaml, line 18, column 53: \"brass\" is for a list, which a case cannot set"]
    );
}

//! What the JSON promises that a schema cannot say.

use crate::common::{
    KESTREL_RIDGE_ROWS as KESTREL_RIDGE, KESTREL_RIDGE_TEXT, LIVE_OAK_ROWS as LIVE_OAK, comments, count,
    entries, example, json, list, of, shown, text,
};
use crate::rows::by_row;
use coldsill::input::{Kind, Node, yaml};
use coldsill::units::System;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

fn reviews() -> [&'static Value; 2] {
    [&KESTREL_RIDGE, &LIVE_OAK]
}

/// A rule as its file has it: the names in its expressions, and those in its wording.
struct Named {
    read: BTreeSet<String>,
    said: BTreeSet<String>,
}

/// The rules shipped, read from their files without the library's own reader of rules.
fn shipped_rules() -> BTreeMap<String, Named> {
    let mut rules = BTreeMap::new();
    for file in coldsill::shipped::rules() {
        let node = yaml::parse(file.name, std::str::from_utf8(file.bytes).expect("rules are UTF-8"))
            .expect("rules are YAML");
        let set = scalar(key(&node, "set").expect("a set has a name"));
        let Kind::List(listed) = &key(&node, "rules").expect("a set has rules").kind else {
            panic!("rules are a list")
        };
        for rule in listed {
            let of = |name| key(rule, name).map_or("", scalar);
            let read =
                [of("applies"), of("needs")].iter().flat_map(|it| names(&outside_quotes(it))).collect();
            let wordings = ["says", "remedy"].into_iter().filter_map(|name| key(rule, name));
            let said = wordings.flat_map(sentences).flat_map(braced).collect();
            rules.insert(format!("{set}/{}", of("id")), Named { read, said });
        }
    }
    rules
}

fn key<'n>(node: &'n Node, name: &str) -> Option<&'n Node> {
    let Kind::Map(entries) = &node.kind else { return None };
    entries.iter().find(|(key, _)| key.text == name).map(|(_, node)| node)
}

fn scalar(node: &Node) -> &str {
    let Kind::Scalar { text, .. } = &node.kind else { panic!("{node:?} is not a text") };
    text
}

/// A text, or each of a list of texts.
fn sentences(node: &Node) -> Vec<&str> {
    match &node.kind {
        Kind::List(listed) => listed.iter().map(scalar).collect(),
        _ => vec![scalar(node)],
    }
}

fn outside_quotes(expression: &str) -> String {
    expression.split('"').step_by(2).collect::<Vec<_>>().join(" ")
}

/// `outlet.barrel` and `freezing/margin`; a fraction such as 1/4 is no name.
fn names(expression: &str) -> Vec<String> {
    let words = expression.split(|c: char| !(c.is_alphanumeric() || matches!(c, '.' | '_' | '/')));
    let is_name = |it: &&str| it.starts_with(|c: char| c.is_ascii_lowercase()) && it.contains(['.', '/']);
    words.filter(is_name).map(str::to_owned).collect()
}

fn braced(wording: &str) -> Vec<String> {
    wording
        .split('{')
        .skip(1)
        .filter_map(|it| it.split_once('}'))
        // `{= 1 in}` is a figure.
        .filter(|(name, _)| !name.starts_with('='))
        .map(|(name, _)| name.trim().into())
        .collect()
}

#[test]
fn the_values_of_a_comment_cover_every_name_in_its_rule() {
    let rules = shipped_rules();
    for (outlet, comment) in reviews().into_iter().flat_map(comments) {
        let named = &rules[text(&comment["rule"])];
        let speaks = comment["outcome"] != "no comment";
        let wanted = named.read.iter().chain(named.said.iter().filter(|_| speaks));
        let values: BTreeSet<&str> = entries(&comment["values"]).map(|(name, _)| name).collect();
        for name in wanted {
            assert!(values.contains(name.as_str()), "{}, {}: {name}", outlet["mark"], comment["rule"]);
        }
    }
}

#[test]
fn the_facts_a_comment_shows_stand_among_the_facts_of_its_outlet_too() {
    for (outlet, comment) in reviews().into_iter().flat_map(comments) {
        for (name, _) in entries(&comment["values"]).filter(|(name, _)| name.contains('.')) {
            assert!(outlet["facts"].get(name).is_some(), "{}, {}: {name}", outlet["mark"], comment["rule"]);
        }
    }
}

#[test]
fn what_is_not_known_is_null_with_a_reason_and_what_is_known_has_none() {
    for (place, name, it) in reviews().into_iter().flat_map(shown) {
        assert_eq!(it["value"].is_null(), it.get("absent").is_some(), "{place}: {name}: {it}");
    }
}

#[test]
fn a_fact_that_nobody_stated_has_no_value() {
    let mut seen = 0;
    for (place, name, it) in reviews().into_iter().flat_map(shown) {
        if matches!(text(&it["from"]), "unknown" | "unreadable") {
            assert!(it["value"].is_null(), "{place}: {name}: {it}");
            seen += 1;
        }
    }
    assert!(seen > 0);
}

#[test]
fn a_value_spanning_plausible_answers_is_called_supposed_not_stated_or_unknown() {
    let rule = "set: house\nabout: sleeves\nrules:\n  - id: sleeve-too-thick\n    title: t\n    basis: company\n    \
                why: w\n    needs: outlet.supply_insulation > 1 in\n    outcome: advise\n    says: s\n    cases:\n      \
                - { name: a, given: { outlet.supply_insulation: 2 in }, gives: no comment }\n      \
                - { name: b, given: { outlet.supply_insulation: 0 in }, gives: advise }\n";
    let review = by_row(of("Mark,Kind\nHB-1,Hose bibb\n", "dallas-tx", &[rule]));
    let all = comments(&review);
    let (_, comment) = all.iter().find(|(_, it)| it["rule"] == "house/sleeve-too-thick").unwrap();
    assert_eq!(comment["outcome"], "advise");
    assert_eq!(comment["values"]["outlet.supply_insulation"]["from"], "supposed");
    let outlet = &review["outlets"][0]["facts"]["outlet.supply_insulation"];
    assert_eq!((&outlet["value"], &outlet["from"]), (&Value::Null, &"unknown".into()));
}

#[test]
fn a_cell_that_could_not_be_read_says_so_and_where() {
    let facts = &list(&KESTREL_RIDGE["outlets"])[6]["facts"];
    let length = &facts["outlet.nominal_length"];
    assert_eq!(length["absent"], "the cell could not be read");
    assert_eq!(length["at"]["text"], "40 ft");
}

#[test]
fn a_fact_that_waits_for_others_names_them() {
    let facts = &list(&KESTREL_RIDGE["outlets"])[3]["facts"];
    assert_eq!(facts["outlet.barrel"]["absent"], "not stated");
    assert_eq!(facts["heat.seat_temperature"]["absent"], "unknown without closes and barrel");
}

#[test]
fn a_band_holds_its_value() {
    let mut seen = 0;
    for (place, name, it) in reviews().into_iter().flat_map(shown) {
        let [low, is, high] = ["low", "value", "high"].map(|key| it.get(key).and_then(Value::as_f64));
        if let (Some(low), Some(is), Some(high)) = (low, is, high) {
            assert!(low <= is && is <= high && low < high, "{place}: {name}: {low} {is} {high}");
            seen += 1;
        }
    }
    assert!(seen > 0);
}

#[test]
fn values_are_si_and_their_texts_in_the_readers_units() {
    let length = &LIVE_OAK["outlets"][0]["facts"]["outlet.nominal_length"];
    // 8 in at 25.4 mm.
    assert_eq!(
        (&length["value"], &length["unit"], &length["text"]),
        (&0.2032.into(), &"m".into(), &"8 in".into())
    );
    let in_si =
        crate::common::parsed(&json(&example("live-oak/schedule.csv", Some("dallas-tx")), System::Si));
    let in_si = by_row(in_si);
    let length_in_si = &in_si["outlets"][0]["facts"]["outlet.nominal_length"];
    assert_eq!(length_in_si["value"], length["value"]);
    assert_eq!(length_in_si["text"], "203.2 mm");
}

#[test]
fn a_quantity_not_stated_is_null() {
    assert_eq!(KESTREL_RIDGE["outlets"][5]["quantity"], Value::Null);
    assert_eq!(KESTREL_RIDGE["outlets"][0]["quantity"], 12);
}

#[test]
fn the_tally_is_one_comment_for_each_rule_on_each_row() {
    let rules = shipped_rules().len();
    for review in reviews() {
        let all: u64 = entries(&review["tally"]).map(|(_, it)| count(it)).sum();
        assert_eq!(all, (list(&review["outlets"]).len() * rules) as u64);
    }
}

#[test]
fn the_tally_counts_the_comments_that_are_listed() {
    for review in reviews() {
        for (key, outcome) in
            [("revise", "revise"), ("clarify", "clarify"), ("advise", "advise"), ("no_comment", "no comment")]
        {
            let listed = comments(review).iter().filter(|(_, it)| it["outcome"] == outcome).count();
            assert_eq!(count(&review["tally"][key]), listed as u64, "{key}");
        }
    }
}

#[test]
fn a_question_is_asked_of_exactly_the_outlets_whose_comments_wait_for_it() {
    for review in reviews() {
        let mut waiting: BTreeMap<&str, BTreeSet<(&str, u64)>> = BTreeMap::new();
        for (outlet, comment) in comments(review) {
            if comment["outcome"] == "clarify" && comment["once"] == false {
                for fact in list(&comment["missing"]) {
                    let who = (text(&outlet["mark"]), count(&outlet["at"]["row"]));
                    waiting.entry(text(fact)).or_default().insert(who);
                }
            }
        }
        let asked: BTreeSet<&str> = list(&review["questions"]).iter().map(|it| text(&it["fact"])).collect();
        assert_eq!(asked, waiting.keys().copied().collect());
        for question in list(&review["questions"]) {
            let who = &waiting[text(&question["fact"])];
            assert_eq!(count(&question["waits"]), who.len() as u64, "{question}");
            let types = list(&question["types"]).iter();
            let rows: Vec<u64> = types.flat_map(|it| list(&it["rows"]).iter().map(count)).collect();
            assert_eq!(rows.len(), who.len(), "each row is of one type: {question}");
            assert_eq!(rows.into_iter().collect::<BTreeSet<_>>(), who.iter().map(|it| it.1).collect());
            let marks: BTreeSet<&str> = who.iter().map(|(mark, _)| *mark).collect();
            assert_eq!(
                list(&question["asked_of"]).iter().map(text).collect::<BTreeSet<_>>(),
                marks,
                "{question}"
            );
        }
    }
}

/// Whether one answer to a fact leaves a comment one outcome, whatever the others are.
fn decides(comment: &Value, fact: &str) -> bool {
    let tried = list(&comment["would_settle"]);
    let mut outcomes: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    for it in tried {
        outcomes.entry(it["given"][fact].to_string()).or_default().insert(text(&it["outcome"]));
    }
    let silent = BTreeSet::from(["no comment", "does not apply"]);
    outcomes.values().any(|it| it.len() == 1 && !it.contains("clarify") || it.is_subset(&silent))
}

#[test]
fn a_question_settles_the_rows_of_which_one_answer_decides_a_comment() {
    let mut settled = 0;
    for review in reviews() {
        for question in list(&review["questions"]) {
            let fact = text(&question["fact"]);
            let (mut least, mut most) = (0, 0);
            for outlet in list(&review["outlets"]) {
                let waits = list(&outlet["comments"]).iter().filter(|it| {
                    it["outcome"] == "clarify"
                        && it["once"] == false
                        && list(&it["missing"]).contains(&fact.into())
                });
                // Where not all answers could be tried together the comment itself does not tell.
                let untold = |it: &&Value| list(&it["would_settle"]).is_empty();
                least += u64::from(waits.clone().any(|it| decides(it, fact)));
                most += u64::from(waits.clone().any(|it| untold(&it) || decides(it, fact)));
            }
            let settles = count(&question["settles"]);
            assert!((least..=most).contains(&settles), "{least} to {most}: {question}");
            settled += settles;
        }
    }
    assert!(settled > 0);
}

#[test]
fn questions_are_ranked_by_how_much_they_settle() {
    for review in reviews() {
        let settles: Vec<u64> = list(&review["questions"]).iter().map(|it| count(&it["settles"])).collect();
        assert!(settles.is_sorted_by(|a, b| a >= b), "{settles:?}");
    }
}

#[test]
fn everything_assumed_of_an_outlet_is_in_the_list_of_assumptions_and_nothing_else_is() {
    for review in reviews() {
        let mut of_outlets = BTreeSet::new();
        for outlet in list(&review["outlets"]) {
            for (name, it) in entries(&outlet["facts"]).filter(|(_, it)| it["from"] == "assumed") {
                of_outlets.insert((name, text(&it["text"]), text(&it["why"]), text(&outlet["mark"])));
            }
        }
        let mut listed = BTreeSet::new();
        for it in list(&review["assumed"]) {
            for name in list(&it["applies_to"]) {
                // A mark of several rows goes with its row: HB-1 (row 7).
                let mark = text(name).split(" (row ").next().unwrap_or_default();
                listed.insert((text(&it["fact"]), text(&it["text"]), text(&it["why"]), mark));
            }
        }
        assert_eq!(of_outlets, listed);
    }
}

#[test]
fn every_problem_of_a_cell_is_an_unreadable_fact_of_that_row() {
    for problem in list(&KESTREL_RIDGE["problems"]) {
        let outlets = list(&KESTREL_RIDGE["outlets"]);
        let outlet = outlets.iter().find(|it| it["at"]["row"] == problem["at"]["row"]).unwrap();
        let unreadable = entries(&outlet["facts"])
            .any(|(_, it)| it["from"] == "unreadable" && it["at"]["column"] == problem["at"]["column"]);
        assert!(unreadable, "{problem}");
    }
    assert_eq!(list(&KESTREL_RIDGE["problems"]).len(), 2);
}

#[test]
fn a_comment_that_all_answers_agree_on_is_decided_by_them() {
    for (_, comment) in reviews().into_iter().flat_map(comments) {
        let outcomes: BTreeSet<&str> =
            list(&comment["would_settle"]).iter().map(|it| text(&it["outcome"])).collect();
        let one = outcomes.len() == 1 && !outcomes.contains("clarify");
        // Nothing is said either way.
        let silent = BTreeSet::from(["no comment", "does not apply"]);
        let is_silent = !outcomes.is_empty() && outcomes.is_subset(&silent);
        // Usual answers do not show that there is nothing to say.
        let agree = (one || is_silent) && !(is_silent && comment["only_usual_answers"] == true);
        assert_eq!(comment["all_answers_agree"] == true, agree, "{comment}");
    }
}

#[test]
fn mark_row_and_rule_identify_a_comment() {
    for review in reviews() {
        let all = comments(review);
        let ids: BTreeSet<_> = all
            .iter()
            .map(|(outlet, it)| (text(&outlet["mark"]), count(&outlet["at"]["row"]), text(&it["rule"])))
            .collect();
        assert_eq!(ids.len(), all.len());
    }
}

#[test]
fn the_same_job_gives_the_same_bytes_twice() {
    assert_eq!(json(&example("kestrel-ridge/job.yaml", None), System::Us), *KESTREL_RIDGE_TEXT);
}

#[test]
fn rows_alike_are_listed_under_one_set_of_findings() {
    let rows = "HB-1,2,North,sillcock,8 in,brass\nHB-2,1,South,hose bibb,8 in,brass\nHB-3,,East,sillcock,\"8\"\"\",brass\n";
    let review = of(&format!("Mark,Qty,Location,Kind,Length,Barrel\n{rows}"), "dallas-tx", &[]);
    let marks = |findings: &Value| list(&findings["rows"]).iter().map(|row| row["mark"].clone()).collect();
    let sets: Vec<Vec<Value>> = list(&review["findings"]).iter().map(marks).collect();
    assert_eq!(sets, [vec![Value::from("HB-1"), "HB-3".into()], vec!["HB-2".into()]]);
    // A cell that says the same in other words is the row's own; one with the same text is not repeated.
    let own = &review["findings"][0]["rows"][1]["facts"];
    assert_eq!(own["outlet.nominal_length"]["at"]["text"], "8\"");
    assert!(own.get("outlet.barrel").is_none(), "{own}");
    let third = &by_row(review.clone())["outlets"][2];
    assert_eq!(third["facts"]["outlet.barrel"]["at"]["row"], 4);
}

//! The specification of the rule language: every `.yaml` file beside this one holds expressions with what they give, or
//! with what is wrong with them.

#![allow(clippy::unwrap_used, reason = "a specification that cannot be read must fail")]

mod catalogue;
mod generate;
mod patterns;
mod printing;

mod properties;
mod settings;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::sync::Arc;

use catalogue::{Catalogue, Facts, Given, name, slot};
use coldsill::diag::{Diagnostic, Location, Position, Span};
use coldsill::expr::{Condition, Gap, MOST_CHARACTERS, Part, Template, Value};
use coldsill::truth::Truth;
use coldsill::units::{Dim, Quantity, UNITS};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Topic {
    /// What the file is about; read by people.
    #[serde(rename = "about")]
    _about: String,
    #[serde(default)]
    cases: Vec<Case>,
    #[serde(default)]
    wrong: Vec<Wrong>,
}

/// An expression, what is given, and what it gives.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    name: String,
    when: String,
    #[serde(default)]
    given: BTreeMap<String, Given>,
    gives: String,
    #[serde(default)]
    missing: BTreeSet<String>,
    #[serde(default)]
    absent: BTreeMap<String, String>,
    /// The names of every comparison that is too close to call.
    #[serde(default)]
    close: BTreeSet<BTreeSet<String>>,
}

/// A wrong expression and its problems, each as `column: message`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Wrong {
    name: String,
    when: String,
    problems: Vec<String>,
}

fn topics() -> Vec<(String, Topic)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/language");
    let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|it| it.unwrap().path()).collect();
    files.retain(|it| it.extension().is_some_and(|it| it == "yaml"));
    files.sort();
    assert!(files.len() >= 6, "the specification is not there: {files:?}");
    let read = |path: &Path| {
        let text = fs::read_to_string(path).unwrap();
        serde_saphyr::from_str(&text).unwrap_or_else(|it| panic!("{}: {it}", path.display()))
    };
    files.iter().map(|path| (path.file_stem().unwrap().to_string_lossy().into_owned(), read(path))).collect()
}

fn start() -> Location {
    Location::line(&"rules.yaml".into(), 1, 1)
}

fn lines(problems: &[Diagnostic]) -> Vec<String> {
    let line = |it: &Diagnostic| {
        let Position::Line(Span { line: 1, start: column, .. }) = it.location.position else {
            panic!("not on the first line: {it}");
        };
        let all = it.to_string();
        let (_, message) = all.split_once(": ").unwrap();
        format!("{column}: {message}")
    };
    problems.iter().map(line).collect()
}

fn names_of(slots: &BTreeSet<coldsill::expr::Slot>) -> BTreeSet<String> {
    slots.iter().map(|it| name(*it).to_owned()).collect()
}

#[test]
fn every_expression_gives_what_the_specification_says() {
    let mut wrong = Vec::new();
    for (topic, case) in topics().iter().flat_map(|(topic, it)| it.cases.iter().map(move |c| (topic, c))) {
        let said = match Condition::check(&case.when, &start(), &Catalogue) {
            Err(problems) => format!("{:?}", lines(&problems)),
            Ok(condition) => match condition.truth(&Facts::new(&case.given)) {
                Truth::True => "yes".into(),
                Truth::False => "no".into(),
                Truth::Unknown(gap) => {
                    let absent: BTreeMap<_, _> = gap
                        .absent
                        .iter()
                        .map(|(slot, why)| (name(*slot).to_owned(), why.to_string()))
                        .collect();
                    let close: BTreeSet<_> = gap.close.iter().map(|it| names_of(&it.slots)).collect();
                    format!("unknown: {:?} {absent:?} {close:?}", names_of(&gap.missing))
                }
            },
        };
        let wanted = match case.gives.as_str() {
            "unknown" => format!("unknown: {:?} {:?} {:?}", case.missing, case.absent, case.close),
            known => known.to_owned(),
        };
        if said != wanted {
            wrong.push(format!("{topic}, {}: {}\n  gives  {said}\n  wanted {wanted}", case.name, case.when));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_wrong_expression_is_refused_where_it_is_wrong() {
    let mut off = Vec::new();
    for (topic, wrong) in topics().iter().flat_map(|(topic, it)| it.wrong.iter().map(move |w| (topic, w))) {
        let said = match Condition::check(&wrong.when, &start(), &Catalogue) {
            Ok(_) => vec!["nothing".into()],
            Err(problems) => lines(&problems),
        };
        if said != wrong.problems {
            off.push(format!(
                "{topic}, {}: {}\n  says   {said:#?}\n  wanted {:#?}",
                wrong.name, wrong.when, wrong.problems
            ));
        }
    }
    assert!(off.is_empty(), "{}", off.join("\n"));
}

#[test]
fn no_two_cases_of_a_topic_have_one_name() {
    for (topic, it) in topics() {
        let names = it.cases.iter().map(|it| &it.name).chain(it.wrong.iter().map(|it| &it.name));
        let mut seen = BTreeSet::new();
        for name in names {
            assert!(seen.insert(name), "{topic}: {name} twice");
        }
    }
}

#[test]
fn every_unit_has_a_case() {
    let (_, units) = topics().into_iter().find(|(topic, _)| topic == "units").unwrap();
    let named: BTreeSet<_> = units.cases.iter().map(|it| it.name.as_str()).collect();
    let wanted: BTreeSet<_> = UNITS.iter().map(|unit| unit.names[0]).collect();
    let lacking: Vec<_> = wanted.difference(&named).collect();
    assert!(lacking.is_empty(), "no case for {lacking:?}");
    for unit in UNITS {
        let case = units.cases.iter().find(|it| it.name == unit.names[0]).unwrap();
        assert!(case.when.contains(unit.names[0]), "{} is not in {}", unit.names[0], case.when);
    }
}

#[test]
fn every_word_and_sign_of_the_grammar_has_a_case() {
    let all: Vec<_> = topics().into_iter().flat_map(|(_, it)| it.cases).map(|it| it.when).collect();
    for part in [
        " or ",
        " and ",
        "not ",
        " = ",
        " != ",
        " < ",
        " <= ",
        " > ",
        " >= ",
        " in [",
        " between ",
        " + ",
        " - ",
        " * ",
        " / ",
        "-",
        "(",
        "yes",
        "no",
        "stated(",
        "known(",
        "min(",
        "max(",
        "round_up(",
        " matches \"",
        " in company/",
        "R-",
        "\"",
        "1/4",
        "1 1/2",
    ] {
        assert!(all.iter().any(|it| it.contains(part)), "no case for {part}");
    }
}

#[test]
fn a_problem_is_placed_by_where_the_expression_starts() {
    let file: Arc<str> = "rules.yaml".into();
    let problems = Condition::check("a and\n  d", &Location::line(&file, 9, 14), &Catalogue).unwrap_err();
    let span = |line, start, end| Location::span(&file, Span { line, start, end });
    assert_eq!(problems[0].location, span(10, 16, 17));
    let problems = Condition::check("a and d", &Location::line(&file, 9, 14), &Catalogue).unwrap_err();
    assert_eq!(problems[0].location, span(9, 20, 21));
    let whole = Location::whole("rules.yaml");
    assert_eq!(Condition::check("d", &whole, &Catalogue).unwrap_err()[0].location, whole);
}

#[test]
fn depth_and_length_are_bounded_with_a_message() {
    let refused = |text: &str| lines(&Condition::check(text, &start(), &Catalogue).unwrap_err());
    let parentheses = |n: usize| "(".repeat(n) + "a" + &")".repeat(n);
    assert!(Condition::check(&parentheses(64), &start(), &Catalogue).is_ok());
    assert_eq!(
        refused(&parentheses(65)),
        ["65: \"(\" is nested more than 64 deep; expected a shorter expression, or several rules"]
    );
    for deep in ["not ".repeat(900), "min(".repeat(900), "- ".repeat(900), "(".repeat(4000)] {
        let said = refused(&deep);
        assert!(said.len() == 1 && said[0].contains("is nested more than 64 deep"), "{said:?}");
    }
    let long = refused(&parentheses(100_000));
    assert!(long.len() == 1 && long[0].contains("is 200001 characters long, more than 4096"), "{long:?}");
    // Chains are not nesting.
    let chain = vec!["a"; MOST_CHARACTERS / 7].join(" and ");
    assert!(Condition::check(&chain, &start(), &Catalogue).is_ok());
    let sum = format!("outlet.count{} > 1", " + 1".repeat(900));
    assert!(Condition::check(&sum, &start(), &Catalogue).is_ok());
}

#[test]
fn a_pattern_is_bounded_in_depth_with_a_message() {
    let pattern = |deep: usize| {
        let text = format!("outlet.model matches \"{}a{}\"", "(".repeat(deep), ")".repeat(deep));
        Condition::check(&text, &start(), &Catalogue)
    };
    assert!(pattern(31).is_ok());
    let said = lines(&pattern(33).unwrap_err());
    assert!(said.len() == 1 && said[0].contains("is nested more than 32 deep"), "{said:?}");
    let said = lines(&pattern(2000).unwrap_err());
    assert!(said.len() == 1 && said[0].contains("is nested more than 32 deep"), "{said:?}");
}

#[test]
fn a_template_is_bounded_in_length_with_a_message() {
    let long = |braces: usize| Template::check(&"{a}".repeat(braces), &start(), &Catalogue);
    assert!(long(MOST_CHARACTERS / 3).is_ok());
    let said = lines(&long(MOST_CHARACTERS / 3 + 1).unwrap_err());
    assert!(said.len() == 1 && said[0].contains("is 4098 characters long, more than 4096"), "{said:?}");
}

/// Each list would double the work of the list within it.
#[test]
fn tests_cannot_be_nested_in_lists() {
    let nested = format!("{}a{}", "(".repeat(40), " in [a, b])".repeat(40));
    assert!(Condition::check(&nested, &start(), &Catalogue).is_err());
}

#[test]
fn a_program_names_what_it_reads_and_keeps_its_text() {
    fn shared<T: Clone + std::fmt::Debug + Send + Sync>(_: &T) {}
    let text = "known(c) and outlet.seat_depth in [8 in] or min(site.swing, 4 °F) > freezing/margin";
    let condition = Condition::check(text, &start(), &Catalogue).unwrap();
    shared(&condition);
    assert_eq!(condition.text(), text);
    let wanted = ["c", "outlet.seat_depth", "site.swing", "freezing/margin"].map(slot);
    assert_eq!(condition.slots(), BTreeSet::from(wanted));
}

#[test]
fn a_template_is_text_and_names() {
    let text = "At { site.design_low } outdoors, {{{freezing/margin}}} kept";
    let template = Template::check(text, &start(), &Catalogue).unwrap();
    let wanted = [
        Part::Text("At ".into()),
        Part::Slot(slot("site.design_low")),
        Part::Text(" outdoors, {".into()),
        Part::Slot(slot("freezing/margin")),
        Part::Text("} kept".into()),
    ];
    assert_eq!(template.sentences(), [wanted.to_vec()]);
    assert_eq!(template.slots(), BTreeSet::from([slot("site.design_low"), slot("freezing/margin")]));
    assert!(Template::check("", &start(), &Catalogue).unwrap().sentences().is_empty());
}

fn sentences(template: &Template) -> Vec<String> {
    let text = |part: &Part| match part {
        Part::Text(text) => text.to_string(),
        Part::Figure(text, _) => format!("<{text}>"),
        Part::Slot(slot) => format!("<{}>", name(*slot)),
    };
    template.sentences().iter().map(|parts| parts.iter().map(text).collect()).collect()
}

#[test]
fn a_sentence_ends_at_a_stop_before_a_capital_letter() {
    let text = "The seat is approx. {outlet.seat_depth} deep, see fig. 2 and 1.5 in below. (It is short.) \"Order\" more.  Then {a}. {b}.";
    let template = Template::check(text, &start(), &Catalogue).unwrap();
    assert_eq!(
        sentences(&template),
        [
            "The seat is approx. <outlet.seat_depth> deep, see fig. 2 and 1.5 in below.",
            "(It is short.) \"Order\" more.",
            "Then <a>. <b>.",
        ]
    );
    assert_eq!(template.text(), text);
}

#[test]
fn stated_sentences_are_not_split() {
    let check = |text| Template::check_sentence(text, &start(), &Catalogue).unwrap();
    let template = Template::join(vec![check("See Fig. A of {= 1/8 in}."), check("{a}.")]);
    assert_eq!(sentences(&template), ["See Fig. A of <1/8 in>.", "<a>."]);
    assert_eq!(template.text(), "See Fig. A of {= 1/8 in}. {a}.");
}

#[test]
fn a_wrong_template_says_where() {
    let refused = |text: &str| lines(&Template::check(text, &start(), &Catalogue).unwrap_err());
    assert_eq!(
        refused("°{site.desing_low} {} a} {outlet.seat_depth and {a"),
        [
            "3: \"site.desing_low\" is not a known name; did you mean \"site.design_low\"?",
            "20: \"{}\" names nothing; expected a name, or {{ for a brace",
            "24: \"}\" closes nothing; expected }} for a brace",
            "26: \"{outlet.seat_depth and \" has a brace that is not closed; expected {{ for a brace",
            "49: \"{a\" has a brace that is not closed; expected {{ for a brace",
        ]
    );
}

/// YAML of ours holds no such values; a caller's mistake must still not become an answer.
#[test]
fn a_value_that_is_not_finite_or_not_of_its_type_decides_nothing() {
    let count = |it: f64| Value::Quantity(Quantity::of(it, Dim::NONE));
    for (when, fact, value, why) in [
        ("outlet.count > 1", "outlet.count", count(f64::INFINITY), "its value is not finite"),
        ("outlet.count != 1", "outlet.count", count(f64::NAN), "its value is not finite"),
        (
            "outlet.seat_depth > 1 in",
            "outlet.seat_depth",
            count(1.0),
            "its value is not of its declared type",
        ),
        ("a", "a", count(1.0), "its value is not of its declared type"),
        ("outlet.model = \"x\"", "outlet.model", Value::YesNo(true), "its value is not of its declared type"),
    ] {
        let mut facts = Facts::default();
        facts.set(slot(fact), value);
        let condition = Condition::check(when, &start(), &Catalogue).unwrap();
        assert_eq!(condition.truth(&facts), Truth::Unknown(Gap::absent(slot(fact), why)), "{when}");
    }
}

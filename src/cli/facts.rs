//! The catalogue of facts: a list, or everything about one fact.

use crate::fact_card::Card;
use coldsill::diag::{Diagnostic, Location, capital};
use coldsill::expr::Type;
use coldsill::facts::{PlausibleValues, World};
use coldsill::report::{WIDTH, labelled, wrapped};
use coldsill::schedule::plain;
use coldsill::units::{Rounding, System, si_symbol};
use serde::Serialize;
use std::sync::Arc;

/// The facts with a name or heading, or a part of one; all facts without it.
pub fn found<'w>(name: Option<&str>, world: &'w World) -> Result<Vec<Card<'w>>, Diagnostic> {
    let mut cards = Card::all(world);
    let Some(name) = name else { return Ok(cards) };
    let wanted = plain(name);
    let spellings = |card: &Card<'_>| -> Vec<String> {
        let last = card.name().rsplit('.').next().unwrap_or_default().replace('_', " ");
        let headings = card.headings().iter().map(|heading| heading.to_lowercase());
        [card.name().to_owned(), last].into_iter().chain(headings).collect()
    };
    let all: Vec<String> = cards.iter().flat_map(&spellings).collect();
    // A whole name or heading is preferred to parts of others.
    let is_whole = all.iter().any(|spelling| plain(spelling) == wanted);
    let is_meant = |spelling: &String| {
        let spelling = plain(spelling);
        if is_whole { spelling == wanted } else { spelling.contains(&wanted) }
    };
    cards.retain(|card| !wanted.is_empty() && spellings(card).iter().any(is_meant));
    if !cards.is_empty() {
        return Ok(cards);
    }
    let error = Diagnostic::new(Location::whole("coldsill facts"), "is not a fact or a heading").text(name);
    let error = error.nearest(name, all.iter().map(String::as_str));
    Err(if error.nearest.is_some() { error } else { error.expected("one that `coldsill facts` lists") })
}

/// The page of one fact, or a list of several.
pub fn text(cards: &[Card<'_>], is_asked: bool) -> String {
    match cards {
        [one] if is_asked => page(one),
        several => list(several),
    }
}

fn underlined(title: &str) -> String {
    format!("{title}\n{}\n", "-".repeat(title.chars().count()))
}

fn list(cards: &[Card<'_>]) -> String {
    let mut text = String::new();
    let mut topics: Vec<&str> = Vec::new();
    for topic in cards.iter().map(Card::topic) {
        if !topics.contains(&topic) {
            topics.push(topic);
        }
    }
    for topic in topics {
        text.push_str(&underlined(&capital(topic)));
        for card in cards.iter().filter(|card| card.topic() == topic) {
            let line = wrapped(&format!("{}: {}", card.name(), card.def.about), WIDTH - 4, "");
            // Following lines are indented below the name.
            text.push_str(&format!("{}\n", line.trim_end().replace('\n', "\n    ")));
        }
        text.push('\n');
    }
    text.push_str(&wrapped(
        "`coldsill facts NAME` prints everything about one fact: how it is stated, what happens if it is blank, which values \
         it may have, which facts it is computed from, and which rules use it. NAME may be a part of a name, or a heading such \
         as \"seat depth\".",
        WIDTH,
        "",
    ));
    text
}

fn page(card: &Card<'_>) -> String {
    let stated = !card.headings().is_empty();
    let products = if card.in_product_data() { "may state it of a model" } else { "cannot state it" };
    let rules: Vec<String> = card.rules.iter().map(|rule| format!("{} ({})", rule.number, rule.id)).collect();
    let lines = [
        ("What", card.def.about.to_owned()),
        ("Type", of_type(card)),
        ("Columns", card.headings().join(", ")),
        ("Job keys", of_job(card)),
        ("Products", if stated { format!("Product data {products}.") } else { String::new() }),
        ("If blank", of_blank(card)),
        ("Values", of_values(card)),
        ("Shown", of_shown(card)),
        ("Reads", card.reads.join(", ")),
        ("Read by", card.read_by.join(", ")),
        (
            "Rules",
            if rules.is_empty() { "No rule in force reads it directly.".into() } else { rules.join(", ") },
        ),
    ];
    let lines = lines.iter().filter(|(_, value)| !value.is_empty());
    let lines: String = lines.map(|(label, value)| labelled(label, value, WIDTH)).collect();
    underlined(card.name()) + &lines
}

fn of_type(card: &Card<'_>) -> String {
    match (&card.entry.ty, card.range(), card.show()) {
        (Type::Quantity(measure), Some([least, most]), Some(show)) => {
            let [least, most] = [(least, Rounding::Up), (most, Rounding::Down)]
                .map(|(quantity, inwards)| show.toward(inwards).value(&quantity, System::Us));
            format!("{}, {least} to {most}", measure.name())
        }
        (Type::Quantity(measure), ..) => measure.name(),
        (Type::YesNo, ..) => "yes or no".into(),
        (Type::OneOf(words), ..) => format!("one of: {}", words.join(", ")),
        _ => "a text".into(),
    }
}

fn of_job(card: &Card<'_>) -> String {
    let default = card.has_default().then(|| format!("defaults: {}", card.entry.heading.to_lowercase()));
    let keys = default.into_iter().chain(card.def.job_keys.iter().map(|key| (*key).to_owned()));
    keys.collect::<Vec<_>>().join("; ")
}

fn of_blank(card: &Card<'_>) -> String {
    let first = if card.has_default() { "The job's default is used; without one " } else { "" };
    capital(&format!("{first}{}", card.blank()[1]))
}

fn of_values(card: &Card<'_>) -> String {
    let values = card.plausible().join(", ");
    match card.def.plausible {
        PlausibleValues::NoList if card.headings().is_empty() => String::new(),
        PlausibleValues::NoList => "Any value of its type.".into(),
        PlausibleValues::All | PlausibleValues::AllOrExtremes(_) => {
            format!("{values}: every possible value.")
        }
        PlausibleValues::Extremes(_) => format!("{values}: the extremes, and values between them."),
        PlausibleValues::Common(_) => format!("{values}: common values; others are possible."),
    }
}

fn of_shown(card: &Card<'_>) -> String {
    let Some(show) = card.show() else { return String::new() };
    let [us, si] = [System::Us, System::Si].map(|system| show.form(system).0);
    let unit = match (us, si) {
        ("", _) => "as a number without unit".to_owned(),
        (us, si) if us == si => format!("in {us}"),
        (us, si) => format!("in {us} or {si}"),
    };
    let side = match show.side() {
        Rounding::Nearest => "rounded to the nearest",
        Rounding::Up => "rounded up",
        Rounding::Down => "rounded down",
    };
    capital(&format!("{unit}, {side}."))
}

#[derive(Serialize)]
struct DocumentJson<'c> {
    coldsill: &'static str,
    format: u32,
    facts: Vec<FactJson<'c>>,
}

#[derive(Serialize)]
struct FactJson<'c> {
    name: &'static str,
    topic: &'static str,
    heading: &'c str,
    about: &'static str,
    #[serde(rename = "type")]
    fact_type: &'static str,
    #[serde(flatten)]
    measure: Option<MeasureJson>,
    #[serde(flatten)]
    range: Option<RangeJson>,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    words: &'static [&'static str],
    headings: &'static [&'static str],
    job_default: bool,
    job_keys: &'static [&'static str],
    product_data: bool,
    blank: &'static str,
    answers: AnswersJson,
    reads: &'c [Arc<str>],
    read_by: &'c [Arc<str>],
    rules: Vec<&'c str>,
}

#[derive(Serialize)]
struct MeasureJson {
    measure: String,
    unit: String,
    shown: ShownJson,
}

#[derive(Serialize)]
struct ShownJson {
    us: &'static str,
    si: &'static str,
    rounded: &'static str,
}

#[derive(Serialize)]
struct RangeJson {
    least: f64,
    most: f64,
}

#[derive(Serialize)]
struct AnswersJson {
    list: Vec<String>,
    exhaustive: bool,
}

/// The facts for other programs.
pub fn json(cards: &[Card<'_>]) -> Result<String, Diagnostic> {
    let facts = cards.iter().map(FactJson::of).collect();
    let document = DocumentJson { coldsill: env!("CARGO_PKG_VERSION"), format: 1, facts };
    let text = serde_json::to_string_pretty(&document);
    Ok(text.map_err(|error| Diagnostic::new(Location::whole("coldsill facts"), error.to_string()))? + "\n")
}

impl<'c> FactJson<'c> {
    fn of(card: &'c Card<'_>) -> Self {
        let measure = card.measure().zip(card.show()).map(|(measure, show)| MeasureJson {
            measure: measure.name(),
            unit: si_symbol(measure),
            shown: ShownJson {
                us: show.form(System::Us).0,
                si: show.form(System::Si).0,
                rounded: match show.side() {
                    Rounding::Nearest => "nearest",
                    Rounding::Up => "up",
                    Rounding::Down => "down",
                },
            },
        });
        Self {
            name: card.name(),
            topic: card.topic(),
            heading: &card.entry.heading,
            about: card.def.about,
            fact_type: match &card.entry.ty {
                Type::Quantity(_) => "quantity",
                Type::YesNo => "yes or no",
                Type::OneOf(_) => "word",
                _ => "text",
            },
            measure,
            range: card.range().map(|[least, most]| RangeJson { least: least.is, most: most.is }),
            words: card.words(),
            headings: card.headings(),
            job_default: card.has_default(),
            job_keys: card.def.job_keys,
            product_data: card.in_product_data(),
            blank: card.blank()[0],
            answers: AnswersJson { list: card.plausible(), exhaustive: card.is_exhaustive() },
            reads: &card.reads,
            read_by: &card.read_by,
            rules: card.rules.iter().map(|rule| &*rule.id).collect(),
        }
    }
}

//! The catalogue of facts: in short, or all of one.

use crate::fact_card::{Card, OfBlank};
use coldsill::diag::{Diagnostic, Location, capital};
use coldsill::expr::Type;
use coldsill::facts::World;
use coldsill::report::{WIDTH, labelled, wrapped};
use coldsill::schedule::plain;
use coldsill::units::{Rounding, System, si_symbol};
use serde_json::{Map, Value, json};

/// The facts that a name, a part of one, or a heading means; all without it.
pub fn found<'r>(name: Option<&str>, world: &'r World) -> Result<Vec<Card<'r>>, Diagnostic> {
    let mut cards = Card::all(&world.job().rules);
    let Some(name) = name else { return Ok(cards) };
    let wanted = plain(name);
    let is_named = |it: &Card<'_>| {
        let last = it.name().rsplit('.').next().unwrap_or_default();
        plain(it.name()) == wanted
            || plain(last) == wanted
            || it.headings().iter().any(|heading| plain(heading) == wanted)
    };
    let is_part = |it: &Card<'_>| {
        plain(it.name()).contains(&wanted)
            || it.headings().iter().any(|heading| plain(heading).contains(&wanted))
    };
    // A whole name or heading before parts of others.
    let whole = cards.iter().any(is_named);
    let names: Vec<String> = cards.iter().flat_map(|it| spellings(it)).collect();
    cards.retain(|it| !wanted.is_empty() && if whole { is_named(it) } else { is_part(it) });
    if !cards.is_empty() {
        return Ok(cards);
    }
    let problem =
        Diagnostic::new(Location::whole("coldsill facts"), "is no fact, and no heading of one").text(name);
    let problem = problem.nearest(name, names.iter().map(String::as_str));
    Err(if problem.nearest.is_some() { problem } else { problem.expected("one that `coldsill facts` lists") })
}

/// A name, the last part of it, and its headings.
fn spellings(card: &Card<'_>) -> Vec<String> {
    let last = card.name().rsplit('.').next().unwrap_or_default().replace('_', " ");
    let own = [card.name().to_owned(), last];
    own.into_iter().chain(card.headings().iter().map(|it| it.to_lowercase())).collect()
}

/// One fact whole, several in short.
pub fn text(cards: &[Card<'_>], is_asked: bool) -> String {
    match cards {
        [one] if is_asked => whole(one),
        several => in_short(several),
    }
}

fn in_short(cards: &[Card<'_>]) -> String {
    let mut text = String::new();
    let mut topics: Vec<&str> = Vec::new();
    for topic in cards.iter().map(|it| topic(it.name())) {
        if !topics.contains(&topic) {
            topics.push(topic);
        }
    }
    for name in topics {
        let own: Vec<&Card<'_>> = cards.iter().filter(|it| topic(it.name()) == name).collect();
        text.push_str(&format!("{}\n{}\n", capital(name), "-".repeat(name.chars().count())));
        for card in own {
            let line = format!("{}: {}", card.name(), card.entry.def.about);
            // What runs on stands under the name, not beside the next.
            let mut lines = wrapped(&line, WIDTH - 4, "");
            lines.truncate(lines.trim_end().len());
            text.push_str(&format!("{}\n", lines.replace('\n', "\n    ")));
        }
        text.push('\n');
    }
    text.push_str(&wrapped(
        "`coldsill facts NAME` tells all of one: how it is stated, what is done with a blank, what it might be, what it is \
         worked out from, and which rules use it. A part of a name, or a heading such as \"seat depth\", will do.",
        WIDTH,
        "",
    ));
    text
}

fn whole(card: &Card<'_>) -> String {
    let mut text = format!("{}\n{}\n", card.name(), "-".repeat(card.name().chars().count()));
    let mut say = |label: &str, what: String| {
        if !what.is_empty() {
            text.push_str(&labelled(label, &what, WIDTH));
        }
    };
    say("Is", card.entry.def.about.into());
    say("Type", of_type(card));
    say("Column", card.headings().join(", "));
    say("Job", of_job(card));
    if !card.headings().is_empty() {
        let said = if card.in_product_data() { "may state it of a model" } else { "says nothing of it" };
        say("Products", format!("Product data {said}."));
    }
    say("Blank", of_blank(card));
    say("Might be", of_answers(card));
    say("Shown", of_shown(card));
    say("Reads", card.reads.join(", "));
    say("Read by", card.read_by.join(", "));
    let rules: Vec<String> = card.rules.iter().map(|it| format!("{} ({})", it.number, it.id)).collect();
    say(
        "Rules",
        if rules.is_empty() { "No rule in force reads it itself.".into() } else { rules.join(", ") },
    );
    text
}

fn of_type(card: &Card<'_>) -> String {
    match (&card.entry.ty, card.range(), card.show()) {
        (Type::Quantity(measure), Some([least, most]), Some(show)) => {
            let [least, most] = [least, most].map(|it| show.value(&it, System::Us));
            format!("{}, {least} to {most}", measure.name())
        }
        (Type::Quantity(measure), ..) => measure.name(),
        (Type::YesNo, ..) => "yes or no".into(),
        (Type::OneOf(words), ..) => format!("one of: {}", words.join(", ")),
        _ => "a text".into(),
    }
}

fn of_job(card: &Card<'_>) -> String {
    let default = card.has_default().then(|| format!("defaults: {}", card.heading().to_lowercase()));
    let keys = default.into_iter().chain(card.job_keys().iter().map(|it| (*it).to_owned()));
    keys.collect::<Vec<_>>().join("; ")
}

fn of_blank(card: &Card<'_>) -> String {
    let first = if card.has_default() { "The job's default; without one " } else { "" };
    let then = match card.blank() {
        OfBlank::Unknown => "it stays unknown: a rule that turns on it asks.",
        OfBlank::Assumed => {
            "what can be taken for granted is, and is listed with its reason; else it stays unknown."
        }
        OfBlank::Found => {
            "No column: it comes from the job, the climate or the space, or is assumed and listed."
        }
        OfBlank::Computed => "No column: it is computed.",
    };
    capital(&format!("{first}{then}"))
}

fn of_answers(card: &Card<'_>) -> String {
    match card.answers() {
        (answers, _) if answers.is_empty() && card.headings().is_empty() => String::new(),
        (answers, _) if answers.is_empty() => "Anything: no list of answers can be tried.".into(),
        (answers, true) => format!("{}: there is nothing else it could be.", answers.join(", ")),
        (answers, false) => format!("{}: the usual ones; what lies between follows.", answers.join(", ")),
    }
}

fn of_shown(card: &Card<'_>) -> String {
    let Some(show) = card.show() else { return String::new() };
    let [us, si] = [System::Us, System::Si].map(|system| show.form(system).0);
    let unit = match (us, si) {
        ("", _) => "as a bare number".to_owned(),
        (us, si) if us == si => format!("in {us}"),
        (us, si) => format!("in {us} or {si}"),
    };
    let side = match show.side() {
        Rounding::Nearest => "rounded to the nearest",
        Rounding::Up => "rounded up: what is printed is never less than it is",
        Rounding::Down => "rounded down: what is printed is never more than it is",
    };
    capital(&format!("{unit}, {side}."))
}

/// The same for other programs.
pub fn json(cards: &[Card<'_>]) -> String {
    let facts: Vec<Value> = cards.iter().map(of_card).collect();
    let document = json!({ "coldsill": env!("CARGO_PKG_VERSION"), "format": 1, "facts": facts });
    format!("{document:#}\n")
}

fn of_card(card: &Card<'_>) -> Value {
    let mut out = Map::new();
    let (answers, exhaustive) = card.answers();
    out.insert("name".into(), json!(card.name()));
    out.insert("topic".into(), json!(topic(card.name())));
    out.insert("heading".into(), json!(card.heading()));
    out.insert("about".into(), json!(card.entry.def.about));
    let kind = match &card.entry.ty {
        Type::Quantity(_) => "quantity",
        Type::YesNo => "yes or no",
        Type::OneOf(_) => "word",
        _ => "text",
    };
    out.insert("type".into(), json!(kind));
    if let (Some(measure), Some(show)) = (card.measure(), card.show()) {
        out.insert("measure".into(), json!(measure.name()));
        out.insert("unit".into(), json!(si_symbol(measure)));
        let [us, si] = [System::Us, System::Si].map(|system| show.form(system).0);
        let rounded = match show.side() {
            Rounding::Nearest => "nearest",
            Rounding::Up => "up",
            Rounding::Down => "down",
        };
        out.insert("shown".into(), json!({ "us": us, "si": si, "rounded": rounded }));
    }
    if let Some([least, most]) = card.range() {
        out.insert("least".into(), json!(least.is));
        out.insert("most".into(), json!(most.is));
    }
    if !card.words().is_empty() {
        out.insert("words".into(), json!(card.words()));
    }
    out.insert("headings".into(), json!(card.headings()));
    out.insert("job_default".into(), json!(card.has_default()));
    out.insert("job_keys".into(), json!(card.job_keys()));
    out.insert("product_data".into(), json!(card.in_product_data()));
    let blank = match card.blank() {
        OfBlank::Unknown => "unknown",
        OfBlank::Assumed => "assumed where it can be",
        OfBlank::Found => "found",
        OfBlank::Computed => "computed",
    };
    out.insert("blank".into(), json!(blank));
    out.insert("answers".into(), json!({ "list": answers, "exhaustive": exhaustive }));
    out.insert("reads".into(), json!(card.reads));
    out.insert("read_by".into(), json!(card.read_by));
    out.insert("rules".into(), json!(card.rules.iter().map(|it| &*it.id).collect::<Vec<_>>()));
    Value::Object(out)
}

fn topic(name: &str) -> &str {
    name.split('.').next().unwrap_or(name)
}

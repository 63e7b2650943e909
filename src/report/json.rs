//! The review as JSON, format 1. Values are SI; `kind` tells a temperature from a difference; `text` is in the
//! reader's units.

use super::as_json::{DiagnosticJson, LocationJson, ShownJson};
use super::comments::{remedy, said};
use super::words::value;
use super::{REMINDER, questions};
use crate::climate::{Climate, LOW, Low};
use crate::diag::{Diagnostic, Location};
use crate::expr::Value as Known;
use crate::review::{Comment, Design, Findings, OutletReview, OutletType, Review, Settled, Shown};
use crate::ruleset::Outcome;
use crate::units::{Dim, Measure, Quantity, Show, System, figures, si_symbol};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::Arc;

/// Version of the format.
const FORMAT: u32 = 1;

/// The review as JSON: a line for every key of the whole, a line for every outlet.
pub fn json(review: &Review, system: System) -> String {
    lines(&tree(review, system), &outlets(review, system))
}

/// A line for every key, and one for every outlet in the place of `outlets`.
pub(super) fn lines(whole: &Map<String, Value>, outlets: &[String]) -> String {
    let mut text = String::from("{\n");
    for (index, (key, value)) in whole.iter().enumerate() {
        let comma = if index + 1 < whole.len() { "," } else { "" };
        let value = if key == "outlets" {
            format!("[\n    {}\n  ]", outlets.join(",\n    "))
        } else {
            value.to_string()
        };
        let _ = writeln!(text, "  \"{key}\": {value}{comma}");
    }
    text.push_str("}\n");
    text
}

/// One line an outlet. What outlets alike share is written once and copied.
fn outlets(review: &Review, system: System) -> Vec<String> {
    let mut shared: BTreeMap<*const Findings, Shared> = BTreeMap::new();
    let lines = review.outlets.iter().map(|it| {
        let shared =
            shared.entry(Arc::as_ptr(&it.findings)).or_insert_with(|| Shared::of(&it.findings, system));
        outlet(it, shared, system)
    });
    lines.collect()
}

/// Facts and comments of outlets alike, written.
struct Shared {
    facts: Vec<(Arc<str>, String)>,
    comments: String,
}

impl Shared {
    fn of(findings: &Findings, system: System) -> Self {
        let said = findings.comments.iter().filter(|it| it.outcome != Outcome::DoesNotApply);
        let comments: Vec<Value> = said.map(|it| comment(it, system)).collect();
        let facts = findings.facts.iter().map(|fact| (fact.name.clone(), shown(fact, system).to_string()));
        Self { facts: facts.collect(), comments: Value::Array(comments).to_string() }
    }
}

/// Everything but the outlets, whose place is kept.
fn tree(review: &Review, system: System) -> Map<String, Value> {
    let tally = review.tally;
    let whole = json!({
        "coldsill": env!("CARGO_PKG_VERSION"),
        "format": FORMAT,
        "reminder": REMINDER,
        "job": review.job,
        "schedule": review.schedule,
        "climate": climate(&review.climate, &review.design, review.climate_overridden.as_ref(), system),
        "code": review.code.as_ref().map(|it| json!({ "name": it.name, "edition": it.edition })),
        "authority": {
            "winter_temperature": review.authority.winter_temperature.as_ref()
                .map(|it| shown_low(&Quantity::temperature(it.value), system)),
            "frost_depth": review.authority.frost_depth.as_ref()
                .map(|it| usual(&Quantity::of(it.value, Dim::LENGTH), system)),
        },
        "revise_on": review.revise_on.iter().map(|it| it.word()).collect::<Vec<_>>(),
        "preset": review.told.preset,
        "amendments": review.amendments,
        "amended": super::amended::json(&review.told),
        "dropped": review.told.dropped.iter().map(|it| json!({
            "rule": it.rule, "number": it.number, "reason": it.reason, "by": it.by.by,
        })).collect::<Vec<_>>(),
        "outlets": null,
        "tally": {
            "revise": tally.revise, "clarify": tally.clarify, "advise": tally.advise,
            "no_comment": tally.no_comment, "does_not_apply": tally.does_not_apply,
        },
        "questions": review.questions.iter().map(|it| json!({
            "fact": it.fact, "heading": it.heading, "about": it.about,
            "question": crate::facts::asked(it.slot).sentence,
            "possible": questions::plausible(it, system), "unit": questions::unit(it, system),
            "asked_of": it.asked_of, "settles": it.settles,
            "settles_quantity": it.settles_quantity.map(number), "waits": it.waits,
            "turns_on": questions::turns(&it.types, system),
            "types": it.types.iter().map(|it| outlet_type(it, system)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "answers": review.answers,
        "answered": review.answered.iter().map(|it| json!({
            "fact": it.fact.name, "value": shown(&it.fact, system), "applies_to": it.applies_to,
        })).collect::<Vec<_>>(),
        "assumed": review.assumed.iter().map(|it| json!({
            "fact": it.fact.name, "text": value(&it.fact, system), "why": figures(&it.why, system), "applies_to": it.applies_to,
        })).collect::<Vec<_>>(),
        "notes": review.notes.iter().map(|it| json!({
            "at": place(&it.place, Some(&it.text)), "what": it.what,
        })).collect::<Vec<_>>(),
        "unused": review.unused.iter().map(|it| json!({
            "at": place(&it.place, Some(&it.text)), "why": it.why,
        })).collect::<Vec<_>>(),
        "problems": review.problems.iter().map(problem).collect::<Vec<_>>(),
    });
    match whole {
        Value::Object(whole) => whole,
        _ => Map::new(),
    }
}

fn outlet_type(it: &OutletType, system: System) -> Value {
    let rows: Vec<u32> = it.outlets.iter().map(|it| it.1.number).collect();
    json!({
        "label": questions::label(it, system), "rows": rows, "quantity": it.quantity.map(number), "settles": it.settles,
    })
}

pub(super) fn climate(
    climate: &Climate,
    design: &Design,
    in_place_of: Option<&Arc<str>>,
    system: System,
) -> Value {
    let temperature =
        |kelvin: Option<f64>| kelvin.map(|kelvin| shown_low(&Quantity::temperature(kelvin), system));
    json!({
        "id": (!climate.id.is_empty()).then_some(&climate.id),
        "name": climate.name,
        "state": climate.state,
        "zone": climate.zone,
        "design_low": temperature(design.low),
        "design_low_is": super::climate::design_is(design, climate),
        "heating_99.6": temperature(climate.heating_996),
        "heating_99": temperature(climate.heating_990),
        "annual_low": climate.annual_low.map(|it| json!({
            "mean": usual(&Quantity::temperature(it.mean), system),
            "deviation": usual(&Quantity::of(it.deviation, Dim::DIFFERENCE), system),
            "winters": number(it.record()),
            "winters_stated": it.winters.is_some(),
        })),
        "coldest_recorded": temperature(climate.coldest_recorded),
        "lows": climate.lows().iter().map(|it| low(it, system)).collect::<Vec<_>>(),
        "source": climate.source,
        "from": climate.whose.words(),
        "at": place(&climate.at, None),
        "in_place_of": in_place_of,
    })
}

/// One figure of a climate: its spread, in words and as a number how often an annual low reaches it, and the chance within 30 years.
pub(super) fn low(it: &Low, system: System) -> Value {
    let [coldest, warmest] = it.within.unwrap_or([it.kelvin; 2]);
    json!({
        "is": it.by.words(),
        "temperature": shown_low(&Quantity::temperature(it.kelvin).within(coldest, warmest), system),
        "often": it.often.map(super::climates::often),
        "once_in_years": it.often.map(|it| number(it.number())),
        "chance_in_30_years": it.chance.map(chance),
    })
}

/// Never impossible and never certain, as on a page.
fn chance(it: f64) -> Value {
    const CHANCES: [f64; 2] = [0.0001, 0.9999];
    number(it.clamp(CHANCES[0], CHANCES[1]))
}

fn outlet(outlet: &OutletReview, shared: &Shared, system: System) -> String {
    // What stands in this very row has this row's place.
    let here = |name: &str| outlet.stated.iter().find(|it| &*it.name == name);
    let mut facts: Vec<String> = Vec::with_capacity(shared.facts.len());
    for (name, written) in &shared.facts {
        let own = here(name).map(|it| shown(it, system).to_string());
        facts.push(format!("\"{name}\":{}", own.as_ref().unwrap_or(written)));
    }
    for fact in outlet.stated.iter().filter(|it| shared.facts.iter().all(|(name, _)| *name != it.name)) {
        facts.push(format!("\"{}\":{}", fact.name, shown(fact, system)));
    }
    let head = json!({
        "mark": outlet.mark,
        "quantity": outlet.quantity.map(number),
        "location": outlet.location,
        "at": place(&outlet.place, None),
    });
    let head = head.to_string();
    let open = head.strip_suffix('}').unwrap_or(&head);
    format!("{open},\"facts\":{{{}}},\"comments\":{}}}", facts.join(","), shared.comments)
}

fn comment(comment: &Comment, system: System) -> Value {
    let rule = &comment.rule;
    let (says, settle) = said(comment, system);
    let mut values = Map::new();
    for value in &comment.values {
        values.insert(value.name.to_string(), shown(value, system));
    }
    let open = comment.open.as_ref();
    let missing: Vec<&Arc<str>> = open.iter().flat_map(|it| &it.missing).map(|(_, name, _)| name).collect();
    let close = open.iter().flat_map(|it| &it.close).map(|(shown, limit)| {
        json!({ "fact": shown.name, "value": self::shown(shown, system), "limit": usual(limit, system) })
    });
    let absent = open
        .iter()
        .flat_map(|it| &it.absent)
        .map(|(heading, why)| json!({ "heading": heading, "why": figures(why, system) }));
    json!({
        "rule": rule.id,
        "number": rule.number,
        "outcome": comment.outcome.word(),
        "lowered": comment.lowered,
        "basis": rule.basis.word(),
        "title": rule.title,
        "once": rule.once,
        "text": says.or_else(|| settle.clone()).unwrap_or_default(),
        "open": settle,
        "remedy": remedy(comment, system),
        "see": rule.see,
        "rule_at": place(&rule.place, None),
        "amended_by": rule.changed_by.last().or(rule.added_by.as_ref()),
        "values": values,
        "missing": missing,
        "absent": absent.collect::<Vec<_>>(),
        "too_close": close.collect::<Vec<_>>(),
        "would_settle": open.iter().flat_map(|it| &it.would_settle).map(|it| settled(it, system)).collect::<Vec<_>>(),
        "only_usual_answers": open.is_some_and(|it| !it.covered && !it.would_settle.is_empty()),
        "all_answers_agree": open.is_some_and(|it| it.agreed),
    })
}

fn settled(settled: &Settled, system: System) -> Value {
    let mut given = Map::new();
    for (name, _, value) in &settled.given {
        let text = match value {
            Known::Text(text) => json!(text),
            Known::YesNo(yes) => json!(yes),
            Known::List(words) => json!(words),
            Known::Quantity(quantity) => json!(Show::usual(quantity.measure).value(quantity, system)),
        };
        given.insert(name.to_string(), text);
    }
    json!({ "given": given, "outcome": settled.outcome.word() })
}

pub(super) fn shown(shown: &Shown, system: System) -> Value {
    json!(ShownJson(shown, system))
}

/// A quantity by itself, printed the usual way.
pub(super) fn usual(quantity: &Quantity, system: System) -> Value {
    let mut out = Map::new();
    fill(&mut out, quantity);
    out.insert("text".into(), json!(Show::usual(quantity.measure).with_band(quantity, system)));
    Value::Object(out)
}

/// A low, with the text that every page prints.
pub(super) fn shown_low(quantity: &Quantity, system: System) -> Value {
    let mut out = Map::new();
    fill(&mut out, quantity);
    out.insert("text".into(), json!(LOW.with_band(quantity, system)));
    Value::Object(out)
}

pub(super) fn fill(out: &mut Map<String, Value>, quantity: &Quantity) {
    out.insert("value".into(), number(quantity.is));
    if quantity.is_banded() {
        out.insert("low".into(), number(quantity.low));
        out.insert("high".into(), number(quantity.high));
    }
    out.insert("unit".into(), json!(si_symbol(quantity.measure)));
    out.insert("kind".into(), json!(kind(quantity.measure)));
}

pub(super) fn kind(measure: Measure) -> String {
    let name = measure.name();
    name.strip_prefix("a ").or_else(|| name.strip_prefix("an ")).unwrap_or(&name).to_owned()
}

/// Seven significant digits: beyond them a solver's rounding differs between machines.
pub(super) fn number(it: f64) -> Value {
    let rounded: f64 = format!("{it:.6e}").parse().unwrap_or(it);
    #[allow(clippy::cast_possible_truncation, reason = "only whole numbers below 2^53 are cast")]
    if rounded.fract() == 0.0 && rounded.abs() < 1e15 { json!(rounded as i64) } else { json!(rounded) }
}

pub(super) fn place(place: &Location, text: Option<&str>) -> Value {
    json!(LocationJson(place, text))
}

pub(super) fn problem(problem: &Diagnostic) -> Value {
    json!(DiagnosticJson(problem))
}

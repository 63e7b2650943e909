//! The comment sheet: what to revise, clarify and know, outlet by outlet.

use super::comments::{Gathered, gathered, speaks};
use super::page::{heading, labelled, not_used, table, unread, wrapped};
use super::words::{listed, value};
use super::{REMINDER, WIDTH};
use crate::review::{OutletReview, Review};
use crate::ruleset::Outcome;
use crate::units::{Measure, Quantity, Show, System, figures};
use std::fmt::Write;
use std::sync::Arc;

/// Marks and rows printed before the rest is only counted.
const MOST_MARKS: usize = 8;

/// The comment sheet as text.
pub fn text(review: &Review, system: System) -> String {
    let mut out = String::new();
    head(&mut out, review, system);
    let gathered = gathered(review, system);
    schedule(&mut out, review, system);
    comments(&mut out, &gathered);
    questions(&mut out, review);
    assumed(&mut out, review, system);
    unread(&mut out, &review.problems);
    not_used(&mut out, &review.unused);
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

fn head(out: &mut String, review: &Review, system: System) {
    out.push_str("Outdoor water outlets: comment sheet\n\n");
    if let Some(job) = &review.job {
        out.push_str(&labelled("Job", job, WIDTH));
    }
    out.push_str(&labelled("Schedule", &schedule_line(review), WIDTH));
    out.push_str(&labelled("Climate", &climate_line(review, system), WIDTH));
    let code = review.code.as_ref().map_or_else(
        || "not stated; the locally adopted code governs".into(),
        |code| {
            code.edition
                .as_ref()
                .map_or_else(|| code.name.to_string(), |edition| format!("{} {edition}", code.name))
        },
    );
    out.push_str(&labelled("Code", &code, WIDTH));
    if !review.amendments.is_empty() {
        out.push_str(&labelled("Amended", &listed(&review.amendments, usize::MAX), WIDTH));
    }
    for dropped in &review.dropped {
        let line = format!("{} by {}: {}", dropped.number, dropped.by, dropped.reason);
        out.push_str(&labelled("Dropped", &line, WIDTH));
    }
    let tally = review.tally;
    let line = format!(
        "{} to revise, {} to clarify, {} to know; {} without comment, {} not applying.",
        tally.revise, tally.clarify, tally.advise, tally.no_comment, tally.does_not_apply
    );
    out.push_str(&labelled("Comments", &line, WIDTH));
}

fn schedule_line(review: &Review) -> String {
    let stated: Vec<f64> = review.outlets.iter().filter_map(|it| it.quantity).collect();
    let counted = |number: usize| if number == 1 { "1 row".into() } else { format!("{number} rows") };
    // A sum of nothing would print as -0.
    let outlets = match stated.iter().sum::<f64>() {
        _ if stated.is_empty() => "no quantity stated".into(),
        1.0 => "1 outlet".into(),
        sum => format!("{sum} outlets"),
    };
    let count = match review.outlets.len() - stated.len() {
        1 if !stated.is_empty() => format!("{outlets}, and 1 row that states no quantity"),
        silent if silent > 0 && !stated.is_empty() => {
            format!("{outlets}, and {silent} rows that state no quantity")
        }
        _ => outlets,
    };
    format!("{}: {}, {count}", review.schedule, counted(review.outlets.len()))
}

fn climate_line(review: &Review, system: System) -> String {
    let climate = &review.climate;
    let show = Show::usual(Measure::Temperature);
    let temperature = |kelvin: f64| show.value(&Quantity::exact(kelvin, Measure::Temperature), system);
    let place = climate
        .state
        .as_ref()
        .map_or_else(|| climate.name.to_string(), |state| format!("{}, {state}", climate.name));
    let mut line = place;
    if let Some(low) = climate.design_low() {
        let _ = write!(line, ": design low {} ({})", temperature(low), climate.design_low_is());
    }
    if let Some(heating) = climate.heating_996 {
        let _ = write!(line, "; 99.6 % {}", temperature(heating));
    }
    let authority = review.authority.winter_temperature.as_ref();
    match authority {
        Some(figure) => {
            let _ = write!(line, "; the authority's winter temperature {}", temperature(figure.value));
        }
        None => line.push_str("; the authority's own figure is not stated"),
    }
    if let Some(instead) = &review.climate_overridden {
        let _ = write!(line, ". Named on the command line in place of the job's, {instead}");
    }
    line
}

fn schedule(out: &mut String, review: &Review, system: System) {
    heading(out, "Schedule");
    let rows = review.outlets.iter().map(|outlet| {
        let said: Vec<String> = outlet
            .findings
            .comments
            .iter()
            .filter(|it| speaks(it) && !is_general(it.rule.once, it.outcome))
            .map(|it| format!("{} {}", it.rule.number, it.outcome.word()))
            .collect();
        let said = if said.is_empty() { "no comment".into() } else { said.join(", ") };
        let row = outlet.place.row().map_or_else(String::new, |it| it.to_string());
        vec![row, outlet.mark.to_string(), quantity(outlet), what(outlet, system), said]
    });
    out.push_str(&table(&["Row", "Mark", "Qty", "Outlet", "Comments"], rows.collect(), WIDTH));
    out.push('\n');
}

fn quantity(outlet: &OutletReview) -> String {
    outlet.quantity.map_or_else(|| "not stated".into(), |it| it.to_string())
}

/// "wall hydrant, brass, 10 in, rim-joist-batt".
fn what(outlet: &OutletReview, system: System) -> String {
    let said =
        ["outlet.kind", "outlet.barrel", "outlet.nominal_length", "outlet.wall"].iter().filter_map(|name| {
            let fact = outlet.findings.facts.iter().chain(&outlet.stated).find(|it| *it.name == **name)?;
            fact.value.is_ok().then(|| value(fact, system))
        });
    let said: Vec<String> = said.collect();
    if said.is_empty() { "nothing stated".into() } else { said.join(", ") }
}

fn comments(out: &mut String, gathered: &[Gathered<'_>]) {
    let sections = [
        ("To revise", Outcome::Revise, false),
        ("To clarify", Outcome::Clarify, false),
        ("To know", Outcome::Advise, false),
        ("General notes for the job", Outcome::Advise, true),
    ];
    for (title, outcome, once) in sections {
        let is_meant =
            |it: &&Gathered<'_>| it.outcome == outcome && is_general(it.rule.once, it.outcome) == once;
        let mut those = gathered.iter().filter(is_meant).peekable();
        if those.peek().is_none() {
            continue;
        }
        heading(out, title);
        let those: Vec<_> = those.collect();
        for (index, it) in those.iter().enumerate() {
            let same_rule =
                |other: Option<&&Gathered<'_>>| other.is_some_and(|other| other.rule.id == it.rule.id);
            if index > 0 {
                out.push('\n');
            }
            if index == 0 || !same_rule(those.get(index - 1)) {
                let title = format!("{}: {}", it.rule.number, it.rule.title);
                out.push_str(&wrapped(&title, WIDTH, ""));
            }
            comment(out, it, !same_rule(those.get(index + 1)));
        }
    }
}

/// Whether a comment goes to the general notes: a note for the whole job that asks for nothing.
fn is_general(once: bool, outcome: Outcome) -> bool {
    once && outcome == Outcome::Advise
}

/// A comment under its rule's title; what holds for the rule stands once, at its last comment.
fn comment(out: &mut String, it: &Gathered<'_>, is_last: bool) {
    let mut line = |label: &str, text: &str| {
        let block = labelled(label, text, WIDTH - 2);
        out.extend(block.lines().map(|line| format!("  {line}\n")));
    };
    line("Outlets", &marks(&it.outlets));
    if let Some(says) = &it.says {
        line("Comment", says);
    }
    if let Some(settle) = &it.settle {
        line("Open", settle);
    }
    if let Some(remedy) = &it.remedy {
        line("Remedy", remedy);
    }
    if !is_last {
        return;
    }
    if it.outcome == Outcome::Revise {
        line("Why", &it.rule.why);
    }
    let amended = it.rule.changed_by.as_ref().map_or_else(String::new, |by| format!("; as amended by {by}"));
    line("Basis", &format!("{}{amended}", basis(it)));
    if !it.rule.see.is_empty() {
        line("Look in", &it.rule.see.join("; "));
    }
}

fn basis(it: &Gathered<'_>) -> String {
    let word = it.rule.basis.word();
    if it.rule.basis == crate::ruleset::Basis::Calculation {
        format!("{word} only; not by itself a code violation")
    } else {
        word.into()
    }
}

/// Marks, each with its rows.
fn marks(outlets: &[(Arc<str>, u32)]) -> String {
    let mut gathered: Vec<(Arc<str>, Vec<u32>)> = Vec::new();
    for (mark, row) in outlets {
        match gathered.iter_mut().find(|(known, _)| known == mark) {
            Some((_, rows)) => rows.push(*row),
            None => gathered.push((mark.clone(), vec![*row])),
        }
    }
    let said: Vec<Arc<str>> = gathered
        .iter()
        .map(|(mark, rows)| {
            // An outlet without a mark goes by its row already.
            if mark.starts_with("row ") {
                return mark.clone();
            }
            let numbers: Vec<Arc<str>> = rows.iter().map(|it| it.to_string().into()).collect();
            let word = if rows.len() == 1 { "row" } else { "rows" };
            format!("{mark} ({word} {})", listed(&numbers, MOST_MARKS)).into()
        })
        .collect();
    listed(&said, MOST_MARKS)
}

fn questions(out: &mut String, review: &Review) {
    if review.questions.is_empty() {
        return;
    }
    heading(out, "Questions, the one that settles most first");
    let rows = review.questions.iter().map(|it| {
        let settles = format!("{} of {}", it.settles, review.outlets.len());
        vec![it.heading.to_string(), it.about.to_string(), listed(&it.asked_of, MOST_MARKS), settles]
    });
    out.push_str(&table(&["Fact", "Which is", "Asked of", "Rows waiting"], rows.collect(), WIDTH));
    out.push('\n');
}

fn assumed(out: &mut String, review: &Review, system: System) {
    if review.assumed.is_empty() {
        return;
    }
    heading(out, "Taken for granted; a column of the schedule or a line of the job overrides it");
    let rows = review.assumed.iter().map(|it| {
        vec![
            it.fact.heading.to_string(),
            value(&it.fact, system),
            figures(&it.why, system),
            listed(&it.applies_to, 4),
        ]
    });
    out.push_str(&table(&["Fact", "Taken as", "Because", "For"], rows.collect(), WIDTH));
    out.push('\n');
}

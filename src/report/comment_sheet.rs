//! What a comment sheet says, in the same words and figures for every format.

mod notes;

use super::comments::{AskedFacts, gathered};
use super::groups::{Group, groups, is_of_the_row, result_of, rows_of};
use super::left::{unread_or_unused, without_schedule};
use super::page::set_aside;
use super::sentences::complete;
use super::text::schedule_line;
use super::words::{kind, listed, lower, none_of, value, wall};
use super::{climate, remedies, since, spaces};
use crate::diag::{shortened, uncapital};
use crate::expr::Slot;
use crate::facts;
use crate::facts::columns::NOMINAL_LENGTH;
use crate::review::{Comment, Findings, OutletReview, Review, RowOf, Spotted};
use crate::ruleset::{Basis, Outcome};
use crate::units::System;

use notes::{NoteLine, assumed, notes};
use std::collections::BTreeSet;
use std::sync::Arc;

/// The comment sheet of a review.
pub(super) struct CommentSheet<'r> {
    /// Job, climate, code, amendments, result: each line with its label.
    pub head: Vec<(&'static str, String)>,
    /// Rows with the same findings, in the order of the schedule.
    pub types: Vec<TypeLine<'r>>,
    /// One line for each question of the review, in its order: the most useful first. Its place is its number.
    pub questions: Vec<QuestionLine>,
    /// What a result in capitals means.
    pub capitals: &'static str,
    /// Notes for the drawings.
    pub notes: Vec<NoteLine>,
    /// What was assumed, and what the job states of spaces: a heading, and its values without their ranges, each once.
    pub assumed: Vec<(Arc<str>, Vec<Arc<str>>)>,
    /// What was not read, or read with a note.
    pub unread: Vec<String>,
}

/// Rows with the same findings.
pub(super) struct TypeLine<'r> {
    /// Their numbers.
    pub rows: String,
    /// Their marks, cut after a few.
    pub marks: String,
    /// Their marks, each once.
    pub all_marks: Vec<Arc<str>>,
    /// How many outlets; `?` if no row states a quantity.
    pub quantity: String,
    /// What is scheduled, in a few words.
    pub scheduled: String,
    /// The result in a word; in capitals if the adopted code requires a revision.
    pub result: &'static str,
    /// What to do, or to order instead.
    pub action: String,
    /// Where they are.
    pub places: Vec<Arc<str>>,
    /// The comments on the row itself.
    pub comments: Vec<CommentLine<'r>>,
    /// Remedies, the best first.
    pub remedies: Vec<String>,
    /// The first of the rows.
    pub first: &'r OutletReview,
    /// What was found.
    pub findings: &'r Findings,
}

/// A comment in a line or two.
pub(super) struct CommentLine<'r> {
    /// On what it stands: code, list, instr, firm, calc; ask, if it waits for an answer; or a note.
    pub tag: &'static str,
    /// The text.
    pub text: String,
    /// The comment.
    pub comment: &'r Comment,
    /// Whether it stands among the questions.
    pub is_asked: bool,
}

/// A question with the rows and the rules that wait for it.
pub(super) struct QuestionLine {
    /// The question.
    pub sentence: String,
    /// Rows that wait.
    pub rows: Vec<Arc<str>>,
    /// Rules that wait.
    pub rules: Vec<Arc<str>>,
}

impl<'r> CommentSheet<'r> {
    /// The sheet of a review in the reader's units.
    pub fn of(review: &'r Review, system: System) -> Self {
        let (groups, asked) = (groups(review), AskedFacts::of(review));
        Self {
            head: head(review, &groups, system),
            types: groups.iter().map(|group| type_line(group, &asked, review, system)).collect(),
            questions: questions(review),
            capitals: capitals(review),
            notes: notes(&gathered(review, system), review, system),
            // What a job states of a space is not assumed, and decides as much.
            assumed: assumed(review, system).into_iter().chain(spaces::entry(review)).collect(),
            unread: unread(review),
        }
    }
}

fn capitals(review: &Review) -> &'static str {
    match review.code {
        Some(_) => "REVISE in capitals: required by the adopted code.",
        None => "REVISE in capitals: model codes generally require it; state the code for its section.",
    }
}

fn head(review: &Review, groups: &[Group<'_>], system: System) -> Vec<(&'static str, String)> {
    let job = review.job.as_ref().map_or_else(String::new, |job| format!("{job}, "));
    let mut place = climate::in_short(&review.climate, &review.design, &review.authority, system);
    for note in super::borrowed::notes(&review.climate, system) {
        place.push(' ');
        place.push_str(&note);
    }
    let mut head =
        vec![("Job", format!("{job}{}", schedule_line(review))), ("Climate", place), ("Code", code(review))];
    head.extend(super::amended::head(&review.amendment_effects));
    head.push(("Result", result(groups)));
    head.extend(since::head(review));
    head.extend(set_aside(&review.rows_set_aside).map(|rows| {
        ("Set aside", format!("{rows}; `coldsill read` lists them, `include:` in the job overrules it"))
    }));
    head
}

/// The adopted code in a line.
pub(super) fn code(review: &Review) -> String {
    let code = review.code.as_ref().map_or_else(
        || "not stated".to_owned(),
        |code| {
            let edition = code.edition.as_ref().map(|edition| format!(" {edition}"));
            format!("{}{}", code.name, edition.unwrap_or_default())
        },
    );
    let has_sections = review.amendment_effects.adopted.as_ref().is_some_and(|adopted| adopted.has_sections);
    let unmatched = if has_sections { "" } else { "; sections are not matched to a code" };
    format!("{code}; local amendments and the building department govern{unmatched}")
}

/// How many rows and outlets have each result.
fn result(groups: &[Group<'_>]) -> String {
    let words = [
        (Outcome::Revise, "revise"),
        (Outcome::Clarify, "clarify"),
        (Outcome::Advise, "advisory"),
        (Outcome::NoComment, "no comment"),
    ];
    let result = words.iter().filter_map(|(outcome, word)| {
        let of_outcome = groups.iter().filter(|group| group.outcome == *outcome);
        let rows: Vec<&&OutletReview> = of_outcome.flat_map(|group| &group.outlets).collect();
        let outlets: f64 = rows.iter().filter_map(|row| row.quantity).sum();
        let rows_of_count =
            |count: usize| if count == 1 { "1 row".to_owned() } else { format!("{count} rows") };
        let counted = rows_of_count(rows.len());
        let silent = rows.iter().filter(|row| row.quantity.is_none()).count();
        let quantity = match (outlets > 0.0, silent) {
            (false, _) => String::new(),
            (true, 0) => format!(" ({})", outlets_of(outlets)),
            (true, _) => {
                format!(" ({} and {} without a quantity)", outlets_of(outlets), rows_of_count(silent))
            }
        };
        (!rows.is_empty()).then(|| Arc::from(format!("{word} {counted}{quantity}")))
    });
    listed(&result.collect::<Vec<Arc<str>>>(), usize::MAX)
}

fn outlets_of(count: f64) -> String {
    if count == 1.0 { "1 faucet".into() } else { format!("{count} faucets") }
}

fn type_line<'r>(group: &Group<'r>, asked: &AskedFacts, review: &Review, system: System) -> TypeLine<'r> {
    let quantities: Vec<f64> = group.outlets.iter().filter_map(|outlet| outlet.quantity).collect();
    let mut marks: Vec<Arc<str>> = group.outlets.iter().map(|outlet| outlet.mark.clone()).collect();
    marks.dedup();
    let comments = group.findings.comments.iter().filter(|comment| is_of_the_row(comment));
    let row = Spotted::at(&group.outlets[0].location, &review.schedule);
    let scheduled = group.outlets[0].fact(NOMINAL_LENGTH.name);
    TypeLine {
        rows: rows_of(&group.outlets, review),
        marks: listed(&marks, 3),
        all_marks: marks,
        quantity: if quantities.is_empty() { "?".into() } else { quantities.iter().sum::<f64>().to_string() },
        scheduled: self::scheduled(group.outlets[0], system),
        result: result_of(group),
        action: action_of(group, review, system),
        places: group.outlets.iter().filter_map(|outlet| outlet.where_it_is.clone()).collect(),
        comments: comments
            .map(|comment| CommentLine {
                tag: tag(comment),
                text: brief(comment, review, system),
                comment,
                is_asked: asked.has(comment, row),
            })
            .collect(),
        remedies: group
            .findings
            .remedies
            .iter()
            .map(|remedy| remedies::paragraph(remedy, scheduled.as_ref(), system))
            .collect(),
        first: group.outlets[0],
        findings: group.findings,
    }
}

/// "8 in brass frostproof sillcock, rim joist batt".
fn scheduled(outlet: &OutletReview, system: System) -> String {
    let word = |name: &str| {
        let fact = outlet.fact(name)?;
        fact.value.is_ok().then(|| value(&fact, system))
    };
    let kind = word("outlet.kind").map(|of| kind(&of, word("outlet.closes").as_deref()));
    let item = [word("outlet.nominal_length"), word("outlet.barrel"), kind];
    let item: Vec<String> = item.into_iter().flatten().collect();
    let parts: Vec<String> =
        [item.join(" ")].into_iter().chain(outlet.fact("outlet.wall").and_then(|fact| wall(&fact))).collect();
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { "nothing stated".into() } else { parts.join(", ") }
}

/// What to do about the comments that ask for something, in few words.
fn action_of(group: &Group<'_>, review: &Review, system: System) -> String {
    let mut actions: Vec<String> = Vec::new();
    let scheduled = group.outlets[0].fact(NOMINAL_LENGTH.name);
    let proven = group.findings.remedies.first().filter(|_| group.outcome == Outcome::Revise);
    actions.extend(proven.map(|remedy| remedies::in_table(remedy, scheduled.as_ref(), system)));
    let add = |actions: &mut Vec<String>, is_meant: &dyn Fn(&Comment) -> bool| {
        for comment in group.findings.comments.iter().filter(|it| is_meant(it)) {
            let action = complete(&comment.action, system)
                .next()
                .unwrap_or_else(|| format!("see {}", comment.rule.number));
            if !actions.contains(&action) {
                actions.push(action);
            }
        }
    };
    add(&mut actions, &|it| proven.is_none() && it.outcome == Outcome::Revise);
    if proven.is_none() && !actions.is_empty() {
        actions[0].insert_str(0, "not proven: ");
    }
    // A remedy may settle what a question asks, too.
    let still_asked = |number: &&usize| {
        let rules =
            review.questions[**number - 1].types.iter().flat_map(|of| &of.turns).flat_map(|turn| &turn.rules);
        proven.is_none_or(|remedy| {
            rules.into_iter().any(|rule| remedy.leaves.iter().any(|(left, _)| left == rule))
        })
    };
    let numbers: Vec<String> =
        group.questions.iter().filter(still_asked).map(|number| format!("Q{number}")).collect();
    if !numbers.is_empty() {
        actions.push(format!("answer {}", numbers.join(" ")));
    }
    // Unclear although nothing is missing: the row contradicts itself.
    add(&mut actions, &|it| {
        let is_said = complete(&it.action, system).next().is_some();
        proven.is_none() && is_said && it.outcome == Outcome::Clarify && it.open.is_none()
    });
    if actions.is_empty() { "as scheduled".into() } else { actions.join("; ") }
}

fn tag(comment: &Comment) -> &'static str {
    match (comment.outcome, comment.rule.basis) {
        (Outcome::Clarify, _) => "ask",
        (Outcome::Revise, Basis::AdoptedCode) => "CODE",
        (Outcome::Revise, Basis::Listing) => "list",
        (Outcome::Revise, Basis::Instructions) => "instr",
        (Outcome::Revise, Basis::Company) => "firm",
        (Outcome::Revise, Basis::Calculation) => "calc",
        _ => "note",
    }
}

/// The comment in a line or two, and for a revision how to correct it and the section of the code.
fn brief(comment: &Comment, review: &Review, system: System) -> String {
    if let Some(open) = comment.open.as_ref().filter(|open| !open.agreed && !open.missing.is_empty()) {
        let number = |slot: Slot| review.questions.iter().position(|question| question.slot == slot);
        let numbers: Option<BTreeSet<usize>> = open.missing.iter().map(|(slot, ..)| number(*slot)).collect();
        let on = numbers.map_or_else(
            || lower(&open.missing.iter().map(|(_, _, heading)| heading.clone()).collect::<Vec<_>>()),
            |numbers| {
                let named = numbers.into_iter().map(|number| format!("Q{}", number + 1).into());
                listed(&named.collect::<Vec<Arc<str>>>(), usize::MAX)
            },
        );
        return format!("Depends on {on}: {}.", uncapital(&comment.rule.title));
    }
    // A comment to clarify does not say what it would say if its rule were broken.
    if comment.outcome == Outcome::Clarify && comment.open.as_ref().is_some_and(|open| !open.agreed) {
        return undecided(comment, system);
    }
    let mut text = complete(&comment.brief, system).collect::<Vec<_>>().join(" ");
    if text.is_empty() {
        text = format!("{}.", comment.rule.title);
    }
    if comment.outcome == Outcome::Revise {
        // The table says what to do in few words if the rule has them.
        let remedy = comment.remedy.iter().flat_map(|remedy| complete(remedy, system)).next();
        if let Some(remedy) = remedy.filter(|_| comment.action.is_empty()) {
            text.push(' ');
            text.push_str(&first_sentence(&remedy));
        }
        if comment.rule.basis == Basis::AdoptedCode
            && let Some(section) = comment.rule.see.first()
        {
            text.push(' ');
            text.push_str(&section_number(section));
        }
    }
    text
}

/// "Not decided: water at the valve seat can freeze at the design low. No seat temperature: ..."
pub(super) fn undecided(comment: &Comment, system: System) -> String {
    let absent = comment.open.iter().flat_map(|open| &open.absent);
    let why = absent.map(|(heading, why)| format!(" {}", none_of(heading, why, system)));
    format!("Not decided: {}.{}", uncapital(&comment.rule.title), why.collect::<String>())
}

/// "IRC P2903.10 †" of "IRC P2903.10, stop for a hose bibb subject to freezing †"; other references are kept whole.
pub(super) fn section_number(section: &str) -> String {
    // A comma within parentheses is part of the number: "R317.3.1 (2009 to 2021, in excerpts)".
    let is_outside = |at: &usize| section[..*at].matches('(').count() == section[..*at].matches(')').count();
    let comma = section.match_indices(", ").map(|(at, _)| at).find(is_outside);
    let parts = comma.map(|at| (&section[..at], &section[at + 2..]));
    match parts.filter(|(_, subject)| subject.starts_with(char::is_lowercase)) {
        Some((number, subject)) if subject.ends_with('†') => format!("{number} †"),
        Some((number, _)) => number.to_owned(),
        None => section.to_owned(),
    }
}

/// A remedy of several sentences starts with what to do.
fn first_sentence(text: &str) -> String {
    text.split_once(". ").map_or_else(|| text.to_owned(), |(first, _)| format!("{first}."))
}

fn questions(review: &Review) -> Vec<QuestionLine> {
    let line = |question: &crate::review::Question| {
        let mut rows: Vec<Spotted> =
            question.types.iter().flat_map(|of| &of.outlets).map(|(_, row)| *row).collect();
        rows.sort();
        let mut rules: Vec<Arc<str>> = Vec::new();
        for rule in question.types.iter().flat_map(|of| &of.turns).flat_map(|turn| &turn.rules) {
            if !rules.contains(rule) {
                rules.push(rule.clone());
            }
        }
        // By set, then by number.
        rules.sort_by_key(|rule| {
            let (set, number) = rule.rsplit_once(' ').unwrap_or((rule, ""));
            (set.to_owned(), number.parse::<u32>().ok())
        });
        QuestionLine {
            sentence: facts::asked(question.slot).sentence.to_string(),
            rows: rows.iter().map(row_text).collect(),
            rules,
        }
    };
    review.questions.iter().map(line).collect()
}

/// The number of a row of the schedule; of another list, with its name.
pub(super) fn row_text(row: &Spotted) -> Arc<str> {
    match row {
        Spotted { of: RowOf::Schedule, number } => number.to_string().into(),
        other => other.to_string().into(),
    }
}

fn unread(review: &Review) -> Vec<String> {
    let notes =
        review.notes.iter().map(|it| format!("{}: \"{}\" {}", it.location, shortened(&it.text), it.what));
    let notes = notes.map(|line| without_schedule(review, line));
    unread_or_unused(review).into_iter().chain(notes).collect()
}

//! The rules in force: the list, one rule, and the test cases.

use crate::lists::page;
use coldsill::diag::{Diagnostic, Location};
use coldsill::facts::World;
use coldsill::report::{
    WIDTH, amended_head, amended_rule, by_whom, change, labelled, location_text, revise_on, wrapped,
};
use coldsill::review::{CaseResult, lacking_cases, try_cases};
use coldsill::ruleset::{AmendedBy, Changed, Rule, Setting, Table};

/// Marks a reference that was not checked.
const NOT_CHECKED: char = '†';

/// The rules by number and id, and the settings and tables by name.
pub fn list(world: &World) -> String {
    let rules = &world.job().rules;
    let mut text = head(world);
    for set in &rules.sets {
        let prefix = format!("{}/", set.name);
        let mut own = rules.rules.iter().filter(|it| it.id.starts_with(&prefix)).peekable();
        if own.peek().is_some() {
            let title = format!("{} ({})", set.about, location_text(&Location::whole(&set.location.file)));
            text.push_str(&wrapped(&title, WIDTH, ""));
            text.extend(own.map(short));
            text.push('\n');
        }
    }
    let of_code = rules.adopted.iter().map(|it| (&it.name, &it.file));
    let of_amendments = rules.amendments.iter().map(|it| (&it.name, &it.location.file));
    for (name, file) in of_code.chain(of_amendments) {
        let prefix = format!("{name}/");
        let mut own = rules.rules.iter().filter(|it| it.id.starts_with(&prefix)).peekable();
        if own.peek().is_some() {
            let title = format!("Added by {name} ({})", location_text(&Location::whole(file)));
            text.push_str(&wrapped(&title, WIDTH, ""));
            text.extend(own.map(short));
            text.push('\n');
        }
    }
    let settings = rules.settings.iter().map(|it| {
        let by = it.changes.last().map_or_else(String::new, |last| format!(" (set by {})", last.by.name));
        vec![it.name.to_string(), format!("{}{by}", it.text), it.about.to_string()]
    });
    text.push_str(&page(&["Setting", "Value", "Meaning"], settings.collect()));
    if !rules.tables.is_empty() {
        let tables = rules.tables.iter().map(|it| {
            let by: Vec<&str> = it.by.iter().map(|key| &*key.name).collect();
            vec![it.name.to_string(), by.join(", "), it.about.to_string()]
        });
        text.push('\n');
        text.push_str(&page(&["Table", "By", "Meaning"], tables.collect()));
    }
    text
}

/// The preset and the changes by amendments, above the list.
fn head(world: &World) -> String {
    let job = world.job();
    let mut text: String = amended_head(&job.rules.amendment_effects(&job.revise_on))
        .iter()
        .map(|(label, line)| labelled(label, line, WIDTH))
        .collect();
    if let Some(adopted) = &job.rules.adopted {
        text.push_str(&labelled("Code", &format!("{}, rules/codes/{}", adopted.name, adopted.file), WIDTH));
    }
    if let Some(line) = revise_on(&job.revise_on, job.revise_on_set_by.as_ref()) {
        text.push_str(&labelled("Revise on", &line, WIDTH));
    }
    if !text.is_empty() {
        text.push('\n');
    }
    text
}

/// A rule on two lines: its id has a line of its own, to be copied.
fn short(rule: &Rule) -> String {
    let once = if rule.once { ", once for the job" } else { "" };
    let by = amended_rule(rule.added.as_ref().map(|it| &*it.name), &rule.changed_by());
    let line =
        format!("{}: {} ({}, {}{once}{by})", rule.number, rule.title, rule.outcome.word(), rule.basis.word());
    wrapped(&line, WIDTH, "") + &wrapped(&rule.id, WIDTH, "    ")
}

/// One rule, by its number, its id, or its id without the set.
pub fn one(world: &World, asked: &str) -> Result<String, Diagnostic> {
    let rules = &world.job().rules;
    let asked = asked.trim();
    let is_meant = |it: &&Rule| {
        let tail = it.id.rsplit_once('/').map_or("", |(_, tail)| tail);
        [&*it.id, &*it.number, tail].iter().any(|name| name.eq_ignore_ascii_case(asked))
    };
    let Some(rule) = rules.rules.iter().find(is_meant) else {
        let names = rules.rules.iter().flat_map(|it| [&*it.id, &*it.number]);
        let what = format!("there is no rule \"{asked}\"");
        let problem = Diagnostic::new(Location::whole("rules"), what).nearest(asked, names);
        if let Some(gone) =
            rules.dropped.iter().find(|it| *it.rule == *asked || it.number.eq_ignore_ascii_case(asked))
        {
            let what = format!("is dropped: {} ({})", gone.reason, by_whom(&gone.by));
            return Err(Diagnostic::new(Location::whole("rules"), what).text(asked));
        }
        return Err(if problem.nearest.is_some() {
            problem
        } else {
            problem.expected("a number such as Freezing 1 or an id, as `coldsill rules` lists them")
        });
    };
    let mut text = wrapped(&format!("{}: {}", rule.number, rule.title), WIDTH, "");
    let mut line = |label: &str, words: &str| text.push_str(&labelled(label, words, WIDTH));
    let from = rule.added.as_ref().map_or_else(|| location_text(&rule.location), by_whom);
    line("Rule", &format!("{} ({from})", rule.id));
    line("Outcome", &format!("{}{}", rule.outcome.word(), if rule.once { ", once for the job" } else { "" }));
    line("Basis", rule.basis.word());
    line("Why", &rule.why);
    if let Some(applies) = &rule.applies {
        line("Applies", applies.text());
    }
    line("Needs", rule.needs.text());
    line("Says", rule.says.text());
    if let Some(remedy) = &rule.remedy {
        line("Remedy", remedy.text());
    }
    if let Some(brief) = &rule.brief {
        line("In brief", brief.text());
    }
    if let Some(action) = &rule.action {
        line("Do", action.text());
    }
    if !rule.see.is_empty() {
        line("Reference", &rule.see.join("; "));
        if rule.see.iter().any(|source| source.contains(NOT_CHECKED)) {
            line("", &format!("{NOT_CHECKED} Section or value not checked against the adopted edition."));
        }
    }
    for it in &rule.changes {
        let told = Changed {
            what: rule.number.clone(),
            rule: None,
            part: Some(it.part),
            was: it.was.clone(),
            is: it.is.clone(),
            by: it.by.clone(),
        };
        line("Changed", &change(&told));
    }
    for slot in rule.slots() {
        if let Some(setting) = rules.setting(slot) {
            line("Setting", &setting_whole(setting));
        }
    }
    for case in &rule.cases {
        line("Case", &format!("{}: {} ({})", case.name, case.gives.word(), location_text(&case.location)));
    }
    text.extend(rule.slots().into_iter().filter_map(|slot| rules.table(slot)).map(table_whole));
    Ok(text)
}

/// "freezing/margin 8 °F, degrees kept above freezing at the seat; between 0 °F and 20 °F; house.yaml line 4, was 4 °F".
fn setting_whole(it: &Setting) -> String {
    let from = it.changes.last().map_or_else(|| location_text(&it.location), |last| by_whom(&last.by));
    let was: String = it.changes.iter().rev().map(|change| format!(", was {}", change.was)).collect();
    format!("{} {}{was}: {}; {}; within {}", it.name, it.text, it.about, from, it.bounds())
}

fn table_whole(table: &Table) -> String {
    let from = |it: &AmendedBy| by_whom(it);
    let from = table.changes.last().map_or_else(|| location_text(&table.location), from);
    let mut headings: Vec<&str> = Vec::new();
    for (heading, _) in table.rows.iter().flat_map(|row| &row.written) {
        if !headings.contains(&&**heading) {
            headings.push(heading);
        }
    }
    let rows = table.rows.iter().map(|row| {
        let cell = |heading: &&str| {
            let found = row.written.iter().find(|(own, _)| **own == **heading);
            found.map_or_else(String::new, |(_, text)| text.to_string())
        };
        headings.iter().map(cell).collect()
    });
    let title = wrapped(&format!("{}, {} ({from})", table.name, table.about), WIDTH, "");
    format!("\n{title}{}", page(&headings, rows.collect()))
}

/// The failed and missing cases, and whether there are none. The cases of a set test the set as it was written; those of
/// an amendment test what it adds.
pub fn cases(base: &World, amended: &World) -> (String, bool) {
    let is_added = |it: &CaseResult| base.job().rules.rule(&it.rule).is_none();
    let mut results = try_cases(base);
    results.extend(try_cases(amended).into_iter().filter(is_added));
    let failed: Vec<&CaseResult> = results.iter().filter(|it| it.found != it.wanted).collect();
    let mut text = String::new();
    if !failed.is_empty() {
        let rows = failed.iter().map(|it| {
            vec![
                it.rule.to_string(),
                it.case.to_string(),
                it.wanted.word().into(),
                it.found.word().into(),
                it.location.to_string(),
            ]
        });
        text.push_str(&page(&["Rule", "Case", "Expected", "Found", "Location"], rows.collect()));
        text.push('\n');
    }
    let lacking = lacking(amended);
    text.push_str(&lacking);
    let outcome = if failed.is_empty() { "all passed".into() } else { format!("{} failed", failed.len()) };
    text.push_str(&format!("{} cases run, {outcome}.\n", results.len()));
    (text, failed.is_empty() && lacking.is_empty())
}

/// Rules that can be unresolved and have no case for that.
fn lacking(world: &World) -> String {
    let lacking = lacking_cases(world);
    let lines = lacking.iter().map(|it| {
        let what = format!(
            "{}: {} has no case that gives \"clarify\": add one without {}, which leaves the rule unresolved",
            it.location,
            it.rule,
            it.without.join(", ")
        );
        wrapped(&what, WIDTH, "")
    });
    lines.collect()
}

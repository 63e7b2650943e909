//! Loads a job: resolves the climate, schedule, rule files and walls that it names.

use super::answers::Answers;
use super::climate::{self, climates, find_climate, leave_out_of_another_place};
use super::design::{self, Design};
use super::files::{Brought, beside, bring, is_yaml};
use super::places;
use super::read::{self, JobFile, StatedClimate};
use super::rules::{self, Presets, Wanted, revise_on, rules_of};
use super::sources::Sources;
use super::vocabulary::Words;
use super::walls::{hidden, leave_to_default, with_built_in};
use super::{Job, Products, Scope, Vocabulary};
use crate::climate::Climate;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Files, Kind, Node, Remembered, tables};
use crate::ruleset::RuleFile;
use crate::schedule::{self, Cell, NamedSheet, ReadOptions, Sheets, Unused};
use std::sync::Arc;

/// Loads a job. Returns all errors that prevent a review at once; errors of single cells are in the schedule. An error on
/// a line of a file quotes that line.
pub fn load(request: &Sources<'_>, words: &Words<'_>) -> Result<Job, Diagnostics> {
    load_for(request, words, For::Review)
}

/// Loads a job for its schedule only: its climate and its own rules are not resolved.
pub fn load_schedule_only(request: &Sources<'_>, words: &Words<'_>) -> Result<Job, Diagnostics> {
    load_for(request, words, For::ScheduleOnly)
}

/// What a job is loaded for.
#[derive(Clone, Copy, PartialEq)]
enum For {
    Review,
    ScheduleOnly,
}

fn load_for(request: &Sources<'_>, words: &Words<'_>, what_for: For) -> Result<Job, Diagnostics> {
    let files = Remembered::new(request.files);
    let mut loaded = load_from(&Sources { files: &files, ..*request }, words, what_for);
    match &mut loaded {
        Ok(job) => files.quote(&mut job.schedule.problems),
        Err(problems) => files.quote(problems),
    }
    loaded
}

fn load_from(request: &Sources<'_>, words: &Words<'_>, what_for: For) -> Result<Job, Diagnostics> {
    let mut problems = Diagnostics::new();
    let brought = bring(request.files, request.source);
    let is_job = matches!(&brought, Ok(Brought::Values(node)) if !schedule::is_listed(node));
    let mut said = match &brought {
        Ok(Brought::Values(node)) if is_job => read::read(node, words.vocabulary, &mut problems),
        Err(problem) if is_yaml(request.source) => return Err(problem.clone().into()),
        _ => JobFile::default(),
    };
    let is_reviewed = what_for == For::Review;
    let rule_files = if is_reviewed {
        rules::bring(request.files, request.source, &said.rules, request.rules, &mut problems)
    } else {
        Vec::new()
    };
    read::put_stated(&rule_files, &mut said, &mut problems);
    let mut elsewhere = Vec::new();
    let climate = match what_for {
        For::Review => {
            let before = problems.len();
            let climates = climates(request, &said, &mut problems);
            // Places of a file with an error are skipped: do not report them as unknown.
            let all_read = problems.len() == before;
            let found =
                all_read.then(|| find_climate(request, &climates, is_job, &said, &mut problems)).flatten();
            if let Some(climate) = &found {
                elsewhere = leave_out_of_another_place(&mut said, request, &climates, climate);
            }
            found
        }
        For::ScheduleOnly => Some(Arc::new(Climate::unknown())),
    };
    let design = climate.as_ref().and_then(|climate| match what_for {
        For::Review => {
            let chosen = design::chosen(request.design_low, said.design_low.as_ref(), &mut problems);
            design::resolve(chosen, climate, &said.authority, &mut problems)
        }
        For::ScheduleOnly => Some(Design::unknown(climate)),
    });
    problems.extend(design.as_ref().and_then(|design| design::starts_below(&said.spell, design)));
    let sheets = find_schedule(request, words, (!is_job).then_some(brought), &said, &mut problems);
    let code = request.presets.adopted(said.code.take(), &mut problems);
    let wanted = Wanted {
        base: request.base_rules,
        presets: request.presets,
        preset_of_job: said.preset.as_ref().filter(|_| is_reviewed),
        code: code.as_ref().filter(|_| is_reviewed),
        brought: &rule_files,
    };
    let rules = rules_of(&wanted, words, &mut problems);
    let products = said.products.as_ref().and_then(|node| {
        Products::read(node, request.source, request.files, words.vocabulary, &mut problems)
    });
    let places = said
        .places
        .as_ref()
        .and_then(|node| places::read(node, request.source, request.files, words.vocabulary, &mut problems));
    if said.places.is_none()
        && let Some(homes) = said.homes.first()
    {
        let what = "is a number of homes per plan option, but no places are listed";
        problems.push(
            Diagnostic::new(homes.location.clone(), what)
                .text(&*homes.option)
                .expected("`places:` beside it"),
        );
    }
    let answers = find_answers(request, said.answers.as_ref(), words.vocabulary, &mut problems);
    let overridden = match (&said.climate, request.climate) {
        (Some(StatedClimate::Inline(climate)), Some(_)) => Some(climate.name.clone()),
        (Some(StatedClimate::Named(node)), Some(_)) => node.text("climate", &mut problems).map(Into::into),
        _ => None,
    };
    let walls = with_built_in(said.walls);
    let (Some(climate), Some(design), Some(Sheets { schedule, places: on_a_sheet }), Some(rules)) =
        (climate, design, sheets, rules)
    else {
        return Err(problems);
    };
    let (revise_on, revise_on_set_by) = revise_on(&rules, said.revise_on, request.presets.chosen.is_some());
    let mut job = Job {
        name: said.name,
        file: is_job.then(|| request.source.into()),
        climate,
        design,
        climate_overridden: overridden,
        code,
        authority: said.authority,
        exposure: said.exposure,
        soil: said.soil,
        county: said.county,
        products,
        costs: said.costs,
        spaces: said.spaces,
        spell: said.spell,
        walls,
        defaults: said.defaults,
        revise_on,
        revise_on_set_by,
        schedule,
        answers: answers.iter().map(|it| it.file.clone()).collect(),
        rules,
    };
    if let Some(places) = places.or(on_a_sheet) {
        places::put(&mut job, places, &said.homes, words.vocabulary);
    }
    // A wall with an error in its description is skipped: do not report it as unknown.
    let walls_are_right = problems.is_empty();
    for default in job.defaults.iter().filter(|cell| cell.term == words.vocabulary.wall) {
        if walls_are_right && job.wall(&default.text).is_none() {
            problems.push(job.unknown_wall_error(&default.text, &default.location));
        }
    }
    let usual = usual_model(&job, words.vocabulary);
    if let (Some(products), Some(cell)) = (&job.products, usual)
        && !products.has(&cell.text)
    {
        problems.push(products.no_model(&cell.text, &cell.location));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut job = check_rows(job, &answers, words);
    if job.schedule.rows.is_empty() {
        let what = "has no faucets left: the answers set all of them aside";
        return Err(Diagnostic::new(Location::whole(&job.schedule.file), what).into());
    }
    job.schedule.unused.extend(elsewhere);
    Ok(job)
}

/// A job with rules only: no outlets, and a climate without figures.
pub fn rules_only_job(
    files: &dyn Files,
    base: &[RuleFile<'_>],
    amendments: &[String],
    presets: Presets<'_>,
    words: &Words<'_>,
) -> Result<Job, Diagnostics> {
    let mut problems = Diagnostics::new();
    let files = Remembered::new(files);
    let brought = rules::bring(&files, "", &[], amendments, &mut problems);
    let mut said = JobFile::default();
    read::put_stated(&brought, &mut said, &mut problems);
    let code = presets.adopted(said.code.take(), &mut problems);
    let wanted = Wanted { base, presets, preset_of_job: None, code: code.as_ref(), brought: &brought };
    let rules = rules_of(&wanted, words, &mut problems);
    let (Some(rules), true) = (rules, problems.is_empty()) else {
        files.quote(&mut problems);
        return Err(problems);
    };
    let (revise_on, revise_on_set_by) = revise_on(&rules, None, presets.chosen.is_some());
    Ok(Job { revise_on, revise_on_set_by, ..Job::of_rules(rules, code, said.authority) })
}

/// The model of rows that name none, if the job states one.
fn usual_model<'j>(job: &'j Job, vocabulary: &Vocabulary) -> Option<&'j Cell> {
    job.defaults.iter().find(|cell| cell.term == vocabulary.model)
}

/// Checks the rows: an unknown wall becomes a cell without a value and a located error; an unknown model, or a row that
/// differs from its product data, is reported. Answers fill blanks.
fn check_rows(mut job: Job, answers: &[Answers], words: &Words<'_>) -> Job {
    let vocabulary = words.vocabulary;
    let mut schedule = std::mem::take(&mut job.schedule);
    let cells = schedule.rows.iter_mut().flat_map(|row| &mut row.cells);
    // Words for a wall in a description have no value: they do not name one.
    let walls = cells.filter(|cell| cell.term == vocabulary.wall && cell.value.is_some());
    schedule.problems.extend(job.resolve_walls(walls, &mut schedule.notes));
    leave_to_default(&job, vocabulary.wall, &mut schedule);
    let (answer_problems, not_asked) = Answers::put(answers, &mut schedule, &job, words);
    let usual = usual_model(&job, vocabulary).map(|cell| &*cell.text);
    let (wrong, unused) =
        job.products.as_ref().map(|it| it.check(&mut schedule, usual, vocabulary)).unwrap_or_default();
    // Sort by row, the schedule's first, since walls were resolved last.
    let file = schedule.file.clone();
    schedule.problems.sort_by_key(|Diagnostic { location, .. }| {
        (location.file != file, location.sheet.as_ref().map(|sheet| sheet.number), location.line_or_row())
    });
    schedule.problems.extend(answer_problems);
    schedule.problems.extend(wrong);
    schedule.unused.extend(not_asked);
    schedule.unused.extend(unused);
    schedule.unused.extend(hidden(&job.walls));
    schedule.unused.extend(climate::hidden(&job.climate));
    job.schedule = schedule;
    job
}

/// Reads the schedule. `brought` is the source itself, if it is a schedule and not a job.
fn find_schedule(
    request: &Sources<'_>,
    words: &Words<'_>,
    brought: Option<Result<Brought, Diagnostic>>,
    said: &JobFile,
    problems: &mut Diagnostics,
) -> Option<Sheets> {
    let (path, brought) = match (brought, &said.schedule) {
        (Some(brought), _) => (request.source.to_owned(), brought),
        (None, Some(schedule)) => {
            let path = beside(request.source, &schedule.file);
            let brought = bring(request.files, &path);
            (path, brought)
        }
        (None, None) => return None,
    };
    let vocabulary = words.vocabulary;
    let own = vocabulary.facts_in(Scope::is_kept_by_copies);
    let options = ReadOptions {
        vocabulary,
        mark: vocabulary.mark,
        columns: &said.columns.names,
        own: &own,
        is_mixed: false,
        select: Some(&said.chosen),
    };
    let option = Location::whole("--sheet");
    let of_job = said.schedule.as_ref().and_then(|it| it.sheet.as_ref());
    let sheet = request.sheet.map(|name| (name, &option));
    let sheet = sheet.or(of_job.map(|(name, location)| (name.as_str(), location)));
    let sheet = sheet.map(|(name, location)| NamedSheet { name, location, of: "the schedule" });
    let read = match brought {
        Ok(Brought::Values(node)) => {
            if let Some(sheet) = sheet {
                problems.push(sheet.of_no_workbook());
                return None;
            }
            Ok(Sheets { schedule: schedule::read_listed(&node, &options, problems)?, places: None })
        }
        Ok(Brought::Tables(bytes)) => {
            tables(&path, &bytes).and_then(|it| schedule::choose(&it, sheet, &options))
        }
        Err(problem) => Err(problem),
    };
    let mut sheets = read.map_err(|problem| problems.push(problem)).ok()?;
    let schedule = &mut sheets.schedule;
    if schedule.rows.is_empty() {
        problems.push(Diagnostic::new(Location::whole(&path), "has headings but no faucets"));
        return None;
    }
    said.columns.check(schedule);
    if let Some(places) = sheets.places.take_if(|_| said.places.is_some()) {
        let why = "a sheet of places; the job names another list of them";
        let names = places.notes.into_iter().take(1);
        schedule.unused.extend(names.map(|it| Unused { location: it.location, text: it.text, why }));
    }
    Some(sheets)
}

/// Reads the answers of the command line and of the job, newest first.
fn find_answers(
    request: &Sources<'_>,
    said: Option<&Node>,
    vocabulary: &Vocabulary,
    problems: &mut Diagnostics,
) -> Vec<Answers> {
    // A later file is newer, and the command line is newer than the job.
    let nodes: Vec<&Node> = match said {
        Some(Node { kind: Kind::List(entries), .. }) => entries.iter().collect(),
        one => one.into_iter().collect(),
    };
    let own = nodes.into_iter().rev().filter_map(|node| node.text("answers", problems));
    let own: Vec<String> = own.map(|path| beside(request.source, path)).collect();
    let paths = request.answers.iter().rev().cloned().chain(own);
    let read = paths.filter_map(|path| {
        Answers::read(&path, request.files, vocabulary).map_err(|problem| problems.push(problem)).ok()
    });
    let mut read: Vec<Answers> = read.collect();
    // Those of a previous review are the oldest.
    read.sort_by_key(|answers| answers.is_carried);
    read
}

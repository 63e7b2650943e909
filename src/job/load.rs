//! Finds everything a job names: climate, schedule, rule files, walls.

use super::read::{self, ClimateSaid, Said};
use super::{Job, Products};
use crate::climate::{Climate, Library};
use crate::diag::{Place, Problem, Spot};
use crate::expr::Names;
use crate::input::{Files, Node, Remembered, table, text, yaml};
use crate::ruleset::{self, Basis, RuleFile, Rules};
use crate::schedule::{self, Cell, Read, Schedule, Term};
use crate::wall::{BUILT_IN, Wall};
use std::path::Path;
use std::sync::Arc;

/// What a person brings.
#[derive(Clone, Copy)]
pub struct Sources<'r> {
    /// Hands over files.
    pub files: &'r dyn Files,
    /// A schedule or a job file.
    pub source: &'r str,
    /// A climate that takes the place of the job's.
    pub climate: Option<&'r str>,
    /// Amendments after the job's own.
    pub rules: &'r [String],
    /// The base rule sets.
    pub base_rules: &'r [RuleFile<'r>],
    /// The climates there are.
    pub climates: &'r Library,
}

/// The words that may be used: terms of a schedule, facts in rules.
#[derive(Clone, Copy)]
pub struct Words<'r> {
    /// The terms a schedule may use.
    pub vocabulary: &'r [Term],
    /// The term that names an outlet.
    pub mark: usize,
    /// The facts rules may use.
    pub facts: &'r dyn Names,
    /// The first slot after those of the facts.
    pub first_setting: u16,
}

/// Loads a job. All problems that keep a review from being made come at once; problems of single cells are in the
/// schedule. A problem on a line of a file carries that line.
pub fn load(request: &Sources<'_>, words: &Words<'_>) -> Result<Job, Vec<Problem>> {
    let files = Remembered::new(request.files);
    let mut loaded = load_from(&Sources { files: &files, ..*request }, words);
    match &mut loaded {
        Ok(job) => files.quote(&mut job.schedule.problems),
        Err(problems) => files.quote(problems),
    }
    loaded
}

fn load_from(request: &Sources<'_>, words: &Words<'_>) -> Result<Job, Vec<Problem>> {
    let mut problems = Vec::new();
    let is_job = is_yaml(request.source);
    let said = if is_job {
        let node = parse(request.files, request.source).map_err(|problem| vec![problem])?;
        read::read(&node, words.vocabulary, &mut problems)
    } else {
        Said::default()
    };
    let climate = find_climate(request, is_job, &said, &mut problems);
    let schedule = find_schedule(request, words, is_job, said.schedule.as_ref(), &mut problems);
    let rules = find_rules(request, words, &said.rules, &mut problems);
    let products = said.products.as_ref().and_then(|node| {
        Products::read(node, request.source, request.files, words.vocabulary, &mut problems)
    });
    let overridden = match (&said.climate, request.climate) {
        (Some(ClimateSaid::Inline(climate)), Some(_)) => Some(climate.name.clone()),
        (Some(ClimateSaid::Named(node)), Some(_)) => node.text("climate", &mut problems).map(Into::into),
        _ => None,
    };
    let own = said.walls.into_iter().map(Arc::new);
    let walls: Vec<Arc<Wall>> = own.chain(BUILT_IN.iter().cloned().map(Arc::new)).collect();
    let (Some(climate), Some(schedule), Some(rules)) = (climate, schedule, rules) else {
        return Err(problems);
    };
    let job = Job {
        name: said.name,
        file: is_job.then(|| request.source.into()),
        climate,
        climate_overridden: overridden,
        code: said.code,
        authority: said.authority,
        exposure: said.exposure,
        soil: said.soil,
        products,
        spaces: said.spaces,
        spell: said.spell,
        walls,
        defaults: said.defaults,
        revise_on: said.revise_on.unwrap_or_else(|| Basis::WORDS.iter().map(|(_, basis)| *basis).collect()),
        schedule,
        rules,
    };
    // A wall described with a problem is not there to be found.
    let walls_are_right = problems.is_empty();
    for default in job.defaults.iter().filter(|cell| words.vocabulary[cell.term].fact == "outlet.wall") {
        if walls_are_right && job.wall(&default.text).is_none() {
            problems.push(job.no_wall(&default.text, &default.place));
        }
    }
    let usual = usual_model(&job, words.vocabulary);
    if let (Some(products), Some(cell)) = (&job.products, usual)
        && products.of(&cell.text).is_none()
    {
        problems.push(products.no_model(&cell.text, &cell.place));
    }
    if problems.is_empty() { Ok(check_rows(job, words.vocabulary)) } else { Err(problems) }
}

/// A job of nothing but rules: no outlets, a climate of which nothing is known.
pub fn of_rules(
    files: &dyn Files,
    base: &[RuleFile<'_>],
    amendments: &[String],
    words: &Words<'_>,
) -> Result<Job, Vec<Problem>> {
    let mut problems = Vec::new();
    let files = Remembered::new(files);
    let rules = with_files(&files, base, amendments, words, &mut problems);
    let (Some(rules), true) = (rules, problems.is_empty()) else {
        files.quote(&mut problems);
        return Err(problems);
    };
    Ok(Job {
        name: None,
        file: None,
        climate: Arc::new(Climate::unknown()),
        climate_overridden: None,
        code: None,
        authority: super::Authority::default(),
        exposure: None,
        soil: None,
        products: None,
        spaces: std::collections::BTreeMap::new(),
        spell: super::SpellSaid::default(),
        walls: BUILT_IN.iter().cloned().map(Arc::new).collect(),
        defaults: Vec::new(),
        revise_on: Basis::WORDS.iter().map(|(_, basis)| *basis).collect(),
        schedule: Schedule { file: "".into(), rows: Vec::new(), unused: Vec::new(), problems: Vec::new() },
        rules,
    })
}

/// The model of rows that name none, where the job gives one.
fn usual_model<'j>(job: &'j Job, vocabulary: &[Term]) -> Option<&'j Cell> {
    job.defaults.iter().find(|cell| vocabulary[cell.term].fact == "outlet.model")
}

/// A wall in the schedule that there is not becomes a cell without a value and a located problem; a model that there is
/// not, or of which a row says what the product data does not, is told.
fn check_rows(mut job: Job, vocabulary: &[Term]) -> Job {
    let mut schedule = std::mem::replace(
        &mut job.schedule,
        Schedule { file: "".into(), rows: Vec::new(), unused: Vec::new(), problems: Vec::new() },
    );
    for cell in schedule.rows.iter_mut().flat_map(|row| &mut row.cells) {
        if vocabulary[cell.term].fact != "outlet.wall" {
            continue;
        }
        match job.wall(&cell.text) {
            Some(wall) => cell.value = Some(Read::Text(wall.key.clone())),
            None => {
                schedule.problems.push(job.no_wall(&cell.text, &cell.place));
                cell.value = None;
            }
        }
    }
    let usual = usual_model(&job, vocabulary).map(|cell| &*cell.text);
    let (wrong, unused) =
        job.products.as_ref().map(|it| it.check(&mut schedule, usual, vocabulary)).unwrap_or_default();
    // In the order of the rows, as people look them up; walls are looked at last.
    schedule.problems.sort_by_key(|problem| match problem.place.spot {
        Spot::Row(row, _) | Spot::Line(row, _) => row,
        Spot::Whole => 0,
    });
    schedule.problems.extend(wrong);
    schedule.unused.extend(unused);
    job.schedule = schedule;
    job
}

/// Whether a file is YAML, by its name.
pub(super) fn is_yaml(path: &str) -> bool {
    [".yaml", ".yml", ".json"].iter().any(|end| path.to_lowercase().ends_with(end))
}

pub(super) fn parse(files: &dyn Files, path: &str) -> Result<Node, Problem> {
    let bytes = files.read(path)?;
    yaml::parse(path, text::decode(path, &bytes)?)
}

fn find_climate(
    request: &Sources<'_>,
    is_job: bool,
    said: &Said,
    problems: &mut Vec<Problem>,
) -> Option<Arc<Climate>> {
    let found = match (request.climate, &said.climate) {
        (Some(word), _) => request.climates.find(word, &Place::whole("--climate")),
        (None, Some(ClimateSaid::Inline(climate))) => Ok(Arc::new(climate.clone())),
        (None, Some(ClimateSaid::Named(node))) => {
            let word = node.text("climate", problems)?;
            request.climates.find(word, &node.place)
        }
        // A climate that was described with a problem has told it already.
        (None, None) if !problems.is_empty() && is_job => return None,
        (None, None) => Err(Problem::new(Place::whole(request.source), "no climate is given")
            .expected("--climate PLACE, or `climate:` in the job; `coldsill climates` lists them")),
    };
    found.map_err(|problem| problems.push(problem)).ok()
}

fn find_schedule(
    request: &Sources<'_>,
    words: &Words<'_>,
    is_job: bool,
    said: Option<&Node>,
    problems: &mut Vec<Problem>,
) -> Option<Schedule> {
    let path = match said {
        Some(node) => beside(request.source, node.text("schedule", problems)?),
        None if is_job => return None,
        None => request.source.to_owned(),
    };
    const NO_TABLES: [&str; 6] = [".md", ".html", ".htm", ".pdf", ".doc", ".docx"];
    if NO_TABLES.iter().any(|end| path.to_lowercase().ends_with(end)) {
        let problem = Problem::new(Place::whole(&path), "is not a table");
        problems.push(problem.expected("a schedule saved as CSV"));
        return None;
    }
    let read = || {
        let bytes = request.files.read(&path)?;
        let table = table::parse(&path, text::decode(&path, &bytes)?)?;
        schedule::read(&table, words.vocabulary, words.mark)
    };
    let schedule = read().map_err(|problem| problems.push(problem)).ok()?;
    if schedule.rows.is_empty() {
        problems.push(Problem::new(Place::whole(&path), "has headings but no outlets below them"));
        return None;
    }
    Some(schedule)
}

fn find_rules(
    request: &Sources<'_>,
    words: &Words<'_>,
    said: &[Node],
    problems: &mut Vec<Problem>,
) -> Option<Rules> {
    let own =
        said.iter().filter_map(|node| node.text("rule file", problems).map(|it| beside(request.source, it)));
    let paths: Vec<String> =
        own.collect::<Vec<_>>().into_iter().chain(request.rules.iter().cloned()).collect();
    with_files(request.files, request.base_rules, &paths, words, problems)
}

/// The base rules and those of the files named, in order.
fn with_files(
    files: &dyn Files,
    base: &[RuleFile<'_>],
    paths: &[String],
    words: &Words<'_>,
    problems: &mut Vec<Problem>,
) -> Option<Rules> {
    let mut read = Vec::new();
    for path in paths {
        match files.read(path) {
            Ok(bytes) => read.push((path, bytes)),
            Err(problem) => problems.push(problem),
        }
    }
    let mut all = base.to_vec();
    all.extend(read.iter().map(|(name, bytes)| RuleFile { name, bytes }));
    ruleset::load(&all, words.facts, words.first_setting).map_err(|found| problems.extend(found)).ok()
}

/// A path named in a file is taken from that file's folder.
pub(super) fn beside(file: &str, path: &str) -> String {
    let folder = Path::new(file).parent().unwrap_or_else(|| Path::new(""));
    folder.join(path).to_string_lossy().into_owned()
}

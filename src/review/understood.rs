//! What was understood of a schedule, cell by cell, before any review: no rule is tried and no climate is needed.

use super::Shown;
use super::alike::Identity;
use super::blanks::{Blank, Blanks};
use super::shown::shown;
use crate::diag::{Diagnostic, Location, Position};
use crate::expr::Slot;
use crate::facts::{self, Fact, Origin, VOCABULARY, World};
use crate::schedule::{Noted, Row, SetAside, Term, Unused, is_remark, plain};
use std::sync::{Arc, LazyLock};

/// What was understood of a world's schedule. Its outlets are made one at a time as they are asked for: a long schedule
/// need not stand in memory twice.
#[derive(Clone, Debug)]
pub struct Understood<'w> {
    world: &'w World,
    /// The job file, if there is one.
    pub job: Option<Arc<str>>,
    /// The schedule.
    pub schedule: Arc<str>,
    /// Its row of headings.
    pub heading: Option<u32>,
    /// How its file is written, where not the usual way.
    pub written: &'w [&'static str],
    /// How it was read.
    pub notes: &'w [Noted],
    /// How many outlets there are.
    pub rows: usize,
    /// What was not used.
    pub unused: &'w [Unused],
    /// Rows that are not outdoor outlets.
    pub aside: &'w [SetAside],
    /// What is doubtful.
    pub problems: &'w [Diagnostic],
}

/// What the outlets have in common.
#[derive(Clone, Debug)]
pub struct InCommon {
    /// Columns in which something was understood, in the order of the catalogue.
    pub columns: Vec<Column>,
    /// What stays blank, in the order of the catalogue.
    pub blanks: Vec<Blank>,
}

/// A column and what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its file.
    pub file: Arc<str>,
    /// Its heading as it stands.
    pub text: Arc<str>,
    /// What it states, by heading.
    pub says: Vec<Arc<str>>,
    /// In how many rows it is filled in.
    pub rows: usize,
}

/// A row, or a place of a mark.
#[derive(Clone, Debug)]
pub struct ReadOutlet {
    /// Its mark, or `row 7`.
    pub mark: Arc<str>,
    /// Where it stands.
    pub location: Location,
    /// What is stated of it: by its own cells, by product data, by the job.
    pub facts: Vec<StatedFact>,
}

/// A stated fact.
#[derive(Clone, Debug)]
pub struct StatedFact {
    /// The fact.
    pub fact: Shown,
    /// Whether it tells outlets apart rather than what they are.
    pub is_identity: bool,
    /// The column it was read from, where that has not one of the fact's own headings: words of a description.
    pub elsewhere: Option<Arc<str>>,
}

impl Understood<'_> {
    /// Whether anything is doubtful, or was left unread; a remark may be about anything.
    pub fn is_doubtful(&self) -> bool {
        !self.problems.is_empty() || !self.unused.iter().all(is_remark)
    }

    /// The outlets, in their order.
    pub fn outlets(&self) -> impl Iterator<Item = ReadOutlet> {
        let mut stated = Vec::new();
        self.world.job().schedule.rows.iter().map(move |row| ReadOutlet::of(row, self.world, &mut stated))
    }

    /// What they have in common.
    pub fn in_common(&self) -> InCommon {
        let (mut columns, mut blanks) = (Vec::new(), Blanks::default());
        let mut stated = Vec::new();
        for row in &self.world.job().schedule.rows {
            self.world.put_given_facts(row, &mut stated);
            see_columns(&stated, &mut columns);
            blanks.see(row, &stated);
        }
        InCommon { columns, blanks: blanks.all(self.world) }
    }
}

impl ReadOutlet {
    /// `stated` is a list to work with.
    fn of(row: &Row, world: &World, stated: &mut Vec<Option<Fact>>) -> Self {
        let job = world.job();
        world.put_given_facts(row, stated);
        let mark = Identity::of(row, stated).mark;
        let given = (0..).map(Slot).zip(&*stated).filter_map(|(slot, fact)| {
            let fact = fact.as_ref()?;
            let is_identity = facts::is_identity(slot);
            let elsewhere = elsewhere(slot, &fact.origin);
            Some(StatedFact { fact: shown(slot, fact, &job.rules), is_identity, elsewhere })
        });
        Self { mark, location: row.location(&job.schedule.file), facts: given.collect() }
    }
}

/// Looks at what was understood of the schedule of a world.
pub fn understood(world: &World) -> Understood<'_> {
    let schedule = &world.job().schedule;
    Understood {
        world,
        job: world.job().file.clone(),
        schedule: schedule.file.clone(),
        heading: schedule.heading,
        written: &schedule.written,
        notes: &schedule.notes,
        rows: schedule.rows.len(),
        unused: &schedule.unused,
        aside: &schedule.rows_set_aside,
        problems: &schedule.problems,
    }
}

/// The headings of every term of the vocabulary, as they are compared.
static OWN_HEADINGS: LazyLock<Vec<Vec<String>>> = LazyLock::new(|| {
    let plainly = |term: &Term| term.aliases.iter().map(|alias| plain(alias)).collect();
    VOCABULARY.0.iter().map(plainly).collect()
});

/// The column of a cell whose heading is none of the fact's own.
fn elsewhere(slot: Slot, origin: &Origin) -> Option<Arc<str>> {
    let (Origin::Stated(location, _) | Origin::Unreadable(location, _)) = origin else { return None };
    let Position::Row(_, Some(column)) = &location.position else { return None };
    let at = VOCABULARY.1.iter().position(|it| *it == slot)?;
    // A heading may carry its unit behind the name.
    let heading = plain(column);
    let is_own = OWN_HEADINGS[at].iter().any(|alias| heading.starts_with(alias));
    (!is_own).then(|| column.clone())
}

/// Takes the columns in from which a row states facts.
fn see_columns(stated: &[Option<Fact>], columns: &mut Vec<Column>) {
    for (slot, fact) in (0..).map(Slot).zip(stated) {
        let Some(Origin::Stated(location, _) | Origin::Unreadable(location, _)) =
            fact.as_ref().map(|it| &it.origin)
        else {
            continue;
        };
        let Position::Row(_, Some(text)) = &location.position else { continue };
        // Words that leave a fact open are not a column of it.
        let is_left_open = |it: &Fact| it.value.as_ref().is_err_and(|gap| gap.absent.contains_key(&slot));
        if fact.as_ref().is_some_and(is_left_open) {
            continue;
        }
        let heading = facts::heading(slot);
        let found = columns.iter_mut().find(|it| it.file == location.file && it.text == *text);
        match found {
            Some(column) => {
                if !column.says.contains(&heading) {
                    column.says.push(heading.clone());
                }
                if column.says.first() == Some(&heading) {
                    column.rows += 1;
                }
            }
            None => columns.push(Column {
                file: location.file.clone(),
                text: text.clone(),
                says: vec![heading],
                rows: 1,
            }),
        }
    }
}

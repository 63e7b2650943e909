//! Remedies, written into the schedule as somebody would who follows them, and reviewed again.

use crate::review::shared::world;
use coldsill::diag::Position;
use coldsill::facts::Origin;
use coldsill::input::Memory;
use coldsill::review::{self, Comment, Finished, OutletReview, Remedy, Review};
use coldsill::ruleset::Outcome;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// A schedule as a table, and the other files of its job.
struct Table {
    others: Vec<(String, String)>,
    source: String,
    schedule: String,
    climate: Option<&'static str>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// A folder of `examples` with its job, or with its schedule alone.
    fn example(folder: &str, source: &str, climate: Option<&'static str>) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(folder);
        let others = fs::read_dir(path).expect("there is such an example").filter_map(|entry| {
            let entry = entry.expect("it can be listed");
            let name = entry.file_name().into_string().ok()?;
            Some((name, fs::read_to_string(entry.path()).ok()?))
        });
        Self::of(others.collect(), source, climate)
    }

    fn of(others: Vec<(String, String)>, source: &str, climate: Option<&'static str>) -> Self {
        let (schedule, text) =
            others.iter().find(|(name, _)| name == "schedule.csv").expect("it has a schedule");
        let mut reader =
            csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
        let rows = reader.records().map(|row| row.expect("a row").iter().map(str::to_owned).collect());
        Self { rows: rows.collect(), schedule: schedule.clone(), source: source.into(), others, climate }
    }

    fn review(&self) -> Review {
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
        self.rows.iter().for_each(|row| writer.write_record(row).expect("it is written"));
        let table = String::from_utf8(writer.into_inner().expect("it is written")).expect("UTF-8");
        let mut files = Memory::new();
        for (name, text) in &self.others {
            files = files.with(name, text.clone());
        }
        review::run(&world(&files.with(&self.schedule, table), &self.source, self.climate))
    }

    /// One row of the table, changed as its remedy says.
    fn remedied(&self, outlet: &OutletReview, remedy: &Remedy) -> Self {
        let Position::Row(number, _) = outlet.location.position else { panic!("a row") };
        let mut rows = vec![self.rows[0].clone(), self.rows[number as usize - 1].clone()];
        for (fact, heading, text) in remedy.changes.iter().flat_map(|change| &change.cells) {
            // The column that states it, or a column of its own.
            let stated = outlet.fact(fact).and_then(|fact| match fact.origin {
                Origin::Stated(location, _) | Origin::Unreadable(location, _) => match location.position {
                    Position::Row(_, Some(column)) => Some(column),
                    _ => None,
                },
                _ => None,
            });
            let strikes = remedy.changes.iter().flat_map(|change| &change.strikes);
            let strikes: Vec<_> = strikes.collect();
            // Words of the notes stay where they are struck, and the fact gets a column of its own.
            let stated = stated.filter(|column| strikes.iter().all(|(_, struck)| struck != column));
            for (words, column) in strikes {
                let at = rows[0].iter().position(|own| **own == **column).expect("the column is there");
                let start = rows[1][at].to_lowercase().find(&words.to_lowercase());
                // Another row of the type may say it in other words, or not at all.
                if let Some(start) = start {
                    rows[1][at].replace_range(start..start + words.len(), "");
                }
            }
            let heading = stated.unwrap_or_else(|| heading.clone());
            let column = rows[0].iter().position(|own| **own == *heading).unwrap_or_else(|| {
                rows[0].push(heading.to_string());
                rows[0].len() - 1
            });
            let width = rows[1].len().max(column + 1);
            rows[1].resize(width, String::new());
            rows[1][column] = text.as_deref().unwrap_or_default().to_owned();
        }
        Self {
            rows,
            others: self.others.clone(),
            source: self.source.clone(),
            schedule: self.schedule.clone(),
            ..*self
        }
    }
}

/// What is said of a row, apart from general notes.
fn said(outlet: &OutletReview) -> BTreeMap<&str, Outcome> {
    let is_said = |comment: &&Comment| {
        comment.outcome <= Outcome::Advise && !(comment.rule.once && comment.outcome == Outcome::Advise)
    };
    outlet.findings.comments.iter().filter(is_said).map(|it| (&*it.rule.number, it.outcome)).collect()
}

/// Applies every remedy by itself; returns how many there were.
fn apply_all(table: &Table) -> usize {
    let before = table.review();
    let mut count = 0;
    for outlet in &before.outlets {
        for remedy in &outlet.findings.remedies {
            let review = table.remedied(outlet, remedy).review();
            let after = said(&review.outlets[0]);
            let known = said(outlet);
            let what = format!("{}: {:?}", outlet.mark, remedy.changes);
            assert!(after.values().all(|outcome| *outcome != Outcome::Revise), "{what}: {after:?}");
            for (rule, outcome) in &after {
                assert_eq!(known.get(rule), Some(outcome), "{what}: {rule} is new");
                assert!(!remedy.answers.iter().any(|own| &**own == *rule), "{what}: {rule} is left");
            }
            let waits: Vec<&str> = remedy.leaves.iter().map(|(rule, _)| &**rule).collect();
            let asked = after.iter().filter(|(_, outcome)| **outcome == Outcome::Clarify);
            let asked: BTreeSet<&str> = asked.map(|(rule, _)| *rule).collect();
            assert_eq!(waits.into_iter().collect::<BTreeSet<_>>(), asked, "{what}");
            count += 1;
        }
    }
    count
}

#[test]
fn every_remedy_of_the_examples_holds_in_their_schedules() {
    let counts = [
        Table::example("kestrel-ridge", "job.yaml", None),
        Table::example("product-data", "job.yaml", None),
        Table::example("live-oak", "schedule.csv", Some("dallas-tx")),
    ]
    .map(|table| apply_all(&table));
    // Every row of them to revise has at least one: five, two and two.
    assert!(counts[0] >= 5 && counts[1] >= 2 && counts[2] >= 2, "{counts:?}");
}

const MIXED: &str = include_str!("data/to-remedy.csv");

fn mixed(climate: &'static str) -> Table {
    Table::of(vec![("schedule.csv".into(), MIXED.into())], "schedule.csv", Some(climate))
}

#[test]
fn every_remedy_of_mixed_outlets_holds_in_two_climates() {
    for climate in ["minneapolis-mn", "atlanta-ga"] {
        let count = apply_all(&mixed(climate));
        assert!(count >= 10, "{climate}: {count}");
    }
}

/// One case for each topic, by the names of what is changed first.
#[test]
fn the_first_remedy_is_the_least_change() {
    let review = mixed("kansas-city-mo").review();
    let first = |mark: &str| {
        let outlet = review.outlets.iter().find(|outlet| &*outlet.mark == mark).expect("a mark");
        let remedy = outlet.findings.remedies.first().unwrap_or_else(|| panic!("{mark} has no remedy"));
        remedy.changes.iter().map(|change| change.name).collect::<Vec<_>>()
    };
    for (mark, changes) in [
        ("SCREWS", &["screws"][..]),
        ("SLOPE", &["slope"]),
        ("SLEEVE", &["sleeve"]),
        ("SEAL", &["sealed flange"]),
        ("FIRE", &["firestop"]),
        ("STOP", &["inside stop"]),
        ("REACH", &["access panel"]),
        ("HOSE", &["hose off"]),
        ("DEVICE", &["vacuum breaker"]),
        ("SHORT", &["length"]),
        ("CLEAR", &["clearance"]),
    ] {
        assert_eq!(first(mark), changes, "{mark}");
    }
}

#[test]
fn a_remedy_says_whether_it_can_be_done_in_a_finished_wall() {
    let review = mixed("kansas-city-mo").review();
    let finished = |mark: &str| {
        let outlet = review.outlets.iter().find(|outlet| &*outlet.mark == mark).expect("a mark");
        outlet.findings.remedies[0].finished
    };
    // Screws come out from outdoors; an outlet is joined inside; a barrel's slope is that of its hole.
    assert_eq!(
        ["SCREWS", "SHORT", "SLOPE"].map(finished),
        [Finished::Yes, Finished::AtThePipe, Finished::No]
    );
}

/// By costs the stop, at $20, comes before another length at $30 an inch; without costs both are one change.
/// The seat is stated 2 in from the end of 6 in, so it is 8 in deep in an outlet of 10 in.
#[test]
fn a_longer_outlet_keeps_its_seat_as_far_from_its_end() {
    let schedule = "Mark,Kind,Closes,Nominal length,Seat depth,Barrel,Wall,Space behind,Supply,Supply insulation\n\
                    A,wall hydrant,inside,6 in,4 in,brass,2x6-siding,heated room,copper,none\n";
    let others = vec![("schedule.csv".to_owned(), schedule.to_owned())];
    let review = Table::of(others, "schedule.csv", Some("minneapolis-mn")).review();
    let changes = review.outlets[0].findings.remedies.iter().flat_map(|remedy| &remedy.changes);
    let cells = changes.flat_map(|change| &change.cells);
    let cells: Vec<_> = cells.map(|(fact, _, text)| (&**fact, text.as_deref())).collect();
    for cell in [("outlet.nominal_length", Some("10 in")), ("outlet.seat_depth", Some("8 in"))] {
        assert!(cells.contains(&cell), "{cells:?}");
    }
}

#[test]
fn costs_of_the_job_rank_the_remedies() {
    let schedule = "Mark,Qty,Kind,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Backflow device,\
                    Inside stop\n\
                    HB-1,2,Frostproof sillcock,6 in,stainless,rim joist batt,basement,copper,none,ASSE 1019-A,no\n";
    let names = |costs: &str| {
        let job = format!("climate: kansas-city-mo\nschedule: schedule.csv\n{costs}");
        let others = vec![("schedule.csv".into(), schedule.into()), ("job.yaml".into(), job)];
        let review = Table::of(others, "job.yaml", None).review();
        let remedies = review.outlets[0].findings.remedies.clone();
        let names = remedies.iter().map(|it| it.changes.iter().map(|change| change.name).collect::<Vec<_>>());
        (names.collect::<Vec<_>>(), remedies.first().and_then(|remedy| remedy.cost))
    };
    let (free, cost) = names("");
    assert_eq!((free.first(), cost), (Some(&vec!["length"]), None));
    let (ranked, cost) = names("costs: { inside stop: $20, length: 30 }\n");
    assert_eq!((ranked.first(), cost), (Some(&vec!["inside stop"]), Some(20.0)));
}

/// A house that asks for a gasket with anything longer than 6 in: a longer outlet would answer one rule and open another.
#[test]
fn a_change_that_opens_a_new_question_is_no_remedy() {
    let schedule = "Mark,Qty,Kind,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Backflow device,\
                    Inside stop\n\
                    HB-1,2,Frostproof sillcock,6 in,stainless,rim joist batt,basement,copper,none,ASSE 1019-A,no\n";
    let house = "amendment: house\nabout: Gaskets.\nadd:\n  - id: gasket\n    title: A long one without a gasket\n    \
                 basis: company\n    why: To see it.\n    applies: outlet.nominal_length > 6 in\n    \
                 needs: outlet.gasket\n    outcome: revise\n    says: No gasket.\n    cases:\n      \
                 - { name: short, given: { outlet.nominal_length: 6 in }, gives: does not apply }\n      \
                 - { name: tight, given: { outlet.nominal_length: 8 in, outlet.gasket: yes }, gives: no comment }\n      \
                 - { name: bare, given: { outlet.nominal_length: 8 in, outlet.gasket: no }, gives: revise }\n";
    let longer = |rules: &str, outcome: &str| {
        let job = format!("climate: kansas-city-mo\nschedule: schedule.csv\n{rules}");
        let house = house.replace("revise", outcome);
        let others = [("schedule.csv", schedule), ("house.yaml", &house), ("job.yaml", &job)];
        let others = others.map(|(name, text)| (name.to_owned(), text.to_owned())).to_vec();
        let review = Table::of(others, "job.yaml", None).review();
        let remedies = &review.outlets[0].findings.remedies;
        assert!(!remedies.is_empty());
        remedies.iter().any(|remedy| remedy.changes.iter().any(|change| change.name == "length"))
    };
    assert!(longer("", "revise"));
    for outcome in ["revise", "clarify"] {
        assert!(!longer("rules: [house.yaml]\n", outcome), "{outcome}");
    }
}

/// Screws of zinc and a space that only the notes name: the remedy says which words to strike, and with them struck the row
/// says nothing against its columns.
#[test]
fn a_remedy_strikes_the_words_that_would_contradict_it() {
    let schedule = "Mark,Qty,Description,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop,\
                    Flange,Slope,Inlet,Joint,Flashing,Air sealed,Remarks\n\
                    HB-1,2,frostproof wall hydrant ASSE 1019-B,14 in,stainless,2x6,heated room,copper,none,yes,brass,\
                    1/4 in/ft,threaded,threaded,yes,yes,\"north wall, zinc plated screws\"\n";
    let table = Table::of(vec![("schedule.csv".into(), schedule.into())], "schedule.csv", Some("atlanta-ga"));
    let review = table.review();
    let remedy = review.outlets[0].findings.remedies.first().expect("zinc against brass is to revise");
    let [change] = &remedy.changes[..] else { panic!("{:?}", remedy.changes) };
    assert_eq!(change.name, "screws");
    let strikes: Vec<(&str, &str)> = change.strikes.iter().map(|(words, at)| (&**words, &**at)).collect();
    assert_eq!(strikes, [("zinc plated screws", "Remarks")]);
    assert!(apply_all(&table) >= 1);
}

//! Installations with a known answer, as a plans examiner gives it: no false revision, and no miss.

use coldsill::facts::{Presets, Sources, open};
use coldsill::input::Memory;
use coldsill::review::{self, Review};
use coldsill::ruleset::Outcome;
use coldsill::shipped;
use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
struct File {
    installations: Vec<Installation>,
}

#[derive(Deserialize)]
struct Installation {
    name: String,
    /// The adopted code; none if the job states none.
    code: Option<String>,
    climate: String,
    /// The authority's frost depth.
    frost: Option<String>,
    /// Cells by heading.
    r#type: BTreeMap<String, String>,
    /// Cells in place of those of the type.
    #[serde(default)]
    but: BTreeMap<String, String>,
    #[serde(default)]
    revise: Vec<String>,
    #[serde(default)]
    clarify: Vec<String>,
    /// General notes, if there is more than one.
    #[serde(default)]
    notes: Vec<String>,
    why: String,
}

impl Installation {
    fn review(&self) -> Review {
        let mut cells = self.r#type.clone();
        cells.extend(self.but.clone());
        let line = |texts: Vec<&String>| {
            texts.iter().map(|text| format!("\"{text}\"")).collect::<Vec<_>>().join(",")
        };
        let schedule = format!("{}\n{}\n", line(cells.keys().collect()), line(cells.values().collect()));
        let mut job = "schedule: s.csv\npreset: examiner\n".to_owned();
        job.extend(self.code.iter().map(|code| format!("code: {code}\n")));
        job.extend(self.frost.iter().map(|depth| format!("authority: {{ frost_depth: {depth} }}\n")));
        job.push_str(&format!("climate: \"{}\"\n", self.climate));
        let files = Memory::new().with("job.yaml", job).with("s.csv", schedule);
        let world = open(&Sources {
            files: &files,
            source: "job.yaml",
            sheet: None,
            climate: None,
            design_low: None,
            answers: &[],
            rules: &[],
            base_rules: &shipped::rules(),
            presets: Presets {
                all: &shipped::presets(),
                codes: &shipped::codes().expect("the shipped codes are right"),
                ..Presets::default()
            },
            climates: shipped::climates().expect("the shipped climates are right"),
        });
        review::run(&world.unwrap_or_else(|problems| {
            panic!(
                "{}: {}",
                self.name,
                problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
            )
        }))
    }
}

#[test]
fn installations_get_the_answer_of_an_examiner() {
    let file: File =
        serde_saphyr::from_str(include_str!("data/installations.yaml")).expect("a file of cases");
    assert!(file.installations.len() >= 50);
    let mut wrong = Vec::new();
    for it in &file.installations {
        let review = it.review();
        let found = |outcome| -> Vec<&str> {
            let comments = review.outlets.iter().flat_map(|outlet| &outlet.findings.comments);
            comments.filter(|comment| comment.outcome == outcome).map(|comment| &*comment.rule.id).collect()
        };
        let mut expect = |outcome, expected: &[String]| {
            let (mut found, mut expected) =
                (found(outcome), expected.iter().map(|it| &**it).collect::<Vec<_>>());
            found.sort_unstable();
            expected.sort_unstable();
            if found != expected {
                let (name, code) = (&it.name, it.code.as_deref().unwrap_or("no code"));
                wrong.push(format!(
                    "{name} ({code}): {found:?} to {}, not {expected:?}: {}",
                    Outcome::word(outcome),
                    it.why
                ));
            }
        };
        expect(Outcome::Revise, &it.revise);
        expect(Outcome::Clarify, &it.clarify);
        if it.revise.is_empty() && it.clarify.is_empty() {
            let comments = review.outlets.iter().flat_map(|outlet| &outlet.findings.comments);
            let advises = |once| {
                let own = comments.clone().filter(|it| it.outcome == Outcome::Advise && it.rule.once == once);
                own.map(|it| &*it.rule.id).collect::<Vec<_>>()
            };
            let own = [advises(false), advises(true)];
            let is_told = |advice: &&Vec<&str>| advice.iter().eq(it.notes.iter());
            for advice in own.iter().filter(|advice| advice.len() > 1 && !is_told(advice)) {
                wrong.push(format!("{}: advises {advice:?}, and nothing is amiss", it.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

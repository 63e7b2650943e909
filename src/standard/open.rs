//! Opens the job of a standard, and computes every cell.

use super::cells::{self, Line};
use super::error::{MOST_CELLS, StandardError};
use super::groups::Groups;
use super::read::Request;
use super::{Cell, Place, Setting, Standard};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::facts::{self, Sources, World};
use crate::input;
use crate::review::{Candidate, Fitting, Planned, Progress};
use crate::units::{Dim, Quantity};
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Files of the standard that nobody wrote.
const JOB: &str = "of-the-standard.yaml";
const SCHEDULE: &str = "of-the-standard.csv";
const MARGIN: &str = "margin-of-the-standard.yaml";

/// The files of a person, with those that a standard brings: its job, a schedule and its margin.
pub struct Files<'f> {
    files: &'f dyn input::Files,
    job: String,
    texts: Vec<(String, String)>,
}

impl<'f> Files<'f> {
    /// Of a standard read from a file.
    pub fn of(request: &Request, files: &'f dyn input::Files) -> Self {
        let beside = |name: &str| {
            let folder = Path::new(&*request.file.file).parent().unwrap_or_else(|| Path::new(""));
            folder.join(name).to_string_lossy().into_owned()
        };
        let mut texts = vec![(beside(SCHEDULE), "Kind\nwall hydrant\n".to_owned())];
        let job = match &request.job {
            Some((path, _)) => beside(path),
            None => {
                let products =
                    request.products.iter().map(|(path, _)| format!("products: {}\n", quoted(path)));
                texts.push((beside(JOB), format!("schedule: {SCHEDULE}\n{}", products.collect::<String>())));
                beside(JOB)
            }
        };
        if let Some((_, text)) = &request.margin {
            let name = quoted(&request.name);
            let text = format!(
                "amendment: {name}\nlevel: company\nsettings: {{ freezing/margin: {} }}\n",
                quoted(text)
            );
            texts.push((beside(MARGIN), text));
        }
        Self { files, job, texts }
    }

    /// The job to open.
    pub fn job(&self) -> &str {
        &self.job
    }

    /// The amendment with its margin, if it has one.
    pub fn rules(&self) -> Option<&str> {
        self.texts.iter().map(|(path, _)| &**path).find(|path| path.ends_with(MARGIN))
    }
}

/// A text of YAML in quotes.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

impl input::Files for Files<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic> {
        match self.texts.iter().find(|(own, _)| own == path) {
            Some((_, text)) => Ok(text.clone().into_bytes()),
            None => self.files.read(path),
        }
    }

    fn folder(&self, path: &str) -> Result<Option<Vec<String>>, Diagnostic> {
        self.files.folder(path)
    }
}

/// Computes a standard. `sources` has the rules and presets of the program, and everything else as for a review; its
/// files are those of [`Files`].
pub fn standard(
    request: &Request,
    sources: &Sources<'_>,
    progress: &Progress<'_>,
) -> Result<Standard, Diagnostics> {
    let first = match (&request.job, request.places.first()) {
        (None, Some((climate, _))) => Some(climate.id.to_string()),
        _ => None,
    };
    let base = facts::open(&Sources { climate: first.as_deref(), ..*sources })?;
    let worlds = worlds(request, &base)?;
    let Some((_, world)) = worlds.first() else {
        return Err(StandardError::NotAStandard.at(&request.file).into());
    };
    let (lines, products) = lines(request, world)?;
    let settings: Vec<Setting> = lines.iter().map(|line| line.setting.clone()).collect();
    let count = settings.len() * worlds.len();
    if count > MOST_CELLS {
        return Err(StandardError::TooMany(count).at(&request.file).into());
    }
    let done = AtomicUsize::new(0);
    let columns: Vec<Vec<Cell>> = lines
        .par_iter()
        .map(|line| {
            let cells = cells::column(line, &products, &worlds);
            let number = done.fetch_add(1, Ordering::Relaxed) + 1;
            progress(number, settings.len());
            cells
        })
        .collect();
    let cells: Vec<Vec<Cell>> =
        (0..worlds.len()).map(|place| columns.iter().map(|column| column[place].clone()).collect()).collect();
    let assumed = cells::assumed(&lines, &products, world);
    let places: Vec<Place> = worlds.iter().map(|(place, _)| place.clone()).collect();
    let groups = Groups::of(&places, &settings, &products, &cells);
    Ok(Standard {
        name: request.name.clone(),
        date: request.date.clone(),
        file: request.file.file.clone(),
        groups,
        settings,
        products,
        cells,
        places,
        margin: request.margin.as_ref().map(|(margin, _)| Quantity::of(*margin, Dim::DIFFERENCE)),
        inside_stop: request.inside_stop,
        amendments: base.job().rules.amendments.iter().map(|it| it.name.clone()).collect(),
        assumed,
        solves: base.solves(),
    })
}

/// A world for each place; they share what is solved.
fn worlds(request: &Request, base: &World) -> Result<Vec<(Place, World)>, Diagnostics> {
    let mut problems = Diagnostics::new();
    let design_low = request.design_low.as_ref().map(|(by, text, place)| (*by, &**text, place));
    let mut worlds = Vec::new();
    for (climate, homes) in &request.places {
        match base.job().elsewhere(climate, design_low) {
            Err(mut found) => problems.append(&mut found),
            Ok(job) => {
                let design_low_is = job.design.words().into();
                let place = Place {
                    climate: climate.clone(),
                    homes: *homes,
                    design_low: job.design.low.unwrap_or(f64::NAN),
                    design_low_is,
                };
                worlds.push((place, base.elsewhere(job)));
            }
        }
    }
    problems.or(worlds)
}

/// Walls by supplies by barrels, each checked; and the products.
fn lines(request: &Request, world: &World) -> Result<(Vec<Line>, Vec<Candidate>), Diagnostics> {
    let mut problems: BTreeSet<Diagnostic> = BTreeSet::new();
    let mut settings = Vec::new();
    let mut products: Vec<Candidate> = Vec::new();
    for (wall, supply) in
        request.walls.iter().flat_map(|wall| request.supplies.iter().map(move |it| (wall, it)))
    {
        let mut edits_of = |barrel: Option<&(Arc<str>, Location)>| {
            let planned = Planned {
                wall: &wall.wall,
                barrel: barrel.map(|(word, _)| &**word),
                supply: Some(&supply.supply),
                supply_insulation: supply.insulation.as_deref(),
                space: wall.space.as_deref(),
                inside_stop: request.inside_stop,
                ..Planned::default()
            };
            let at = |name: &str| match (name, barrel) {
                ("wall" | "space", _) => wall.location.clone(),
                ("supply" | "supply-insulation", _) => supply.location.clone(),
                ("barrel", Some((_, at))) => at.clone(),
                _ => request.file.clone(),
            };
            planned.edits(world, &at).map_err(|found| problems.extend(found)).ok()
        };
        let Some(bare) = edits_of(None) else { continue };
        if products.is_empty() {
            products = Fitting::new(world, &bare, &[]).candidates();
        }
        let of_models: BTreeSet<&Arc<str>> = products.iter().filter_map(|it| it.barrel.as_ref()).collect();
        let of_models = of_models.into_iter().map(|word| (word.clone(), request.file.clone()));
        let barrels = if request.barrels.is_empty() { of_models.collect() } else { request.barrels.clone() };
        settings.extend(
            barrels.iter().filter_map(|barrel| Some((edits_of(Some(barrel))?, supply, barrel.1.clone()))),
        );
    }
    let has_models = products.iter().any(|product| product.model.is_some());
    let mut lines = Vec::new();
    for (edits, supply, barrel_at) in settings {
        let fitting = Fitting::new(world, &edits, &[]);
        let names = ["outlet.wall", "outlet.space_behind", "outlet.supply", "outlet.barrel"];
        let [Some(wall), Some(space), Some(supply_word), Some(barrel)] = names.map(|name| fitting.word(name))
        else {
            continue;
        };
        if has_models && products.iter().all(|product| product.barrel.as_ref() != Some(&barrel)) {
            problems.insert(StandardError::NoSuchBarrel.at(&barrel_at).text(&*barrel));
        }
        let insulation = supply.insulation.clone();
        let setting = Setting { wall, space, supply: supply_word, insulation, barrel };
        lines.push(Line { setting, edits });
    }
    if products.is_empty() && problems.is_empty() {
        problems.insert(StandardError::NoProduct.at(&request.file));
    }
    if problems.is_empty() { Ok((lines, products)) } else { Err(problems.into_iter().collect()) }
}

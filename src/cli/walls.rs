//! The command `walls`: those there are, or one drawn to scale.

use crate::climates;
use crate::disk::Disk;
use crate::options::Walls;
use crate::output;
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::job;
use coldsill::report::{self, Between};
use coldsill::wall::{self, BUILT_IN, Wall};
use std::sync::Arc;

/// 68 °F, at which a heated room is taken where nobody says.
const INDOORS: f64 = 293.15;

/// The text.
pub fn text(options: &Walls, disk: &Disk) -> Result<String, Diagnostics> {
    let walls: Vec<Arc<Wall>> = match &options.job {
        Some(path) => job::walls(disk, path)?,
        None => BUILT_IN.iter().cloned().map(Arc::new).collect(),
    };
    let system = options.units.into();
    let Some(key) = &options.wall else {
        if options.climate.is_some() {
            let problem = Diagnostic::new(Location::whole("--climate"), "stands without a wall to draw");
            return Err(problem.expected("coldsill walls WALL --climate PLACE").into());
        }
        let found: Vec<&Wall> =
            walls.iter().map(AsRef::as_ref).filter(|it| is_meant(it, options.find.as_deref())).collect();
        if found.is_empty() {
            let problem = Diagnostic::new(Location::whole("--find"), "is in no wall's name");
            return Err(problem.text(options.find.as_deref().unwrap_or_default()).into());
        }
        return Ok(report::walls(found.into_iter(), system));
    };
    let Some(found) = wall::find(&walls, key) else {
        return Err(wall::unknown(&walls, key, &Location::whole("walls")).into());
    };
    let mut climates = climates::library(&options.climates, disk)?;
    if let (Some(path), Some(_)) = (&options.job, &options.climate) {
        climates = job::climates_of(disk, path, &climates)?;
    }
    let climate = options.climate.as_deref().map(|it| climates.find(it, &Location::whole("--climate")));
    let climate = climate.transpose().map_err(|problem| climates::refused(problem, &climates))?;
    output::problems(&climates.left_out().cloned().collect::<Vec<_>>());
    let between = climate.as_ref().map(|climate| -> Result<_, Diagnostics> {
        let low = climate.design_low().ok_or_else(|| {
            let what = "gives no design low";
            vec![Diagnostic::new(Location::whole("--climate"), what).text(&*climate.name)]
        })?;
        Ok((low, format!("the design low of {}", climate.name)))
    });
    let between = between.transpose()?;
    let between =
        between.as_ref().map(|(outdoors, what)| Between { outdoors: *outdoors, indoors: INDOORS, what });
    Ok(report::wall(found, between.as_ref(), system))
}

/// Whether every word looked for is in the wall's key, names or usual space.
fn is_meant(wall: &Wall, find: Option<&str>) -> bool {
    let all: Vec<String> = [&wall.key, &wall.name]
        .into_iter()
        .chain(&wall.aliases)
        .map(|it| it.to_lowercase())
        .chain([wall.space_behind.to_owned()])
        .collect();
    let words = find.unwrap_or_default().to_lowercase();
    words.split_whitespace().all(|word| all.iter().any(|it| it.contains(word)))
}

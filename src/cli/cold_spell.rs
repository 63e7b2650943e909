//! The command `cold-spell`.

use crate::disk::Disk;
use crate::formats::SpellFormat;
use crate::options::ColdSpell;
use crate::output;
use crate::progress::Progress;
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::facts::World;
use coldsill::input::Files;
use coldsill::units::{self, DAY, Dim, Measure};
use coldsill::{report, review};

const TIME: Measure = Measure::Of(Dim::TIME);

/// Follows, writes, and says whether an outlet is at risk, or the spell is none.
pub fn run(options: &ColdSpell, world: &World, disk: &Disk, is_quiet: bool) -> Result<bool, Diagnostics> {
    let mut problems = Diagnostics::new();
    let refused = |option: &str, what: &str, expected: &str| {
        Diagnostic::new(Location::whole(option), what).expected(expected)
    };
    let days = options.days.as_deref().and_then(|text| time("--days", text, Some("days"), &mut problems));
    let heat_out = options.heat_out.as_deref().and_then(|text| time("--heat-out", text, None, &mut problems));
    if options.outdoors.is_some() && options.series.is_some() {
        problems.push(refused("--series", "stands beside --outdoors", "one cold spell"));
    }
    let before = options.before.as_deref().and_then(|text| {
        let read = units::parse(text, Measure::Temperature);
        read.map_err(|refused| problems.push(refused.at(Location::whole("--before"), text)))
            .ok()
            .map(|it| it.is)
    });
    if options.before.is_some() && options.outdoors.is_none() && options.series.is_none() {
        problems.push(refused(
            "--before",
            "stands without --outdoors or --series",
            "a spell of your own for it to come before",
        ));
    }
    if options.days.is_some() && options.series.is_none() {
        problems.push(refused("--days", "stands without --series", "a file in which to look for those days"));
    }
    let format = options.format.unwrap_or_else(|| SpellFormat::of_name(options.output.as_deref()));
    let is_crew = options.crew || options.narrow;
    if options.narrow && matches!(format, SpellFormat::Json | SpellFormat::Csv) {
        problems.push(refused("--narrow", "is a page to read", "--format text or --format html"));
    }
    // A file that was read is named as such when it is written.
    if let Some(path) = options.output.as_ref().filter(|path| !disk.has_read(path)) {
        problems.ok(output::check_name(path, format.endings()));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let bytes = options.series.as_deref().map(|file| disk.read(file)).transpose();
    let bytes = bytes?;
    let spell = match (options.series.as_deref().zip(bytes.as_deref()), options.outdoors.as_deref()) {
        (Some((file, bytes)), _) => review::Asked::Series { file, bytes, days: days.map(|it| it / DAY) },
        (None, Some(text)) => review::Asked::Typed(text),
        (None, None) => review::Asked::Design,
    };
    let state = options.state.into();
    let question = review::SpellQuestion { spell, before, state, heat_out, mark: options.mark.as_deref() };
    let progress = Progress::of("Following faucet", is_quiet);
    let spell = review::cold_spell_with(world, &question, &|at, of| progress.tell(at, of));
    drop(progress);
    let spell = spell?;
    let system = options.source.units.into();
    let text = match format {
        SpellFormat::Text if options.narrow => report::crew(&spell, report::NARROW, system),
        SpellFormat::Text if is_crew => report::crew(&spell, report::WIDTH, system),
        SpellFormat::Html if options.mark.is_some() && !is_crew => report::cold_spell_html(&spell, system),
        SpellFormat::Html => report::crew_html(&spell, system),
        SpellFormat::Text => report::cold_spell(&spell, system),
        SpellFormat::Json => report::cold_spell_json(&spell, system),
        SpellFormat::Csv if is_crew => report::crew_csv(&spell, system),
        SpellFormat::Csv => report::cold_spell_csv(&spell, system),
    };
    output::write(options.output.as_deref(), &text, disk)?;
    Ok(spell.has_outlets_at_risk() || spell.spell.never_freezes().is_some())
}

/// A time of an option, s; a bare number takes the unit, if there is one.
fn time(option: &str, text: &str, bare: Option<&str>, problems: &mut Diagnostics) -> Option<f64> {
    let unit = bare.and_then(units::find_unit);
    let read = units::parse_with_unit(text, TIME, unit);
    read.map_err(|refused| problems.push(refused.at(Location::whole(option), text))).ok().map(|it| it.is)
}

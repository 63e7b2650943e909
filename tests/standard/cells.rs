//! Each cell is what `depth` and a review say of the same outlet.

use crate::standard::common::{BUILDER, LISTED, builder, computed, listed, world};
use coldsill::climate::DesignBy;
use coldsill::diag::Location;
use coldsill::expr::Value;
use coldsill::facts::World;
use coldsill::input::Memory;
use coldsill::review::{self, Depth, Planned, Shown};
use coldsill::standard::{Cell, Change, Place, Setting, Standard, VARIANTS, Variant};

const MARGIN: &str = "amendment: four\nsettings: { freezing/margin: 4 °F }\n";

fn depth(world: &World, standard: &Standard, setting: &Setting) -> Depth {
    let planned = Planned {
        wall: &setting.wall,
        barrel: Some(&setting.barrel),
        supply: Some(&setting.supply),
        supply_insulation: setting.insulation.as_deref(),
        space: Some(&setting.space),
        inside_stop: standard.inside_stop,
        ..Planned::default()
    };
    let edits = planned.edits(world, &|name| Location::whole(name));
    review::depth(world, &edits.expect("a standard states what can be read"))
}

fn quantity(facts: &[Shown], name: &str) -> Option<[f64; 3]> {
    let fact = facts.iter().find(|fact| &*fact.name == name)?;
    match fact.value.as_ref().ok()? {
        Value::Quantity(quantity) => Some([quantity.low, quantity.is, quantity.high]),
        _ => None,
    }
}

/// Every cell of a standard with what `depth` finds at its place.
fn with_depths(
    standard: &Standard,
    world_of: impl Fn(&Place) -> World,
    check: impl Fn(&Place, &Setting, &Cell, &Depth),
) {
    for (place, cells) in standard.places.iter().zip(&standard.cells) {
        let world = world_of(place);
        for (setting, cell) in standard.settings.iter().zip(cells) {
            check(place, setting, cell, &depth(&world, standard, setting));
        }
    }
}

fn assert_same(standard: &Standard, place: &Place, setting: &Setting, cell: &Cell, depth: &Depth) {
    let at = format!("{}, {setting:?}", place.climate.name);
    let barrel_of = |model: &str| {
        standard
            .products
            .iter()
            .find(|it| it.model.as_deref() == Some(model))
            .and_then(|it| it.barrel.clone())
    };
    let mut rows: Vec<_> = depth
        .rows
        .iter()
        .filter(|row| {
            row.model.as_ref().is_none_or(|model| barrel_of(model).as_ref() == Some(&setting.barrel))
        })
        .collect();
    let length = |row: &review::DepthRow| quantity(&row.facts, "outlet.nominal_length").map(|it| it[1]);
    rows.sort_by(|a, b| length(a).partial_cmp(&length(b)).expect("lengths"));
    let first = rows.iter().find(|row| row.asks.is_empty() && row.misfit.is_none() && row.missing.is_empty());
    let needed = cell.needed.map(|number| &standard.products[number]);
    assert_eq!(first.map(|row| row.model.clone()), needed.map(|it| it.model.clone()), "{at}");
    assert_eq!(first.and_then(|row| length(row)), needed.map(|it| it.length), "{at}");
    let Some(first) = first.filter(|_| cell.order == cell.needed) else { return };
    for fact in ["heat.seat_temperature", "heat.holds_to", "heat.years_between"] {
        assert_eq!(quantity(&cell.facts, fact), quantity(&first.facts, fact), "{at}, {fact}");
    }
}

#[test]
fn each_cell_of_models_is_what_depth_finds() {
    let files = builder();
    with_depths(
        &BUILDER,
        |place| world(&files, "job.yaml", Some(&place.climate.id), &[]),
        |place, setting, cell, depth| assert_same(&BUILDER, place, setting, cell, depth),
    );
}

#[test]
fn each_cell_of_listed_lengths_is_what_depth_finds() {
    let files = Memory::new()
        .with("job.yaml", "schedule: s.csv\nclimate: dallas-tx\n")
        .with("s.csv", "Kind\nwall hydrant\n")
        .with("four.yaml", MARGIN);
    with_depths(
        &LISTED,
        |place| world(&files, "job.yaml", Some(&place.climate.id), &["four.yaml".into()]),
        |place, setting, cell, depth| assert_same(&LISTED, place, setting, cell, depth),
    );
}

/// Of listed lengths with heat alone governing: the seat less the slack is no shallower than the least depth that a
/// search by the millimeter finds (`depth` takes seats known exactly; those of listed lengths are known to 1/4 in, so they
/// need up to 1/4 in more), and not deeper by more than 3/4 in: that 1/4 in and the straight line between two lengths
/// 2 in apart, which is off by at most an eighth of 2 in times the ratio of the slopes at its ends (4 at most).
#[test]
fn slack_is_on_the_safe_side_of_the_least_depth() {
    let files = Memory::new()
        .with("job.yaml", "schedule: s.csv\nclimate: dallas-tx\n")
        .with("s.csv", "Kind\nwall hydrant\n")
        .with("four.yaml", MARGIN);
    let compared = std::cell::Cell::new(0);
    with_depths(
        &LISTED,
        |place| world(&files, "job.yaml", Some(&place.climate.id), &["four.yaml".into()]),
        |place, setting, cell, depth| {
            let (Some(number), Ok(least)) = (cell.needed, &depth.least) else { return };
            if cell.limits != [review::Limit::Heat] || cell.at_least {
                return;
            }
            let seat = LISTED.products[number].length - 0.75 * 0.0254;
            let short = seat - cell.slack.expect("heat bounds it") - least.depth.is;
            let at = format!("{}, {setting:?}: {short}", place.climate.name);
            assert!((-0.001..=0.75 * 0.0254).contains(&short), "{at}");
            compared.set(compared.get() + 1);
        },
    );
    assert!(compared.get() >= 4, "{}", compared.get());
}

/// A standard of another design low has other lengths exactly where the first says that they change.
#[test]
fn lengths_change_where_the_standard_says_so() {
    let text =
        std::fs::read_to_string(format!("{}/examples/builder/standard.yaml", env!("CARGO_MANIFEST_DIR")));
    let text = text.expect("the example is there");
    let other = |line: &str| computed(&builder().with("other.yaml", format!("{text}{line}\n")), "other.yaml");
    for (variant, line) in [
        (Variant::DesignLow(DesignBy::Years(50.0)), "design_low: 50-year low"),
        (Variant::DesignLow(DesignBy::Years(10.0)), "design_low: 10-year low"),
        (Variant::Margin(4.0 / 1.8), "margin: 4 °F"),
    ] {
        let number = VARIANTS.iter().position(|own| *own == variant).expect("it is varied");
        let other = other(line);
        for ((place, setting, cell), (.., varied)) in BUILDER.all().zip(other.all()) {
            if cell.needed.is_none() {
                continue;
            }
            let at = format!("{}, {setting:?}, {line}", place.climate.name);
            let found = match (cell.needed, varied.needed) {
                (Some(own), Some(varied)) if varied < own => Change::Shorter,
                (own, varied) if own == varied => Change::Same,
                _ => Change::Longer,
            };
            // Where the code sets the length too, a shorter one is never promised.
            assert_eq!(cell.changes[number], Some(found), "{at}");
        }
    }
}

#[test]
fn a_section_is_solved_once_for_all_places_alike() {
    // Three places at one air pressure, so that no further place needs a section of its own for a known length.
    let places = |places: &str| {
        let text = format!(
            "standard: Once\ndate: 2026-01-01\nplaces: [{places}]\nwalls: [2x6-siding]\nsupplies: [copper]\n\
             barrels: [brass]\ninside_stop: no\n"
        );
        computed(&listed(&text), "listed.yaml")
    };
    let (one, two) = (places("boston-ma"), places("boston-ma, new-york-ny"));
    assert!(one.solves.sections > 0);
    assert_eq!(two.places[0].climate.id, one.places[0].climate.id);
    let pressure = |standard: &Standard, at: usize| standard.places[at].climate.elevation;
    assert!(pressure(&two, 0).zip(pressure(&two, 1)).is_some_and(|(a, b)| (a - b).abs() < 40.0));
    assert!(two.solves.sections <= one.solves.sections + 3, "{:?} {:?}", one.solves, two.solves);
}

/// A garage follows outdoors by seven tenths (EN 12831-1, as the program assumes it), and a seat lies between outdoors and the
/// space: at -56 °F outdoors and 68 °F in the house no seat is warmer than -18.8 °F.
#[test]
fn no_length_is_enough_in_a_space_that_freezes() {
    let text = "standard: Garage\ndate: 2026-01-01\nplaces: [fairbanks-ak]\n\
        walls: [{ wall: block-8-bare, space: garage }]\nsupplies: [copper]\nbarrels: [copper]\ninside_stop: no\n";
    let garage = computed(&listed(text), "listed.yaml");
    let [(place, setting, cell)] = garage.all().collect::<Vec<_>>()[..] else { panic!("one cell") };
    assert_eq!((cell.needed, cell.order), (None, None));
    assert_eq!(cell.limits, [review::Limit::Heat]);
    let files = Memory::new()
        .with("job.yaml", "schedule: s.csv\nclimate: dallas-tx\n")
        .with("s.csv", "Kind\nwall hydrant\n");
    let depth = depth(&world(&files, "job.yaml", Some(&place.climate.id), &[]), &garage, setting);
    assert!(depth.least.is_err());
    for row in &depth.rows {
        let seat = quantity(&row.facts, "heat.seat_temperature").expect("it is computed");
        assert!(seat[2] < 273.15 && !row.asks.is_empty(), "{seat:?}");
    }
}

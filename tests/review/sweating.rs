//! Sweating and heat through whole reviews: which humidity counts, what is said once, what is not asked.

use crate::review::shared::{comment, world};
use coldsill::expr::Value;
use coldsill::facts::{Origin, World};
use coldsill::input::Memory;
use coldsill::review::{self, Review};
use coldsill::ruleset::Outcome;

fn job(humidity: &str, rows: &str) -> World {
    let spaces = if humidity.is_empty() {
        String::new()
    } else {
        format!("spaces: {{ heated room: {{ temperature: 70 °F, humidity: {humidity} }} }}\n")
    };
    let files = Memory::new()
        .with("job.yaml", format!("climate: minneapolis-mn\n{spaces}schedule: s.csv\n"))
        .with(
            "s.csv",
            format!(
                "Mark,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation,Space behind,Air sealed\n{rows}"
            ),
        );
    world(&files, "job.yaml", None)
}

fn run(humidity: &str, rows: &str) -> Review {
    review::run(&job(humidity, rows))
}

fn number(world: &World, row: usize, name: &str) -> f64 {
    let outlet = world.outlet(&world.job().schedule.rows[row]);
    match outlet.fact(slot_of(name)).value {
        Ok(Value::Quantity(it)) => it.is,
        other => panic!("{name}: {other:?}"),
    }
}

fn slot_of(name: &str) -> coldsill::expr::Slot {
    use coldsill::expr::Names;
    coldsill::facts::Facts.find(name).unwrap_or_else(|| panic!("{name}")).0
}

const METALS: &str = "A,sillcock,inside,10 in,copper,2x6-siding,PEX,none,heated room,\n\
                      B,sillcock,inside,10 in,brass,2x6-siding,PEX,none,heated room,\n\
                      C,sillcock,inside,10 in,stainless,2x6-siding,PEX,none,heated room,\n";

#[test]
fn stated_humidity_wins_and_an_assumed_one_is_listed() {
    let (said, silent) = (job("50 %", METALS), job("", METALS));
    assert!((number(&said, 0, "space.humidity") - 0.50).abs() < 1e-12);
    // -31 °F is below the last row of the table, 15 %.
    assert!((number(&silent, 0, "space.humidity") - 0.15).abs() < 1e-12);
    // 70 °F at 50 %: 50.5 °F on the psychrometric chart.
    assert!((number(&said, 0, "space.dew_point") * 1.8 - 459.67 - 50.5).abs() < 0.2);
    let assumed =
        |world: &World| review::run(world).assumed.iter().any(|it| &*it.fact.name == "space.humidity");
    assert!(assumed(&silent) && !assumed(&said));
}

#[test]
fn copper_sweats_most_then_brass_then_stainless() {
    let world = job("50 %", METALS);
    for name in ["sweat.water_a_day", "sweat.water_a_year", "energy.point_transmittance"] {
        let [copper, brass, stainless] = [0, 1, 2].map(|row| number(&world, row, name));
        assert!(copper > brass && brass > stainless && stainless >= 0.0, "{name}");
    }
    let review = review::run(&world);
    let drips = |at: usize| comment(&review.outlets[at], "sweating/drips-in-the-room").outcome;
    assert_eq!([drips(0), drips(1)], [Outcome::Advise; 2]);
}

#[test]
fn long_stainless_barrel_in_a_dry_house_is_accepted() {
    let review = run("", "A,sillcock,inside,14 in,stainless,2x6-siding,copper,none,heated room,yes\n");
    for rule in ["drips-in-the-room", "frost-in-the-room"] {
        assert_eq!(
            comment(&review.outlets[0], &format!("sweating/{rule}")).outcome,
            Outcome::NoComment,
            "{rule}"
        );
    }
}

#[test]
fn sweating_asks_nothing_and_assumes_no_dry_barrel() {
    let review = run("", "A,sillcock,inside,10 in,,2x6-siding,,,heated room,\n");
    let own = |rule: &str| comment(&review.outlets[0], rule).outcome;
    assert_eq!(own("sweating/drips-in-the-room"), Outcome::DoesNotApply);
    assert!(!review.questions.iter().any(|it| it.fact.contains("air_sealed")));
}

#[test]
fn wood_is_judged_by_the_coldest_month_if_air_reaches_it() {
    const WOOD: &str = "sweating/wood-at-metal-too-damp";
    let rows =
        |sealed: &str| format!("A,sillcock,inside,10 in,copper,rim-joist-batt,PEX,none,basement,{sealed}\n");
    let of = |sealed: &str| comment(&run("", &rows(sealed)).outlets[0], WOOD).outcome;
    assert_eq!(of("yes"), Outcome::DoesNotApply);
    assert_eq!(of(""), Outcome::DoesNotApply);
    assert_eq!(of("no"), Outcome::Advise);
    // A log wall is wood to the inside: its metal stands in room air, sealed or not.
    let log = |barrel: &str| {
        let world = job("", &format!("A,sillcock,inside,12 in,{barrel},log-8,copper,none,heated room,yes\n"));
        number(&world, 0, "sweat.wood_humidity")
    };
    let [copper, stainless] = ["copper", "stainless"].map(log);
    assert!(stainless < copper && copper < 1.2, "{copper} {stainless}");
}

#[test]
fn a_space_without_heat_has_no_humidity_until_somebody_says_it() {
    let world = job("", "A,sillcock,inside,10 in,copper,2x6-siding,PEX,none,crawlspace,\n");
    let outlet = world.outlet(&world.job().schedule.rows[0]);
    let fact = outlet.fact(slot_of("space.humidity"));
    assert!(fact.value.is_err() && fact.origin == Origin::Unknown);
}

#[test]
fn heat_in_a_season_is_of_the_size_of_degree_days() {
    // Minneapolis-St Paul has some 7600 °F-days a year to 65 °F (normals, from memory) and the room is 3 °F above that
    // base for some 290 days: 8500 °F-days, 113 000 K·h. The model's annual mean scatters by 1.7 K, 12 000 K·h; the coldest
    // month that is built in, a typical year's, is 2 K colder than the normal, 16 °F: some 8000 K·h more. Together 18 %.
    let world = job("", METALS);
    let heat = number(&world, 0, "energy.heat_per_season") / 3.6e3;
    let hours = heat / number(&world, 0, "energy.point_transmittance");
    assert!((hours / 113_000.0 - 1.0).abs() < 0.18, "{hours}");
}

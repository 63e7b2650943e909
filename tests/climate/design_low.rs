//! The design low by choice: from the job, from the command line, from the authority; and what cannot be chosen.

use crate::climate::lines;
use coldsill::diag::Diagnostics;
use coldsill::facts::World;

fn opened(job: &str, option: Option<&str>) -> Result<World, Diagnostics> {
    crate::climate::opened(job, "Mark,Kind\nA,sillcock\n", option)
}

/// °C and what it is.
fn low(job: &str, option: Option<&str>) -> (f64, String) {
    let design = opened(job, option).expect("the job is right").job().design.clone();
    (design.low.expect("its climate has the figure") - 273.15, design.by.words())
}

/// A climate of its own, so that every figure is plain.
const OWN: &str = "climate: { name: Testville, heating_99.6: -20 °C, heating_99: -17 °C, coldest_recorded: -41 °C, \
                   annual_low: { mean: -26 °C, deviation: 4 °C } }\n";

/// Gumbel's factors: 1.865 799 for 20 years, 2.592 276 for 50 (scipy.stats.gumbel_r).
#[test]
fn each_figure_of_the_climate_can_be_the_design_low() {
    for (choice, celsius, is) in [
        ("", -26.0 - 1.865_799 * 4.0, "20-year low"),
        ("design_low: 50-year low", -26.0 - 2.592_276 * 4.0, "50-year low"),
        ("design_low: 99.6 %", -20.0, "99.6 % value"),
        ("design_low: 99%", -17.0, "99 % value"),
        ("design_low: coldest recorded", -41.0, "coldest recorded"),
        ("design_low: -22 °F", -30.0, "as stated"),
        (
            "design_low: authority\nauthority: { winter_temperature: -24 °C }",
            -24.0,
            "the authority's winter temperature",
        ),
    ] {
        let (found, named) = low(&format!("{OWN}{choice}\n"), None);
        assert!((found - celsius).abs() < 1e-4, "{choice}: {found}");
        assert_eq!(named, is, "{choice}");
    }
}

#[test]
fn the_command_line_goes_before_the_job() {
    let (found, is) = low(&format!("{OWN}design_low: 99 %\n"), Some("coldest recorded"));
    assert_eq!((found.round(), is.as_str()), (-41.0, "coldest recorded"));
}

#[test]
fn a_figure_that_there_is_not_is_told_and_no_other_taken() {
    let bare = "climate: { name: Testville, heating_99: -17 °C }\n";
    for (job, option, told) in [
        (
            bare.to_owned(),
            None,
            "job.yaml, line 2, column 10: Testville has no 20-year low; expected `design_low:` in the job, or \
             --design-low: 99 %, or a temperature (99 % and 99.6 % are milder than a 20-year low)",
        ),
        (
            format!("{bare}design_low: coldest recorded\n"),
            None,
            "job.yaml, line 3, column 13: Testville has no coldest hour on record; expected `design_low:` in the job, \
             or --design-low: 99 %, or a temperature (99 % and 99.6 % are milder than a 20-year low)",
        ),
        (
            bare.to_owned(),
            Some("authority"),
            "--design-low: the authority's winter temperature is not stated; expected \
             `authority: { winter_temperature: -11 °F }` in the job",
        ),
        (
            format!("{OWN}design_low: 97.5 %\n"),
            None,
            "job.yaml, line 3, column 13: \"97.5 %\" is not a design low; expected 20-year low, 99.6 %, 99 %, coldest \
             recorded, authority, or a temperature such as -20 °F",
        ),
        (
            format!("{OWN}design_low: -20\n"),
            None,
            "job.yaml, line 3, column 13: \"-20\" is not a design low; expected 20-year low, 99.6 %, 99 %, coldest recorded, \
             authority, or a temperature such as -20 °F",
        ),
    ] {
        assert_eq!(lines(opened(&job, option)), [told]);
    }
}

#[test]
fn a_climate_of_one_figure_serves_where_that_is_chosen() {
    assert_eq!(
        low("climate: { name: Testville, heating_99: -17 °C }\ndesign_low: 99 %\n", None).1,
        "99 % value"
    );
}

#[test]
fn an_authoritys_winter_temperature_far_milder_than_every_winter_there_is_a_slip() {
    assert_eq!(
        lines(opened(&format!("{OWN}authority: {{ winter_temperature: 11 °C }}\n"), None)),
        [
            "job.yaml, line 3, column 34: \"11 °C\" is no winter design temperature of Testville: every winter reaches 1.4 °F; \
             expected a temperature that winters there reach: is a minus missing, or another town meant?"
        ]
    );
    // Older codes print a milder value than the 99 % one.
    assert!(opened(&format!("{OWN}authority: {{ winter_temperature: 10 °F }}\n"), None).is_ok());
}

#[test]
fn a_low_milder_than_every_winter_there_is_a_slip() {
    assert_eq!(
        lines(opened(&format!("{OWN}design_low: 20 °F\n"), None)),
        [
            "job.yaml, line 3, column 13: \"20 °F\" is not a design low of Testville: every winter reaches 1.4 °F; expected a low \
          that winters there reach: is a minus missing?"
        ]
    );
    assert_eq!(
        lines(opened("climate: { name: Testville, design_low: 80 °F }\n", None)),
        [
            "job.yaml, line 2, column 41: is warmer than any plausible design low; expected a low that winters there reach: is a \
          minus missing?"
        ]
    );
}

/// -11 °F is a figure of Minnesota; 10 °F is mild for Miami's authority, and colder than its 20-year low of 29 °F.
#[test]
fn an_authoritys_winter_temperature_far_colder_than_the_20_year_low_is_of_another_town() {
    let job = |stated: &str| format!("climate: miami-fl\nauthority: {{ winter_temperature: {stated} }}\n");
    let told = lines(opened(&job("-11 °F"), None));
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(
        told[0].contains("\"-11 °F\" is no winter design temperature of Miami, FL: its 20-year low is"),
        "{told:?}"
    );
    assert!(opened(&job("10 °F"), None).is_ok());
}

/// 40 °F for a lost minus; 20 °F is a mild figure, and can be meant.
#[test]
fn a_design_low_far_above_the_coldest_hour_on_record_is_a_slip() {
    let job = |low: &str| {
        format!("climate: {{ name: Testville, design_low: {low} °F, coldest_recorded: -30 °F }}\n")
    };
    assert_eq!(
        lines(opened(&job("40"), None)),
        [
            "job.yaml, line 2, column 41: is not a design low of Testville: its coldest hour on record is -30 °F; expected a low \
             that winters there reach: is a minus missing?"
        ]
    );
    assert!(opened(&job("20"), None).is_ok());
}

#[test]
fn figures_of_a_climate_that_cannot_all_be_right_are_told() {
    let told = "job.yaml, line 2, column 71: has a mean annual low of 75.2 °F above its 99.6 % value of -4 °F; expected \
                each figure no warmer than the one before: is a minus missing?";
    let job =
        "climate: { name: Testville, heating_99.6: -20 °C, annual_low: { mean: 24 °C, deviation: 4 °C } }\n";
    assert_eq!(lines(opened(job, None)), [told]);
}

#[test]
fn what_a_job_states_of_its_own_place_is_not_taken_for_another() {
    let job = "climate: atlanta-ga\ndesign_low: 10 °F\nauthority: { winter_temperature: 21 °F, frost_depth: 5 in }\n";
    let world =
        crate::climate::opened_at(job, "Mark,Kind\nA,sillcock\n", None, Some("fairbanks-ak")).unwrap();
    let job = world.job();
    assert_eq!(job.design.by.words(), "20-year low");
    // −30.5 °C and colder: Fairbanks, never Atlanta's 10 °F.
    assert!(job.design.low.unwrap() < 242.65, "{:?}", job.design);
    assert!(job.authority.winter_temperature.is_none() && job.authority.frost_depth.is_none());
    let told: Vec<&str> = job.schedule.unused.iter().map(|it| &*it.text).collect();
    assert_eq!(told, ["21 °F", "5 in", "10 °F"]);
}

#[test]
fn the_same_place_on_the_command_line_keeps_what_the_job_states() {
    let job = "climate: atlanta-ga\ndesign_low: 10 °F\n";
    let world = crate::climate::opened_at(job, "Mark,Kind\nA,sillcock\n", None, Some("ATLANTA-GA")).unwrap();
    assert_eq!(world.job().design.words(), "stated in the job");
}

/// -40 °F is -40 °C. A climate of the program's own, or the command line, leaves no doubt which goes before.
#[test]
fn a_described_climate_and_the_job_state_one_design_low() {
    let job = |low: &str| format!("climate: {{ name: Testville, design_low: -40 °F }}\ndesign_low: {low}\n");
    assert_eq!(
        lines(opened(&job("25 °F"), None)),
        [
            "job.yaml, line 3, column 13: \"25 °F\" is another design low than the -40 °F of the climate the job describes; \
             expected one of the two"
        ]
    );
    assert_eq!(low(&job("-40 °C"), None).0.round(), -40.0);
    assert_eq!(low(&job("-40 °F"), Some("-20 °C")).0.round(), -20.0);
    assert!(opened("climate: minneapolis-mn\ndesign_low: -30 °F\n", None).is_ok());
}

/// 18 mm and 42 mm for inches, and no frost where lows reach -32 °F. In Miami the ground does not freeze.
#[test]
fn figures_of_an_authority_in_a_wrong_unit_are_told() {
    let job = |place: &str, figure: &str| format!("climate: {place}\nauthority: {{ {figure} }}\n");
    for (figure, told) in [
        ("outlet_height: 18 mm", "29: \"18 mm\" is out of range; expected 2 in to 120 in"),
        (
            "frost_depth: 42 mm",
            "27: \"42 mm\" is no frost depth that an authority states; expected 3 in or more, or 0 in where the ground does \
             not freeze",
        ),
        (
            "frost_depth: 0 in",
            "27: \"0 in\" is no frost depth where the design low is -31 °F; expected the authority's figure, such as 42 in",
        ),
    ] {
        assert_eq!(
            lines(opened(&job("minneapolis-mn", figure), None)),
            [format!("job.yaml, line 3, column {told}")],
            "{figure}"
        );
    }
    assert!(opened(&job("minneapolis-mn", "frost_depth: 3 in, outlet_height: 2 in"), None).is_ok());
    assert!(opened(&job("miami-fl", "frost_depth: 0 in"), None).is_ok());
}

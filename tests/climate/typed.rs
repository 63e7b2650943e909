//! Spells typed as stretches.

use super::lines;
use coldsill::diag::Location;
use coldsill::spell::{Spell, SpellDoubt, SpellKind, Stretch};
use proptest::prelude::*;

const HOUR: f64 = 3600.0;
const START: f64 = 275.0;

fn typed(text: &str) -> Result<Spell, coldsill::diag::Diagnostics> {
    Spell::typed(text, START, &Location::whole("--outdoors"))
}

/// (12 + 459.67)·5/9 and so on, to the digits printed.
#[test]
fn one_stretch_is_read_as_people_write_it() {
    for (text, kelvin, hours) in [
        ("12 °F for 60 h", 262.038_889, 60.0),
        ("12 F for 60 hours", 262.038_889, 60.0),
        ("12°F FOR 60h", 262.038_889, 60.0),
        ("-20 °C for 3 days", 253.15, 72.0),
        ("−20 °C  for  1 day", 253.15, 24.0),
        ("0 F for 90 min", 255.372_222, 1.5),
    ] {
        let spell = typed(text).unwrap();
        assert!((spell.coldest() - kelvin).abs() < 1e-6, "{text}: {}", spell.coldest());
        assert_eq!(spell.length(), hours * HOUR, "{text}");
        assert_eq!(spell.start(), START);
    }
}

#[test]
fn stretches_are_steps_with_a_return_over_an_hour() {
    let spell = typed("-10 °C for 12 h, -20 °C for 1 day").unwrap();
    for (hour, kelvin) in [
        (-0.001, START),
        (0.0, 263.15),
        (11.999, 263.15),
        (12.0, 253.15),
        (35.999, 253.15),
        (36.0, 253.15),
        (36.5, (253.15 + START) / 2.0),
        (37.0, START),
        (500.0, START),
    ] {
        assert!((spell.outdoors(hour * HOUR) - kelvin).abs() < 1e-9, "{hour} h");
    }
    assert_eq!(spell.length(), 36.0 * HOUR);
    let stretches = vec![
        Stretch { temperature: 263.15, time: 12.0 * HOUR },
        Stretch { temperature: 253.15, time: 24.0 * HOUR },
    ];
    let SpellKind::Typed { start, stretches: found } = spell.kind() else { panic!("{:?}", spell.kind()) };
    assert_eq!((*start, found.len()), (START, 2));
    for (found, wanted) in found.iter().zip(&stretches) {
        assert!((found.temperature - wanted.temperature).abs() < 1e-9 && found.time == wanted.time);
    }
    assert!(spell.knots().windows(2).all(|pair| pair[0][0] <= pair[1][0]));
}

#[test]
fn invalid_stretches_are_reported_with_their_text() {
    const SHAPE: &str = "expected a temperature and a duration such as 12 °F for 60 h";
    for (text, line) in [
        ("", format!("--outdoors: a stretch of the spell is blank; {SHAPE}")),
        ("12 °F", format!("--outdoors: \"12 °F\" gives no duration; {SHAPE}")),
        ("12 °F for", format!("--outdoors: \"12 °F for\" needs both a temperature and a duration; {SHAPE}")),
        ("for 60 h", format!("--outdoors: \"for 60 h\" needs both a temperature and a duration; {SHAPE}")),
        (
            "12 for 60 h",
            "--outdoors: \"12\" has no unit; expected a temperature such as -5 °F or -20 °C".into(),
        ),
        ("12 °F for 60", "--outdoors: \"60\" has no unit; expected a time such as 60 h".into()),
        (
            "12 °F for 60 houres",
            "--outdoors: \"60 houres\" has an unknown unit, \"houres\"; expected a time such as 60 h; did you \
             mean \"hours\"?"
                .into(),
        ),
        (
            "12 °F for 8 in",
            "--outdoors: \"8 in\" is a length, not a time; expected a time such as 60 h".into(),
        ),
        (
            "-200 °F for 60 h",
            "--outdoors: \"-200 °F\" is not a plausible outdoor temperature; expected a temperature from -112 °F to 104 °F (-80 °C to \
             40 °C)"
                .into(),
        ),
        (
            "12 °F for 0 h",
            "--outdoors: \"0 h\" is out of range for a duration; expected more than zero, and at most 60 days in all"
                .into(),
        ),
        (
            "12 °F for -5 h",
            "--outdoors: \"-5 h\" is out of range for a duration; expected more than zero, and at most 60 days in all"
                .into(),
        ),
        ("12 °F for 61 days", "--outdoors: \"12 °F for 61 days\" is too long; expected at most 60 days in all".into()),
    ] {
        assert_eq!(lines(typed(text)), [line], "{text}");
    }
    assert!(typed("12 °F for 60 days").is_ok());
}

#[test]
fn a_spell_at_a_temperature_is_not_yet_below_it() {
    let first_below = |text, start| {
        let spell = Spell::typed(text, start, &Location::whole("--outdoors")).unwrap();
        spell.first_below(273.15)
    };
    assert_eq!(first_below("1 °C for 3 h, -5 °C for 5 h", 273.15), Some(3.0 * HOUR));
    assert_eq!(first_below("0 °C for 5 h, -5 °C for 5 h", START), Some(5.0 * HOUR));
    assert_eq!(first_below("0 °C for 5 h", START), None);
}

#[test]
fn the_problems_of_all_stretches_come_at_once() {
    assert_eq!(lines(typed("12 for 60 h, 5 °F, , 10 °F for 1 h")).len(), 3);
}

/// A January of 16 °F before it does not make 12 °C for 60 h a cold spell.
#[test]
fn a_spell_whose_stretches_never_freeze_is_doubtful() {
    let climate =
        coldsill::shipped::climates().unwrap().iter().find(|it| &*it.id == "minneapolis-mn").unwrap();
    let doubts =
        |text: &str| Spell::typed(text, 264.0, &Location::whole("--outdoors")).unwrap().doubts(climate);
    assert_eq!(doubts("12 °C for 60 h"), [SpellDoubt::NeverFreezes { coldest: 285.15 }]);
    assert_eq!(doubts("12 °C for 60 h, -1 °C for 1 h"), []);
}

proptest! {
    #[test]
    fn arbitrary_text_never_panics(text in ".*") {
        let _ = typed(&text);
    }

    #[test]
    fn text_like_a_spell_never_panics(text in "[-−0-9.,/ ]{0,8}( ?°?[FC])?( for )?[-0-9.e]{0,6} ?(h|days|in)?,?.{0,9}") {
        if let Ok(spell) = typed(&text) {
            prop_assert!(spell.knots().iter().flatten().all(|it| it.is_finite()));
            prop_assert!(spell.length() > 0.0);
        }
    }
}

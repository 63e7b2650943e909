//! What is printed is read back.

use coldsill::units::{Measure, Quantity, Rounding, Show, System, UNITS, parse};
use proptest::prelude::*;

proptest! {
    #[test]
    fn printed_values_are_read_back_within_their_rounding(number in -1000.0_f64..1000.0) {
        for unit in UNITS {
            // "R-20" leaves no room for a sign, and no resistance has one.
            let number = if unit.names[0] == "R" { number.abs() } else { number };
            for measure in [unit.measure(), Measure::Of(unit.dim)] {
                // A slope in degrees stops short of the vertical.
                let steepest = if unit.names[0] == "°" { 0.08 } else { 1.0 };
                let Some(si) = unit.to_si(number * steepest, measure) else { continue };
                let quantity = Quantity::exact(si, measure);
                let shown = Show::new((unit.names[0], 3), (unit.names[0], 3), Rounding::Nearest);
                let text = shown.value(&quantity, System::Us);
                let read = parse(&text, measure);
                prop_assert!(read.is_ok(), "{text}: {read:?}");
                let back = read.ok().and_then(|it| unit.from_si(it.is, measure)).unwrap_or(f64::NAN);
                // Half of the last of three places, and the noise of the conversion.
                prop_assert!((back - number * steepest).abs() <= 0.5e-3 + 1e-9, "{text}: {back}");
            }
        }
    }

    #[test]
    fn every_spelling_of_every_unit_is_read_after_a_number(number in 0_u16..1000) {
        for (unit, name) in UNITS.iter().flat_map(|unit| unit.names.iter().map(move |name| (unit, name))) {
            let number = f64::from(number % 80);
            let text = format!("{number} {name}");
            let read = parse(&text, unit.measure());
            let si = unit.to_si(number, unit.measure()).unwrap_or(f64::NAN);
            prop_assert!(read.as_ref().is_ok_and(|it| (it.is - si).abs() <= 1e-9 * si.abs()), "{text}: {read:?}");
        }
    }

    #[test]
    fn no_text_takes_the_reader_down(text in "\\PC{0,40}|[-0-9/'\"., x+±~()a-z°½–]{0,24}") {
        for unit in UNITS {
            let _ = parse(&text, unit.measure());
        }
    }
}

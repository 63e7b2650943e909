//! No text takes the reader of quantities down, and what it reads is finite and in order.

#![no_main]

use coldsill::units::{UNITS, ParseOptions, parse_with};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: (&str, bool, bool, u8)| {
    let (text, decimal_comma, band, index) = data;
    let unit = &UNITS[usize::from(index) % UNITS.len()];
    let bare = index.is_multiple_of(2).then_some(unit);
    for want in [unit.measure(), coldsill::units::Measure::Of(unit.dim)] {
        if let Ok(it) = parse_with(text, want, ParseOptions { unit: bare, decimal_comma, band }) {
            assert!(it.low.is_finite() && it.high.is_finite(), "{text:?}: {it:?}");
            assert!(it.low <= it.is && it.is <= it.high, "{text:?}: {it:?}");
            assert!(band || !it.is_banded(), "{text:?}: {it:?}");
        }
    }
});

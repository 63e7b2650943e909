//! Hours of weather and climates: no bytes panic, and what is refused says why.
#![no_main]

use coldsill::climate::Library;
use coldsill::weather::Hourly;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    match Hourly::read("hours.csv", bytes) {
        Ok(hours) => {
            assert!(hours.measured().all(|hour| hour.kelvin.is_finite()));
            let _ = (hours.derive_climate(), hours.winters(), hours.coldest_month());
        }
        Err(problems) => assert!(!problems.is_empty()),
    }
    if let Err(problems) = Library::read([("own.yaml", bytes)]) {
        assert!(!problems.is_empty());
    }
});

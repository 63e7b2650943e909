//! Templates: no text panics.
#![no_main]

use coldsill::diag::Place;
use coldsill::expr::Template;
use coldsill::facts::Facts;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    if let Err(problems) = Template::check(text, &Place::whole("fuzz"), &Facts) {
        assert!(!problems.is_empty());
    }
});

//! Templates: no text panics, and what is accepted is put together again from its parts.
#![no_main]

use coldsill::diag::Location;
use coldsill::expr::{Part, Template};
use coldsill::facts::{Facts, entry};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let place = Location::line(&"rules.yaml".into(), 3, 5);
    let template = match Template::check(text, &place, &Facts) {
        Ok(template) => template,
        Err(problems) => return assert!(!problems.is_empty(), "refused without a reason: {text}"),
    };
    let whole: String = template
        .parts()
        .iter()
        .map(|part| match part {
            Part::Text(text) => text.replace('{', "{{").replace('}', "}}"),
            Part::Slot(slot) => format!("{{{}}}", entry(*slot).map_or("", |it| it.def.name)),
        })
        .collect();
    // Where there are no spaces within braces it is the text itself.
    let again = Template::check(&whole, &place, &Facts);
    assert_eq!(again.as_ref().map(Template::parts), Ok(template.parts()), "{text}");
});

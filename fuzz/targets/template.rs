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
    let print = |part: &Part| match part {
        Part::Text(text) => text.replace('{', "{{").replace('}', "}}"),
        Part::Figure(text, _) => format!("{{= {text}}}"),
        Part::Slot(slot) => format!("{{{}}}", entry(*slot).map_or("", |it| it.def.name)),
    };
    for sentence in template.sentences() {
        // Where there are no spaces within braces it is the text itself.
        let whole: String = sentence.iter().map(print).collect();
        let again = Template::check_sentence(&whole, &place, &Facts);
        assert_eq!(again.as_ref().map(Template::sentences), Ok(std::slice::from_ref(sentence)), "{text}");
    }
});

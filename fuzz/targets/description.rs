//! No text makes the parser of descriptions panic; each statement has words of the text, its term is stated once, and it is
//! not open.

#![no_main]

use coldsill::facts::VOCABULARY;
use coldsill::schedule::parse_description;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let description = parse_description(text, &VOCABULARY.0);
    for (at, it) in description.stated.iter().enumerate() {
        assert!(text.contains(it.words.as_str()), "{text:?}: {:?}", it.words);
        assert!(description.stated[..at].iter().all(|other| other.term != it.term), "{text:?}");
        assert!(description.contradictions.iter().all(|(other, _)| *other != it.term), "{text:?}");
        assert!(description.open.iter().all(|(_, terms)| !terms.contains(&it.term)), "{text:?}: {description:?}");
    }
});

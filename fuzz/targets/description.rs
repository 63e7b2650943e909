//! No text takes the reader of descriptions down; what it says comes from the text's own words, each fact once and not
//! while it is left open.

#![no_main]

use coldsill::facts::VOCABULARY;
use coldsill::schedule::hear;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let heard = hear(text, &VOCABULARY.0);
    for (at, (term, _, words)) in heard.facts.iter().enumerate() {
        assert!(text.contains(words.as_str()), "{text:?}: {words:?}");
        assert!(heard.facts[..at].iter().all(|(other, ..)| other != term), "{text:?}");
        assert!(heard.at_odds.iter().all(|(other, _)| other != term), "{text:?}");
        assert!(heard.doubtful.iter().all(|(_, terms)| !terms.contains(term)), "{text:?}: {heard:?}");
    }
});

//! Whole rule files, after those that come with the program: no bytes panic, and what is refused says why.
#![no_main]

use coldsill::facts::{CATALOGUE, Facts};
use coldsill::ruleset::{RuleFile, load};
use libfuzzer_sys::fuzz_target;

/// A set for amendments to change.
const SET: &str = "
set: company
about: Made up.
settings:
  margin: { is: 4 °F, about: degrees kept, between: [0 °F, 20 °F], difference: true }
  barrels: { is: [stainless, brass], of: outlet.barrel, about: barrels in stock }
  strict: { is: yes, about: whether it counts }
rules:
  - id: barrel-not-in-stock
    title: The barrel is not in stock
    basis: company
    why: Spares are kept for what is in stock.
    needs: outlet.barrel in company/barrels
    outcome: advise
    says: The barrel is {outlet.barrel}.
    cases:
      - { name: in stock, given: { outlet.barrel: brass }, gives: no comment }
      - { name: not in stock, given: { outlet.barrel: copper }, gives: advise }
";

fuzz_target!(|bytes: &[u8]| {
    let files = [RuleFile { name: "base.yaml", bytes: SET.as_bytes() }, RuleFile { name: "own.yaml", bytes }];
    let first = u16::try_from(CATALOGUE.len()).unwrap();
    match load(&files, &Facts, first) {
        Ok(rules) => assert!(rules.settings.iter().all(|it| rules.setting(it.slot) == Some(it))),
        Err(problems) => assert!(!problems.is_empty()),
    }
});

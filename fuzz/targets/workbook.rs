//! No bytes take the reading of a table or a workbook down, whatever they pack.
#![no_main]

use coldsill::facts::VOCABULARY;
use coldsill::input::table;
use coldsill::schedule;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let mark = VOCABULARY.0.iter().position(|it| it.fact == "outlet.mark").unwrap_or(0);
    match table::tables("s.xlsx", bytes) {
        Ok(tables) => {
            assert!(!tables.is_empty());
            for table in &tables {
                if let Err(problem) = schedule::read(table, &VOCABULARY.0, mark) {
                    assert!(!problem.message.is_empty());
                }
            }
        }
        Err(problem) => assert!(!problem.message.is_empty()),
    }
});

//! No bytes take the reading of a schedule down, and every row and problem has its place.

#![no_main]

use coldsill::facts::VOCABULARY;
use coldsill::input::{table, text};
use coldsill::schedule;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let Ok(text) = text::decode("s.csv", bytes) else { return };
    let Ok(table) = table::parse("s.csv", text) else { return };
    let mark = VOCABULARY.0.iter().position(|it| it.fact == "outlet.mark").unwrap_or(0);
    if let Ok(schedule) = schedule::read(&table, &VOCABULARY.0, mark) {
        for row in &schedule.rows {
            assert!(row.cells.iter().all(|it| it.place.row() == Some(row.number)));
            assert!(row.cells.windows(2).all(|it| it[0].term < it[1].term), "a fact stands twice in a row");
        }
        assert!(schedule.problems.iter().all(|it| it.location.row().is_some()));
    }
});

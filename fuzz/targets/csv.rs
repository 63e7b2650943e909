//! No bytes take the reading of a schedule down, and every row and problem has its place.

#![no_main]

use coldsill::facts::VOCABULARY;
use coldsill::input::{table, text};
use coldsill::schedule::{self, Cell, CellValue};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let Ok(text) = text::decode("s.csv", bytes) else { return };
    let Ok(table) = table::parse("s.csv", text) else { return };
    let mark = VOCABULARY.0.iter().position(|it| it.fact == "outlet.mark").unwrap_or(0);
    if let Ok(schedule) = schedule::read(&table, &VOCABULARY.0, mark) {
        for row in &schedule.rows {
            // A note that the row cites, or a line that continues it, lies in another row.
            assert!(row.cells.iter().all(|it| it.location.row().is_some()));
            // Descriptions and notes may be several cells.
            let is_text = |cell: &Cell| matches!(cell.value, Some(CellValue::Text(_)));
            let in_order = |a: &Cell, b: &Cell| a.term < b.term || a.term == b.term && is_text(a) && is_text(b);
            assert!(row.cells.windows(2).all(|it| in_order(&it[0], &it[1])), "a fact stands twice in a row");
        }
        assert!(schedule.problems.iter().all(|it| it.location.row().is_some()));
    }
});

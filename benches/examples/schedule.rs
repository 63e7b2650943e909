//! Writes a long schedule to standard output: `cargo run -p coldsill-benches --example schedule -- 10000 1000 > long.csv`.

use std::io::Write;

fn main() -> std::io::Result<()> {
    let counts: Vec<usize> = std::env::args().skip(1).filter_map(|argument| argument.parse().ok()).collect();
    let rows = counts.first().copied().unwrap_or(10_000);
    let distinct = counts.get(1).copied().unwrap_or(1_000);
    std::io::stdout().write_all(coldsill_benches::schedules::mixed(rows, distinct).as_bytes())
}

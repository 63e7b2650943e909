//! Quantity texts against values worked out by hand.

use coldsill::units::{Dim, Measure, ParseOptions, Quantity, find_unit, parse_with};

/// A line of the file: the text, how it is read, and what it gives.
struct Case {
    line: usize,
    text: &'static str,
    want: Measure,
    how: ParseOptions<'static>,
    gives: &'static str,
}

fn measure(word: &str) -> Measure {
    match word {
        "temperature" => Measure::Temperature,
        "length" => Measure::Of(Dim::LENGTH),
        "difference" => Measure::Of(Dim::DIFFERENCE),
        "resistance" => Measure::Of(Dim::RESISTANCE),
        "slope" => Measure::Of(Dim::NONE),
        "density" => Measure::Of(Dim::DENSITY),
        "conductivity" => Measure::Of(Dim::CONDUCTIVITY),
        "time" => Measure::Of(Dim::TIME),
        other => panic!("{other} is no measure of the file"),
    }
}

fn cases() -> Vec<Case> {
    let (mut want, mut how) = (Measure::Of(Dim::LENGTH), ParseOptions::default());
    let mut cases = Vec::new();
    for (line, text) in include_str!("quantities.txt").lines().enumerate() {
        if text.is_empty() || text.starts_with("# ") {
            continue;
        }
        if let Some(group) = text.strip_prefix('[').and_then(|it| it.strip_suffix(']')) {
            let mut words = group.split(", ");
            want = measure(words.next().unwrap());
            how = ParseOptions::default();
            for word in words {
                match word {
                    "band" => how.band = true,
                    "decimal comma" => how.decimal_comma = true,
                    "heading in" => how.unit = find_unit("in"),
                    other => panic!("line {}: {other}", line + 1),
                }
            }
            continue;
        }
        // "=" and "!" part the text from what it gives at their first place with spaces about them.
        let at = [" = ", " ! "].into_iter().filter_map(|it| text.find(it)).min();
        let at = at.unwrap_or_else(|| panic!("line {}: {text}", line + 1));
        cases.push(Case { line: line + 1, text: &text[..at], want, how, gives: &text[at + 1..] });
    }
    cases
}

/// The value of an arithmetic expression.
fn number(arithmetic: &str) -> f64 {
    evalexpr::eval_number(arithmetic).unwrap_or_else(|it| panic!("{arithmetic}: {it}"))
}

/// `is within low .. high`, or a value alone.
fn quantity(gives: &str, want: Measure) -> Quantity {
    match gives.split_once(" within ") {
        None => Quantity::exact(number(gives), want),
        Some((is, ends)) => {
            let (low, high) = ends.split_once(" .. ").unwrap();
            Quantity::exact(number(is), want).within(number(low), number(high))
        }
    }
}

#[test]
fn texts_are_the_quantities_or_errors_worked_out_by_hand() {
    let mut wrong = Vec::new();
    for Case { line, text, want, how, gives } in cases() {
        let read = parse_with(text, want, how);
        let told = match (&read, gives.split_at(2)) {
            (Ok(it), ("= ", arithmetic)) => {
                let by_hand = quantity(arithmetic, want);
                // Binary arithmetic in another order, and a tangent written with eight digits.
                let near = |a: f64, b: f64| (a - b).abs() <= 1e-7 * b.abs().max(0.01);
                if near(it.is, by_hand.is) && near(it.low, by_hand.low) && near(it.high, by_hand.high) {
                    continue;
                }
                format!("{it:?}, by hand {by_hand:?}")
            }
            (Err(refused), ("! ", what)) if refused.message() == what => continue,
            _ => format!("{read:?}"),
        };
        wrong.push(format!("line {line}: {text}  {gives}\n    {told}"));
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn the_file_has_300_texts_and_100_errors() {
    let cases = cases();
    let refused = cases.iter().filter(|it| it.gives.starts_with('!')).count();
    assert!(cases.len() >= 300 && refused >= 100, "{} texts, {refused} refused", cases.len());
}

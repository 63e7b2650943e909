//! Sequences of tokens of the language, right or not.

use super::catalogue::NAMES;
use super::generate::Choices;
use coldsill::units::UNITS;

const PIECES: &[&str] = &[
    "and",
    "or",
    "not",
    "in",
    "between",
    "matches",
    "yes",
    "no",
    "=",
    "!=",
    "<",
    "<=",
    ">",
    ">=",
    "+",
    "-",
    "*",
    "/",
    "(",
    ")",
    "[",
    "]",
    ",",
    "\"",
    "\"inside\"",
    "\"copper\"",
    "\"fr(o|s)t\"",
    "\"(\"",
    "min(",
    "max(",
    "round_up(",
    "stated(",
    "known(",
    "8",
    "1/4",
    "1 1/2",
    ".5",
    "0",
    "1/0",
    "R-20",
    "R",
    "8\"",
    "32 °F",
    "4 Δ°F",
    "99999999999999999999999999999999999999999999999999999999999999999999",
    "and (",
    ") or",
    "\n",
    "'",
    "“",
    "≤",
    "==",
    "&&",
    "true",
    "$",
    "½",
    "°",
    "x",
];

pub fn joined(choices: &mut Choices<'_>) -> String {
    let mut text = String::new();
    for _ in 0..choices.pick(60) {
        match choices.pick(4) {
            0 => text.push_str(NAMES[choices.pick(NAMES.len())].0),
            1 => {
                let unit = &UNITS[choices.pick(UNITS.len())];
                text.push_str(choices.one(&["2", "-3", "0.5"]));
                text.push_str(choices.one(&["", " "]));
                text.push_str(choices.one(unit.names));
            }
            _ => text.push_str(choices.one(PIECES)),
        }
        text.push_str(choices.one(&[" ", " ", " ", ""]));
    }
    text
}

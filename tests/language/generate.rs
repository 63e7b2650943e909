//! Makes right conditions and values of any kind out of bytes: the bytes are the choices. The fuzzing targets use it too.

use coldsill::expr::{Slot, Type, Value};
use coldsill::units::{Measure, Quantity, UNITS};

use super::catalogue::{Facts, NAMES, slot};

/// Choices, taken from bytes; the first answer to every question once there are no more.
pub struct Choices<'b> {
    bytes: &'b [u8],
}

impl<'b> Choices<'b> {
    pub fn new(bytes: &'b [u8]) -> Self {
        Self { bytes }
    }

    /// One of so many.
    pub fn pick(&mut self, many: usize) -> usize {
        match self.bytes.split_first() {
            Some((first, rest)) => {
                self.bytes = rest;
                usize::from(*first) % many
            }
            None => 0,
        }
    }

    pub fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.pick(of.len())]
    }

    fn perhaps(&mut self) -> bool {
        self.pick(2) == 1
    }
}

/// What a generated amount measures.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    Number,
    Length,
    Temperature,
    Difference,
}

const MEASURES: &[Of] = &[Of::Number, Of::Length, Of::Temperature, Of::Difference];
const SIGNS: &[&str] = &["=", "!=", "<", "<=", ">", ">="];
const YES_NO: &[&str] = &["a", "b", "c", "outlet.inside_stop", "company/strict", "yes", "no"];
const TEXTS: &[&str] = &["outlet.model", "outlet.maker"];
const PATTERNS: &[&str] = &["frost.?proof", "^WH-[0-9]+$", "a|b", "(?-i)El", r"\(mild\)", "é{2,3}"];

/// A right condition. With `asks`, also one that asks what is stated or known.
pub fn condition(choices: &mut Choices<'_>, asks: bool) -> String {
    test(choices, 3, asks)
}

fn test(it: &mut Choices<'_>, deep: usize, asks: bool) -> String {
    let kinds = if deep > 0 { 16 } else { 11 };
    let text = match it.pick(kinds) {
        0 => it.one(YES_NO).to_owned(),
        1 => {
            let of = it.one(MEASURES);
            format!("{} {} {}", amount(it, of, 2), it.one(SIGNS), amount(it, of, 2))
        }
        2 => {
            let of = it.one(MEASURES);
            // Ends that are constants must stand in order: a name is none.
            format!("{} between {} and {}", amount(it, of, 1), amount(it, of, 0), name(it, of))
        }
        3 => {
            let of = it.one(MEASURES);
            let items: Vec<String> = (0..=it.pick(3)).map(|_| amount(it, of, 1)).collect();
            format!("{} in [{}]", amount(it, of, 1), items.join(","))
        }
        4 => format!("outlet.barrel {} \"{}\"", it.one(&["=", "!="]), it.one(&["copper", "brass"])),
        5 => format!("{} {} {}", it.one(TEXTS), it.one(&["=", "!="]), it.one(&["\"x (y\"", "outlet.maker"])),
        6 => format!("outlet.barrel in [{}]", it.one(&["\"copper\"", "\"brass\" ,\"stainless\""])),
        7 => it
            .one(&[
                "outlet.barrel in company/approved_barrels",
                "outlet.maker in company/makers",
                "\"Elm\" in company/makers",
            ])
            .to_owned(),
        8 => format!("{} matches \"{}\"", it.one(TEXTS), it.one(PATTERNS)),
        9 => {
            let unit = &UNITS[it.pick(UNITS.len())];
            let literal = |it: &mut Choices<'_>| {
                let (number, name) = (it.one(&["8", "1/4", "1 1/2", ".5", "0.20"]), it.one(unit.names));
                let space = if name.starts_with(['"', '\'']) { "" } else { " " };
                format!("{number}{space}{name}")
            };
            let left = literal(it);
            format!("{left} {} {}", it.one(SIGNS), literal(it))
        }
        10 if asks => {
            let name = NAMES[it.pick(NAMES.len())].0;
            format!("{}({name})", it.one(&["stated", "known"]))
        }
        10 => "outlet.closes != \"face\"".to_owned(),
        11 => format!("not {}", test(it, deep - 1, asks)),
        12 => format!("{} and {}", test(it, deep - 1, asks), test(it, deep - 1, asks)),
        13 => format!("{} or {}", test(it, deep - 1, asks), test(it, deep - 1, asks)),
        14 => {
            format!("({}) {} ({})", test(it, deep - 1, asks), it.one(&["=", "!="]), test(it, deep - 1, asks))
        }
        _ => format!("({})and({})or\n{}", test(it, deep - 1, asks), test(it, deep - 1, asks), it.one(YES_NO)),
    };
    if it.pick(4) == 1 { format!("( {text})") } else { text }
}

fn name(it: &mut Choices<'_>, of: Of) -> String {
    let names: &[&str] = match of {
        Of::Number => &["outlet.count", "outlet.slope", "cross-connection/limit"],
        Of::Length => &["outlet.seat_depth", "outlet.nominal_length"],
        Of::Temperature => &["site.design_low", "heat.seat_temperature"],
        Of::Difference => &["site.swing", "freezing/margin"],
    };
    it.one(names).to_owned()
}

fn literal(it: &mut Choices<'_>, of: Of) -> String {
    let literals: &[&str] = match of {
        Of::Number => &["2", "-3", "0", "1/4", "50 %", "1/4 in/ft", "45 °"],
        Of::Length => &["8 in", "8\"", "-203 mm", "1 1/2 ft", "3'"],
        Of::Temperature => &["32 °F", "-40 °C", "0 F"],
        Of::Difference => &["4 Δ°F", "-5 K", "9 delta °F"],
    };
    it.one(literals).to_owned()
}

fn amount(it: &mut Choices<'_>, of: Of, deep: usize) -> String {
    if deep == 0 || it.perhaps() {
        return if it.perhaps() { name(it, of) } else { literal(it, of) };
    }
    let inner = |it: &mut Choices<'_>, of| format!("({})", amount(it, of, deep - 1));
    match (it.pick(6), of) {
        (0, _) => {
            let change = if of == Of::Temperature { Of::Difference } else { of };
            let left = amount(it, of, deep - 1);
            format!("{left} {} {}", it.one(&["+", "-"]), inner(it, change))
        }
        (1, Of::Temperature) | (2, Of::Temperature) => {
            format!("({} - {}) + {}", inner(it, of), inner(it, of), name(it, of))
        }
        (1, _) => format!("{} * {}", inner(it, Of::Number), inner(it, of)),
        (2, _) => format!("{} / {}", inner(it, of), it.one(&["outlet.count", "-2", "(1/4)", "3 * 2"])),
        (3, Of::Number) => format!("{} / {}", inner(it, Of::Length), name(it, Of::Length)),
        (3, Of::Difference) => format!("{} - {}", inner(it, Of::Temperature), inner(it, Of::Temperature)),
        (3, Of::Length) => format!("barrel.bore_area / {}", name(it, of)),
        (4, Of::Number | Of::Length | Of::Difference) if it.perhaps() => {
            let to = match of {
                Of::Length => "2 in",
                Of::Difference => "1 K",
                Of::Number | Of::Temperature => "0.5",
            };
            format!("round_up({}, {to})", amount(it, of, deep - 1))
        }
        (5, Of::Number | Of::Length | Of::Difference) => format!("-{}", inner(it, of)),
        _ => {
            let function = it.one(&["min", "max"]);
            format!("{function}({}, {})", amount(it, of, deep - 1), amount(it, of, deep - 1))
        }
    }
}

/// Values of every name of the catalogue: many have none.
pub fn facts(choices: &mut Choices<'_>) -> Facts {
    let mut facts = Facts::default();
    for (name, ty) in NAMES {
        let slot = slot(name);
        match choices.pick(8) {
            0..=2 => {}
            3 => facts.lack(slot, choices.one(&["nobody wrote it", "none is listed"])),
            _ => facts.set(slot, value(choices, ty)),
        }
    }
    facts
}

/// Any value a name may have, by its slot.
pub fn value_of(choices: &mut Choices<'_>, slot: Slot) -> Value {
    value(choices, &NAMES[usize::from(slot.0)].1)
}

fn value(it: &mut Choices<'_>, ty: &Type) -> Value {
    match ty {
        Type::YesNo => Value::YesNo(it.perhaps()),
        Type::OneOf(words) => Value::Text(it.one(words).into()),
        Type::Text => Value::Text(it.one(&["Elm", "a frost-proof bibb", "WH-12", "", "x (y"]).into()),
        Type::List(words) => {
            let words = words.unwrap_or(&["Elm", "x (y"]);
            let from = it.pick(words.len());
            Value::List(words[from..].iter().map(|word| (*word).into()).collect())
        }
        Type::Quantity(measure) => Value::Quantity(quantity(it, *measure)),
    }
}

fn quantity(it: &mut Choices<'_>, measure: Measure) -> Quantity {
    let size: f64 = it.one(&[0.0, 1.0, 0.2032, 2.0, 0.5, -1.0, 1e-9, 273.15, 1e154, 1e300]);
    let middle = if measure == Measure::Temperature { 273.15 + size } else { size };
    let spread = it.one(&[0.0, 0.0, 0.0, 0.1, 1.0]) * size.abs();
    let low = if it.perhaps() { spread } else { 0.0 };
    Quantity::exact(middle, measure).within(middle - low, middle + spread)
}

//! Looks up a table for facts that are known, known within a band, or unknown.

use super::{Table, TableRow, Word};
use crate::expr::{Gap, Slot, Type, Value, ValueOrGap, folded, same_text};
use crate::truth::Reason;
use crate::units::{self, Quantity};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A value that a fact has or may have.
#[derive(Clone, Debug)]
enum Point {
    Number(f64),
    Word(Arc<str>),
}

/// The values a fact has or may have, and what is missing if it is unknown.
struct Known {
    points: Vec<Point>,
    gap: Option<Gap>,
}

/// Most combinations of unknown facts tried. With more, every unknown fact is needed.
const MOST_COMBINATIONS: usize = 5000;

/// A value of the table, or why there is none.
type Found = Result<Quantity, Arc<str>>;

impl Table {
    /// The table's value. An unknown fact is needed only if it decides; a band over several rows gives a band over their
    /// values.
    pub fn look_up(&self, read: &dyn Fn(Slot) -> ValueOrGap) -> ValueOrGap {
        let keys = self.by.iter().enumerate();
        let known: Vec<Known> = keys.map(|(at, key)| self.known(at, &key.ty, read(key.slot))).collect();
        let open: Vec<usize> = (0..known.len()).filter(|key| known[*key].gap.is_some()).collect();
        let sizes = open.iter().map(|key| known[*key].points.len());
        let count = sizes.into_iter().try_fold(1usize, usize::checked_mul);
        let Some(count) = count.filter(|it| *it <= MOST_COMBINATIONS) else {
            let mut all = Gap::default();
            known.into_iter().filter_map(|it| it.gap).for_each(|gap| all.absorb(gap));
            return Err(all);
        };
        let found: Vec<Found> =
            (0..count).map(|number| self.over_band(&known, &chosen(&known, &open, number))).collect();
        let Some(first) = found.first() else { return Err(Gap::absent(self.slot, "the table has no rows")) };
        if found.iter().all(|it| it == first) {
            return match first {
                Ok(quantity) => Ok(Value::Quantity(*quantity)),
                Err(why) => Err(Gap::absent(self.slot, why.clone())),
            };
        }
        let mut gap = Gap::default();
        let mut step = 1;
        for key in open {
            let points = known[key].points.len();
            // Neighbors that differ only in this fact.
            let decides = (0..count).any(|it| {
                let base = it - (it / step % points) * step;
                found[it] != found[base]
            });
            if let (true, Some(own)) = (decides, &known[key].gap) {
                gap.absorb(own.clone());
            }
            step *= points;
        }
        Err(gap)
    }

    /// What is known of a fact.
    fn known(&self, key: usize, ty: &Type, reading: ValueOrGap) -> Known {
        match (reading, ty) {
            (Ok(Value::Quantity(quantity)), _) => Known { points: self.within(&quantity), gap: None },
            (Ok(Value::Text(word)), _) => Known { points: vec![Point::Word(word)], gap: None },
            (Ok(Value::YesNo(yes)), _) => {
                Known { points: vec![Point::Word(if yes { "yes" } else { "no" }.into())], gap: None }
            }
            // No fact of a table is a list.
            (Ok(Value::List(_)), _) => Known { points: Vec::new(), gap: None },
            (Err(gap), Type::Quantity(_)) => Known { points: self.all_numbers(), gap: Some(gap) },
            (Err(gap), ty) => Known { points: self.all_words(key, ty), gap: Some(gap) },
        }
    }

    /// The value itself first, then the ends of its band and every breakpoint between them.
    fn within(&self, quantity: &Quantity) -> Vec<Point> {
        let mut numbers = vec![quantity.is];
        if quantity.is_banded() {
            let inside = |it: &f64| quantity.low < *it && *it < quantity.high;
            numbers.extend([quantity.low, quantity.high]);
            numbers.extend(self.breakpoints().filter(inside));
        }
        numbers.into_iter().map(Point::Number).collect()
    }

    fn breakpoints(&self) -> impl Iterator<Item = f64> {
        self.rows.iter().filter_map(|row| Some(row.to.as_ref()?.0))
    }

    fn all_numbers(&self) -> Vec<Point> {
        let beyond = self.direction.map(|it| it.beyond());
        self.breakpoints().chain(beyond).map(Point::Number).collect()
    }

    /// Every value that a fact may have; for a text, those that the table names.
    fn all_words(&self, key: usize, ty: &Type) -> Vec<Point> {
        match ty {
            Type::OneOf(words) => words.iter().map(|word| Point::Word((*word).into())).collect(),
            Type::YesNo => ["yes", "no"].map(|it| Point::Word(it.into())).to_vec(),
            _ => {
                let is_column = self.column_key() == Some(key);
                let columns = self.rows.iter().flat_map(|row| row.cells.iter().map(|(word, _)| word));
                let in_rows = self.rows.iter().filter_map(|row| row.words[key].as_ref());
                let named = columns.filter(|_| is_column).chain(in_rows).filter_map(|word| match word {
                    Word::Is(word) => Some((folded(word), word)),
                    Word::Other => None,
                });
                let named: BTreeMap<String, &Arc<str>> = named.collect();
                // A text may also be none of those named.
                named.into_values().cloned().chain(["\0".into()]).map(Point::Word).collect()
            }
        }
    }

    /// The value over the band of the fact with breakpoints, with one point for each unknown fact.
    fn over_band(&self, known: &[Known], chosen: &[Point]) -> Found {
        let banded = self.quantity_key().filter(|key| known[*key].gap.is_none());
        let Some(key) = banded else { return self.at(chosen) };
        let mut points = chosen.to_vec();
        let mut over: Option<Quantity> = None;
        for point in &known[key].points {
            points[key] = point.clone();
            let here = self.at(&points)?;
            over = Some(over.map_or(here, |it| it.within(it.low.min(here.is), it.high.max(here.is))));
        }
        over.ok_or_else(|| "the table has no rows".into())
    }

    /// The value at one point for each fact.
    fn at(&self, points: &[Point]) -> Found {
        let fits = |row: &&TableRow| {
            row.words.iter().zip(points).all(|(word, point)| match (word, point) {
                (Some(Word::Is(word)), Point::Word(said)) => same_text(word, said),
                _ => true,
            })
        };
        let mut rows: Vec<&TableRow> = self.rows.iter().filter(fits).collect();
        // The row that names most values applies.
        if let Some(best) = rows.iter().max_by_key(|row| row.named()).map(|row| &row.words) {
            rows.retain(|row| row.words == *best);
        }
        let Some(last) = rows.last() else {
            return Err(format!("the table has no row for {}", self.said(points)).into());
        };
        let number = self.quantity_key().map(|key| &points[key]);
        let row = match (number, self.direction) {
            (Some(Point::Number(number)), Some(direction)) => {
                let reaches = |row: &&&TableRow| {
                    row.to.as_ref().is_some_and(|(to, _)| direction.takes_in(*number, *to))
                };
                rows.iter().find(reaches).copied().ok_or_else(|| {
                    let end = last.to.as_ref().map_or("", |(_, text)| text);
                    Arc::from(format!("the table ends at {}", self.figure(end)))
                })?
            }
            _ => last,
        };
        let column = self.column_key().map(|key| &points[key]);
        let cell = match column {
            Some(Point::Word(word)) => {
                let own = row.cells.iter().find(|(it, _)| it.is(word));
                own.or_else(|| row.cells.iter().find(|(it, _)| *it == Word::Other))
            }
            _ => row.cells.first(),
        };
        match cell {
            Some((_, Some(quantity))) => Ok(*quantity),
            Some((_, None)) => Err(format!("the table has no value for {}", self.said(points)).into()),
            None => Err(format!("the table has no column for {}", self.said(points)).into()),
        }
    }

    /// The text of a breakpoint, as a figure to print in the reader's units if it can be one.
    fn figure(&self, written: &str) -> String {
        let measure = self.quantity_key().map(|key| &self.by[key].ty);
        // Degrees that are a difference must say so in a text.
        let ways = [written.to_owned(), written.replace('°', "Δ°")];
        let fits =
            |it: &String| units::figure(it).is_ok_and(|it| measure == Some(&Type::Quantity(it.measure)));
        ways.into_iter().find(fits).map_or_else(|| written.to_owned(), |it| format!("{{= {it}}}"))
    }

    /// The values looked up, for a reason.
    fn said(&self, points: &[Point]) -> String {
        let words = points.iter().filter_map(|point| match point {
            Point::Word(word) => Some(word.as_ref()),
            Point::Number(_) => None,
        });
        let words: Vec<&str> = words.collect();
        if words.is_empty() { "it".into() } else { words.join(", ") }
    }
}

/// One point for each fact: of unknown facts, that of the combination with this number.
fn chosen(known: &[Known], open: &[usize], number: usize) -> Vec<Point> {
    let mut rest = number;
    let pick = |(key, it): (usize, &Known)| {
        let at = if open.contains(&key) {
            let at = rest % it.points.len();
            rest /= it.points.len();
            at
        } else {
            0
        };
        it.points[at].clone()
    };
    known.iter().enumerate().map(pick).collect()
}

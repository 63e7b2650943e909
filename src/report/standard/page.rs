//! What a standard says, in the same words and figures for every form of its page.

use super::{
    SLACK, assumed, change_in, design_lows, in_matrix, is_boundary, item, low, product, remarks, supply,
    variant, wall,
};
use crate::diag::capital;
use crate::report::words::listed;
use crate::standard::{Cell, Change, Standard, Stock, THIN, VARIANTS};
use crate::units::{Dim, Quantity, Show, System};
use std::sync::Arc;

/// What the letters in a matrix mean.
pub(super) const LETTERS: &str = "F: freezing governs, C: the adopted code, I: the insulation, R: other rules; nothing: the \
                                  shortest is enough. *: a boundary case, listed below.";
/// Headings of the boundary cases.
pub(super) const CASES: [&str; 4] = ["Place", "Wall, barrel, supply", "Order", "Why"];
/// Headings of what to stock.
pub(super) const STOCKED: [&str; 4] = ["Stocked", "Products", "Serves", "Cost"];
const STOCK_NOTE: &str = "Serves: places by walls and supplies. Cost: one faucet for each home on each wall and supply \
                          served, the cheapest stocked one that is enough; not given unless every home and price is stated.";
/// Headings of what changes a length.
pub(super) const CHANGES: [&str; 6] = ["Instead", "Length changes", "Longer", "Shorter", "Same", "Not known"];
/// What they count.
pub(super) const CHANGES_NOTE: &str =
    "In cells with a product. Not known: the climate has no such figure. The CSV file says it of each cell.";

/// The page.
pub(super) struct StandardPage {
    /// Each line with its label.
    pub head: Vec<(&'static str, String)>,
    /// One for each supply and barrel.
    pub matrices: Vec<Matrix>,
    /// The boundary cases.
    pub cases: Vec<[String; 4]>,
    pub cases_note: String,
    /// What to stock: sentences, then what one, two and three products serve.
    pub stock: Vec<String>,
    pub stocked: Vec<[String; 4]>,
    pub stock_note: &'static str,
    /// What changes a length.
    pub changes: Vec<[String; 6]>,
    /// What is assumed, a sentence each.
    pub assumed: Vec<String>,
    pub solved: String,
}

/// Lengths for a supply and a barrel.
pub(super) struct Matrix {
    pub title: String,
    /// Walls, each with the number of its setting.
    pub walls: Vec<(String, usize)>,
    /// Place and design low, and the product for each wall.
    pub rows: Vec<([String; 2], Vec<String>)>,
}

impl StandardPage {
    pub(super) fn of(standard: &Standard, system: System) -> Self {
        let cases = standard.all().filter(|(.., cell)| is_boundary(cell)).map(|(place, setting, cell)| {
            [
                place.climate.name_and_state(),
                format!("{}, {} barrel, {}", wall(setting), setting.barrel, supply(setting)),
                cell.order.map_or_else(|| "none".into(), |at| product(&standard.products[at], system)),
                remarks(standard, cell, system),
            ]
        });
        let thin = SLACK.value(&Quantity::of(THIN, Dim::LENGTH), system);
        Self {
            head: head(standard, system),
            matrices: matrices(standard, system),
            cases: cases.collect(),
            cases_note: format!(
                "Slack: how much shallower the valve seat could be, between this length and the next shorter one, on \
                 the safe side. Listed if it is under {thin}, or if the 50-year low asks for a longer one."
            ),
            stock: stock(standard, system),
            stocked: standard.groups.best.iter().map(|stock| stocked(standard, stock, system)).collect(),
            stock_note: STOCK_NOTE,
            changes: changes(standard),
            assumed: assumed(standard, system),
            solved: format!(
                "Solved: {} sections, each once, for {} cells. Lengths are nominal: check the seat depth of the product \
                 ordered.",
                standard.solves.sections,
                standard.all().count(),
            ),
        }
    }
}

fn head(standard: &Standard, system: System) -> Vec<(&'static str, String)> {
    let mut head = vec![
        ("Standard", format!("{}, {}", standard.name, standard.date)),
        ("Design low", design_lows(standard)),
    ];
    head.extend(standard.margin.as_ref().map(|margin| {
        let margin = Show::usual(margin.measure).value(margin, system);
        ("Margin", format!("{margin} above freezing at the valve seat"))
    }));
    let stop = if standard.inside_stop { "an inside stop is standard" } else { "no inside stop" };
    head.push(("Stop", stop.into()));
    if !standard.amendments.is_empty() {
        head.push(("Amended by", listed(&standard.amendments, usize::MAX)));
    }
    head
}

fn matrices(standard: &Standard, system: System) -> Vec<Matrix> {
    let mut matrices: Vec<Matrix> = Vec::new();
    for (at, setting) in standard.settings.iter().enumerate() {
        let title = format!("{} barrel, {} supply", capital(&setting.barrel), supply(setting));
        let known = matrices.iter_mut().find(|matrix| matrix.title == title);
        match known {
            Some(matrix) => matrix.walls.push((wall(setting), at)),
            None => matrices.push(Matrix { title, walls: vec![(wall(setting), at)], rows: Vec::new() }),
        }
    }
    for matrix in &mut matrices {
        let rows = standard.places.iter().zip(&standard.cells).map(|(place, cells)| {
            let own = matrix.walls.iter().map(|(_, at)| in_matrix(standard, &cells[*at], system));
            ([place.climate.name_and_state(), low(place, system)], own.collect())
        });
        matrix.rows = rows.collect();
    }
    matrices
}

fn items(standard: &Standard, stock: &Stock, system: System) -> String {
    let items: Vec<Arc<str>> =
        stock.items.iter().map(|own| item(standard, own.product, &own.barrel, system).into()).collect();
    listed(&items, usize::MAX)
}

fn stock(standard: &Standard, system: System) -> Vec<String> {
    let groups = &standard.groups;
    let mut lines = Vec::new();
    if groups.without > 0 {
        let all = groups.without + groups.needs;
        lines.push(format!("{} of {all} places by walls and supplies have no product.", groups.without));
    }
    lines.extend(groups.fewest.as_ref().map(|fewest| {
        let how = if fewest.is_exact {
            "every smaller set was tried"
        } else {
            "built one by one: at most 1 + ln(n) times as many as needed, n the places by walls and supplies"
        };
        let count = fewest.items.len();
        let noun = if count == 1 { "product" } else { "products" };
        format!("Fewest that serve all: {count} {noun}: {} ({how}).", items(standard, fewest, system))
    }));
    lines
}

fn stocked(standard: &Standard, stock: &Stock, system: System) -> [String; 4] {
    let needs = standard.groups.needs;
    let cost = stock.cost.map_or_else(|| "-".into(), |cost| format!("${cost:.2}"));
    [
        stock.items.len().to_string(),
        items(standard, stock, system),
        format!("{} of {needs}", needs - stock.unserved),
        cost,
    ]
}

fn changes(standard: &Standard) -> Vec<[String; 6]> {
    let cells: Vec<&Cell> =
        standard.all().map(|(.., cell)| cell).filter(|cell| cell.needed.is_some()).collect();
    let row = |(at, own)| {
        let count = |wanted: Option<Change>| cells.iter().filter(|cell| cell.changes[at] == wanted).count();
        let counts = [Some(Change::Longer), Some(Change::Shorter), Some(Change::Same), None].map(count);
        let [longer, shorter, same, unknown] = counts.map(|count| count.to_string());
        [variant(own), change_in(counts).into(), longer, shorter, same, unknown]
    };
    VARIANTS.into_iter().enumerate().map(row).collect()
}

//! The order list: what makes two rows one order, and what a row lacks to be ordered.

use super::shared::{review, world};
use coldsill::input::Memory;
use coldsill::review::{self, Orders, Review, Why};

const HEADINGS: &str = "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,\
     Backflow device,Inside stop\n";

/// A row that nothing is to be said of in Miami.
fn row(mark: &str, quantity: u32, length: &str, barrel: &str) -> String {
    format!(
        "{mark},{quantity},sillcock,inside,{length},{barrel},2x6-siding,heated room,copper,none,ASSE 1019,no\n"
    )
}

fn reviewed(rows: &[String]) -> Review {
    review(&format!("{HEADINGS}{}", rows.concat()), "miami-fl")
}

/// What each waiting row lacks.
fn lacks<'o>(orders: &'o Orders<'_>) -> Vec<Vec<&'o str>> {
    let lacks = orders.waiting.iter().map(|it| match &it.why {
        Why::Lacks(headings) => headings.iter().map(|it| &**it).collect(),
        other => panic!("{other:?}"),
    });
    lacks.collect()
}

#[test]
fn rows_of_the_same_faucet_are_one_order_and_another_length_or_metal_is_another() {
    let rows = [
        row("A", 2, "8 in", "copper"),
        row("B", 3, "8 in", "copper"),
        row("C", 1, "10 in", "copper"),
        row("D", 1, "8 in", "brass"),
    ];
    let review = reviewed(&rows);
    let orders = review::orders(&review);
    assert!(orders.is_complete());
    let counts: Vec<Option<f64>> = orders
        .items
        .iter()
        .map(|item| review::count(item.lines.iter().flat_map(|line| line.rows.iter().copied())))
        .collect();
    assert_eq!(counts, [Some(5.0), Some(1.0), Some(1.0)]);
}

#[test]
fn a_row_without_a_metal_or_a_length_waits_for_it_even_if_no_rule_asks() {
    let review = reviewed(&[row("A", 1, "8 in", ""), row("B", 1, "8 in", "copper")]);
    let orders = review::orders(&review);
    assert_eq!(lacks(&orders), [["Barrel"]]);
    assert_eq!(orders.items.len(), 1);
}

#[test]
fn of_a_range_of_lengths_none_is_ordered() {
    let review = reviewed(&[row("A", 1, "8 to 12 in", "copper"), row("B", 1, "8 in", "copper")]);
    let orders = review::orders(&review);
    assert_eq!(lacks(&orders), [["Nominal length"]]);
    assert_eq!(orders.items.len(), 1);
}

#[test]
fn a_model_number_says_what_to_order() {
    let [headings, first] = [HEADINGS.trim_end(), row("A", 1, "8 in", "").trim_end()].map(str::to_owned);
    let files = Memory::new().with("schedule.csv", format!("{headings},Model\n{first},FP-8\n"));
    let review = review::run(&world(&files, "schedule.csv", Some("miami-fl")));
    let orders = review::orders(&review);
    assert!(orders.is_complete(), "{:?}", orders.waiting);
}

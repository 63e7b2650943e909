//! `coldsill orders`: three schedules as they come, a hand list, a fixture schedule with blanks and one of four buildings.

use crate::cli::common::Folder;
use insta::assert_snapshot;

const HAND: [&str; 2] = [include_str!("data/orders/hand.csv"), include_str!("data/orders/hand.yaml")];
const BLANKS: [&str; 2] = [include_str!("data/orders/blanks.csv"), include_str!("data/orders/blanks.yaml")];
const CAMPUS: [&str; 2] = [include_str!("data/orders/campus.csv"), include_str!("data/orders/campus.yaml")];

fn folder(name: &str, [schedule, job]: [&str; 2]) -> Folder {
    Folder::new().with(&format!("{name}.csv"), schedule).with("job.yaml", job)
}

fn page(name: &str, files: [&str; 2]) -> String {
    let ran = folder(name, files).run("orders job.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    ran.out
}

#[test]
fn the_order_list_of_a_hand_list() {
    assert_snapshot!(page("hand", HAND));
}

#[test]
fn the_order_list_of_a_schedule_with_blanks() {
    assert_snapshot!(page("blanks", BLANKS));
}

#[test]
fn the_order_list_of_four_buildings() {
    assert_snapshot!(page("campus", CAMPUS));
}

/// Only counted rows are ordered; what is not counted has a blank quantity, not 0.
#[test]
fn a_row_without_a_quantity_is_asked_and_not_ordered() {
    for (name, files) in [("hand", HAND), ("blanks", BLANKS), ("campus", CAMPUS)] {
        let folder = folder(name, files);
        folder.run("orders job.yaml --output order.csv");
        let text = folder.text("order.csv");
        let mut reader = csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
        let headings = csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
        let headings = { headings }.headers().expect("headings").clone();
        let at = |name: &str| headings.iter().position(|heading| heading == name).expect("a column");
        let (list, quantity, why) = (at("List"), at("Quantity"), at("Why"));
        let (counted, uncounted): (Vec<_>, Vec<_>) = rows.iter().partition(|row| !row[quantity].is_empty());
        assert!(counted.iter().all(|row| row[quantity] != *"0"), "{text}");
        assert_eq!(uncounted.len(), 1, "{text}");
        assert!(uncounted.iter().all(|row| row[list] == *"not yet"), "{text}");
        assert!(uncounted[0][why].to_lowercase().contains("how many?"), "{text}");
    }
}

/// The answer to "How many?" puts the row on the order.
#[test]
fn an_answered_quantity_is_ordered() {
    let folder = folder("hand", HAND).with("counts.csv", "Rows,Fact,Response\n5,Quantity,3\n");
    let ran = folder.run("orders job.yaml --answers counts.csv");
    let order = ran.out.split("Cannot be ordered yet").next().expect("the order");
    assert!(order.contains("\n3 ea  "), "{}", ran.out);
}

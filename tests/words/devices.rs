//! The standard that a cell of the backflow device names: `tests/words/devices.csv`, as a cell, a default of the job and
//! an answer. A blank device or standard of the table is unknown.

use crate::words::rows::{fact, opened, opened_from, world};
use coldsill::expr::Value;
use coldsill::facts::World;
use coldsill::input::Memory;

const STATED: [&str; 2] = ["outlet.backflow_device", "outlet.backflow_standard"];

/// Cell, standard column, device, standard.
fn table() -> Vec<[String; 4]> {
    let mut reader = csv::Reader::from_reader(include_str!("devices.csv").as_bytes());
    reader.records().map(|row| [0, 1, 2, 3].map(|at| row.as_ref().unwrap()[at].to_owned())).collect()
}

fn stated(world: &World) -> [String; 2] {
    STATED.map(|name| match fact(world, 0, name).0 {
        Some(Value::Text(word)) => word.to_string(),
        _ => String::new(),
    })
}

#[test]
fn a_device_cell_states_its_standard_too() {
    for [cell, column, device, standard] in table() {
        let world = world(&format!("Mark,Kind,Device,ASSE\nA,sillcock,\"{cell}\",{column}\n"));
        assert_eq!(stated(&world), [device, standard], "{cell} beside {column}");
    }
}

#[test]
fn a_description_states_the_same_device_and_standard() {
    for [cell, column, device, standard] in table() {
        if column.is_empty() && !standard.is_empty() {
            let world = world(&format!("Mark,Description\nA,\"Sillcock, {cell}\"\n"));
            assert_eq!(stated(&world), [device, standard], "{cell}");
        }
    }
}

#[test]
fn a_default_of_the_job_states_its_standard_too() {
    for [cell, column, device, standard] in table() {
        if column.is_empty() && !device.is_empty() {
            let job = format!("job: x\nschedule: t.csv\ndefaults: {{ device: '{cell}' }}\n");
            let files = Memory::new().with("j.yaml", job).with("t.csv", "Mark,Kind\nA,sillcock\n");
            assert_eq!(stated(&opened_from("j.yaml", files, &[], "miami-fl")), [device, standard], "{cell}");
        }
    }
}

#[test]
fn an_answer_states_its_standard_too() {
    for [cell, column, device, standard] in table() {
        if column.is_empty() && !device.is_empty() {
            let answers = format!("Marks,Fact,Response\nA,outlet.backflow_device,\"{cell}\"\n");
            let files = Memory::new().with("s.csv", "Mark,Kind\nA,sillcock\n").with("a.csv", answers);
            let world = opened(files, &["a.csv".to_owned()], "miami-fl");
            assert_eq!(stated(&world), [device, standard], "{cell}");
        }
    }
}

/// 1019 under one heading and 1011 under another: neither the device nor its standard is known.
#[test]
fn contradictory_standards_are_an_error_that_names_both() {
    let world = world("Mark,Kind,Device,ASSE\nA,sillcock,ASSE 1019-B,ASSE 1011\n");
    let problems: Vec<String> = world.job().schedule.problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        problems,
        [
            "s.csv, row 2, column \"ASSE\": \"ASSE 1011\" contradicts \"ASSE 1019-B\" under \"Device\"; neither is used; \
          expected the same in both columns"
        ]
    );
}

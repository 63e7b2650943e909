//! The heat engine's own tests know some of these walls from a table of theirs.

use coldsill::wall::BUILT_IN;

#[test]
fn walls_of_the_heat_tests_are_as_built_in() {
    const TABLE: &str = include_str!("../../crates/heat/tests/section/data/walls.csv");
    let mut expected = String::new();
    for wall in BUILT_IN.iter() {
        for layer in &wall.layers {
            expected += &format!(
                "{},{:?},{:?},{:?}\n",
                wall.key, layer.thickness, layer.conductivity, layer.heat_capacity
            );
        }
    }
    let rows = TABLE.lines().filter(|line| !line.starts_with('#')).skip(1);
    assert_eq!(rows.map(|row| format!("{row}\n")).collect::<String>(), expected);
}

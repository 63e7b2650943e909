//! The page on rules of one's own, followed to the letter: its files are saved, its commands run, and what it says is
//! printed is looked for.

use crate::cli::common::Folder;
use std::fs;

/// A step of the page.
enum Step {
    /// A file by its name, and whether the text is added to what it holds.
    File(String, bool, String),
    /// A command, and what must be printed.
    Command(String, Vec<String>),
}

/// The steps of the page, in order.
fn steps(page: &str) -> Vec<Step> {
    let (mut steps, mut said, mut lines) = (Vec::new(), String::new(), page.lines());
    while let Some(line) = lines.next() {
        let Some(kind) = line.strip_prefix("```") else {
            if !line.is_empty() {
                said = line.to_owned();
            }
            continue;
        };
        let block: Vec<&str> = lines.by_ref().take_while(|it| *it != "```").collect();
        let block = block.join("\n");
        match kind {
            "sh" => steps.push(Step::Command(block, Vec::new())),
            "text" => match steps.last_mut() {
                Some(Step::Command(_, printed)) => printed.extend(block.split("\n...\n").map(str::to_owned)),
                _ => panic!("nothing is run before: {block}"),
            },
            _ => {
                let adds = said.starts_with("Add this to ");
                assert!(adds || said.starts_with("Save this as "), "no file is named before: {block}");
                let name = said.split('`').nth(1).expect("the file's name");
                steps.push(Step::File(name.into(), adds, block + "\n"));
            }
        }
    }
    steps
}

#[test]
fn the_page_on_rules_can_be_followed_to_the_letter() {
    let page = include_str!("../../rules/README.md");
    let folder = Folder::new();
    let mut ran = 0;
    for step in steps(page) {
        match step {
            Step::File(name, adds, text) => {
                let before = if adds { folder.text(&name) } else { String::new() };
                fs::write(folder.path().join(name), before + &text).expect("a file can be written");
            }
            Step::Command(command, printed) => {
                let arguments = command.strip_prefix("coldsill ").expect("a command of the program");
                let out = folder.run(arguments);
                assert!(!printed.is_empty(), "the page does not say what is printed by {command}");
                for passage in printed {
                    let all = format!("{}{}", out.out, out.err);
                    assert!(all.contains(&passage), "{command} does not print\n{passage}\nbut\n{all}");
                }
                ran += 1;
            }
        }
    }
    assert!(ran >= 7, "{ran} commands");
}

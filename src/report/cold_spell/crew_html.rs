//! The crew list as one web page: no other file, no network, no script.

use super::super::html::STYLE;
use super::super::words::listed;
use super::crew::{BURIED, CLEAR, CrewList, HOSES_FIRST};
use crate::review::ColdSpell;
use crate::units::System;
use maud::{DOCTYPE, PreEscaped, html};

/// The crew list as a web page, for a phone or for paper.
pub fn crew_html(spell: &ColdSpell, system: System) -> String {
    let list = CrewList::of(spell, system);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy"
                    content="default-src 'none'; style-src 'unsafe-inline'; img-src data:";
                link rel="icon" href="data:,";
                title { "Cold spell crew list: " (list.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { "Cold spell crew list: " (list.title) }
                    @for line in &list.head { p { (line) } }
                }
                main {
                    p { strong { (HOSES_FIRST) } }
                    @if !list.tasks.is_empty() {
                        table.cards {
                            thead { tr { @for heading in HEADINGS { th scope="col" { (heading) } } } }
                            tbody {
                                @for task in &list.tasks {
                                    tr {
                                        th scope="row" data-head=(HEADINGS[0]) { (task.by) }
                                        td data-head=(HEADINGS[1]) { (task.location) }
                                        td data-head=(HEADINGS[2]) { (listed(&task.marks, usize::MAX)) }
                                        td data-head=(HEADINGS[3]) { (task.action) }
                                    }
                                }
                            }
                        }
                    }
                    @for (heading, outlets) in [(CLEAR, &list.clear), (BURIED, &list.buried)] {
                        @if !outlets.is_empty() {
                            p { (heading) }
                            ul { @for outlet in outlets { li { (outlet) } } }
                        }
                    }
                }
                footer { @for note in &list.notes { p { (note) } } }
            }
        }
    };
    page.into_string()
}

const HEADINGS: [&str; 4] = ["By", "Location", "Outlets", "Do"];

//! The crew list as one web page for a phone: no other file, no script, no network.

use super::super::html::page;
use super::{ALWAYS, Crew, FIRST, HEADINGS, REMINDER_IN_SHORT, times, which};
use crate::review::ColdSpell;
use crate::units::System;
use maud::html;

/// The crew list as a web page.
pub fn crew_html(spell: &ColdSpell, system: System) -> String {
    let crew = Crew::of(spell, system);
    let title = spell.job.as_deref().unwrap_or(&spell.schedule);
    let title = format!("Cold-spell crew list: {title}");
    let body = html! {
        header {
            h1 { (title) }
            p { (which(spell, system)) }
            @for check in &crew.checks { p.caution { "Check: " (check) } }
            @for line in &crew.head { p { strong { (line) } } }
        }
        main {
            @if !crew.lines.is_empty() {
                table.cards {
                    thead { tr { @for heading in HEADINGS { th scope="col" { (heading) } } th scope="col" { "Done" } } }
                    tbody {
                        @for [by, place, work] in &crew.lines {
                            tr {
                                td data-head=(HEADINGS[0]) { strong { (by) } }
                                th scope="row" data-head=(HEADINGS[1]) { (place) }
                                td data-head=(HEADINGS[2]) { (work) }
                                td data-head="Done" { input type="checkbox" aria-label=(format!("{place}: done")); }
                            }
                        }
                    }
                }
                h2 { "How" }
                p.caution { (FIRST) }
                dl { @for (name, how) in &crew.steps { dt { strong { (name) } } dd { (how) } } }
            }
            @for text in ALWAYS { p { (text) } }
            p { (times()) }
        }
        footer { p.caution { (REMINDER_IN_SHORT) } }
    };
    page(&title, &body, None)
}

//! A page of blocks as HTML.

use super::svg;
use crate::report::blocks::{Block, Blocks, Cell};
use maud::{Markup, html};

/// The blocks, one after the other. Labels that follow each other are one list.
pub(in crate::report) fn blocks(blocks: Blocks) -> Markup {
    let mut blocks = blocks.into_iter().peekable();
    let mut parts: Vec<Markup> = Vec::new();
    while let Some(next) = blocks.next() {
        let Block::Labelled { label, text, .. } = next else {
            parts.push(block(next));
            continue;
        };
        let mut entries = vec![(label, vec![text])];
        while let Some(Block::Labelled { label, text, .. }) =
            blocks.next_if(|block| matches!(block, Block::Labelled { .. }))
        {
            match entries.last_mut() {
                // Without a label of its own, it goes on under the last.
                Some((_, texts)) if label.is_empty() => texts.push(text),
                _ => entries.push((label, vec![text])),
            }
        }
        parts.push(html! {
            dl.head { @for (label, texts) in &entries { dt { (label) } @for text in texts { dd { (text) } } } }
        });
    }
    html! { @for part in &parts { (part) } }
}

fn block(block: Block) -> Markup {
    match block {
        Block::Title { text, aside } => html! { h1 { (text) } @if !aside.is_empty() { p { (aside) } } },
        Block::Heading(text) => html! { h2 { (text) } },
        Block::Labelled { label, text, .. } => html! { dl.head { dt { (label) } dd { (text) } } },
        Block::Item { number, text, .. } => html! { p { strong { (number) ". " (text) } } },
        Block::Paragraph { text, .. } => html! { p { (text) } },
        Block::Table { heads, rows } => table(&heads, rows.iter().map(|row| row.iter().map(Cell::text))),
        Block::Blank(label) => html! { p { (label) ": ____________________" } },
        Block::Figure { drawing, .. } => svg::figure(&drawing),
        Block::Space => Markup::default(),
    }
}

/// A table of texts, whose rows are cards on a phone. The first cell of a row is its heading.
pub(in crate::report) fn table<'c, R>(heads: &[&str], rows: impl IntoIterator<Item = R>) -> Markup
where
    R: IntoIterator<Item = &'c str>,
{
    html! {
        table.cards {
            thead { tr { @for head in heads { th scope="col" { (head) } } } }
            tbody {
                @for row in rows {
                    tr {
                        @for ((index, text), head) in row.into_iter().enumerate().zip(heads) {
                            @if index == 0 { th scope="row" data-head=(head) { (text) } }
                            @else { td data-head=(head) { (text) } }
                        }
                    }
                }
            }
        }
    }
}

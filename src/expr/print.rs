//! Prints a tree in one settled form, from which the same tree is read again.

use super::ast::{Ast, Node, Step};
use super::number::Number;
use crate::units::Ordering;

/// How tightly a part binds, from the loosest.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Binds {
    Or,
    And,
    Not,
    Comparison,
    Sum,
    Product,
    Sign,
    Value,
}

/// The text of a tree without problems.
pub(super) fn printed(tree: &Ast<'_>) -> String {
    match &tree.node {
        Node::Broken => String::new(),
        Node::Number(number) => number_as_text(*number),
        Node::Text(text) => format!("\"{text}\""),
        Node::Truth(truth) => if *truth { "yes" } else { "no" }.into(),
        Node::Name(name) => (*name).into(),
        Node::Not(inner) => format!("not {}", within(inner, Binds::Not)),
        Node::All(parts) => joined(parts, " and ", Binds::Not),
        Node::Any(parts) => joined(parts, " or ", Binds::And),
        Node::Compare(left, ordering, right) => {
            format!("{} {} {}", sum(left), sign_of(*ordering), sum(right))
        }
        Node::In(left, items) => format!("{} in [{}]", sum(left), joined(items, ", ", Binds::Sum)),
        Node::Listed(left, list) => format!("{} in {}", sum(left), printed(list)),
        Node::Matches(left, pattern, _) => format!("{} matches \"{pattern}\"", sum(left)),
        Node::Between(left, low, high) => format!("{} between {} and {}", sum(left), sum(low), sum(high)),
        Node::Chain(first, rest) => {
            // Steps of one kind go from the left: a chain within a chain of its own kind had parentheses.
            let inner = if binds(&tree.node) == Binds::Sum { Binds::Product } else { Binds::Sign };
            rest.iter().fold(within(first, inner), |text, (step, next)| {
                let sign = match step {
                    Step::Plus => '+',
                    Step::Minus => '-',
                    Step::Times => '*',
                    Step::Over => '/',
                };
                format!("{text} {sign} {}", within(next, inner))
            })
        }
        // Without parentheses the sign would become the number's own.
        Node::Minus(inner) if matches!(&inner.node, Node::Number(it) if it.number.is_sign_positive()) => {
            format!("-({})", printed(inner))
        }
        Node::Minus(inner) => format!("-{}", within(inner, Binds::Sign)),
        Node::Call(name, arguments) => format!("{name}({})", joined(arguments, ", ", Binds::Sum)),
    }
}

fn binds(node: &Node<'_>) -> Binds {
    match node {
        Node::Any(_) => Binds::Or,
        Node::All(_) => Binds::And,
        Node::Not(_) => Binds::Not,
        Node::Compare(..) | Node::In(..) | Node::Listed(..) | Node::Matches(..) | Node::Between(..) => {
            Binds::Comparison
        }
        Node::Chain(_, rest) if matches!(rest.first(), Some((Step::Plus | Step::Minus, _))) => Binds::Sum,
        Node::Chain(..) => Binds::Product,
        Node::Minus(_) => Binds::Sign,
        Node::Broken | Node::Number(_) | Node::Text(_) | Node::Truth(_) | Node::Name(_) | Node::Call(..) => {
            Binds::Value
        }
    }
}

/// A part, in parentheses where it binds looser than what stands around it.
fn within(part: &Ast<'_>, least: Binds) -> String {
    let text = printed(part);
    if binds(&part.node) < least { format!("({text})") } else { text }
}

fn sum(part: &Ast<'_>) -> String {
    within(part, Binds::Sum)
}

fn joined(parts: &[Ast<'_>], by: &str, least: Binds) -> String {
    parts.iter().map(|part| within(part, least)).collect::<Vec<_>>().join(by)
}

fn sign_of(ordering: Ordering) -> &'static str {
    match ordering {
        Ordering::Below => "<",
        Ordering::AtMost => "<=",
        Ordering::Above => ">",
        Ordering::AtLeast => ">=",
        Ordering::Equal => "=",
        Ordering::Differs => "!=",
    }
}

fn number_as_text(Number { number, unit }: Number) -> String {
    match unit.map(|it| it.names[0]) {
        None => number.to_string(),
        // The one unit that is a label before its number.
        Some("R") if number.is_sign_positive() => format!("R-{number}"),
        Some("R") => format!("-R-{}", -number),
        Some(unit) => format!("{number} {unit}"),
    }
}

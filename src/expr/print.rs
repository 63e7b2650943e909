//! Prints a tree in one standard form, which parses to the same tree.

use super::ast::{Ast, Node, Operator};
use super::number::Number;
use crate::units::Ordering;

/// Precedence of a part, loosest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Precedence {
    Or,
    And,
    Not,
    Comparison,
    Sum,
    Product,
    Unary,
    Value,
}

/// The text of a tree without errors.
pub(super) fn printed(tree: &Ast<'_>) -> String {
    match &tree.node {
        Node::Invalid => String::new(),
        Node::Number(number) => number_as_text(*number),
        Node::Text(text) => format!("\"{text}\""),
        Node::Bool(truth) => if *truth { "yes" } else { "no" }.into(),
        Node::Name(name) => (*name).into(),
        Node::Not(inner) => format!("not {}", within(inner, Precedence::Not)),
        Node::And(parts) => joined(parts, " and ", Precedence::Not),
        Node::Or(parts) => joined(parts, " or ", Precedence::And),
        Node::Compare(left, ordering, right) => {
            format!("{} {} {}", sum(left), sign_of(*ordering), sum(right))
        }
        Node::In(left, items) => format!("{} in [{}]", sum(left), joined(items, ", ", Precedence::Sum)),
        Node::InNamed(left, list) => format!("{} in {}", sum(left), printed(list)),
        Node::Matches(left, pattern, _) => format!("{} matches \"{pattern}\"", sum(left)),
        Node::Between(left, low, high) => format!("{} between {} and {}", sum(left), sum(low), sum(high)),
        Node::Chain(first, rest) => {
            // Steps of one kind go from the left: a chain within a chain of its own kind had parentheses.
            let inner = if precedence(&tree.node) == Precedence::Sum {
                Precedence::Product
            } else {
                Precedence::Unary
            };
            rest.iter().fold(within(first, inner), |text, (step, next)| {
                let sign = match step {
                    Operator::Plus => '+',
                    Operator::Minus => '-',
                    Operator::Times => '*',
                    Operator::Over => '/',
                };
                format!("{text} {sign} {}", within(next, inner))
            })
        }
        // Without parentheses the sign would become the number's own.
        Node::Negative(inner) if matches!(&inner.node, Node::Number(it) if it.number.is_sign_positive()) => {
            format!("-({})", printed(inner))
        }
        Node::Negative(inner) => format!("-{}", within(inner, Precedence::Unary)),
        Node::Call(name, arguments) => format!("{name}({})", joined(arguments, ", ", Precedence::Sum)),
    }
}

fn precedence(node: &Node<'_>) -> Precedence {
    match node {
        Node::Or(_) => Precedence::Or,
        Node::And(_) => Precedence::And,
        Node::Not(_) => Precedence::Not,
        Node::Compare(..) | Node::In(..) | Node::InNamed(..) | Node::Matches(..) | Node::Between(..) => {
            Precedence::Comparison
        }
        Node::Chain(_, rest) if matches!(rest.first(), Some((Operator::Plus | Operator::Minus, _))) => {
            Precedence::Sum
        }
        Node::Chain(..) => Precedence::Product,
        Node::Negative(_) => Precedence::Unary,
        Node::Invalid | Node::Number(_) | Node::Text(_) | Node::Bool(_) | Node::Name(_) | Node::Call(..) => {
            Precedence::Value
        }
    }
}

/// A part, in parentheses if its precedence is looser than that around it.
fn within(part: &Ast<'_>, least: Precedence) -> String {
    let text = printed(part);
    if precedence(&part.node) < least { format!("({text})") } else { text }
}

fn sum(part: &Ast<'_>) -> String {
    within(part, Precedence::Sum)
}

fn joined(parts: &[Ast<'_>], by: &str, least: Precedence) -> String {
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

//! Errors in walls and layers, with all their texts.

use super::read::THICKNESS;
use super::{AIR, FRAMING, MOST_AIR};
use crate::diag::Diagnostic;
use crate::input::{Key, Node};
use crate::physics::materials;
use crate::units::{self, Dim, Measure};

/// An error in a wall or a layer, beside its location and the text it is about.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum WallError {
    DuplicateWall,
    Framing,
    NoLayers,
    /// Out of range, and the range.
    OutOfRange(String),
    NoThicknessUnderFlange,
    // Layers of keys
    NoMaterial,
    UnknownMaterial,
    /// Air in a layer too thick for it.
    ThickAir,
    ConductivityAndResistance,
    ResistanceForThickness,
    /// A class of materials, what it conducts, and the stated conductivity.
    OtherClass(&'static str, String, String),
    HalfACapacity,
    CapacityOutOfRange,
    // Layers of text
    NotBuilt,
    TwoResistances,
    ThicknessAndStuds,
    ThicknessOutOfRange(String),
    /// An example with a thickness.
    NoThickness(&'static str),
    /// The words that name none.
    NoKnownMaterial(String),
    /// What the label is on, and the range of its R-value.
    LabelOutOfRange(String, String),
    /// The labels of batts.
    UnknownBatt(String),
    NoStuds(f64),
    /// Where a batt is, its label and thickness, in, and the gap it leaves, in.
    TooThin(String, f64, f64, f64),
    /// Where a batt is, its label and thickness, in, why it cannot be compressed, and the batts that fit.
    TooThick(String, f64, f64, &'static str, String),
}

impl WallError {
    /// At a value, which it quotes if that is a text.
    pub fn at(self, node: &Node) -> Diagnostic {
        let material = if let Self::NoKnownMaterial(word) = &self { Some(word.clone()) } else { None };
        let (message, expected) = self.texts();
        let error = Diagnostic { expected, ..node.problem(message) };
        match material {
            Some(word) => {
                let aliases =
                    materials::all().flat_map(|known| known.aliases.iter().copied().chain([known.key]));
                error.nearest_instead(&word, aliases.chain(AIR))
            }
            None => error,
        }
    }

    /// At a value as a whole.
    pub fn at_whole(self, node: &Node) -> Diagnostic {
        let (message, expected) = self.texts();
        Diagnostic { expected, ..Diagnostic::new(node.location.clone(), message) }
    }

    /// At a key, which it quotes.
    pub fn at_key(self, key: &Key) -> Diagnostic {
        let (message, expected) = self.texts();
        Diagnostic { expected, ..Diagnostic::new(key.location.clone(), message).text(&key.text) }
    }

    /// What is wrong, and what was expected.
    fn texts(self) -> (String, Option<String>) {
        let (message, expected) = match self {
            Self::DuplicateWall => ("is a second wall of that name", "a name for each wall"),
            Self::Framing => {
                let expected = format!("layers as they are between studs, and no framing. {FRAMING}");
                return ("framing is not used".into(), Some(expected));
            }
            Self::NoLayers => ("has no layers", "layers from outside to inside"),
            Self::OutOfRange(range) => return ("is out of range".into(), Some(range)),
            Self::NoThicknessUnderFlange => {
                ("is not a thickness under the flange", "a thickness such as 1-1/2 in block")
            }
            Self::NoMaterial => (
                "the layer has no material",
                "a material that `coldsill materials` lists, a conductivity or a resistance",
            ),
            Self::ThickAir => {
                let range = units::limits([THICKNESS[0], MOST_AIR], Measure::Of(Dim::LENGTH));
                return ("is too thick for an air space".into(), Some(range));
            }
            Self::UnknownMaterial => (
                "is not a built-in material",
                "a material that `coldsill materials` lists, or a conductivity",
            ),
            Self::ConductivityAndResistance => ("a layer has a conductivity or a resistance, not both", ""),
            Self::ResistanceForThickness => ("is out of range for a layer of that thickness", ""),
            Self::OtherClass(class, range, stated) => {
                let expected =
                    format!("no conductivity beside it, or the name of a material that conducts {stated}");
                return (format!("is {class}, which conducts {range}, not {stated}"), Some(expected));
            }
            Self::HalfACapacity => {
                ("is stated without the other", "both density and specific heat, or neither")
            }
            Self::CapacityOutOfRange => (
                "times the specific heat is out of range: more than water or less than air stores",
                "1 to 4300 kJ/m³K",
            ),
            Self::NotBuilt => (
                "leaves the layer out, undecided or to others",
                "a layer as it will be built, such as R-20 batt in 2x6",
            ),
            Self::TwoResistances => ("gives two resistances", "a layer for each"),
            Self::ThicknessAndStuds => ("gives both a thickness and studs", "one of the two"),
            Self::ThicknessOutOfRange(range) => return ("has a thickness out of range".into(), Some(range)),
            Self::NoThickness(example) => ("does not state the thickness of the layer", example),
            Self::NoKnownMaterial(_) => (
                "names no built-in material",
                "a material that `coldsill materials` lists, or keys with a conductivity",
            ),
            Self::LabelOutOfRange(what, range) => {
                return (format!("has a label out of range for {what}"), Some(range));
            }
            Self::UnknownBatt(labels) => {
                return ("is not a known batt".into(), Some(format!("{labels}, or a thickness beside it")));
            }
            Self::NoStuds(label) => {
                return ("does not state the studs".into(), Some(format!("such as R-{label} batt in 2x6")));
            }
            Self::TooThin(place, label, made, gap) => {
                let expected = format!(
                    "a batt that fills it, or two layers: R-{label} batt {made} in, and air {gap} in"
                );
                return (
                    format!("does not fill {place}: an R-{label} batt is {made} in thick"),
                    Some(expected),
                );
            }
            Self::TooThick(place, label, made, why, fitting) => {
                let message = format!("does not fit {place}: an R-{label} batt is {made} in thick and {why}");
                return (message, Some(fitting));
            }
        };
        (message.into(), (!expected.is_empty()).then(|| expected.into()))
    }
}

//! Errors in expressions and templates, with all their texts.

/// Longest expression or template, in characters.
pub const MOST_CHARACTERS: usize = 4096;
/// Deepest nesting of parentheses, `not`, signs and calls.
pub(super) const MOST_NESTED: usize = 64;

/// An error in an expression or a template, beside its location and the text it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum ExprError {
    /// Length in characters; what to do about it.
    TooLong(usize, &'static str),
    StrayCharacter,
    UnknownUnit,
    UnusableNumber,
    NumberOrSubtraction,
    /// A sign or word of another language, with the one of this language.
    OtherLanguage(&'static str),
    UnclosedText,
    /// A text in curly or single quotation marks.
    QuotationMarks(String),
    ClosesNothing,
    TooDeep,
    MissingOperator,
    /// Something is missing at the end; what belongs there.
    MissingAtEnd(&'static str),
    /// A token in the wrong place; what belongs there.
    Misplaced(&'static str),
    NotClosed,
    /// `a < b < c`, with how to write it.
    ChainedComparison(String),
    UnknownName,
    /// A name with a `-` or `/` in it that may be an operator.
    OperatorInName(String),
    /// A word without quotation marks.
    WordNotName(String),
    UnknownFunction,
    /// A call with the wrong arguments: how many there should be, and an example.
    Arguments(&'static str, String),
    /// What it is, what it should be, and how to mend it.
    WrongType(String, &'static str, Option<&'static str>),
    Incomparable(String, String, Option<String>),
    NoOrder(String),
    /// An operation that the measures do not allow, and how to mend it.
    Impossible(String, Option<String>),
    BelowAbsoluteZero,
    Unknown,
    NegativeTemperature,
    MultipleOfTemperature(String),
    NotConstant,
    NotPositive,
    DividesByZero,
    EmptyList,
    /// Why a comparison is false for every outlet.
    AlwaysFalse(String),
    YesOrNoInList,
    /// A list where one value belongs, and what belongs there.
    IsList(&'static str),
    /// The fact whose values are listed as expected.
    NotAValue(String, String),
    ReversedRange,
    PatternForWords(String),
    PatternForConstant,
    /// An error in a pattern.
    Pattern(&'static str, Option<&'static str>),
    BraceClosesNothing,
    EmptyBraces,
    UnclosedBrace,
    NotAFigure,
}

impl ExprError {
    /// What is wrong, to follow the text it is about; and what was expected.
    pub fn texts(&self) -> (String, Option<String>) {
        let (message, expected) = match self {
            Self::TooLong(length, expected) => {
                let message = format!("is {length} characters long, more than {MOST_CHARACTERS}");
                return (message, Some((*expected).into()));
            }
            Self::StrayCharacter => ("has no meaning here", ""),
            Self::UnknownUnit => ("is not a known unit", "a unit such as in, mm, °F or h, or an operator"),
            Self::UnusableNumber => ("is not a usable number", ""),
            Self::NumberOrSubtraction => (
                "is ambiguous: one number or a subtraction",
                "spaces around a minus, or one number with one unit",
            ),
            Self::OtherLanguage(own) => {
                return ("is written differently here".into(), Some(format!("\"{own}\"")));
            }
            Self::UnclosedText => ("has no closing quotation mark", ""),
            Self::QuotationMarks(text) => {
                return ("is not in plain quotation marks".into(), Some(format!("\"{text}\"")));
            }
            Self::ClosesNothing => ("closes nothing", ""),
            Self::TooDeep => {
                let message = format!("is nested more than {MOST_NESTED} deep");
                return (message, Some("a shorter expression, or several rules".into()));
            }
            Self::MissingOperator => ("has no operator before it", "and, or, or a comparison"),
            Self::MissingAtEnd(expected) => ("something is missing at the end", *expected),
            Self::Misplaced(expected) => ("does not belong here", *expected),
            Self::NotClosed => ("is not closed", ""),
            Self::ChainedComparison(instead) => {
                return ("chains two comparisons".into(), Some(format!("\"{instead}\"")));
            }
            Self::UnknownName => {
                ("is not a known name", "a name that `coldsill facts` or `coldsill rules` lists")
            }
            Self::OperatorInName(operator) => {
                let expected = format!("spaces around \"{operator}\" if it is not part of a name");
                return ("is not a known name".into(), Some(expected));
            }
            Self::WordNotName(word) => {
                return ("is a word, not a name".into(), Some(format!("\"{word}\" in quotation marks")));
            }
            Self::UnknownFunction => ("is not a known function", ""),
            Self::Arguments(how_many, example) => {
                return (format!("takes {how_many}"), Some(example.clone()));
            }
            Self::WrongType(is, wanted, expected) => {
                return (format!("is {is}, not {wanted}"), expected.map(str::to_owned));
            }
            Self::Incomparable(left, right, expected) => {
                return (format!("compares {left} with {right}"), expected.clone());
            }
            Self::NoOrder(what) => return (format!("has no order: it is {what}"), Some("= or !=".into())),
            Self::Impossible(why, expected) => {
                return (format!("cannot be computed: {why}"), expected.clone());
            }
            Self::BelowAbsoluteZero => ("is below absolute zero", ""),
            Self::Unknown => ("cannot be understood", ""),
            Self::NegativeTemperature => (
                "cannot be computed: a temperature has no negative",
                "a sign that touches its number, or a difference",
            ),
            Self::MultipleOfTemperature(difference) => {
                let expected = format!("a difference, written {difference}");
                return ("is a temperature, which has no multiples".into(), Some(expected));
            }
            Self::NotConstant => ("is not a constant", "a figure such as 2 in"),
            Self::NotPositive => ("is not above zero", "a figure such as 2 in"),
            Self::DividesByZero => ("is zero and cannot be a divisor", ""),
            Self::EmptyList => ("is always false: the list is empty", ""),
            Self::AlwaysFalse(why) => return (format!("is always false: {why}"), None),
            Self::YesOrNoInList => {
                ("is a yes or no, which cannot be in a list", "the test itself, or a comparison with = or !=")
            }
            Self::IsList(expected) => ("is a list", *expected),
            Self::NotAValue(fact, values) => {
                return (format!("is not a value of {fact}"), Some(values.clone()));
            }
            Self::ReversedRange => ("is a reversed range", "the lower end first"),
            Self::PatternForWords(instead) => {
                return ("is one of a few words and needs no pattern".into(), Some(instead.clone()));
            }
            Self::PatternForConstant => ("is a constant text", "the name of a text, without quotation marks"),
            Self::Pattern(message, expected) => (*message, expected.unwrap_or_default()),
            Self::BraceClosesNothing => ("closes nothing", "}} for a brace"),
            Self::EmptyBraces => ("names nothing", "a name, or {{ for a brace"),
            Self::UnclosedBrace => ("has a brace that is not closed", "{{ for a brace"),
            Self::NotAFigure => ("is not a figure with a known unit", "{= 1/8 in} or {= 32 °F}"),
        };
        (message.into(), (!expected.is_empty()).then(|| expected.into()))
    }
}

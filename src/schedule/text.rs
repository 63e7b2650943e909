//! Texts: blank cells, names as they are compared, and the plain spelling of a description with its original words.

use crate::units::typed;
use std::borrow::Cow;
use std::ops::Range;

/// Whether texts are whole numbers, at least two, each of which follows the one before as `is_next` says.
pub(super) fn are_numbers<'t>(
    texts: impl IntoIterator<Item = &'t str>,
    is_next: impl Fn(u32, u32) -> bool,
) -> bool {
    let numbers: Option<Vec<u32>> = texts.into_iter().map(|text| text.parse().ok()).collect();
    numbers.is_some_and(|it| it.len() > 1 && it.windows(2).all(|pair| is_next(pair[0], pair[1])))
}

/// Whether texts number the lines: each is one more than the one before.
pub(super) fn count_up<'t>(texts: impl IntoIterator<Item = &'t str>) -> bool {
    are_numbers(texts, |one, next| one.checked_add(1) == Some(next))
}

/// Cells without a value.
const BLANKS: [&str; 5] = ["", "-", "--", "—", "–"];
/// Cells that say that the value is not known.
const UNKNOWNS: [&str; 10] = ["?", "??", "???", "(?)", "tbd", "tba", "t.b.d.", "n/a", "na", "unknown"];

/// A name as it is compared: its letters and digits, in lower case.
pub fn plain(text: &str) -> String {
    if text.is_ascii() {
        return text.chars().filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_lowercase()).collect();
    }
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Whether a name is a plain one, [`plain`] of it, without writing it out.
pub(super) fn is_plainly(text: &str, plain: &str) -> bool {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).eq(plain.chars())
}

/// Whether a text has one of these words, in lower case, as a word of its own.
pub(super) fn has_any_word(text: &str, words: &[&str]) -> bool {
    text.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| words.contains(&word))
}

/// Whether a cell says that its value is not known. It is not blank: no default takes its place.
pub fn says_unknown(text: &str) -> bool {
    UNKNOWNS.iter().any(|it| it.eq_ignore_ascii_case(text.trim()))
}

/// Whether a cell counts as blank.
pub fn is_blank(text: &str) -> bool {
    let text = text.trim();
    let is_line = text.len() > 2 && text.chars().all(|c| "-_=–—".contains(c));
    is_line || BLANKS.iter().any(|it| it.eq_ignore_ascii_case(text))
}

/// A text with its typographic characters spelled plainly, and where each byte came from.
pub(super) struct Plain {
    pub text: String,
    from: Vec<usize>,
}

impl Plain {
    pub(super) fn of(text: &str) -> Self {
        let capacity = text.len();
        let mut plain =
            Self { text: String::with_capacity(capacity), from: Vec::with_capacity(capacity + 1) };
        let mut digits_start = true;
        let mut before = ' ';
        for (at, c) in text.char_indices() {
            let mut own = [0; 4];
            // "1/2MPTX1/2SWT" is written without its spaces; so is "ASSE1019B".
            let is_apart = splits(&text[..at], before, c, &text[at..], digits_start);
            if is_apart {
                plain.text.push(' ');
                plain.from.push(at);
            }
            if c.is_ascii_digit() && !before.is_ascii_digit() {
                digits_start = is_apart || !before.is_alphanumeric();
            }
            before = c;
            let typed = typed(c).unwrap_or_else(|| c.encode_utf8(&mut own));
            plain.text.push_str(typed);
            plain.from.extend(std::iter::repeat_n(at, typed.len()));
        }
        plain.from.push(text.len());
        if let Cow::Owned(text) = without_editions(&plain.text) {
            plain.text = text;
        }
        plain
    }

    /// The original words of a range.
    pub(super) fn original<'t>(&self, original: &'t str, range: &Range<usize>) -> &'t str {
        let (start, end) = (self.from[range.start], self.from[range.end]);
        original.get(start..end.max(start)).unwrap_or_default().trim()
    }
}

/// A text with spaces for the years of editions: "ASSE 1019-2011 type B" is type B of ASSE 1019.
pub(super) fn without_editions(text: &str) -> Cow<'_, str> {
    const STANDARD: &str = "asse";
    /// A number of four digits, with what stands between it and the name.
    const NUMBER: usize = 6;
    if !text.contains("-20") && !text.contains("-19") {
        return text.into();
    }
    let lower = text.to_ascii_lowercase();
    let is_edition = |at: &usize| {
        let after: Vec<u8> = lower.bytes().skip(at + 3).take(3).collect();
        let is_year = after.iter().take(2).filter(|it| it.is_ascii_digit()).count() == 2
            && !after.get(2).is_some_and(u8::is_ascii_alphanumeric);
        let name = lower[..*at].trim_end_matches(|c: char| c.is_ascii_digit());
        is_year
            && at - name.len() == 4
            && at - name.trim_end().len() <= NUMBER
            && name.trim_end().ends_with(STANDARD)
    };
    let found = lower.match_indices("-20").chain(lower.match_indices("-19")).map(|(at, _)| at);
    let mut plain = text.to_owned();
    for at in found.filter(is_edition) {
        plain.replace_range(at..at + 5, "     ");
    }
    plain.into()
}

/// Whether a space is missing before a character of a supplier's line: after a number before the name of a joint, and
/// before a number after such a name and an X.
fn splits(text: &str, before: char, c: char, rest: &str, starts_number: bool) -> bool {
    const JOINTS: [&str; 14] = [
        "mptx", "mipx", "fipx", "fptx", "nptx", "swtx", "mpt", "mip", "fip", "fpt", "npt", "swt", "pex",
        "hose",
    ];
    let upper_or_lower =
        |part: &str, name: &str| part.get(..name.len()).is_some_and(|it| it.eq_ignore_ascii_case(name));
    if before.is_ascii_digit() && c.is_ascii_alphabetic() {
        return starts_number && JOINTS.iter().any(|joint| upper_or_lower(rest, joint));
    }
    if !before.is_ascii_alphabetic() || !(c.is_ascii_digit() || c.eq_ignore_ascii_case(&'x')) {
        return false;
    }
    let letters = text.len() - text.trim_end_matches(|c: char| c.is_ascii_alphabetic()).len();
    let word = &text[text.len() - letters..];
    let is_joint = JOINTS.iter().any(|joint| word.eq_ignore_ascii_case(joint));
    // The X is a word of its own.
    let is_times =
        c.eq_ignore_ascii_case(&'x') && is_joint && rest[1..].starts_with(|c: char| c.is_ascii_digit());
    let after_times = c.is_ascii_digit() && before.eq_ignore_ascii_case(&'x') && is_joint;
    is_times || after_times || c.is_ascii_digit() && word.eq_ignore_ascii_case("asse")
}

/// Whether a text outside what was recognized has words; a number counts as one.
pub(super) fn has_unknown_words(text: &str) -> bool {
    let says_something = |word: &str| word.len() > 1 || word.chars().any(|c| c.is_ascii_digit());
    text.to_lowercase()
        .split(|c: char| !(c.is_alphanumeric() || "'/".contains(c)))
        .map(|word| word.trim_matches(['/', '\'']))
        .any(says_something)
}

/// The phrases outside the matched ranges that have unknown words, in their original words without what is idle at their
/// ends, unless a part of them is reported already.
pub(super) fn unmatched(
    plain: &Plain,
    original: &str,
    matched: impl Iterator<Item = Range<usize>>,
    idle: &[Range<usize>],
    reported: &[Range<usize>],
) -> Vec<String> {
    let end = plain.text.len();
    let (mut unmatched, mut start) = (Vec::new(), 0);
    for range in matched.chain(std::iter::once(end..end)) {
        if start < range.start {
            let mut at = start;
            for phrase in plain.text[start..range.start].split([',', ';', '\n', '\r']) {
                let words = at..at + phrase.len();
                at += phrase.len() + 1;
                let is_reported = reported.iter().any(|it| it.start < words.end && words.start < it.end);
                let Some(words) = without_idle(&plain.text, &words, idle).filter(|_| !is_reported) else {
                    continue;
                };
                let words = plain.original(original, &words);
                unmatched.push(
                    words.trim_matches(|c: char| !c.is_alphanumeric() && !"\"'”’″′".contains(c)).to_owned(),
                );
            }
        }
        start = start.max(range.end);
    }
    unmatched.retain(|words| !words.is_empty());
    unmatched
}

/// From the first unknown word of a phrase to its last; `None` without any.
fn without_idle(text: &str, phrase: &Range<usize>, idle: &[Range<usize>]) -> Option<Range<usize>> {
    let is_idle = |at: usize| idle.iter().any(|range| range.contains(&at));
    let rest: String = text[phrase.clone()]
        .char_indices()
        .map(|(at, c)| if is_idle(phrase.start + at) { ' ' } else { c })
        .collect();
    if !has_unknown_words(&rest) {
        return None;
    }
    let unknown = |(at, c): &(usize, char)| c.is_alphanumeric() && !is_idle(phrase.start + at);
    let mut letters = text[phrase.clone()].char_indices().filter(unknown);
    let (first, _) = letters.next()?;
    let (last, c) = letters.next_back().or_else(|| text[phrase.clone()].char_indices().find(unknown))?;
    let mut end = phrase.start + last + c.len_utf8();
    end += text[end..phrase.end].chars().take_while(|c| "\"'".contains(*c)).count();
    Some(phrase.start + first..end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_supplier_writes_without_its_spaces_is_parted() {
        for (text, wanted) in [
            ("1/2MPTX1/2SWT", "1/2 MPT X 1/2 SWT"),
            ("3/4hose", "3/4 hose"),
            ("ASSE1019B", "ASSE 1019B"),
            // A model is no size.
            ("B65MPT", "B65MPT"),
            ("BOX12", "BOX12"),
        ] {
            assert_eq!(Plain::of(text).text, wanted);
        }
    }
}

//! Numbers as people write them: whole, decimal, grouped by thousands, fractions, whole and fraction.

/// Typographic forms and what is typed for them; every other character stands for itself.
pub fn typed(c: char) -> Option<&'static str> {
    Some(match c {
        '“' | '”' | '″' | '〃' | '＂' => "\"",
        '‘' | '’' | '′' | '´' => "'",
        '−' | '–' | '—' | '‐' | '‑' | '‒' => "-",
        '\u{a0}' | '\u{202f}' | '\u{2009}' | '\u{2002}' | '\u{2003}' | '\t' | '\n' | '\r' => " ",
        'º' | '˚' => "°",
        '⁄' | '∕' => "/",
        '×' => "x",
        '¼' => " 1/4",
        '½' => " 1/2",
        '¾' => " 3/4",
        '⅓' => " 1/3",
        '⅔' => " 2/3",
        '⅛' => " 1/8",
        '⅜' => " 3/8",
        '⅝' => " 5/8",
        '⅞' => " 7/8",
        _ => return None,
    })
}

/// A text with its typographic forms made plain.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match typed(c) {
            Some(other) => out.push_str(other),
            None => out.push(c),
        }
    }
    out.replace("''", "\"")
}

pub(super) const NO_NUMBER: &str = "does not start with a number";
const COMMA: &str = "has a comma that neither groups thousands nor is the decimal mark here";
const POINT: &str = "has a point that may group thousands or be a decimal point";
const IMPROPER: &str = "has a whole number beside a fraction that is not less than one";

/// A number at the start of a text and what follows it, or what is wrong with it.
pub(super) fn number_at(text: &str, decimal_comma: bool) -> Result<(f64, &str), &'static str> {
    let end = text.find(|c: char| !c.is_ascii_digit() && !".,".contains(c)).unwrap_or(text.len());
    // A comma that ends a phrase is no part of the number.
    let token = text[..end].trim_end_matches(',');
    let rest = &text[token.len()..];
    let whole = decimal(token, decimal_comma)?;
    if !token.bytes().all(|it| it.is_ascii_digit()) {
        return Ok((whole, rest));
    }
    if let Some((bottom, after)) = rest.strip_prefix('/').and_then(digits_at) {
        return if bottom == 0.0 { Err(NO_NUMBER) } else { Ok((whole / bottom, after)) };
    }
    // One hyphen, or spaces: "8 - 1/2" is not eight and a half for sure.
    let gap = rest.strip_prefix('-').unwrap_or_else(|| rest.trim_start_matches(' '));
    if gap.len() < rest.len()
        && let Some((top, after)) = digits_at(gap)
        && let Some((bottom, after)) = after.strip_prefix('/').and_then(digits_at)
    {
        return if top < bottom { Ok((whole + top / bottom, after)) } else { Err(IMPROPER) };
    }
    Ok((whole, rest))
}

fn decimal(token: &str, decimal_comma: bool) -> Result<f64, &'static str> {
    let (group, mark) = if decimal_comma { ('.', ',') } else { (',', '.') };
    let (whole, part) = token.split_once(mark).map_or((token, None), |(whole, part)| (whole, Some(part)));
    let mut groups = whole.split(group);
    let first = groups.next().unwrap_or_default();
    let grouped = (1..=3).contains(&first.len()) && !first.starts_with('0') && groups.all(|it| it.len() == 3);
    if whole.contains(group) {
        if !grouped || part.is_some_and(|it| it.contains(group)) {
            return Err(if decimal_comma { POINT } else { COMMA });
        }
        // "1.200" is a decimal to one hand and twelve hundred to another, whatever the file is like.
        if decimal_comma && part.is_none() {
            return Err(POINT);
        }
    }
    let plain = format!("{}.{}", whole.replace(group, ""), part.unwrap_or_default());
    // "." and "1.2.3" are no numbers.
    if plain == "." { Err(NO_NUMBER) } else { plain.parse().map_err(|_| NO_NUMBER) }
}

fn digits_at(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    Some((text[..end].parse().ok()?, &text[end..]))
}

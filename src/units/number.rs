//! Numbers as people write them: whole, decimal, grouped by thousands, fractions, whole and fraction.

use super::error::Reason;

/// Plain spelling of a typographic character; `None` for every other character.
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

/// The text with its typographic characters spelled plainly.
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match typed(c) {
            Some(spelling) => out.push_str(spelling),
            None => out.push(c),
        }
    }
    out.replace("''", "\"")
}

/// Parses the number at the start of a text. Returns it with the text after it.
pub(super) fn parse_number(text: &str, decimal_comma: bool) -> Result<(f64, &str), Reason> {
    let end = text.find(|c: char| !c.is_ascii_digit() && !".,".contains(c)).unwrap_or(text.len());
    // A comma at the end of a phrase is not part of the number.
    let token = text[..end].trim_end_matches(',');
    let rest = &text[token.len()..];
    let whole = parse_decimal(token, decimal_comma)?;
    if !token.bytes().all(|byte| byte.is_ascii_digit()) {
        return Ok((whole, rest));
    }
    if let Some((divisor, after)) = rest.strip_prefix('/').and_then(parse_digits) {
        return if divisor == 0.0 { Err(Reason::NoNumber) } else { Ok((whole / divisor, after)) };
    }
    // One hyphen, or spaces: "8 - 1/2" may be a range.
    let gap = rest.strip_prefix('-').unwrap_or_else(|| rest.trim_start_matches(' '));
    if gap.len() < rest.len()
        && let Some((top, after)) = parse_digits(gap)
        && let Some((bottom, after)) = after.strip_prefix('/').and_then(parse_digits)
    {
        return if top < bottom { Ok((whole + top / bottom, after)) } else { Err(Reason::ImproperFraction) };
    }
    Ok((whole, rest))
}

fn parse_decimal(token: &str, decimal_comma: bool) -> Result<f64, Reason> {
    let (group, mark) = if decimal_comma { ('.', ',') } else { (',', '.') };
    let (whole, fraction) = match token.split_once(mark) {
        Some((whole, fraction)) => (whole, Some(fraction)),
        None => (token, None),
    };
    if whole.contains(group) {
        let mut groups = whole.split(group);
        let first = groups.next().unwrap_or_default();
        let is_grouped =
            (1..=3).contains(&first.len()) && !first.starts_with('0') && groups.all(|it| it.len() == 3);
        // "1.200" is a decimal to one writer and twelve hundred to another, however the file writes decimals.
        let is_unclear = decimal_comma && fraction.is_none();
        if !is_grouped || is_unclear || fraction.is_some_and(|it| it.contains(group)) {
            return Err(if decimal_comma { Reason::Point } else { Reason::Comma });
        }
    }
    let plain = format!("{}.{}", whole.replace(group, ""), fraction.unwrap_or_default());
    // Neither "." nor "1.2.3" is a number.
    if plain == "." { Err(Reason::NoNumber) } else { plain.parse().map_err(|_| Reason::NoNumber) }
}

fn parse_digits(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    Some((text[..end].parse().ok()?, &text[end..]))
}

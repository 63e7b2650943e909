//! What is printed above and below a sheet, without the codes for the number of the page and its like.

/// What the words of a margin say besides its codes; `None` if nothing: "Page 1 of 3".
pub(super) fn said(text: &str, has_code: bool) -> Option<String> {
    /// Words that belong to a code.
    const BESIDE_CODES: [&str; 12] =
        ["page", "pages", "pg", "p", "of", "sheet", "printed", "print", "date", "time", "file", "on"];
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|it| !it.is_empty());
    let is_beside = |word: &str| has_code && BESIDE_CODES.contains(&word.to_lowercase().as_str());
    let says = words.into_iter().any(|word| !is_beside(word));
    says.then_some(text)
}

/// The texts of a margin in the codes of XLSX, left, center and right. ECMA-376, part 1, 18.3.1.39.
pub(super) fn parts(coded: &str) -> Vec<String> {
    let (mut found, mut text, mut has_code) = (Vec::new(), String::new(), false);
    let mut rest = coded.chars().peekable();
    while let Some(c) = rest.next() {
        if c != '&' {
            text.push(c);
            continue;
        }
        match rest.next() {
            Some('&') => text.push('&'),
            Some('L' | 'C' | 'R') => {
                found.extend(said(&text, has_code));
                text.clear();
                has_code = false;
            }
            // The font and its style.
            Some('"') => drop(rest.by_ref().find(|it| *it == '"')),
            // Its size.
            Some('0'..='9') => while rest.next_if(char::is_ascii_digit).is_some() {},
            // Its color: six digits, or a color of the theme and a tint.
            Some('K') => {
                for _ in 0..6 {
                    rest.next_if(|it| it.is_ascii_hexdigit() || matches!(it, '+' | '-'));
                }
            }
            // The page, the pages, the day, the time, the sheet, the file, its folder, a picture.
            Some('P') => {
                has_code = true;
                text.push(' ');
                // "&P+2" counts from another page.
                if rest.next_if(|it| matches!(it, '+' | '-')).is_some() {
                    while rest.next_if(char::is_ascii_digit).is_some() {}
                }
            }
            Some('N' | 'D' | 'T' | 'A' | 'F' | 'Z' | 'G') => {
                has_code = true;
                text.push(' ');
            }
            // Bold, italic, underlined and their like.
            _ => {}
        }
    }
    found.extend(said(&text, has_code));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_taken_out_and_words_stay() {
        for (coded, texts) in [
            ("&LDRAFT - NOT FOR CONSTRUCTION&RPage &P of &N", vec!["DRAFT - NOT FOR CONSTRUCTION"]),
            ("&C&\"Arial,Bold\"&14&KFF0000VOID", vec!["VOID"]),
            ("&C&K04+020Smith && Sons&RHB-1 not frostproof", vec!["Smith & Sons", "HB-1 not frostproof"]),
            ("Sheet &A&R&F, printed &D &T", vec![]),
            ("&L&G&C&P+2&R", vec![]),
            ("&BSuperseded&B &Ion hold&I", vec!["Superseded on hold"]),
        ] {
            assert_eq!(parts(coded), texts, "{coded}");
        }
    }
}

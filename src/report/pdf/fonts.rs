//! The two fonts of a PDF: which glyph a character has and how wide it is. `fonts/subset.py` makes their files.

use std::collections::BTreeMap;

/// A weight of the font.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Face {
    Regular,
    Bold,
}

impl Face {
    /// Both, in the order of the columns of `characters.txt`.
    pub(super) const ALL: [Self; 2] = [Self::Regular, Self::Bold];

    /// The name a page calls it by.
    pub(super) const fn resource(self) -> &'static [u8] {
        match self {
            Self::Regular => b"F1",
            Self::Bold => b"F2",
        }
    }

    /// Its name, with the mark of a font that is cut down to some characters.
    pub(super) const fn name(self) -> &'static [u8] {
        match self {
            Self::Regular => b"CSILLA+DejaVuSansCondensed",
            Self::Bold => b"CSILLB+DejaVuSansCondensed-Bold",
        }
    }

    /// Its file, a TrueType font.
    pub(super) const fn file(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("fonts/regular.ttf"),
            Self::Bold => include_bytes!("fonts/bold.ttf"),
        }
    }
}

/// A glyph of a font: its number, and its width in thousandths of the size.
#[derive(Clone, Copy)]
pub(super) struct Glyph {
    pub id: u16,
    pub width: u16,
}

/// The characters of both fonts.
pub(super) struct Fonts(BTreeMap<char, [Glyph; 2]>);

impl Fonts {
    /// The shipped fonts.
    pub(super) fn shipped() -> Self {
        Self(include_str!("fonts/characters.txt").lines().filter_map(character).collect())
    }

    /// The characters of a font with their glyphs.
    pub(super) fn characters(&self, face: Face) -> impl Iterator<Item = (char, Glyph)> {
        self.0.iter().map(move |(character, glyphs)| (*character, glyphs[face as usize]))
    }

    /// The glyph of a character; of one that the fonts do not have, the mark of such a character.
    fn glyph(&self, character: char, face: Face) -> Glyph {
        let known = |character: char| Some(self.0.get(&character)?[face as usize]);
        known(character).or_else(|| known('\u{fffd}')).unwrap_or(Glyph { id: 0, width: 600 })
    }

    /// The width of a text, in points.
    pub(super) fn width(&self, text: &str, face: Face, size: f32) -> f32 {
        let thousandths: u32 = text.chars().map(|c| u32::from(self.glyph(c, face).width)).sum();
        #[allow(clippy::cast_precision_loss, reason = "a line of text")]
        let width = thousandths as f32 * size / 1000.0;
        width
    }

    /// The numbers of the glyphs of a text, each in two bytes.
    pub(super) fn encoded(&self, text: &str, face: Face) -> Vec<u8> {
        text.chars().flat_map(|c| self.glyph(c, face).id.to_be_bytes()).collect()
    }

    /// A text broken at spaces, and within a word that is wider than a line. Each line ends in a space, so that a word does
    /// not run on into the next; one that held words together is a plain one afterward.
    pub(super) fn broken(&self, text: &str, face: Face, size: f32, room: f32) -> Vec<String> {
        let mut lines = Vec::new();
        for paragraph in text.split('\n') {
            let mut line = String::new();
            let mut used = 0.0;
            for word in paragraph.split(' ').filter(|word| !word.is_empty()) {
                let space = if line.is_empty() { 0.0 } else { self.width(" ", face, size) };
                let wide = self.width(word, face, size);
                if used + space + wide <= room {
                    if !line.is_empty() {
                        line.push(' ');
                    }
                    line.push_str(word);
                    used += space + wide;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                for character in word.chars() {
                    let wide = self.width(character.encode_utf8(&mut [0; 4]), face, size);
                    if used + wide > room && !line.is_empty() {
                        lines.push(std::mem::take(&mut line));
                        used = 0.0;
                    }
                    line.push(character);
                    used += wide;
                }
            }
            lines.push(line);
        }
        lines.into_iter().map(|line| line.replace('\u{a0}', " ") + " ").collect()
    }
}

/// A line of `characters.txt`: code, then glyph and width of each font.
fn character(line: &str) -> Option<(char, [Glyph; 2])> {
    let (code, numbers) = line.split_once(' ')?;
    let character = char::from_u32(u32::from_str_radix(code, 16).ok()?)?;
    let numbers: Vec<u16> = numbers.split(' ').filter_map(|number| number.parse().ok()).collect();
    let &[regular, regular_width, bold, bold_width] = numbers.as_slice() else { return None };
    Some((character, [Glyph { id: regular, width: regular_width }, Glyph { id: bold, width: bold_width }]))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A table of a TrueType file by its tag.
    fn table(file: &[u8], tag: &[u8; 4]) -> Vec<u8> {
        let number = |at: usize| u32::from_be_bytes(file[at..at + 4].try_into().unwrap()) as usize;
        let tables = usize::from(u16::from_be_bytes([file[4], file[5]]));
        let entry = (0..tables).map(|index| 12 + 16 * index).find(|at| &file[*at..at + 4] == tag).unwrap();
        file[number(entry + 8)..number(entry + 8) + number(entry + 12)].to_vec()
    }

    #[test]
    fn widths_are_those_of_the_font_files() {
        let fonts = Fonts::shipped();
        let lines = include_str!("fonts/characters.txt").lines().count();
        for face in Face::ALL {
            let word = |table: &[u8], at: usize| u16::from_be_bytes([table[at], table[at + 1]]);
            let (head, hhea, metrics) =
                (table(face.file(), b"head"), table(face.file(), b"hhea"), table(face.file(), b"hmtx"));
            let (per_em, long) = (f64::from(word(&head, 18)), usize::from(word(&hhea, 34)));
            assert_eq!(fonts.characters(face).count(), lines);
            for (character, glyph) in fonts.characters(face) {
                let entry = usize::from(glyph.id).min(long - 1);
                let width = f64::from(word(&metrics, 4 * entry)) * 1000.0 / per_em;
                assert!((width - f64::from(glyph.width)).abs() <= 0.5, "{character}: {width}");
            }
        }
    }

    #[test]
    fn a_long_word_is_broken_and_nothing_is_lost() {
        let fonts = Fonts::shipped();
        let text = format!("a b {} c", "x".repeat(1000));
        let lines = fonts.broken(&text, Face::Regular, 9.0, 100.0);
        assert!(lines.iter().all(|line| fonts.width(line.trim_end(), Face::Regular, 9.0) <= 100.0));
        assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
    }
}

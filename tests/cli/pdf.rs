//! A review as a PDF, read back by a small reader of its own: cross-references, streams, fonts and structure.

use crate::cli::common::{Folder, run};
use flate2::read::ZlibDecoder;
use serde_json::Value;
use std::collections::BTreeMap;
use std::io::Read;
use std::path::Path;

const EXAMPLE: &str = "examples/kestrel-ridge/job.yaml";

/// A file, by the offsets of its cross-reference table.
#[derive(Default)]
struct Pdf {
    /// Objects by their numbers, without their streams.
    objects: Vec<String>,
    /// The unpacked streams, by the numbers of their objects.
    streams: BTreeMap<usize, Vec<u8>>,
    /// Characters by glyph, for each font of a page.
    glyphs: BTreeMap<String, BTreeMap<u16, char>>,
}

impl Pdf {
    fn read(bytes: &[u8]) -> Self {
        let end = String::from_utf8_lossy(&bytes[bytes.len() - 64..]).into_owned();
        let start: usize = between(&end, "startxref\n", "\n").parse().expect("an offset");
        let table = String::from_utf8_lossy(&bytes[start..]).into_owned();
        let offsets = table.lines().skip(3).take_while(|line| line.ends_with('n'));
        let offsets = offsets.map(|line| line[..10].parse::<usize>().expect("an offset"));
        let mut pdf = Self { objects: vec![String::new()], ..Self::default() };
        for (number, offset) in (1..).zip(offsets) {
            let object = &bytes[offset..];
            let end = position(object, b"endobj").expect("an end");
            let stream = position(&object[..end], b"stream\n");
            let head = String::from_utf8_lossy(&object[..stream.unwrap_or(end)]).into_owned();
            assert!(head.starts_with(&format!("{number} 0 obj\n")), "{number} at {offset}: {head}");
            if let Some(stream) = stream {
                let length: usize = between(&head, "/Length ", "\n").parse().expect("a length");
                let start = stream + "stream\n".len();
                let packed = &object[start..start + length];
                let mut plain = Vec::new();
                if head.contains("/FlateDecode") {
                    ZlibDecoder::new(packed).read_to_end(&mut plain).expect("it unpacks");
                } else {
                    plain.extend_from_slice(packed);
                }
                pdf.streams.insert(number, plain);
            }
            pdf.objects.push(head);
        }
        pdf.read_fonts();
        pdf
    }

    fn read_fonts(&mut self) {
        let tree = self.all("/Type /Pages")[0].to_owned();
        for entry in between(&tree, "/Font <<", ">>").lines().filter(|line| line.contains('/')) {
            let (name, font) = entry.trim().split_once(' ').expect("a name and a font");
            let font = font.trim_end_matches(" 0 R").parse::<usize>().expect("a reference");
            let map = reference(&self.objects[font], "/ToUnicode");
            let map = String::from_utf8(self.streams[&map].clone()).expect("a map is ASCII");
            let pairs = map.lines().filter_map(|line| {
                let codes: Vec<u32> = line
                    .split(['<', '>', ' '])
                    .filter_map(|code| u32::from_str_radix(code, 16).ok().filter(|_| code.len() == 4))
                    .collect();
                let &[glyph, character] = codes.as_slice() else { return None };
                Some((u16::try_from(glyph).ok()?, char::from_u32(character)?))
            });
            self.glyphs.insert(name.trim_start_matches('/').into(), pairs.collect());
        }
    }

    /// The objects with a text in them.
    fn all(&self, text: &str) -> Vec<&str> {
        self.objects.iter().map(String::as_str).filter(|object| object.contains(text)).collect()
    }

    fn pages(&self) -> Vec<&str> {
        let kids = self.all("/Type /Pages")[0];
        let kids = between(kids, "/Kids [", "]").split(" 0 R");
        let numbers = kids.filter_map(|kid| kid.trim().parse::<usize>().ok());
        numbers.map(|number| self.objects[number].as_str()).collect()
    }

    fn content(&self, page: &str) -> String {
        self.streams[&reference(page, "/Contents")].iter().map(|byte| char::from(*byte)).collect()
    }

    /// The text of a page, without headers and footers.
    fn text(&self, page: &str) -> String {
        let mut text = String::new();
        let (mut font, mut is_artifact) = (String::new(), false);
        for line in self.content(page).lines() {
            match line.rsplit(' ').next() {
                Some("BMC") => is_artifact = true,
                Some("EMC") => is_artifact = false,
                Some("Tf") => font = between(line, "/", " ").into(),
                Some("Tj" | "'") if !is_artifact => {
                    let operand = &line[..line.rfind(' ').unwrap_or(0)];
                    let bytes = string(operand);
                    text.extend(
                        bytes
                            .chunks(2)
                            .map(|pair| self.glyphs[&font][&u16::from_be_bytes([pair[0], pair[1]])]),
                    );
                }
                _ => {}
            }
        }
        text
    }

    fn whole_text(&self) -> String {
        self.pages().iter().map(|page| self.text(page)).collect()
    }

    /// The texts of a key, such as `/Title`, of all objects.
    fn texts(&self, key: &str, of: &str) -> Vec<String> {
        let key = format!("{key} ");
        let objects = self.all(of).into_iter().filter_map(|object| object.split_once(&key));
        objects.map(|(_, rest)| decoded(&string(rest.lines().next().unwrap_or_default()))).collect()
    }
}

fn between<'t>(text: &'t str, from: &str, to: &str) -> &'t str {
    let rest = text.split_once(from).unwrap_or_else(|| panic!("{from} in {text}")).1;
    rest.split(to).next().unwrap_or_default()
}

fn position(bytes: &[u8], of: &[u8]) -> Option<usize> {
    bytes.windows(of.len()).position(|window| window == of)
}

/// The number of the object that a key refers to.
fn reference(object: &str, key: &str) -> usize {
    between(object, &format!("{key} "), " 0 R").parse().expect("a reference")
}

/// The bytes of a string in parentheses or in hexadecimal.
fn string(text: &str) -> Vec<u8> {
    let text = text.trim();
    if let Some(digits) = text.strip_prefix('<') {
        let digits = digits.trim_end_matches('>').as_bytes();
        let pair = |pair: &[u8]| u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok();
        return digits.chunks(2).filter_map(pair).collect();
    }
    let mut bytes = Vec::new();
    let mut chars = text[1..text.len() - 1].chars().peekable();
    while let Some(c) = chars.next() {
        if c != '\\' {
            bytes.push(u8::try_from(c).expect("a byte"));
            continue;
        }
        let escaped = chars.next().expect("something is escaped");
        bytes.push(match escaped {
            'n' => b'\n',
            'r' => b'\r',
            't' => b'\t',
            'b' => 8,
            'f' => 12,
            '0'..='7' => {
                let digits: String = [escaped].into_iter().chain(chars.by_ref().take(2)).collect();
                u8::from_str_radix(&digits, 8).expect("three octal digits")
            }
            other => u8::try_from(other).expect("a byte"),
        });
    }
    bytes
}

/// A text string: UTF-16 after a byte order mark, otherwise ASCII.
fn decoded(bytes: &[u8]) -> String {
    match bytes.strip_prefix(&[0xFE, 0xFF]) {
        Some(units) => {
            let units = units.chunks(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
            char::decode_utf16(units).map(|c| c.expect("UTF-16")).collect()
        }
        None => String::from_utf8(bytes.into()).expect("ASCII"),
    }
}

fn json() -> Value {
    serde_json::from_str(&run(&format!("review {EXAMPLE} --format json")).out).expect("JSON")
}

fn words(text: &str) -> Vec<&str> {
    let is_rule = |word: &str| word.chars().all(|c| c == '_' || c == '-') && word.len() > 1;
    text.split_whitespace().filter(|word| !is_rule(word)).collect()
}

fn written(options: &str) -> Pdf {
    let folder = Folder::new();
    let path = folder.path().join("r.pdf");
    let ran = run(&format!("review {options} --output {}", path.display()));
    assert_eq!((ran.out.as_str(), ran.err.as_str()), ("", ""));
    read(&path)
}

fn read(path: &Path) -> Pdf {
    Pdf::read(&std::fs::read(path).expect("the file is there"))
}

#[test]
fn the_pdf_has_the_words_of_the_letter_in_their_order() {
    let letter = run(&format!("review {EXAMPLE} --format letter")).out;
    let text = written(EXAMPLE).whole_text();
    let of_letter = text.split("Appendix: drawings").next().expect("it begins with the letter");
    assert_eq!(words(of_letter), words(&letter));
}

#[test]
fn the_pdf_has_every_word_of_the_calculation_sheet() {
    let folder = Folder::of(
        "Mark,Kind,Closes,Nominal length,Barrel,Wall,Supply\nA-1,sillcock,inside,8 in,brass,rim joist batt,copper\n",
    );
    let sheet = folder.run("sheet s.csv --climate minneapolis-mn --mark A-1").out;
    folder.run("review s.csv --climate minneapolis-mn --output r.pdf");
    let text = read(&folder.path().join("r.pdf")).whole_text();
    let appendix = text.split_once("1. Calculation sheet").expect("an appendix").1;
    let mut there: BTreeMap<&str, usize> = BTreeMap::new();
    for word in words(appendix) {
        *there.entry(word).or_default() += 1;
    }
    // Bars are drawn there.
    for word in words(&sheet).into_iter().skip(2).filter(|word| !word.chars().all(|c| "#|".contains(c))) {
        let left = there.get_mut(word).unwrap_or_else(|| panic!("{word} is missing"));
        *left = left.checked_sub(1).unwrap_or_else(|| panic!("{word} is missing"));
    }
}

#[test]
fn bookmarks_lead_to_the_comments_and_to_each_sheet() {
    let pdf = written(EXAMPLE);
    let titles = pdf.texts("/Title", "/Dest");
    let json = json();
    let types = json["findings"].as_array().expect("findings").len();
    for title in [
        "PLAN REVIEW COMMENTS, DRAFT FOR THE REVIEWER",
        "Revise: adopted code",
        "Clarify",
        "1. Calculation sheet: HB-1",
        "Inputs",
    ] {
        assert!(titles.iter().any(|known| known == title), "{title}: {titles:?}");
    }
    assert_eq!(titles.iter().filter(|title| title.contains(". Calculation sheet: ")).count(), types);
    for item in pdf.all("/Dest") {
        let page = between(item, "/Dest [", " 0 R").trim().parse::<usize>().expect("a page");
        assert!(pdf.objects[page].contains("/Type /Page\n"), "{item}");
    }
}

#[test]
fn everything_on_a_page_is_tagged_or_decoration() {
    let pdf = written(EXAMPLE);
    let catalog = pdf.all("/Type /Catalog")[0];
    for entry in ["/Lang (en-US)", "/Marked true", "/DisplayDocTitle true", "/StructTreeRoot"] {
        assert!(catalog.contains(entry), "{entry}: {catalog}");
    }
    assert_eq!(pdf.texts("/Title", "/Title (Plan review"), ["Plan review comments: Kestrel Ridge, phase 2"]);
    for role in ["/H1", "/H2", "/P", "/Table", "/TR", "/TH", "/TD", "/Figure", "/Caption"] {
        assert!(!pdf.all(&format!("/S {role}\n")).is_empty(), "{role}");
    }
    assert!(pdf.all("/S /TH\n").iter().all(|head| head.contains("/Scope /Column")));
    let drawings = pdf.texts("/Alt", "/S /Figure\n");
    assert_eq!(drawings.len(), pdf.all("/S /Figure\n").len());
    let tree = between(pdf.all("/Type /StructTreeRoot")[0], "/Nums [", "]").to_owned();
    for (index, page) in pdf.pages().into_iter().enumerate() {
        assert_eq!(between(page, "/StructParents ", "\n"), index.to_string());
        let of_page: Vec<&str> = tree.split(" 0 R").map(str::trim).collect();
        let array = of_page[index].rsplit(' ').next().expect("a reference");
        let tagged = pdf.objects[array.parse::<usize>().expect("a reference")].matches(" 0 R").count();
        let content = pdf.content(page);
        assert_eq!(content.matches("/MCID").count(), tagged);
        let (begun, ended) =
            (content.matches("BDC").count() + content.matches("BMC").count(), content.matches("EMC").count());
        assert_eq!(begun, ended);
        let mut depth = 0;
        for line in content.lines() {
            match line.rsplit(' ').next() {
                Some("BDC" | "BMC") => depth += 1,
                Some("EMC") => depth -= 1,
                Some("Tj" | "'" | "S" | "f" | "B") => assert_eq!(depth, 1, "{line}"),
                _ => {}
            }
        }
    }
}

#[test]
fn figures_of_the_drawings_in_the_pdf_are_those_of_the_json() {
    let json = json();
    let drawings = written(EXAMPLE).texts("/Alt", "/S /Figure\n").join("\n");
    let sets = json["findings"].as_array().expect("findings");
    let facts = sets.iter().map(|set| &set["facts"]["heat.seat_temperature"]);
    let known = facts.filter(|fact| fact["value"].is_number());
    let texts: Vec<&str> = known.filter_map(|fact| fact["text"].as_str()).collect();
    assert!(!texts.is_empty());
    for text in texts {
        let best = text.split(" (").next().unwrap_or_default();
        assert!(drawings.contains(&format!(" deep at {best} in the design low")), "{text}: {drawings}");
    }
}

#[test]
fn what_a_schedule_carries_is_inert_and_visible_in_a_pdf() {
    let long = "x".repeat(10_000);
    let schedule = format!(
        "Mark,Qty,Location,Kind,Notes\n<script>alert(1)</script>,1,\u{1b}[2J\u{9b}31m,sillcock,{long}\n\
         (a) Tj \\051,1,\u{202e}ni 8,hose bibb,漢字\n{long},1,=cmd,wall hydrant,\n"
    );
    let folder = Folder::of(&schedule);
    let ran = folder.run("review s.csv --climate minneapolis-mn --output r.pdf");
    assert_eq!((ran.out.as_str(), ran.err.as_str()), ("", ""));
    let pdf = read(&folder.path().join("r.pdf"));
    let text = pdf.whole_text();
    assert!(
        text.contains("<script>alert(1)</script>") && text.contains("(a) Tj \\051") && text.contains("=cmd")
    );
    assert!(text.contains("\u{fffd}[2J\u{fffd}31m") && text.contains("\u{fffd}ni 8"), "{text}");
    assert!(!text.contains(['\u{1b}', '\u{9b}', '\u{202e}', '漢']));
    assert!(text.replace(' ', "").contains(&long));
    for active in ["/JavaScript", "/JS", "/URI", "/Launch", "/OpenAction", "/AA", "/EmbeddedFile"] {
        assert!(pdf.all(active).is_empty(), "{active}");
    }
    let titles = pdf.texts("/Title", "/Dest").concat();
    assert!(!titles.contains(['\u{1b}', '\u{9b}', '\u{202e}']) && titles.contains('…'));
}

#[test]
fn the_same_review_is_the_same_pdf() {
    let folder = Folder::of("Mark,Kind\nA,sillcock\n");
    for name in ["a.pdf", "b.pdf"] {
        folder.run(&format!("review s.csv --climate dallas-tx --output {name}"));
    }
    let [a, b] =
        ["a.pdf", "b.pdf"].map(|name| std::fs::read(folder.path().join(name)).expect("it is written"));
    assert!(a == b && a.starts_with(b"%PDF-1."));
}

//! Workbooks that are broken, locked, of another kind or made to take the machine's memory: each is refused in one line that
//! says what to do, or read rightly.

use super::common::{data, notes, problems, read, refusal, said};
use std::io::{Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// A package of parts; each is written so many times over.
pub fn packed(parts: &[(&str, &[u8], usize)]) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes, times) in parts {
        zip.start_file(*name, SimpleFileOptions::default()).expect("is started");
        for _ in 0..*times {
            zip.write_all(bytes).expect("is written");
        }
    }
    zip.finish().expect("is finished").into_inner()
}

/// A workbook of one sheet with these parts beside it; the sheet's rows are given.
pub fn book(rows: &str, more: &[(&str, &[u8], usize)]) -> Vec<u8> {
    let sheet = format!("<worksheet><sheetData>{rows}</sheetData></worksheet>");
    let mut parts: Vec<(&str, &[u8], usize)> = vec![
        ("[Content_Types].xml", b"<Types/>", 1),
        ("xl/workbook.xml", b"<workbook><sheets><sheet name='S' id='a'/></sheets></workbook>", 1),
        (
            "xl/_rels/workbook.xml.rels",
            b"<R><Relationship Id='a' Type='x/worksheet' Target='s.xml'/><Relationship Id='b' Type='x/sharedStrings' \
              Target='/xl/t.xml'/></R>",
            1,
        ),
    ];
    if !more.iter().any(|(name, ..)| *name == "xl/s.xml") {
        parts.push(("xl/s.xml", sheet.as_bytes(), 1));
    }
    parts.extend_from_slice(more);
    packed(&parts)
}

pub fn text(at: &str, text: &str) -> String {
    format!("<c r='{at}' t='inlineStr'><is><t>{text}</t></is></c>")
}

fn two_rows() -> String {
    [
        "<row r='1'>",
        &text("A1", "Mark"),
        &text("B1", "Kind"),
        "</row><row r='2'>",
        &text("A2", "HB-1"),
        &text("B2", "sillcock"),
        "</row>",
    ]
    .concat()
}

#[track_caller]
fn refused(name: &str, bytes: &[u8], message: &str) {
    assert_eq!(refusal(name, bytes), message);
}

const ANEW: &str = "expected the workbook opened and saved again in a spreadsheet";
const SAVE: &str = "expected the schedule saved as .xlsx, .ods or CSV";

#[test]
fn the_made_up_workbook_is_read_without_anything_hostile() {
    assert_eq!(said(&read("s.xlsx", &book(&two_rows(), &[])), 2), ["HB-1", "sillcock"]);
}

#[test]
fn a_workbook_that_unpacks_without_end_is_stopped() {
    // 300 MB in stretches of half a megabyte, which is more than is unpacked; then one stretch of 2 MB.
    let stretch = [b"<a>".to_vec(), vec![b' '; 500_000], b"</a>".to_vec()].concat();
    let bomb = book("", &[("xl/s.xml", b"<worksheet>", 1)]);
    assert!(refusal("s.xlsx", &bomb).contains("is damaged or cut short"));
    let bomb = packed(&[
        ("xl/workbook.xml", b"<workbook><sheets><sheet name='S' id='a'/></sheets></workbook>", 1),
        ("xl/_rels/workbook.xml.rels", b"<R><Relationship Id='a' Type='x/worksheet' Target='s.xml'/></R>", 1),
        ("xl/s.xml", &stretch, 600),
    ]);
    assert!(bomb.len() < 1_000_000);
    let over = "s.xlsx: is over the limit of 100 times the packed size in a workbook of more than 16,000,000 bytes once unpacked";
    refused("s.xlsx", &bomb, over);
    // Beside a part that does not pack, the workbook may expand that much, but not without end.
    let mut seed = 1_u32;
    let noise: Vec<u8> = std::iter::repeat_with(|| {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        seed.to_le_bytes()[3]
    })
    .take(1_500_000)
    .collect();
    let padded = packed(&[
        ("xl/workbook.xml", b"<workbook><sheets><sheet name='S' id='a'/></sheets></workbook>", 1),
        ("xl/_rels/workbook.xml.rels", b"<R><Relationship Id='a' Type='x/worksheet' Target='s.xml'/></R>", 1),
        ("xl/s.xml", &stretch, 600),
        ("xl/noise.bin", &noise, 1),
    ]);
    refused("s.xlsx", &padded, "s.xlsx: is over the limit of 128,000,000 bytes in a workbook once unpacked");
    // The same with a size of ten bytes declared in its list: what does not keep to its list is damaged.
    let at = bomb.windows(4).rposition(|it| it == b"PK\x01\x02").expect("is listed");
    let mut lying = bomb.clone();
    lying[at + 24..at + 28].copy_from_slice(&10_u32.to_le_bytes());
    refused(
        "s.xlsx",
        &lying,
        &format!(
            "s.xlsx: is a workbook that is damaged or cut short: its part xl/s.xml cannot be read; {ANEW}"
        ),
    );
    let long = book("", &[("xl/s.xml", &[b' '; 1_000_000], 2)]);
    refused(
        "s.xlsx",
        &long,
        "s.xlsx: is over the limit of 1,000,000 bytes in one stretch of a workbook's markup",
    );
}

#[test]
fn a_shared_text_counts_each_time_it_is_shown() {
    let strings = format!("<sst><si><t>{}</t></si></sst>", "x".repeat(30_000));
    let rows: String =
        (1..10_000).map(|row| format!("<row r='{row}'><c r='A{row}' t='s'><v>0</v></c></row>")).collect();
    refused(
        "s.xlsx",
        &book(&rows, &[("xl/t.xml", strings.as_bytes(), 1)]),
        "s.xlsx: is over the limit of 64,000,000 bytes of text in the cells of a file",
    );
}

#[test]
fn a_cell_far_to_the_right_counts_the_cells_before_it() {
    let rows: String =
        (1..5_000).map(|row| format!("<row r='{row}'><c r='ALL{row}'><v>1</v></c></row>")).collect();
    refused("s.xlsx", &book(&rows, &[]), "s.xlsx: is over the limit of 4,000,000 cells in a file");
}

#[test]
fn entities_that_a_workbook_declares_are_not_resolved() {
    let strings =
        b"<!DOCTYPE sst [<!ENTITY a 'aaaaaaaaaa'><!ENTITY b '&a;&a;&a;'>]><sst><si><t>&b;</t></si></sst>";
    refused(
        "s.xlsx",
        &book(&two_rows(), &[("xl/t.xml", strings, 1)]),
        &format!("s.xlsx: declares entities of its own, which no spreadsheet does; it is not read; {ANEW}"),
    );
}

#[test]
fn elements_within_one_another_without_end_are_stopped() {
    let told = "s.xlsx: is over the limit of 100 levels of nesting in a workbook";
    refused("s.xlsx", &book("", &[("xl/s.xml", b"<a>", 100_000)]), told);
}

#[test]
fn a_list_of_too_many_parts_is_refused_before_it_is_held() {
    let names: Vec<String> = (0..10_001).map(|part| format!("xl/{part}")).collect();
    let parts: Vec<(&str, &[u8], usize)> = names.iter().map(|name| (name.as_str(), &b""[..], 0)).collect();
    refused("s.xlsx", &packed(&parts), "s.xlsx: is over the limit of 10,000 parts in a workbook");
}

#[test]
fn a_workbook_cut_short_anywhere_is_refused() {
    for name in ["same.xlsx", "same.ods"] {
        let whole = data(name);
        for part in 1..40 {
            let told = refusal(name, &whole[..whole.len() * part / 40]);
            assert!(
                told.starts_with(&format!("{name}: is a workbook that is damaged or cut short: ")),
                "{told}"
            );
            assert!(told.ends_with(ANEW), "{told}");
        }
    }
}

#[test]
fn a_byte_changed_anywhere_ends_in_a_reading_or_one_line() {
    for name in ["same.xlsx", "same.ods", "awkward.xlsx"] {
        let whole = data(name);
        for at in (0..whole.len()).step_by(37) {
            let mut changed = whole.clone();
            changed[at] ^= 0x5A;
            if let Err(told) = super::common::world(name, &changed, None) {
                assert!(told.len() == 1 && !told[0].contains('\n'), "{at}: {told:?}");
            }
        }
    }
}

#[test]
fn kinds_that_are_not_read_are_named_with_what_to_do() {
    let ole = |name: &str| {
        let mut bytes = b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1".to_vec();
        bytes.resize(1024, 0);
        bytes.extend(name.encode_utf16().flat_map(u16::to_le_bytes));
        bytes.resize(4096, 0);
        bytes
    };
    refused(
        "s.xls",
        &ole("Workbook"),
        &format!("s.xls: is a workbook in the older format (.xls), which is not supported; {SAVE}"),
    );
    refused("s.doc.x", &ole("WordDocument"), &format!("s.doc.x: is a document, not a workbook; {SAVE}"));
    let locked = "is protected by a password and cannot be read; expected a copy saved without the password";
    refused("s.xlsx", &ole("EncryptedPackage"), &format!("s.xlsx: {locked}"));
    let binary = packed(&[("xl/workbook.bin", b"", 1)]);
    refused(
        "s.xlsb",
        &binary,
        &format!("s.xlsb: is a binary workbook (.xlsb), which is not supported; {SAVE}"),
    );
    let document = packed(&[("word/document.xml", b"<a/>", 1)]);
    refused("s.xlsx", &document, &format!("s.xlsx: is a document, not a workbook; {SAVE}"));
    refused(
        "s.zip",
        &packed(&[("a.txt", b"a", 1)]),
        &format!("s.zip: is a zip file, but not a workbook; {SAVE}"),
    );
    let page = b"<html><table><tr><td>Mark</td></tr></table></html>";
    refused("s.xls", page, &format!("s.xls: is a web page or another document, not a table; {SAVE}"));
}

#[test]
fn macros_and_links_are_told_and_neither_run_nor_followed() {
    let link = b"<externalLink><externalBook id='a'/></externalLink>";
    let more: [(&str, &[u8], usize); 2] =
        [("xl/vbaProject.bin", b"\0", 1), ("xl/externalLinks/externalLink1.xml", link, 1)];
    let rows = two_rows()
        .replace("</row><row r='2'>", "<c r='C1' t='str'><f>[1]S!A1</f><v>Barrel</v></c></row><row r='2'>");
    let schedule = read("s.xlsx", &book(&rows, &more));
    assert_eq!(
        notes(&schedule),
        [
            "s.xlsx: the workbook has macros; they were not run",
            "s.xlsx: the workbook has links to other files; they were not followed, and the values saved in the workbook \
             are read",
        ]
    );
    assert_eq!(problems(&schedule), [""; 0]);
}

#[test]
fn a_text_that_the_workbook_has_lost_is_not_known() {
    let rows = two_rows()
        .replace("<c r='B2' t='inlineStr'><is><t>sillcock</t></is></c>", "<c r='B2' t='s'><v>9</v></c>");
    let schedule = read("s.xlsx", &book(&rows, &[]));
    assert_eq!(
        said(&schedule, 2),
        ["HB-1", "?", "Kind in doubt: \"a text that the workbook has lost\" under Kind"]
    );
}

#[test]
fn merges_over_everything_are_stopped() {
    let rows: String =
        (1..2_000).map(|row| format!("<row r='{row}'>{}</row>", text(&format!("A{row}"), "x"))).collect();
    let merge = b"<mergeCell ref='A1:B1048576'/>";
    let sheet = format!("<worksheet><sheetData>{rows}</sheetData>");
    let all = [sheet.as_bytes(), &merge.repeat(90_000), b"</worksheet>"].concat();
    refused(
        "s.xlsx",
        &book("", &[("xl/s.xml", &all, 1)]),
        "s.xlsx: is over the limit of 4,000,000 cells in a file",
    );
}

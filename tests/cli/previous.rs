//! `review --previous`: what is new, settled and standing in a revised schedule; numbers and responses are kept.

use crate::cli::common::{Folder, Ran, unwrapped};

const HEADINGS: &str = "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop,\
     Backflow standard\n";

/// An outlet through a wall of studs in Minnesota: 4 in freezes there, 14 in does not.
fn outlet(mark: &str, length: &str, barrel: &str, closes: &str) -> String {
    format!(
        "{mark},1,wall hydrant,{closes},{length},{barrel},2x6-siding,heated room,copper,none,yes,ASSE 1019 type A\n"
    )
}

/// Before: two that freeze, one that does not say where it closes. After: one is made longer, one is removed, one is new.
fn folder() -> Folder {
    let before = [
        outlet("HB-1", "4 in", "brass", "inside"),
        outlet("HB-2", "4 in", "red brass", "inside"),
        outlet("HB-3", "4 in", "bronze", "inside"),
        outlet("HB-4", "14 in", "brass", ""),
    ];
    let after = [
        outlet("HB-5", "4 in", "brass", "inside"),
        outlet("HB-1", "14 in", "brass", "inside"),
        outlet("HB-4", "14 in", "brass", ""),
        outlet("HB-3", "4 in", "bronze", "inside"),
    ];
    let answers = "Marks,Rows,Response,Fact\nHB-4,,inside,Closes\n";
    Folder::of(&format!("{HEADINGS}{}", before.concat()))
        .with("after.csv", format!("{HEADINGS}{}", after.concat()))
        .with("answers.csv", answers)
}

fn review(folder: &Folder, options: &str) -> Ran {
    let ran = folder.run(&format!("review {options} --climate minneapolis-mn"));
    assert!(ran.code < 2, "{options}: {}", ran.err);
    ran
}

fn revised() -> Folder {
    let folder = folder();
    review(&folder, "s.csv --answers answers.csv --output before.json");
    folder
}

/// Numbers of a letter, each with the text up to the end of its first sentence.
fn numbered(letter: &str) -> Vec<(usize, String)> {
    let lines: Vec<&str> = letter.lines().collect();
    let starts = lines.iter().enumerate().filter_map(|(at, line)| {
        let (number, rest) = line.split_once(". ")?;
        let number = number.parse().ok()?;
        let more = lines[at + 1..].iter().take_while(|line| line.starts_with("    "));
        let text = std::iter::once(rest).chain(more.copied()).collect::<Vec<_>>().join("\n");
        Some((number, unwrapped(&text).trim().to_owned()))
    });
    starts.collect()
}

#[test]
fn a_comment_keeps_its_number_and_a_new_one_gets_the_next() {
    let folder = revised();
    let before = numbered(&review(&folder, "s.csv --answers answers.csv --format letter").out);
    let after = numbered(&review(&folder, "after.csv --previous before.json --format letter").out);
    let of = |letter: &[(usize, String)], mark: &str| {
        let freezes = |text: &str| text.contains("Water at the valve seat can freeze") && text.contains(mark);
        letter.iter().find(|(_, text)| freezes(text)).map(|(number, _)| *number)
    };
    let last = before.iter().map(|(number, _)| *number).max().expect("it has comments");
    assert!(of(&before, "HB-3").is_some());
    assert_eq!(of(&after, "HB-3"), of(&before, "HB-3"));
    assert!(of(&after, "HB-5").expect("it freezes") > last, "{after:?}");
    for (mark, what) in [("HB-1", "HB-1 settled."), ("HB-2", "HB-2 no longer scheduled.")] {
        let number = of(&after, mark).expect("it is listed as no longer open");
        assert_eq!(Some(number), of(&before, mark), "{after:?}");
        assert!(after.iter().any(|(own, text)| *own == number && text.ends_with(what)), "{mark}: {after:?}");
    }
}

#[test]
fn every_format_says_what_is_new_settled_and_standing() {
    let folder = revised();
    for format in ["text", "markdown", "html"] {
        let page = review(&folder, &format!("after.csv --previous before.json --format {format}")).out;
        let page = unwrapped(&page);
        for part in [
            "before.json: new: Freezing 1 (HB-5)",
            "settled: Freezing 1 (HB-1)",
            "no longer scheduled: Freezing 1 (HB-2)",
            "standing: Freezing 1 (HB-3)",
        ] {
            assert!(page.contains(part), "{format}: {part}\n{page}");
        }
    }
    let json = review(&folder, "after.csv --previous before.json --format json").json();
    let line = |standing: &str| {
        let lines = json["since"]["comments"].as_array().expect("a list").iter();
        let own = lines.filter(|line| line["standing"] == standing && line["number"] == "Freezing 1");
        own.map(|line| line["marks"].clone()).collect::<Vec<_>>()
    };
    for (standing, mark) in
        [("new", "HB-5"), ("settled", "HB-1"), ("no longer scheduled", "HB-2"), ("standing", "HB-3")]
    {
        assert_eq!(line(standing), [serde_json::json!([mark])], "{standing}");
    }
}

#[test]
fn responses_are_carried_over_where_the_schedule_says_nothing() {
    let folder = revised();
    let closes = |options: &str| {
        let json = review(&folder, options).json();
        let outlets = json["outlets"].as_array().expect("a list").clone();
        let own = outlets.iter().find(|outlet| outlet["mark"] == "HB-4").expect("it is listed").clone();
        own["facts"]["outlet.closes"].clone()
    };
    let carried = closes("after.csv --previous before.json --format json");
    assert_eq!((&carried["value"], &carried["from"]), (&"inside".into(), &"answer".into()), "{carried}");
    assert_eq!(carried["at"]["file"], "before.json", "{carried}");
    assert_ne!(closes("after.csv --format json")["value"], "inside");
    // A newer answer comes first.
    let newer = folder.with("newer.csv", "Marks,Rows,Response,Fact\nHB-4,,face,Closes\n");
    let json = review(&newer, "after.csv --previous before.json --answers newer.csv --format json").json();
    let unused = json["unused"].to_string();
    assert!(unused.contains("a response of the previous review; stated or answered since"), "{unused}");
}

#[test]
fn a_file_that_is_no_review_is_an_error() {
    let folder = folder().with("no.json", "{ \"format\": 1 }");
    folder.run("review s.csv --climate minneapolis-mn --previous no.json").is_refused(&[
        "no.json, line 1, column 15: is of format 1; this version of the program reads format 5; expected a review that `coldsill review \
         --format json` wrote",
    ]);
}

#[test]
fn answers_in_json_are_those_of_a_review_and_what_cannot_be_read_is_listed() {
    let folder = revised();
    let before = folder.text("before.json");
    let folder = folder
        .with("none.json", "{ \"findings\": 1 }")
        .with("gone.json", before.replace("outlet.closes", "outlet.gone"));
    folder.run("review s.csv --climate minneapolis-mn --answers none.json").is_refused(&[
        "none.json: is not the JSON of a review; expected a sheet of questions, or what `coldsill review --format json` wrote",
    ]);
    let text = unwrapped(&review(&folder, "after.csv --answers gone.json").out);
    assert!(text.contains("gone.json: \"inside\" is not a response this version reads"), "{text}");
}

//! Selects the rows that are outdoor outlets: by the first name in a row, by where it is, and by the title above it. Other
//! rows are set aside with the reason.

use super::deletion::{Deletes, deletes};
use super::entries::AddedFrom;
use super::entries::{Entry, Raw};
use super::errors::ScheduleError;
use super::lexicon::{Item, Sense, Where, items};
use super::phrases;
use super::text::{Plain, has_any_word, plain};
use super::types::{ChosenRow, ReadOptions};
use super::unused::Aside;
use super::vocabulary::{Subject, term_of};
use crate::diag::Diagnostic;
use rayon::prelude::*;
use std::sync::Arc;

/// What a row is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    Outlet,
    /// It may be one, for a reason; it is reviewed, and a warning asks.
    MayBe(&'static str),
    Aside(Aside),
}

/// What the names in a row say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Name {
    /// A kind of outlet, and whether it must be outdoors: a kind used only outdoors, or one called frost-proof.
    Kind {
        outdoors: bool,
    },
    Other(Aside),
}

/// The rows of a table, to be judged together.
pub(super) struct Selector<'r> {
    options: &'r ReadOptions<'r>,
    /// Whether some row is a fixture, a drain or another thing: a row without a name may then be anything.
    is_mixed: bool,
}

impl<'r> Selector<'r> {
    pub(super) fn of(rows: &[(Entry, Option<Arc<str>>)], options: &'r ReadOptions<'r>) -> Self {
        let mut selector = Self { options, is_mixed: options.is_mixed };
        let is_other =
            |(entry, _): &(Entry, _)| matches!(selector.name(&selector.read(entry)), Some(Name::Other(_)));
        selector.is_mixed |= rows.par_iter().any(is_other);
        selector
    }

    /// Judges a row under a title.
    pub(super) fn judge(&self, entry: &Entry, title: Option<&Arc<str>>) -> Verdict {
        let Some(chosen) = self.options.select else { return Verdict::Outlet };
        let is_chosen = |it: &ChosenRow| self.is_named(entry, &it.name);
        if chosen.set_aside.iter().any(is_chosen) {
            return Verdict::Aside(Aside::Stated);
        }
        if chosen.include.iter().any(is_chosen) {
            return Verdict::Outlet;
        }
        let texts = self.read(entry);
        let mark = entry.cell(self.options.mark).map(|raw| &*raw.text);
        if is_removed(&texts, mark) {
            return Verdict::Aside(Aside::Deleted);
        }
        match self.name(&texts) {
            Some(Name::Other(reason)) => Verdict::Aside(reason),
            Some(Name::Kind { outdoors }) => self.judge_by_site(&texts, title, outdoors),
            None => self.nameless(entry, &texts, title),
        }
    }

    /// What the job names and no row has.
    pub(super) fn not_found(&self, rows: &[(Entry, Option<Arc<str>>)]) -> Vec<Diagnostic> {
        let Some(chosen) = self.options.select else { return Vec::new() };
        let named = chosen.include.iter().chain(&chosen.set_aside);
        let unknown = named.filter(|it| !rows.iter().any(|(entry, _)| self.is_named(entry, &it.name)));
        let marks: Vec<&str> =
            rows.iter().filter_map(|(entry, _)| entry.cell(self.options.mark)).map(|it| &*it.text).collect();
        let error = |it: &ChosenRow| {
            ScheduleError::NoSuchRow
                .at(it.location.clone())
                .text(&*it.name)
                .nearest(&it.name, marks.iter().copied())
        };
        unknown.map(error).collect()
    }

    fn is_named(&self, entry: &Entry, name: &str) -> bool {
        let number = name.trim().to_lowercase();
        let number = number.strip_prefix("row").unwrap_or("").trim().parse();
        number == Ok(entry.number)
            || entry.cell(self.options.mark).is_some_and(|mark| plain(&mark.text) == plain(name))
    }

    /// The words of the text cells: the kind and descriptions first, as names are looked for in this order.
    fn read(&self, entry: &Entry) -> Vec<Text> {
        let about = |raw: &Raw| self.options.vocabulary[raw.term].subject;
        let own = entry.cells.iter().map(|raw| (raw, None));
        let all: Vec<(&Raw, Option<AddedFrom>)> =
            own.chain(entry.added.iter().map(|(raw, from)| (raw, Some(*from)))).collect();
        let order = [Subject::Kind, Subject::Description, Subject::Location, Subject::Notes];
        let of = |subject: Subject| {
            all.iter().filter(move |(raw, _)| about(raw) == Some(subject)).map(move |(raw, from)| {
                let text = Plain::of(&raw.text).text;
                let is_continued = *from == Some(AddedFrom::Continued);
                Text { items: items(&text), text, subject, is_own: from.is_none(), is_continued }
            })
        };
        let mut texts: Vec<Text> = order.into_iter().flat_map(of).collect();
        texts.extend(entry.others.iter().map(|text| {
            let text = Plain::of(text).text;
            Text { items: items(&text), text, subject: Subject::Notes, is_own: true, is_continued: false }
        }));
        texts
    }

    /// The first name in the words for what the row is.
    fn name(&self, texts: &[Text]) -> Option<Name> {
        let is_frost_proof = || {
            let words = texts.iter().flat_map(|text| text.items.iter().map(move |it| (text, it)));
            words.into_iter().any(|(text, it)| {
                let is_denied = super::doubt::denial_before(&text.text[..it.range.start]).is_some();
                matches!(
                    it.sense,
                    Sense::Closing("inside") | Sense::ClosingBeside(_) | Sense::KindClosing(..)
                ) && !is_denied
            })
        };
        let naming_texts =
            texts.iter().filter(|it| matches!(it.subject, Subject::Kind | Subject::Description));
        for text in naming_texts {
            if text.is_accessory() {
                return Some(Name::Other(Aside::Accessory));
            }
            let name = text.items.iter().find_map(|it| match it.sense {
                Sense::OfKind("hose bibb") => {
                    Some(Name::Kind { outdoors: is_frost_proof() || text.says_outdoors(it) })
                }
                Sense::OfKind(_) | Sense::KindClosing(..) => Some(Name::Kind { outdoors: true }),
                Sense::Other(reason) => Some(Name::Other(reason)),
                _ => None,
            });
            if name.is_some() {
                return name;
            }
        }
        None
    }

    /// Judges an outlet by where it is.
    fn judge_by_site(&self, texts: &[Text], title: Option<&Arc<str>>, outdoors: bool) -> Verdict {
        // The column of places decides, if it says anything.
        let of_column = |text: &&Text| text.subject == Subject::Location && text.is_own;
        let says_place = |text: &Text| text.items.iter().any(|it| matches!(it.sense, Sense::Place(_)));
        let column_states_site = texts.iter().filter(of_column).any(says_place);
        let texts: Vec<&Text> = texts.iter().filter(|it| !column_states_site || of_column(it)).collect();
        let has = |wanted: Where| texts.iter().any(|text| text.has_place(wanted));
        let is_garage = texts.iter().any(|it| {
            it.subject != Subject::Kind && it.items.iter().any(|it| it.sense == Sense::Space("garage"))
        });
        let title = title.map(|it| items(&Plain::of(it).text)).unwrap_or_default();
        let title_says = |wanted: Where| title.iter().any(|it| it.sense == Sense::Place(wanted));
        let in_room = texts.iter().any(|it| it.names_numbered_room() || it.is_above_floor());
        // A title says where rows are that say nothing themselves.
        let row_states_site = has(Where::Outdoors) || has(Where::Indoors) || in_room;
        let by_title = |wanted: Where| !row_states_site && title_says(wanted);
        let says_outdoors = has(Where::Outdoors) || by_title(Where::Outdoors) || has_grade(&texts);
        let says_indoors = has(Where::Indoors) || by_title(Where::Indoors) || in_room;
        let is_heated = texts.iter().any(|it| has_any_word(&it.text, &["heated"]));
        let is_between = is_garage || has(Where::Between);
        match (outdoors, says_indoors, says_outdoors) {
            (true, ..) => Verdict::Outlet,
            (false, true, _) if is_heated => Verdict::Aside(Aside::Indoors),
            (false, ..) if is_between => Verdict::MayBe("may be indoors in an unheated space"),
            (false, true, false) => Verdict::Aside(Aside::Indoors),
            (false, true, true) => Verdict::MayBe("mentions both indoor and outdoor locations"),
            (false, false, _) => Verdict::Outlet,
        }
    }

    /// Judges a row that names nothing.
    fn nameless(&self, entry: &Entry, texts: &[Text], title: Option<&Arc<str>>) -> Verdict {
        if !self.is_mixed {
            return Verdict::Outlet;
        }
        let is_kind = |text: &str| {
            items(&Plain::of(text).text)
                .iter()
                .any(|it| matches!(it.sense, Sense::OfKind(_) | Sense::KindClosing(..)))
        };
        let letters: Option<String> = entry
            .cell(self.options.mark)
            .map(|it| it.text.chars().take_while(|c| !c.is_ascii_digit()).collect());
        if letters.is_some_and(|it| is_kind(&it)) {
            return self.judge_by_site(texts, title, false);
        }
        // "RPZ, serves two hydrants" is of the device.
        let is_own_naming_text =
            |it: &&Text| it.is_own && matches!(it.subject, Subject::Kind | Subject::Description);
        if texts.iter().find(is_own_naming_text).is_some_and(Text::starts_with_device) {
            return Verdict::Aside(Aside::Accessory);
        }
        let is_frost_proof =
            texts.iter().flat_map(|it| &it.items).any(|it| matches!(it.sense, Sense::Closing(_)));
        let is_hydrant = texts.iter().filter(|it| it.is_own).any(|it| it.says_hydrant());
        let refers = texts
            .iter()
            .any(|it| it.is_own && phrases::pointer(&it.text).is_some_and(|(_, is_certain)| is_certain));
        match (is_frost_proof, refers) {
            (true, _) => Verdict::MayBe("is frost-proof, and its kind is unknown"),
            _ if is_hydrant => Verdict::MayBe("is a hydrant of unknown kind"),
            (_, true) => Verdict::MayBe("refers to another row or note, and its kind is not stated"),
            _ => Verdict::Aside(Aside::Unknown),
        }
    }
}

/// A text of a row.
struct Text {
    text: String,
    items: Vec<Item>,
    subject: Subject,
    is_own: bool,
    is_continued: bool,
}

impl Text {
    /// Whether the row is an accessory of an outlet: a backflow device by itself, a key.
    fn is_accessory(&self) -> bool {
        let words = self.text.to_lowercase();
        if ["add-on", "add on", "repair kit", "replacement part"].iter().any(|it| words.contains(it)) {
            return true;
        }
        // "Key for wall hydrant".
        let kind = self.items.iter().find(|it| matches!(it.sense, Sense::OfKind(_) | Sense::KindClosing(..)));
        let thing =
            self.items.iter().find(|it| !matches!(it.sense, Sense::Idle | Sense::Look | Sense::Metal(_)));
        if let (Some(kind), Some(thing)) = (kind, thing)
            && matches!(
                thing.sense,
                Sense::Thing
                    | Sense::Yes(_)
                    | Sense::Device(_)
                    | Sense::Part(_)
                    | Sense::Word(Subject::Blocking, _)
            )
            && thing.range.end < kind.range.start
        {
            let between = self.text[thing.range.end..kind.range.start].to_lowercase();
            let mut words = between.split(|c: char| !c.is_alphanumeric());
            let joins = |word: &str| {
                let is_at = word == "at" && matches!(thing.sense, Sense::Word(..));
                ["for", "f", "pour"].contains(&word) || is_at
            };
            if words.any(joins) {
                return true;
            }
        }
        let mut named = self.items.iter().filter(|it| !matches!(it.sense, Sense::Idle | Sense::Look));
        let Some(first) = named.next().filter(|it| matches!(it.sense, Sense::Device(_))) else {
            return false;
        };
        // "Anti-siphon sillcock" is a sillcock.
        let phrase = self.text[first.range.end..].split([',', ';', ':', '.']).next().unwrap_or_default();
        let end = first.range.end + phrase.len();
        let is_kind = |it: &Item| matches!(it.sense, Sense::OfKind(_) | Sense::KindClosing(..));
        self.subject == Subject::Description
            && !self.items.iter().any(|it| is_kind(it) && it.range.end <= end)
            && self.items.iter().any(is_kind)
    }

    fn starts_with_device(&self) -> bool {
        let mut named = self.items.iter().filter(|it| !matches!(it.sense, Sense::Idle | Sense::Look));
        named.next().is_some_and(|it| it.range.start == 0 && matches!(it.sense, Sense::Device(_)))
    }

    /// A room with its number: "BATHING 114", "Mech 120". The number of a standard, lot or pad does not count.
    fn names_numbered_room(&self) -> bool {
        const NOT_ROOMS: [&str; 30] = [
            "nsf", "ansi", "type", "ss", "csa", "series", "model", "no", "lot", "lots", "unit", "units",
            "bldg", "building", "gate", "pad", "wall", "grid", "court", "pier", "dock", "site", "phase",
            "rfi", "asi", "addendum", "detail", "section", "at", "sheet",
        ];
        if !matches!(self.subject, Subject::Location | Subject::Description | Subject::Notes) {
            return false;
        }
        let parts = self.text.split([',', ';', '&', '/']).map(str::trim);
        parts.filter_map(|it| it.rsplit_once(' ')).any(|(words, number)| {
            let number = number.trim_end_matches('.');
            let is_number = number.len() == 3 && number.bytes().all(|it| it.is_ascii_digit());
            let last = words.rsplit([' ', '.']).next().unwrap_or_default();
            let is_word = last.len() > 1 && last.chars().all(char::is_alphabetic);
            is_number && is_word && words.len() <= 24 && !NOT_ROOMS.contains(&last.to_lowercase().as_str())
        })
    }

    /// A height above the floor is of something indoors.
    fn is_above_floor(&self) -> bool {
        let words: String = self.text.to_lowercase().chars().filter(|c| *c != '.').collect();
        let mut parts = words.split(|c: char| !c.is_alphanumeric());
        parts.any(|word| word == "aff")
            || words.contains("above finished floor")
            || words.contains("above floor")
    }

    fn says_hydrant(&self) -> bool {
        let mut words = self.text.split(|c: char| !c.is_alphanumeric());
        words.any(|word| ["hydrant", "hydrants"].iter().any(|it| it.eq_ignore_ascii_case(word)))
    }

    fn has_place(&self, wanted: Where) -> bool {
        self.items.iter().any(|it| it.sense == Sense::Place(wanted))
    }

    /// "Outside faucet" says it in its name.
    fn says_outdoors(&self, name: &Item) -> bool {
        let words = self.text[name.range.clone()].to_lowercase();
        ["out", "ext", "garden", "lawn", "yard", "jardin"].iter().any(|it| words.contains(it))
    }
}

/// A height above grade is of something outdoors.
fn has_grade(texts: &[&Text]) -> bool {
    texts.iter().any(|it| it.items.iter().any(|it| it.sense == Sense::Measure(Subject::Height)))
}

/// "Hose bibb REMOVED last summer", "SILLCOCK, 6 IN" with "*** LINE CANCELLED ***" below it, "NORTH WALL - OMITTED PER
/// OWNER", "deduct hose bibb".
fn is_removed(texts: &[Text], mark: Option<&str>) -> bool {
    let is_kind = |it: &Item| matches!(it.sense, Sense::OfKind(_) | Sense::KindClosing(..));
    let of_row = |text: &Text| {
        let is_what = matches!(text.subject, Subject::Kind | Subject::Description);
        let after = |it: &Item| {
            // A mark may stand between: "Hose Bibb HB-2: deleted by addendum".
            let rest = text.text[it.range.end..].trim_start().to_lowercase();
            let (mark, after) = rest.split_once(':').unwrap_or(("", &rest));
            let rest = if mark.trim().len() <= 12 { after.trim_start() } else { &rest };
            let removed = ["removed", "deleted", "demolished", "abandoned", "not used"];
            removed.iter().any(|it| rest.starts_with(it))
        };
        let deducts = |it: &Item| {
            let before = text.text[..it.range.start].trim().to_lowercase();
            ["deduct", "delete", "credit", "credit for", "less", "omit"].contains(&before.as_str())
        };
        is_what && text.items.iter().any(|it| is_kind(it) && (after(it) || deducts(it)))
            || deletes(&text.text, Some(text.subject), mark) == Some(Deletes::Row)
    };
    texts.iter().any(|it| of_row(it) && (it.is_own || it.is_continued))
}

/// How a row is named in lists: its mark and what it is, "HB-1: hose bibb".
pub(super) fn name_of(entry: &Entry, options: &ReadOptions<'_>) -> Arc<str> {
    let mark = entry.cell(options.mark).map(|raw| raw.text.clone());
    let words =
        [Subject::Kind, Subject::Description].into_iter().filter_map(|it| term_of(it, options.vocabulary));
    let name = words.into_iter().find_map(|term| entry.cell(term)).map(|raw| raw.text.clone());
    let name = name.or_else(|| entry.others.first().cloned());
    match (mark, name) {
        (Some(mark), Some(name)) => format!("{mark}: {name}").into(),
        (one, other) => one.or(other).unwrap_or_else(|| entry.name(options.mark)),
    }
}

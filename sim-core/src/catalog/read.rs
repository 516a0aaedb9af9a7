//! Reads a catalogue file, which is untrusted input like every other file.

use super::{Catalog, Entry, LookAlike, PartId, Problem, Remedy, Severities, Weights};
use crate::faults::{KindInfo, kinds};
use crate::file::fields::{Fields, Located, Variant};
use crate::file::problem::{Form, Problems, nearest, one_of};
use crate::file::quantity::{Refusal, four_digits};
use crate::file::range::Range;
use crate::file::tree;

/// What problems call a catalogue file and its parts.
const CATALOG: Form = Form {
    noun: "catalogue",
    outline: "a catalogue in parentheses: (version: 1, entries: [..])",
    fields: &["version", "entries"],
};
/// The version of the format that this program reads.
const FORMAT_VERSION: f64 = 1.0;
const ENTRY_FIELDS: &[&str] = &[
    "kind",
    "title",
    "part",
    "mechanism",
    "severities",
    "weight",
    "remedies",
    "proof",
    "minutes",
    "cost",
    "signs",
    "look_alikes",
    "numbers",
    "also",
];
const SEVERITY_FIELDS: &[&str] = &["mild", "usual", "severe"];
const WEIGHT_FIELDS: &[&str] = &["cistern", "well", "jet"];
const LOOK_ALIKE_FIELDS: &[&str] = &["kind", "splitter"];
const PART: &[&str] = &["part"];
const REMEDIES: &[Variant] = &[
    ("Replace", PART),
    ("Fit", PART),
    ("Clean", PART),
    ("Tighten", PART),
    ("Refit", PART),
    ("Rewire", PART),
    ("AdjustSwitch", &[]),
    ("SetPrecharge", &[]),
    ("Prime", &[]),
    ("Open", PART),
    ("Reset", PART),
    ("Thaw", PART),
    ("Refill", &[]),
    ("Explain", &[]),
    ("CallQualified", &[]),
];

/// Most entries in one file; there are about eighty kinds.
const MAX_ENTRIES: usize = 500;
/// Most items in one list of an entry.
const MAX_ITEMS: usize = 12;
/// Longest title [characters]: it stands in one column of a table.
const MAX_TITLE_CHARS: usize = 36;
/// Longest other text [characters].
const MAX_TEXT_CHARS: usize = 600;
/// A relative frequency.
const WEIGHT: Range = Range::new(0.0, 1_000.0);
/// Time for a remedy [min]: up to four weeks.
const MINUTES: Range = Range::new(0.0, 40_320.0);
/// Cost of a remedy [US dollars].
const COST: Range = Range::new(0.0, 100_000.0);

impl Catalog {
    /// Reads and validates a catalogue file.
    ///
    /// `file_name` is what problems call the file; `bytes` may be anything.
    ///
    /// # Errors
    /// Every problem with the file, in file order, at most about a hundred; the last
    /// one counts those left out.
    pub fn parse(file_name: &str, bytes: impl AsRef<[u8]>) -> Result<Self, Vec<Problem>> {
        let problems = Problems::new(file_name, &CATALOG);
        let mut entries: Vec<Entry> = Vec::new();
        if let Some(tree) = tree(bytes.as_ref(), &problems) {
            let fields = Fields::whole(&tree, &problems);
            version(&fields);
            for group in fields.groups("entries", (1, MAX_ENTRIES), ENTRY_FIELDS) {
                let Some(entry) = entry(&group) else {
                    continue;
                };
                if entries.iter().any(|known| known.kind == entry.kind) {
                    refuse(
                        &group,
                        "kind",
                        format!("{} has an entry further up", entry.name()),
                        "one entry for each kind",
                    );
                }
                entries.push(entry);
            }
        }
        if problems.is_empty() {
            Ok(Self { entries })
        } else {
            Err(problems.into_sorted())
        }
    }
}

fn version(fields: &Fields<'_>) {
    let accepted = four_digits(FORMAT_VERSION);
    if let Some(version) = fields.required_number("version", &accepted)
        && version.value != FORMAT_VERSION
    {
        let message = format!("version {} is not known here", version.written);
        refuse(fields, "version", message, accepted);
    }
}

/// Reads one entry; `None` when something is missing or refused, and then it is reported.
fn entry(fields: &Fields<'_>) -> Option<Entry> {
    let info = kind(fields);
    let title = text(fields, "title", MAX_TITLE_CHARS);
    let part = part(fields);
    let mechanism = text(fields, "mechanism", MAX_TEXT_CHARS);
    // Without a kind there is no unit and no range.
    let severities = info.and_then(|info| severities(fields, info));
    let weight = weights(&fields.section("weight", WEIGHT_FIELDS));
    let remedies = remedies(fields);
    let proof = text(fields, "proof", MAX_TEXT_CHARS);
    let minutes = fields.number("minutes", MINUTES);
    let cost = fields.number("cost", COST);
    let signs = texts(fields, "signs", 1);
    let look_alikes = look_alikes(fields, info);
    let numbers = text(fields, "numbers", MAX_TEXT_CHARS);
    let also = if fields.is_given("also") {
        texts(fields, "also", 1)
    } else {
        Vec::new()
    };
    Some(Entry {
        kind: info?.kind,
        title: title?,
        part: part?,
        mechanism: mechanism?,
        severities: severities?,
        weight: weight?,
        remedies,
        proof: proof?,
        minutes: minutes?.value,
        cost: cost?.value,
        signs,
        look_alikes,
        numbers: numbers?,
        also,
    })
}

fn kind(fields: &Fields<'_>) -> Option<&'static KindInfo> {
    let accepted = "the name of a fault such as \"check_valve.weeping\"";
    let name = fields.text("kind", accepted)?;
    let info = kinds().find(|info| info.name == name.value);
    if info.is_none() {
        let hint = hint(&name.value, kinds().map(|info| info.name));
        let message = format!("no fault {}{hint}", name.written);
        refuse(
            fields,
            "kind",
            message,
            "a fault that `shortcycle trace` knows",
        );
    }
    info
}

fn part(fields: &Fields<'_>) -> Option<PartId> {
    let names = || PartId::ALL.iter().map(|part| part.name());
    let name = fields.text("part", "the name of a part such as \"check_valve\"")?;
    let part = PartId::from_name(&name.value);
    if part.is_none() {
        let message = format!("no part {}{}", name.written, hint(&name.value, names()));
        refuse(fields, "part", message, one_of(names()));
    }
    part
}

fn severities(fields: &Fields<'_>, info: &KindInfo) -> Option<Severities> {
    let (least, most) = info.range;
    if least == most && !fields.is_given("severities") {
        // The kind either is or is not.
        return Some(Severities {
            mild: least,
            usual: least,
            severe: least,
        });
    }
    let group = fields.section("severities", SEVERITY_FIELDS);
    let accepted = format!("a number from {least} to {most}, in {}", info.unit);
    let number = |name| {
        let found = group.required_number(name, &accepted)?;
        if found.value < least || found.value > most {
            let message = format!("{} is out of range", found.written);
            refuse(&group, name, message, accepted.as_str());
            return None;
        }
        Some(found.value)
    };
    let (mild, usual, severe) = (number("mild"), number("usual"), number("severe"));
    let severities = Severities {
        mild: mild?,
        usual: usual?,
        severe: severe?,
    };
    let is_rising = severities.all().is_sorted();
    let is_falling = severities.all().iter().rev().is_sorted();
    if !(is_rising || is_falling) {
        refuse(
            &group,
            "usual",
            "the usual severity is not between mild and severe",
            "severities that rise or fall from mild to severe",
        );
        return None;
    }
    Some(severities)
}

fn weights(fields: &Fields<'_>) -> Option<Weights> {
    let [cistern, well, jet] = ["cistern", "well", "jet"].map(|name| fields.number(name, WEIGHT));
    Some(Weights {
        cistern: cistern?.value,
        well: well?.value,
        jet: jet?.value,
    })
}

fn remedies(fields: &Fields<'_>) -> Vec<Remedy> {
    fields
        .variants("remedies", (1, MAX_ITEMS), REMEDIES)
        .into_iter()
        .filter_map(|(name, fields)| {
            Some(match name {
                "Replace" => Remedy::Replace(part(&fields)?),
                "Fit" => Remedy::Fit(part(&fields)?),
                "Clean" => Remedy::Clean(part(&fields)?),
                "Tighten" => Remedy::Tighten(part(&fields)?),
                "Refit" => Remedy::Refit(part(&fields)?),
                "Rewire" => Remedy::Rewire(part(&fields)?),
                "AdjustSwitch" => Remedy::AdjustSwitch,
                "SetPrecharge" => Remedy::SetPrecharge,
                "Prime" => Remedy::Prime,
                "Open" => Remedy::Open(part(&fields)?),
                "Reset" => Remedy::Reset(part(&fields)?),
                "Thaw" => Remedy::Thaw(part(&fields)?),
                "Refill" => Remedy::Refill,
                "Explain" => Remedy::Explain,
                // The reader hands out the names of REMEDIES and no other.
                _ => Remedy::CallQualified,
            })
        })
        .collect()
}

fn look_alikes(fields: &Fields<'_>, of: Option<&KindInfo>) -> Vec<LookAlike> {
    if !fields.is_given("look_alikes") {
        return Vec::new();
    }
    let mut found: Vec<LookAlike> = Vec::new();
    for group in fields.groups("look_alikes", (1, MAX_ITEMS), LOOK_ALIKE_FIELDS) {
        let (info, splitter) = (kind(&group), text(&group, "splitter", MAX_TEXT_CHARS));
        let (Some(info), Some(splitter)) = (info, splitter) else {
            continue;
        };
        let kind = info.kind;
        if of.is_some_and(|of| of.kind == kind) || found.iter().any(|other| other.kind == kind) {
            let message = format!("{} is the fault itself or stands here already", info.name);
            refuse(&group, "kind", message, "each other fault once");
        }
        found.push(LookAlike { kind, splitter });
    }
    found
}

/// A text with something in it, on one line and not too long.
fn text(fields: &Fields<'_>, name: &str, most_chars: usize) -> Option<String> {
    let accepted = format!("a text of 1 to {most_chars} characters in one line");
    let found = fields.text(name, &accepted)?;
    checked(fields, found, most_chars)
}

fn texts(fields: &Fields<'_>, name: &str, least: usize) -> Vec<String> {
    fields
        .texts(name, (least, MAX_ITEMS))
        .into_iter()
        .filter_map(|found| checked(fields, found, MAX_TEXT_CHARS))
        .collect()
}

fn checked(fields: &Fields<'_>, found: Located<String>, most_chars: usize) -> Option<String> {
    let text = found.value.trim();
    let n_chars = text.chars().count();
    let message = if n_chars == 0 {
        "the text is empty".to_owned()
    } else if n_chars > most_chars {
        format!("the text has {n_chars} characters")
    } else if text.chars().any(char::is_control) {
        "the text has a line end or another control character".to_owned()
    } else {
        return Some(text.to_owned());
    };
    let accepted = format!("a text of 1 to {most_chars} characters in one line");
    fields.report_refusal(&found.spot, Refusal { message, accepted });
    None
}

fn refuse(
    fields: &Fields<'_>,
    name: &str,
    message: impl Into<String>,
    accepted: impl Into<String>,
) {
    let spot = fields.spot_of(name).unwrap_or_else(|| fields.spot());
    let (message, accepted) = (message.into(), accepted.into());
    fields.report_refusal(&spot, Refusal { message, accepted });
}

fn hint<'a>(written: &str, names: impl IntoIterator<Item = &'a str>) -> String {
    nearest(written, names)
        .map(|name| format!(", perhaps meant as {name}"))
        .unwrap_or_default()
}

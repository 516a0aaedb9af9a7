//! Rearranges a site file without changing what it says: fields of every group in
//! another order, outlets too.  (Pipes of a run, points of a curve and fittings keep
//! theirs: there the order means something.)

use rand::SeedableRng as _;
use rand::seq::SliceRandom as _;
use rand_chacha::ChaCha8Rng;

/// The text with its fields in another order.
pub(crate) fn shuffled(text: &str, seed: u64) -> String {
    let plain: String = text
        .lines()
        .map(|line| line.split("//").next().unwrap_or(""))
        .collect::<Vec<_>>()
        .join("\n");
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    value(plain.trim(), "", &mut random)
}

/// A value, whatever it is, with everything in it shuffled.
fn value(text: &str, key: &str, random: &mut ChaCha8Rng) -> String {
    let text = text.trim();
    let opening = text.find(['(', '[', '"']);
    match opening.map(|at| (at, text.as_bytes()[at])) {
        Some((at, b'(')) => {
            let mut fields: Vec<String> = items(&text[at + 1..text.len() - 1])
                .into_iter()
                .map(|field| {
                    let (name, inner) = field.split_once(':').expect("a field has a name");
                    format!("{}: {}", name.trim(), value(inner, name.trim(), random))
                })
                .collect();
            fields.shuffle(random);
            format!("{}(\n{},\n)", &text[..at], fields.join(",\n"))
        }
        Some((at, b'[')) => {
            let mut list: Vec<String> = items(&text[at + 1..text.len() - 1])
                .into_iter()
                .map(|item| value(item, "", random))
                .collect();
            if key == "fixtures" {
                list.shuffle(random);
            }
            format!("[{}]", list.join(", "))
        }
        _ => text.to_owned(),
    }
}

/// Parts between commas that stand in no bracket and no quotes.
fn items(text: &str) -> Vec<&str> {
    let (mut depth, mut is_quoted, mut start) = (0, false, 0);
    let mut parts = Vec::new();
    for (i, c) in text.char_indices() {
        match c {
            '"' => is_quoted = !is_quoted,
            _ if is_quoted => {}
            '(' | '[' => depth += 1,
            ')' | ']' => depth -= 1,
            ',' if depth == 0 => {
                parts.push(&text[start..i]);
                start = i + 1;
            }
            _ => {}
        }
    }
    parts.push(&text[start..]);
    parts.retain(|p| !p.trim().is_empty());
    parts
}

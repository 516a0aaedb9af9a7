//! What a study varies, and the values it takes.
//!
//! A parameter is a number of the site by its path (`tank.precharge`,
//! `run[2].length`, `house.fixtures.shower.rating`), the severity of a fault
//! (`fault.house.leak`), something of the household (`demand.occupants`), or a name of the
//! study's own to which others are tied.

use crate::faults::FaultKind;
use crate::file::problem::Position;
use crate::file::quantity::{Unit, find_unit, take_number};
use crate::file::{Field, Value, ValueKind};
use crate::math;

/// Something varied.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameter {
    /// Its path as written.
    pub path: String,
    /// Symbol of the unit in which the file gives it, empty for plain numbers and choices.
    pub unit: String,
    /// What it changes.
    pub(super) place: Place,
    /// How its values come about.
    pub spread: Spread,
    /// Where the file names it.
    pub(super) at: Position,
}

impl Parameter {
    /// Whether it is something that a designer chooses: not a fault, the household, or a
    /// name of the study's own.
    #[must_use]
    pub fn is_choice(&self) -> bool {
        matches!(self.place, Place::Site(_))
    }
}

/// What a parameter changes.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Place {
    /// A value of the site.
    Site(Vec<Step>),
    /// Severity of a fault.
    Fault(FaultKind),
    /// People.
    Occupants,
    /// Water for the garden.
    Garden,
    /// A leak that never ends.
    Leak,
    /// Nothing; others are tied to it.
    Own,
}

/// One step of a path.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Step {
    /// A field of a group, or an item of a list by its name.
    Field(String),
    /// An item of a list by its number, counted from 1.
    Item(usize),
}

/// How a parameter's values come about.
#[derive(Debug, Clone, PartialEq)]
pub enum Spread {
    /// One after another; a grid is made of these.
    Values,
    /// From another one: `plus + times × other`.
    Tied {
        /// The other's place among the study's parameters.
        to: usize,
        /// SI value for each SI unit of the other.
        times: f64,
        /// Added [SI].
        plus: f64,
    },
    /// Any value between two is as likely as another.
    Uniform {
        /// Least [SI].
        least: f64,
        /// Most [SI].
        most: f64,
    },
    /// Normal distribution.
    Normal {
        /// Mean [SI].
        mean: f64,
        /// Standard deviation [SI].
        deviation: f64,
    },
    /// Triangular distribution.
    Triangular {
        /// Least [SI].
        least: f64,
        /// Likeliest [SI].
        likely: f64,
        /// Most [SI].
        most: f64,
    },
}

/// Values of one parameter of the grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// The parameter's place among the study's.
    pub parameter: usize,
    /// Its values.
    pub(super) values: Vec<Amount>,
}

impl Axis {
    /// How many values.
    #[must_use]
    pub fn n_values(&self) -> usize {
        self.values.len()
    }

    /// One of them as written, and its SI number unless it is a choice.
    #[must_use]
    pub fn value(&self, idx: usize) -> Option<(&str, Option<f64>)> {
        self.values.get(idx).map(|v| (v.text.as_str(), v.si))
    }
}

/// A value as it stands in a file.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Amount {
    /// As written.
    pub(super) text: String,
    /// SI value; none when it is a choice, such as a pipe.
    pub(super) si: Option<f64>,
    /// Unit; none for plain numbers and choices.
    pub(super) unit: Option<&'static Unit>,
    /// Whether it stands without quotes.
    pub(super) is_bare: bool,
    /// Where.
    pub(super) at: Position,
}

impl Amount {
    /// Reads a value of a list; none when it is neither text nor number.
    pub(super) fn read(value: &Value) -> Option<Self> {
        let mut at = value.at;
        at.in_overlay = true;
        match &value.kind {
            ValueKind::Number { written, number } => Some(Self {
                text: written.clone(),
                si: Some(*number),
                unit: None,
                is_bare: true,
                at,
            }),
            ValueKind::Text(text) => {
                let measured = take_number(text.trim()).and_then(|(number, rest)| {
                    let spelling = rest.split_whitespace().collect::<Vec<_>>().join(" ");
                    let unit = find_unit(&spelling)?;
                    Some((number * unit.factor + unit.offset, unit))
                });
                Some(Self {
                    text: text.clone(),
                    si: measured.map(|(si, _)| si),
                    unit: measured.map(|(_, unit)| unit),
                    is_bare: false,
                    at,
                })
            }
            _ => None,
        }
    }

    /// A computed value in the unit of a written one.
    pub(super) fn computed(si: f64, unit: Option<&'static Unit>, at: Position) -> Self {
        let text = match unit {
            Some(unit) => format!("{} {}", tidy((si - unit.offset) / unit.factor), unit.name()),
            None => tidy(si),
        };
        Self {
            text,
            si: Some(si),
            unit,
            is_bare: unit.is_none(),
            at,
        }
    }

    /// As a value of a file.
    pub(super) fn as_value(&self) -> Value {
        let kind = match (self.is_bare, self.si) {
            (true, Some(number)) => ValueKind::Number {
                written: self.text.clone(),
                number,
            },
            _ => ValueKind::Text(self.text.clone()),
        };
        Value { at: self.at, kind }
    }

    /// Name of the unit, empty for none.
    pub(super) fn unit_name(&self) -> &'static str {
        self.unit.map_or("", |unit| unit.name())
    }
}

/// A number with eleven digits at most, so that 0.1 + 0.2 is written 0.3.
fn tidy(number: f64) -> String {
    if number == 0.0 || !number.is_finite() {
        return "0".to_owned();
    }
    let magnitude = math::log10(number.abs()).floor();
    let decimals = (10.0 - magnitude).clamp(0.0, 15.0) as usize;
    let text = format!("{number:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Reads `a.b[2].c` into steps; none when it is no path.
pub(super) fn steps(path: &str) -> Option<Vec<Step>> {
    let mut steps = Vec::new();
    for word in path.split('.') {
        let (name, items) = word.split_once('[').unwrap_or((word, ""));
        let is_name = !name.is_empty()
            && name
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-');
        if !is_name {
            return None;
        }
        steps.push(Step::Field(name.to_owned()));
        if !items.is_empty() {
            let number = items.strip_suffix(']')?.parse::<usize>().ok()?;
            steps.push(Step::Item(number));
        } else if word.contains('[') {
            return None;
        }
    }
    Some(steps)
}

/// Puts a value into the tree of a site.
///
/// # Errors
/// What stands in the way and what would be accepted there.
pub(super) fn put(tree: &mut Value, steps: &[Step], new: &Value) -> Result<(), (String, String)> {
    let Some((step, rest)) = steps.split_first() else {
        *tree = new.clone();
        return Ok(());
    };
    match (&mut tree.kind, step) {
        (ValueKind::Struct { fields, .. }, Step::Field(name)) => {
            if let Some(field) = fields.iter_mut().find(|field| field.name == *name) {
                return put(&mut field.value, rest, new);
            }
            if rest.is_empty() {
                // Left to its default so far; the site's reader says whether it knows it.
                fields.push(Field {
                    name: name.clone(),
                    at: new.at,
                    value: new.clone(),
                });
                return Ok(());
            }
            let names: Vec<&str> = fields.iter().map(|field| field.name.as_str()).collect();
            Err((
                format!("the site gives no \"{name}\" there"),
                names.join(", "),
            ))
        }
        (ValueKind::List { items, .. }, Step::Field(name)) => {
            let names: Vec<String> = items.iter().filter_map(item_name).collect();
            match items
                .iter_mut()
                .find(|item| item_name(item).as_deref() == Some(name.as_str()))
            {
                Some(item) => put(item, rest, new),
                None => Err((
                    format!("nothing in that list is called \"{name}\""),
                    if names.is_empty() {
                        "the number of an item, such as [1]".to_owned()
                    } else {
                        names.join(", ")
                    },
                )),
            }
        }
        (ValueKind::List { items, .. }, Step::Item(number)) => {
            let n_items = items.len();
            match number.checked_sub(1).and_then(|idx| items.get_mut(idx)) {
                Some(item) => put(item, rest, new),
                None => Err((
                    format!("that list has no item [{number}]"),
                    format!("[1] to [{n_items}]"),
                )),
            }
        }
        (_, Step::Item(number)) => Err((
            format!("[{number}] stands behind something that is no list"),
            "a path of names".to_owned(),
        )),
        (_, Step::Field(name)) => Err((
            format!("\"{name}\" stands behind a value that has no parts"),
            "a path that ends there".to_owned(),
        )),
    }
}

fn item_name(item: &Value) -> Option<String> {
    let ValueKind::Struct { fields, .. } = &item.kind else {
        return None;
    };
    let field = fields.iter().find(|field| field.name == "name")?;
    match &field.value.kind {
        ValueKind::Text(text) => Some(text.clone()),
        _ => None,
    }
}

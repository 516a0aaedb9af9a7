//! `docs/faults.md`, written from the catalogue that the program reads.

use std::fmt::Write as _;

use sim_core::catalog::{Catalog, Entry, PartGroup};

const INTRODUCTION: &str = "\
# Faults

What the simulator knows to go wrong, as a technician meets it: what happens, what shows, what it is mistaken for and the one observation that tells the two apart, what is done, and the check that closes the job.
`shortcycle faults` shows the same in a terminal, and `shortcycle faults NAME` adds severities, time, cost and where the numbers come from.

A fault changes numbers of the plant and the equations do the rest; the signs listed here are what to expect, not what drives it.
All numbers are training values: nameplate, local codes and licensed practice decide about real equipment.
Whatever is opened or touched is first locked off and proved dead, drained of pressure where it holds water, and left to a qualified person where the law or one's own skill says so.
Nobody enters a cistern.

This page is generated from `scenarios/faults.ron`.
When a test says that it is stale, look at what changed, run `UPDATE_DOCS=1 cargo test -p system-tests faults_page` and commit it.
";

const AFTER_TABLES: &str = "
## One kind, several places

Some mechanisms that people name by themselves are the same change of the plant, in another place or under another name.
The simulator has one kind for them.

| What people say | What it is here |
|---|---|
| The foot valve leaks, the prime is lost overnight | `check_valve.weeping` on a site whose only check valve is the foot valve |
| The check valve was fitted backwards | `check_valve.stuck_shut` |
| A bang at the start: the lower check valve leaks under a tight upper one | `check_valve.weeping` on a site with a second check valve at the wall |
| Debris, primer or thread sealant after work on the pipes | `pressure_switch.plugged_port` where it went to the switch; `check_valve.weeping` or `check_valve.stuck_open` where it went to the seat |
| Sediment, a filter or a check valve between the switch and the tank | `tank.plugged_inlet`, in part |
| The precharge was not set anew when the switch was raised | `pressure_switch.raised` |
| Surge | `pressure_switch.burnt_contacts` and `motor.insulation` together |
| Ghost voltage | no fault of its own: what an open conductor shows to a meter of high impedance, as with `splice.open`, `supply.open_neutral` or `drop_cable.chafed` |
| The overload trips and comes back | what any overload comes to: `source.low`, `motor.bearing_drag`, `supply.weak`, `motor.shorted_turns`; only when nothing overloads the motor is it `motor.weak_protector` |
| The start relay or start switch does not close | `motor.open_start_capacitor` |
| The start relay or start switch does not open | `motor.welded_start_switch` |
| A splice in connectors that are not made for wet places | `splice.wet`, and in time `splice.high_resistance` |
| The line was not purged at the first start | a start with air in the pipes, `--start dry`; where the air stays in the pump, `pump.air_lock` |
| A leaking fill valve, a dripping tap | `house.leak`, or `toilet.running` |
| The float was bypassed | `float_switch.stuck_closed` |

## What the catalogue leaves out

| Left out | Why |
|---|---|
| Switch or gauge fitted on the wrong side of the check valve | It is another layout of the pipes and not another number of the site. |
| Cross-connection to the mains | There is no second supply of water in the plant. |
| A contactor's coil open | No site has a contactor. |
| Leads of a three-wire motor swapped | The motor with three leads is reduced to two leads at the splice. |
| An electronic dry-run protector set wrong | No such device is modelled. |

## JSON

`shortcycle faults --format json` writes an object with `format` (`shortcycle-faults`), `version` (1) and `entries`, a list also where one fault was asked for.
An entry has `name`, `title`, `part`, `mechanism`, `severity` (`mild_si`, `usual_si` and `severe_si` in SI units; `unit` and `si_per_unit` give the unit of the command line), `weight` (relative frequency on sites of the types `cistern`, `well` and `jet`), `remedies` (each with `action`, `part` or null, and `words`; the usual one first), `proof`, `minutes` and `cost_usd` of the usual remedy, `signs`, `look_alikes` (each with `name` and `splitter`), `numbers` (where the numbers come from) and `also`.
";

fn render(catalog: &Catalog) -> String {
    let mut page = String::from(INTRODUCTION);
    for group in PartGroup::ALL {
        let entries: Vec<&Entry> = catalog
            .entries()
            .iter()
            .filter(|entry| entry.part.group() == *group)
            .collect();
        if entries.is_empty() {
            continue;
        }
        writeln!(
            page,
            "\n## {}\n\n| Fault | What happens | Signs | Look-alikes, and what tells them apart | \
             Remedy | Proof |\n|---|---|---|---|---|---|",
            capital(group.label())
        )
        .expect("a String takes all");
        for entry in entries {
            write_row(&mut page, entry);
        }
    }
    page.push_str(AFTER_TABLES);
    page
}

fn write_row(page: &mut String, entry: &Entry) {
    let look_alikes: Vec<String> = entry
        .look_alikes
        .iter()
        .map(|other| format!("`{}`: {}", other.kind.info().name, other.splitter))
        .collect();
    let remedies: Vec<String> = entry.remedies.iter().map(ToString::to_string).collect();
    writeln!(
        page,
        "| `{}`: {} | {} | {} | {} | {} | {} |",
        entry.name(),
        cell(&entry.title),
        cell(&entry.mechanism),
        cell(&entry.signs.join("<br>")),
        cell(&look_alikes.join("<br>")),
        cell(&remedies.join("; ")),
        cell(&entry.proof),
    )
    .expect("a String takes all");
}

/// A bar would end the cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

#[test]
fn the_faults_page_is_current() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/faults.md");
    let fresh = render(&Catalog::shipped());
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(path, &fresh).expect("docs/ can be written");
    }
    let committed = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        committed == fresh,
        "docs/faults.md is not what the catalogue gives now; look at the change, then run\n    \
         UPDATE_DOCS=1 cargo test -p system-tests faults_page\nand commit the file"
    );
}

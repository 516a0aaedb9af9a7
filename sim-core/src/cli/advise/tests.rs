use super::*;
use crate::cli::args::AdviseArgs;
use crate::faults::FaultKind;

fn advise(case: &str, log: Option<&std::path::Path>) -> Result<String> {
    let args = AdviseArgs {
        case: case.to_owned(),
        log: log.map(std::path::Path::to_owned),
    };
    let (mut out, mut err) = (Vec::new(), Vec::new());
    run(&args, &mut out, &mut err)?;
    Ok(String::from_utf8(out)?)
}

#[test]
fn a_bare_site_gets_suspects_and_a_first_reading_behind_the_caution() {
    let text = advise("orchard-cottage", None).unwrap();
    assert!(text.starts_with("This is a simulator."), "{text}");
    assert!(text.contains("licensed practice"), "{text}");
    assert!(text.contains("Best readings next"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= COLUMNS));
}

/// A gauge at nothing with the breaker on: the suspects change, and a mistake is told with
/// its line.
#[test]
fn readings_of_ones_own_are_taken_in() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("own.jsonl");
    let gauge = r#"{"action":{"do":"read_gauge"},"seconds":30,"observations":[{"reading":{"instrument":"dial_gauge","place":["wall"],"value":0,"error":14000,"unit":"Pa","shown":""}}]}"#;
    std::fs::write(&file, format!("{{\"readings\":1}}\n{gauge}\n")).unwrap();
    let found = case::find("orchard-cottage").unwrap();
    let seen = readings::read(&file, &found).unwrap();
    assert_eq!(seen.len(), 1);
    let mut mind = Troubleshooter::new(&found.public).unwrap();
    mind.observe(&seen[0].0, &seen[0].1);
    // No water presses any more: a tripped breaker has become likelier, a sound site not.
    let of = |mind: &Troubleshooter, kinds: &[FaultKind]| {
        let suspects = mind.suspects();
        let found = suspects.iter().find(|suspect| suspect.faults == kinds);
        found.map_or(0.0, |suspect| suspect.probability)
    };
    let before = Troubleshooter::new(&found.public).unwrap();
    for (kinds, is_likelier) in [(&[FaultKind::BreakerTripped][..], true), (&[], false)] {
        let (then, now) = (of(&before, kinds), of(&mind, kinds));
        assert!((now > then) == is_likelier, "{kinds:?}: {then} {now}");
    }

    std::fs::write(&file, "{\"readings\":1}\n{\"action\":{\"do\":\"dance\"}}\n").unwrap();
    let error = readings::read(&file, &found).unwrap_err().to_string();
    assert!(error.contains("own.jsonl:2:"), "{error}");
}

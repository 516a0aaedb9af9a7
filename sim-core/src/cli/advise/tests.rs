use super::*;
use crate::cli::args::AdviseArgs;

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
    let gauge = r#"{"action":{"do":"read_gauge"},"seconds":30,"observations":[{"reading":{"instrument":"gauge","place":[],"value":0,"error":14000,"unit":"Pa","shown":""}}]}"#;
    std::fs::write(&file, format!("{{\"readings\":1}}\n{gauge}\n")).unwrap();
    let found = case::find("orchard-cottage").unwrap();
    let seen = readings::read(&file, &found).unwrap();
    assert_eq!(seen.len(), 1);
    let mut mind = Troubleshooter::new(&found.public).unwrap();
    mind.observe(&seen[0].0, &seen[0].1);
    assert!(!mind.worth()[0].told_nothing(), "{:?}", mind.worth());

    std::fs::write(&file, "{\"readings\":1}\n{\"action\":{\"do\":\"dance\"}}\n").unwrap();
    let error = readings::read(&file, &found).unwrap_err().to_string();
    assert!(error.contains("own.jsonl:2:"), "{error}");
}

use super::*;
use crate::cli::display::Units;
use crate::trace::synthetic::{Script, run, ten_minutes};

#[test]
fn the_svg_names_every_panel_line_and_level() {
    let svg = svg(&figure(&ten_minutes(), "10 min <nothing>", Units::Us)).unwrap();
    for words in [
        ">Orchard cottage on a buried cistern<",
        ">10 min &lt;nothing&gt;<",
        ">Pressure<",
        ">psi<",
        ">cut-out 50<",
        ">cut-in 30<",
        ">Flow<",
        ">gpm<",
        ">Water in the tank<",
        ">gal<",
        ">Pump<",
        ">minutes<",
    ] {
        assert!(svg.contains(words), "{words} is missing");
    }
    assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n"));
}

#[test]
fn si_units_go_through_the_whole_picture() {
    let svg = svg(&figure(&ten_minutes(), "", Units::Si)).unwrap();
    for words in [">kPa<", ">L/min<", ">L<", ">cut-in 207<"] {
        assert!(svg.contains(words), "{words} is missing");
    }
}

#[test]
fn a_first_start_shows_when_water_arrived() {
    let script = Script {
        duration_s: 300.0,
        interval_s: 0.5,
        draw_s: (0.0, 60.0),
        dry: true,
    };
    let svg = svg(&figure(&run(&script), "", Units::Us)).unwrap();
    assert!(svg.contains(">water at the wall<"));
}

#[test]
fn the_png_has_the_size_of_the_sheet_and_is_the_same_twice() {
    let figure = figure(&ten_minutes(), "", Units::Us);
    let bytes = png(&figure).unwrap();
    let pixmap = tiny_skia::Pixmap::decode_png(&bytes).unwrap();
    assert_eq!((pixmap.width(), pixmap.height()), (1_200, 800));
    assert_eq!(bytes, png(&figure).unwrap());
}

#[test]
fn a_month_of_runs_makes_a_picture_of_bounded_size() {
    let script = Script {
        duration_s: 5.0 * 86_400.0,
        interval_s: 5.0,
        draw_s: (600.0, 3_600.0),
        dry: false,
    };
    let svg = svg(&figure(&run(&script), "", Units::Us)).unwrap();
    assert!(svg.len() < 600_000, "{} bytes", svg.len());
}

#[test]
fn an_empty_recording_still_makes_a_picture() {
    let mut recording = ten_minutes();
    recording.samples.clear();
    recording.events.clear();
    assert!(png(&figure(&recording, "", Units::Us)).is_ok());
}

#[test]
fn a_line_too_busy_to_follow_is_drawn_as_its_range_and_runs_are_counted() {
    let script = Script {
        duration_s: 30.0 * 86_400.0,
        interval_s: 10.0,
        draw_s: (600.0, 7_200.0),
        dry: false,
    };
    let svg = svg(&figure(&run(&script), "", Units::Us)).unwrap();
    for words in [
        ">tee, range<",
        ">pump, range<",
        ">house, highest<",
        ">Pump starts a day<",
    ] {
        assert!(svg.contains(words), "{words} is missing");
    }
}

//! Writes a picture as SVG.

use std::fmt::{self, Write};

use super::figure::{Anchor, Face, Figure, Point, Shape, TAIL_GAP};
use super::font;
use crate::cli::display::fixed;
use crate::cli::palette::Rgb;

/// Writes the picture.
pub(crate) fn svg(figure: &Figure) -> Result<String, fmt::Error> {
    let mut svg = String::new();
    let (width, height) = (figure.width, figure.height);
    writeln!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" stroke-linejoin=\"round\" \
         stroke-linecap=\"butt\">"
    )?;
    writeln!(svg, "<title>{}</title>", escaped(&figure.description))?;
    for shape in &figure.shapes {
        write_shape(&mut svg, shape)?;
    }
    svg.push_str("</svg>\n");
    Ok(svg)
}

fn write_shape(svg: &mut String, shape: &Shape) -> fmt::Result {
    match shape {
        Shape::Rect { from, to, color } => writeln!(
            svg,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\"/>",
            px(from.0),
            px(from.1),
            px(to.0 - from.0),
            px(to.1 - from.1),
            hex(*color)
        ),
        Shape::Area { points, color } => writeln!(
            svg,
            "<path d=\"{}Z\" fill=\"{}\"/>",
            path_data(points),
            hex(*color)
        ),
        Shape::Stroke {
            points,
            width,
            color,
            dash,
        } => {
            let dash = dash.map_or_else(String::new, |(ink, gap)| {
                format!(" stroke-dasharray=\"{} {}\"", px(ink), px(gap))
            });
            writeln!(
                svg,
                "<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{dash}/>",
                path_data(points),
                hex(*color),
                px(*width)
            )
        }
        Shape::Text(text) => {
            let anchor = match text.anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            };
            let weight = match text.face {
                Face::Regular => "",
                Face::Bold => " font-weight=\"700\"",
                Face::Mono => " font-weight=\"500\"",
            };
            let tail = text
                .tail
                .as_ref()
                .map_or_else(String::new, |(words, color)| {
                    format!(
                        "<tspan dx=\"{TAIL_GAP}\" font-weight=\"400\" fill=\"{}\">{}</tspan>",
                        hex(*color),
                        escaped(words)
                    )
                });
            writeln!(
                svg,
                "<text x=\"{}\" y=\"{}\" font-family=\"{}\" font-size=\"{}\"{weight}{anchor} \
                 fill=\"{}\">{}{tail}</text>",
                px(text.at.0),
                px(text.at.1),
                font::family(text.face),
                px(text.size),
                hex(text.color),
                escaped(&text.words)
            )
        }
    }
}

fn path_data(points: &[Point]) -> String {
    let mut data = String::new();
    for (i, &(x, y)) in points.iter().enumerate() {
        data.push(if i == 0 { 'M' } else { 'L' });
        data += &px(x);
        data.push(' ');
        data += &px(y);
    }
    data
}

/// A length to a hundredth of a pixel.
fn px(length: f64) -> String {
    let text = fixed(length, 2);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn hex((red, green, blue): Rgb) -> String {
    format!("#{red:02X}{green:02X}{blue:02X}")
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

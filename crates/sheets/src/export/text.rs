//! A picture as text: what tests compare and people read.

use crate::picture::{Align, At, Item, Lettering, Picture, Shape};

/// The picture as sorted lines: kind, pen, places, what it is of. Model millimetres, with the shift on the
/// paper behind a `+` where there is one.
pub fn text(picture: &Picture) -> String {
    let mut lines: Vec<String> = picture.items.iter().map(line).collect();
    lines.sort();
    lines.join("\n")
}

fn line(item: &Item) -> String {
    let shape = match &item.shape {
        Shape::Line(points) => format!("line {:?} {}", item.pen, places(points)),
        Shape::Area(points) => format!("area {:?} {:?} {}", item.pen, item.fill, places(points)),
        Shape::Arc { centre, radius, from, to } => format!(
            "arc {:?} {} radius {} from {} to {}",
            item.pen,
            place(centre),
            short(*radius),
            short(from.to_degrees()),
            short(to.to_degrees())
        ),
        Shape::Dot { at, radius } => {
            format!("dot {:?} {} radius {}", item.pen, place(at), short(*radius))
        }
        Shape::Text { at, text, size, align, turn } => {
            let size = match size {
                Lettering::Small => "small",
                Lettering::Normal => "normal",
                Lettering::Large => "large",
            };
            let align = match align {
                Align::Left => " left",
                Align::Centre => "",
                Align::Right => " right",
            };
            let turn = if *turn == 0.0 {
                String::new()
            } else {
                format!(" turned {}", short(turn.to_degrees()))
            };
            // A thin space is hard to tell from an ordinary one, and harder to type.
            let text = text.replace('\u{2009}', "'");
            format!("text {text:?} {} {size}{align}{turn} {:?}", place(at), item.pen)
        }
    };
    match &item.of {
        Some(of) => format!("{shape} · {}", of.label()),
        None => shape,
    }
}

fn places(points: &[At]) -> String {
    points.iter().map(place).collect::<Vec<_>>().join(" ")
}

fn place(at: &At) -> String {
    let model = format!("({}, {})", short(at.model[0]), short(at.model[1]));
    if at.paper == [0.0, 0.0] {
        model
    } else {
        format!("{model}+({}, {})", short(at.paper[0]), short(at.paper[1]))
    }
}

fn short(value: f64) -> String {
    let value = layout_core::math::round_to(value, 0.1);
    format!("{value:.1}").trim_end_matches('0').trim_end_matches('.').to_string()
}

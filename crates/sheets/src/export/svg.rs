//! A page as SVG, in millimetres.

use std::fmt::Write;

use super::lines_after;
use crate::lettering::{CAPITAL, Weight};
use crate::page::{Mark, Page};
use crate::theme::{self, Colour, Stroke};

/// The page as the text of an SVG file: `width` and `height` in millimetres, one unit of the view box to the
/// millimetre, y down.
pub fn svg(page: &Page) -> String {
    let mut out = String::new();
    let (w, h) = (page.width, page.height);
    let title = escaped(&page.title);
    // Writing to a String cannot fail.
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" \
         stroke-linecap=\"butt\" stroke-linejoin=\"round\" font-family=\"'DejaVu Sans Condensed','DejaVu Sans',\
         sans-serif\">\n<title>{title}</title>\n<rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>\n"
    );
    let mut marks = page.ink.marks.iter().peekable();
    while let Some(mark) = marks.next() {
        match mark {
            Mark::Path { points, closed, pen, fill } => {
                let mut data = path(points, *closed);
                for (points, closed) in lines_after(&mut marks, *pen, *fill) {
                    data += &path(points, closed);
                }
                let paint = theme::tint(*fill).map_or("none".into(), hex);
                let _ = writeln!(
                    out,
                    "<path d=\"{data}\" fill=\"{paint}\"{}/>",
                    stroke(theme::stroke(*pen))
                );
            }
            Mark::Hatch { lines } => {
                let data: String = lines.iter().map(|l| path(l, false)).collect();
                let _ = writeln!(
                    out,
                    "<path d=\"{data}\" fill=\"none\"{}/>",
                    stroke(Some(theme::hatch_stroke()))
                );
            }
            Mark::Text { at, text, height, weight, turn, pen } => {
                let bold = if *weight == Weight::Bold { " font-weight=\"bold\"" } else { "" };
                let turned = if *turn == 0.0 {
                    String::new()
                } else {
                    let degrees = number(-turn.to_degrees());
                    format!(" transform=\"rotate({degrees} {} {})\"", number(at[0]), number(at[1]))
                };
                let _ = writeln!(
                    out,
                    "<text x=\"{}\" y=\"{}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" \
                     fill=\"{}\"{bold}{turned}>{}</text>",
                    number(at[0]),
                    number(at[1]),
                    number(height / CAPITAL),
                    number(weight.width(text, *height)),
                    hex(theme::lettering(*pen)),
                    escaped(text)
                );
            }
        }
    }
    out.push_str("</svg>\n");
    out
}

fn path(points: &[[f64; 2]], closed: bool) -> String {
    let mut data = String::new();
    for (i, [x, y]) in points.iter().enumerate() {
        let _ = write!(data, "{}{} {}", if i == 0 { 'M' } else { 'L' }, number(*x), number(*y));
    }
    if closed {
        data.push('Z');
    }
    data
}

fn stroke(stroke: Option<Stroke>) -> String {
    let Some(Stroke { width, dash, colour }) = stroke else { return String::new() };
    let dashes: Vec<String> = dash.iter().map(ToString::to_string).collect();
    let dashes = if dashes.is_empty() {
        String::new()
    } else {
        format!(" stroke-dasharray=\"{}\"", dashes.join(" "))
    };
    format!(" stroke=\"{}\" stroke-width=\"{width}\"{dashes}", hex(colour))
}

/// A number to a thousandth of a millimetre, without needless digits.
fn number(value: f64) -> String {
    let value = layout_core::math::round_to(value, 0.001);
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

fn hex([r, g, b]: Colour) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// Text with what means something in SVG taken care of, and without what may not stand in it at all.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::Pen;

    #[test]
    fn numbers_are_short_and_text_is_safe() {
        assert_eq!(number(12.3), "12.3");
        assert_eq!(number(-0.0001), "0");
        assert_eq!(number(100.0), "100");
        assert_eq!(escaped("A & B <c>\u{7}"), "A &amp; B &lt;c&gt; ");
        assert!(stroke(theme::stroke(Pen::Hidden)).contains("dasharray"));
    }
}

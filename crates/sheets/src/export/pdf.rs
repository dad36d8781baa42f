//! Pages as a PDF at true scale: one millimetre of the page is one millimetre of paper.

use std::num::NonZero;

use krilla::Document;
use krilla::SerializeSettings;
use krilla::color::rgb;
use krilla::configure::{ConfigurationBuilder, PdfVersion};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill as PdfFill, FillRule, LineJoin, Stroke as PdfStroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{ContentTag, Node, Tag, TagGroup, TagTree};
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::lines_after;
use crate::lettering::{CAPITAL, Weight};
use crate::page::{Mark, Page, Type};
use crate::theme::{self, Colour, Stroke};

/// What the file says about itself. No names of people or paths.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Meta {
    /// Title of the document: the job's.
    pub title: String,
    /// The day it was printed, year-month-day; left out when it is not one.
    pub date: String,
}

/// What the sheets are written in.
const LANGUAGE: &str = "en-GB";

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// The pages as one PDF file, with a bookmark for each. Equal pages and `meta` give equal bytes.
///
/// # Errors
/// One plain line when the file cannot be made.
pub fn pdf(pages: &[Page], meta: &Meta) -> Result<Vec<u8>, String> {
    let font = |weight: Weight| {
        Font::new(weight.font().to_vec().into(), 0)
            .ok_or("The PDF could not be made: its font cannot be read.")
    };
    let fonts = Fonts { regular: font(Weight::Regular)?, bold: font(Weight::Bold)? };
    let mut document = Document::new_with(settings()?);
    let mut outline = Outline::new();
    let mut tags = TagTree::new().with_lang(Some(LANGUAGE.into()));
    for (index, page) in pages.iter().enumerate() {
        let settings = PageSettings::from_wh(pt(page.width), pt(page.height)).ok_or_else(|| {
            format!("The PDF could not be made: sheet {} has no size.", index + 1)
        })?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        tags.push(tagged(&mut surface, &fonts, page));
        surface.finish();
        sheet.finish();
        let top = XyzDestination::new(index, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(page.title.clone(), top));
    }
    document.set_outline(outline);
    document.set_tag_tree(tags);
    let mut about = Metadata::new()
        .title(meta.title.clone())
        .creator("Baywright".into())
        .language(LANGUAGE.into());
    if let Some(date) = day(&meta.date) {
        about = about.creation_date(date);
    }
    document.set_metadata(about);
    document.finish().map_err(|e| format!("The PDF could not be made: {e:?}."))
}

/// PDF 1.5, which has all that a sheet needs. Later versions may say that no tag is suspect, which is taken for granted in any
/// case, and which the reader of many desktops complains of.
fn settings() -> Result<SerializeSettings, String> {
    let configuration = ConfigurationBuilder::new().with_version(PdfVersion::Pdf15).finish();
    let configuration = configuration.map_err(|e| format!("The PDF could not be made: {e:?}."))?;
    Ok(SerializeSettings { configuration, ..SerializeSettings::default() })
}

/// Draws a page and says what is what for whoever has it read out: its drawings, with what they show; headings; and between them
/// the lists.
fn tagged(surface: &mut Surface, fonts: &Fonts, page: &Page) -> TagGroup {
    let mut section = TagGroup::new(Tag::Section);
    let marks = &page.ink.marks;
    let mut from = 0;
    for drawing in page.drawings.iter().filter(|d| !d.is_empty()) {
        lists(surface, fonts, &marks[from..drawing.start], &mut section);
        let scale = page.scale.map_or(String::new(), |s| format!(", scale 1 : {s}"));
        let figure = Tag::Figure(Some(format!("Drawing: {}{scale}", page.title)));
        let node = part(surface, fonts, &marks[drawing.clone()]);
        section.push(TagGroup::with_children(figure, vec![node]));
        from = drawing.end;
    }
    lists(surface, fonts, &marks[from..], &mut section);
    section
}

/// Headings, and what stands under each.
fn lists(surface: &mut Surface, fonts: &Fonts, marks: &[Mark], section: &mut TagGroup) {
    let mut rest = marks;
    while !rest.is_empty() {
        let heading = rest.iter().position(is_heading);
        let (under, after) = rest.split_at(heading.unwrap_or(rest.len()));
        if !under.is_empty() {
            section.push(TagGroup::with_children(Tag::P, vec![part(surface, fonts, under)]));
        }
        let Some((heading, others)) = after.split_first() else { return };
        let tag = Tag::Hn(NonZero::<u16>::MIN, None);
        let node = part(surface, fonts, std::slice::from_ref(heading));
        section.push(TagGroup::with_children(tag, vec![node]));
        rest = others;
    }
}

/// Lettering of headings: see [`Type::HEADING`]. A figure in a list is as large, but has digits only.
fn is_heading(mark: &Mark) -> bool {
    matches!(mark, Mark::Text { height, weight: Weight::Bold, text, .. }
        if *height == Type::HEADING.height && text.chars().any(|c| c.is_alphabetic() && c != 'x'))
}

/// Marks that belong together.
fn part(surface: &mut Surface, fonts: &Fonts, marks: &[Mark]) -> Node {
    let id = surface.start_tagged(ContentTag::Other);
    draw(surface, fonts, marks);
    surface.end_tagged();
    id.into()
}

struct Fonts {
    regular: Font,
    bold: Font,
}

fn pt(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

fn day(text: &str) -> Option<DateTime> {
    let mut parts = text.split('-');
    let (year, month, day) =
        (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    let is_date = parts.next().is_none() && (1..=12).contains(&month) && (1..=31).contains(&day);
    is_date.then(|| DateTime::new(year).month(month).day(day))
}

fn draw(surface: &mut Surface, fonts: &Fonts, marks: &[Mark]) {
    let mut marks = marks.iter().peekable();
    while let Some(mark) = marks.next() {
        match mark {
            Mark::Path { points, closed, pen, fill } => {
                let mut path = PathBuilder::new();
                trace(&mut path, points, *closed);
                for (points, closed) in lines_after(&mut marks, *pen, *fill) {
                    trace(&mut path, points, closed);
                }
                paint(surface, path.finish(), theme::tint(*fill), theme::stroke(*pen));
            }
            Mark::Hatch { lines } => {
                let mut path = PathBuilder::new();
                for line in lines {
                    trace(&mut path, line, false);
                }
                paint(surface, path.finish(), None, Some(theme::hatch_stroke()));
            }
            Mark::Text { at, text, height, weight, turn, pen } => {
                surface.set_stroke(None);
                surface.set_fill(Some(filled(theme::lettering(*pen))));
                let (font, size) = (fonts.of(*weight).clone(), pt(height / CAPITAL));
                let start = Point::from_xy(pt(at[0]), pt(at[1]));
                let glyphs = glyphs(text, *weight);
                if *turn == 0.0 {
                    surface.draw_glyphs(start, &glyphs, font, text, size, false);
                } else {
                    let turned =
                        Transform::from_rotate_at(-turn.to_degrees() as f32, start.x, start.y);
                    surface.push_transform(&turned);
                    surface.draw_glyphs(start, &glyphs, font, text, size, false);
                    surface.pop();
                }
            }
        }
    }
}

impl Fonts {
    fn of(&self, weight: Weight) -> &Font {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }
}

/// One glyph a character, set by its advance: the widths the page was laid out with.
fn glyphs(text: &str, weight: Weight) -> Vec<KrillaGlyph> {
    text.char_indices()
        .map(|(i, c)| {
            let (glyph, advance) = weight.glyph(c);
            KrillaGlyph::new(
                GlyphId::new(glyph.into()),
                advance as f32,
                0.0,
                0.0,
                0.0,
                i..i + c.len_utf8(),
                None,
            )
        })
        .collect()
}

fn trace(path: &mut PathBuilder, points: &[[f64; 2]], closed: bool) {
    for (i, [x, y]) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(pt(*x), pt(*y));
        } else {
            path.line_to(pt(*x), pt(*y));
        }
    }
    if closed {
        path.close();
    }
}

fn paint(surface: &mut Surface, path: Option<Path>, tint: Option<Colour>, stroke: Option<Stroke>) {
    let Some(path) = path else { return };
    if tint.is_none() && stroke.is_none() {
        return;
    }
    surface.set_fill(tint.map(filled));
    surface.set_stroke(stroke.map(|s| {
        PdfStroke {
            paint: colour(s.colour).into(),
            width: pt(s.width),
            line_join: LineJoin::Round,
            dash: (!s.dash.is_empty()).then(|| StrokeDash {
                array: s.dash.iter().map(|d| pt(*d)).collect(),
                offset: 0.0,
            }),
            ..PdfStroke::default()
        }
    }));
    surface.draw_path(&path);
}

fn colour([r, g, b]: Colour) -> rgb::Color {
    rgb::Color::new(r, g, b)
}

fn filled(tint: Colour) -> PdfFill {
    PdfFill { paint: colour(tint).into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

//! All of a DXF file but its entities: header, tables, blocks, objects.

use super::layers::Layer;
use super::tags::Tags;
use crate::picture::{Pen, Rect};
use crate::theme;

/// The handle of the record of model space, which entities belong to.
pub(super) const MODEL: &str = "20";
const PAPER: &str = "24";
/// The style of ordinary lettering.
pub(super) const REGULAR: &str = "LETTERING";
/// The style of bold lettering.
pub(super) const BOLD: &str = "LETTERING-BOLD";
/// The colour of hatches and quiet lettering.
pub(super) const GREY: i64 = 8;
/// Black on white, white on black.
const INK: i64 = 7;

/// Pens whose lines are broken, with the names of their line types.
const BROKEN: [(Pen, &str, &str); 3] = [
    (Pen::Hidden, "HIDDEN", "Hidden or above"),
    (Pen::Service, "SERVICE", "Cables and pipes"),
    (Pen::Centre, "CENTRE", "Centre and datum lines"),
];

/// The name of the line type of a pen whose lines are broken.
pub(super) fn line_type(pen: Pen) -> &'static str {
    BROKEN.iter().find(|(p, ..)| *p == pen).map_or("CONTINUOUS", |(_, name, _)| name)
}

/// The whole file round `entities`, which gave out the highest handles.
pub(super) fn file(entities: Tags, layers: &[Layer], scale: f64, covered: Option<Rect>) -> String {
    let seed = entities.free_handle();
    let mut tags = Tags::new();
    header(&mut tags, &seed, covered);
    section(&mut tags, "CLASSES", |_| {});
    section(&mut tags, "TABLES", |tags| tables(tags, layers, scale));
    section(&mut tags, "BLOCKS", blocks);
    let mut text = tags.into_text();
    text.push_str("0\nSECTION\n2\nENTITIES\n");
    text.push_str(&entities.into_text());
    text.push_str("0\nENDSEC\n");
    let mut tags = Tags::new();
    section(&mut tags, "OBJECTS", objects);
    tags.text(0, "EOF");
    text + &tags.into_text()
}

fn section(tags: &mut Tags, name: &str, body: impl FnOnce(&mut Tags)) {
    tags.text(0, "SECTION");
    tags.text(2, name);
    body(tags);
    tags.text(0, "ENDSEC");
}

fn header(tags: &mut Tags, seed: &str, covered: Option<Rect>) {
    let extent = covered.unwrap_or(Rect { min: [0.0; 2], max: [1.0; 2] });
    section(tags, "HEADER", |tags| {
        let name = |tags: &mut Tags, name: &str| tags.text(9, name);
        name(tags, "$ACADVER");
        tags.text(1, "AC1024");
        name(tags, "$HANDSEED");
        tags.text(5, seed);
        name(tags, "$INSUNITS");
        tags.whole(70, 4);
        name(tags, "$MEASUREMENT");
        tags.whole(70, 1);
        name(tags, "$LUNITS");
        tags.whole(70, 2);
        name(tags, "$LTSCALE");
        tags.number(40, 1.0);
        name(tags, "$EXTMIN");
        tags.point(10, extent.min);
        name(tags, "$EXTMAX");
        tags.point(10, extent.max);
    });
}

/// One table: its name and handle, and its records, each with its kind, handle, class and what else it says.
fn table(tags: &mut Tags, name: &str, handle: &str, records: usize, body: impl FnOnce(&mut Tags)) {
    tags.text(0, "TABLE");
    tags.text(2, name);
    tags.text(5, handle);
    tags.text(330, "0");
    tags.text(100, "AcDbSymbolTable");
    tags.whole(70, records as i64);
    body(tags);
    tags.text(0, "ENDTAB");
}

fn record(tags: &mut Tags, kind: &str, (handle, owner): (&str, &str), class: &str, name: &str) {
    tags.text(0, kind);
    tags.text(if kind == "DIMSTYLE" { 105 } else { 5 }, handle);
    tags.text(330, owner);
    tags.text(100, "AcDbSymbolTableRecord");
    tags.text(100, class);
    tags.text(2, name);
}

fn tables(tags: &mut Tags, layers: &[Layer], scale: f64) {
    table(tags, "VPORT", "8", 0, |_| {});
    table(tags, "LTYPE", "5", 3 + BROKEN.len(), |tags| line_types(tags, scale));
    table(tags, "LAYER", "2", 1 + layers.len(), |tags| {
        let plain = ("0".to_string(), INK);
        let own = layers.iter().map(|l| l.name()).map(|name| {
            let colour = if name.ends_with("H-") { GREY } else { INK };
            (name, colour)
        });
        for (i, (name, colour)) in std::iter::once(plain).chain(own).enumerate() {
            let handle = format!("{:X}", 0x40 + i);
            record(tags, "LAYER", (&handle, "2"), "AcDbLayerTableRecord", &name);
            tags.whole(70, 0);
            tags.whole(62, colour);
            tags.text(6, "Continuous");
            tags.whole(370, -3);
        }
    });
    table(tags, "STYLE", "3", 3, |tags| {
        let styles = [
            ("11", "Standard", "DejaVuSansCondensed.ttf"),
            ("12", REGULAR, "DejaVuSansCondensed.ttf"),
            ("13", BOLD, "DejaVuSansCondensed-Bold.ttf"),
        ];
        for (handle, name, font) in styles {
            record(tags, "STYLE", (handle, "3"), "AcDbTextStyleTableRecord", name);
            tags.whole(70, 0);
            for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
                tags.number(code, value);
            }
            tags.whole(71, 0);
            tags.number(42, 2.5 * scale);
            tags.text(3, font);
            tags.text(4, "");
        }
    });
    table(tags, "VIEW", "6", 0, |_| {});
    table(tags, "UCS", "7", 0, |_| {});
    table(tags, "APPID", "9", 1, |tags| {
        record(tags, "APPID", ("14", "9"), "AcDbRegAppTableRecord", "ACAD");
        tags.whole(70, 0);
    });
    table(tags, "DIMSTYLE", "A", 1, |tags| {
        tags.text(100, "AcDbDimStyleTable");
        record(tags, "DIMSTYLE", ("15", "A"), "AcDbDimStyleTableRecord", "Standard");
        tags.whole(70, 0);
    });
    table(tags, "BLOCK_RECORD", "1", 2, |tags| {
        for (handle, name) in [(MODEL, "*Model_Space"), (PAPER, "*Paper_Space")] {
            record(tags, "BLOCK_RECORD", (handle, "1"), "AcDbBlockTableRecord", name);
        }
    });
}

fn line_types(tags: &mut Tags, scale: f64) {
    let whole = [("16", "ByBlock"), ("17", "ByLayer"), ("18", "Continuous")].into_iter();
    let whole = whole.map(|(handle, name)| (handle, name, "", Vec::new()));
    let broken = BROKEN.iter().zip(["19", "1A", "1B"]).map(|((pen, name, about), handle)| {
        let dashes = theme::stroke(*pen).map_or(&[][..], |s| s.dash);
        (handle, *name, *about, dashes.iter().map(|d| d * scale).collect())
    });
    for (handle, name, about, dashes) in whole.chain(broken) {
        record(tags, "LTYPE", (handle, "5"), "AcDbLinetypeTableRecord", name);
        tags.whole(70, 0);
        tags.text(3, about);
        tags.whole(72, 65);
        tags.whole(73, dashes.len() as i64);
        tags.number(40, dashes.iter().sum());
        for (i, dash) in dashes.into_iter().enumerate() {
            // Gaps are negative.
            tags.number(49, if i % 2 == 0 { dash } else { -dash });
            tags.whole(74, 0);
        }
    }
}

fn blocks(tags: &mut Tags) {
    for (owner, begins, ends, name) in
        [(MODEL, "21", "22", "*Model_Space"), (PAPER, "25", "26", "*Paper_Space")]
    {
        tags.text(0, "BLOCK");
        tags.text(5, begins);
        tags.text(330, owner);
        tags.text(100, "AcDbEntity");
        tags.text(8, "0");
        tags.text(100, "AcDbBlockBegin");
        tags.text(2, name);
        tags.whole(70, 0);
        tags.point(10, [0.0, 0.0]);
        tags.text(3, name);
        tags.text(1, "");
        tags.text(0, "ENDBLK");
        tags.text(5, ends);
        tags.text(330, owner);
        tags.text(100, "AcDbEntity");
        tags.text(8, "0");
        tags.text(100, "AcDbBlockEnd");
    }
}

/// The root dictionary, with an empty one of groups.
fn objects(tags: &mut Tags) {
    tags.text(0, "DICTIONARY");
    tags.text(5, "C");
    tags.text(330, "0");
    tags.text(100, "AcDbDictionary");
    tags.whole(281, 1);
    tags.text(3, "ACAD_GROUP");
    tags.text(350, "D");
    tags.text(0, "DICTIONARY");
    tags.text(5, "D");
    tags.text(330, "C");
    tags.text(100, "AcDbDictionary");
    tags.whole(281, 1);
}

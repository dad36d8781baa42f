//! Limits of what is bought and how it is cut: timber, boards, the saw, what goes with boards, the boards of the ceiling;
//! and of what lies under the plan.

use super::check::{Check, Checked, Limit};
use crate::document::{
    Buying, CeilingBoards, CutBar, Insulation, Job, SawSettings, SheetStock, Stock, Sundries,
    Underlay, not_a_file_name,
};

const SPACING: Limit = Limit(50.0, 1000.0, "mm");
const SHORT: Limit = Limit(0.0, 200.0, "mm");
const SOLD: Limit = Limit(100.0, 1_000_000.0, "mm");
const SLAB: Limit = Limit(100.0, 50_000.0, "mm");
const KILOGRAMS: Limit = Limit(0.0, 1000.0, "kg");
const PRICE: Limit = Limit(0.0, 1_000_000.0, "");
const BAR: Limit = Limit(100.0, 100_000.0, "mm");
const PART: Limit = Limit(0.0, 100_000.0, "mm");
const LAYER: Limit = Limit(0.1, 100.0, "mm");
const OFFCUT: Limit = Limit(10.0, 10_000.0, "mm");
const KERF: Limit = Limit(0.0, 20.0, "mm");
const PACK: Limit = Limit(1.0, 10_000.0, "");
const PER_CENT: Limit = Limit(0.0, 100.0, "%");
const SPARES: Limit = Limit(0.0, 1000.0, "");
const VAN: Limit = Limit(100.0, 30_000.0, "mm");
const PAYLOAD: Limit = Limit(10.0, 50_000.0, "kg");
const TRIM: Limit = Limit(0.0, 1000.0, "mm");

impl Check {
    pub(super) fn yard(&mut self, job: &Job) -> Checked {
        self.list("stock", &job.stock, 500, Check::stock)?;
        self.list("sheets", &job.sheets, 500, Check::sheet)?;
        self.field("saw", |c| c.saw(&job.saw))?;
        self.field("buying", |c| c.buying(&job.buying))?;
        self.list("cut", &job.cut, 20_000, Check::cut)
    }

    fn stock(&mut self, stock: &Stock) -> Checked {
        self.field("timber", |c| c.timber(&stock.timber))?;
        self.number("length", stock.length, BAR)?;
        self.number("price", stock.price.unwrap_or(0.0), PRICE)?;
        self.number("crooked", stock.crooked, Limit(0.0, 0.9, ""))?;
        self.number("pack", stock.pack.map_or(1.0, f64::from), PACK)
    }

    fn sheet(&mut self, sheet: &SheetStock) -> Checked {
        self.field("kind", |c| c.name(sheet.kind.as_str()))?;
        self.number("thickness", sheet.thickness, LAYER)?;
        self.field("size", |c| c.numbers(&[sheet.size.0, sheet.size.1], OFFCUT))?;
        self.number("price", sheet.price.unwrap_or(0.0), PRICE)?;
        self.number("pack", sheet.pack.map_or(1.0, f64::from), PACK)
    }

    fn buying(&mut self, of: &Buying) -> Checked {
        self.number("tax", of.tax, PER_CENT)?;
        self.number("discount", of.discount, PER_CENT)?;
        self.number("delivery", of.delivery, PRICE)?;
        self.number("free_from", of.free_from.unwrap_or(0.0), PRICE)?;
        self.field("spares", |c| {
            c.number("bars", of.spares.bars, PER_CENT)?;
            c.number("bars_least", f64::from(of.spares.bars_least), SPARES)?;
            c.number("sheets", of.spares.sheets, PER_CENT)?;
            c.number("sheets_least", f64::from(of.spares.sheets_least), SPARES)?;
            c.number("sundries", of.spares.sundries, PER_CENT)
        })?;
        self.field("carry", |c| {
            let carry = &of.carry;
            for (name, value) in [
                ("van_length", carry.van_length),
                ("van_width", carry.van_width),
                ("way_length", carry.way_length),
                ("way_width", carry.way_width),
            ] {
                c.number(name, value.unwrap_or(1000.0), VAN)?;
            }
            c.number("payload", carry.payload.unwrap_or(1000.0), PAYLOAD)
        })
    }

    fn saw(&mut self, saw: &SawSettings) -> Checked {
        self.number("kerf", saw.kerf, KERF)?;
        self.number("trim", saw.trim, TRIM)?;
        self.number("hold", saw.hold, TRIM)?;
        self.number("measured", saw.measured, TRIM)?;
        self.number("sure", saw.sure, Limit(0.5, 0.999, ""))?;
        self.number("keep_bar", saw.keep_bar, BAR)?;
        self.number("board_kerf", saw.board_kerf, KERF)?;
        self.number("keep", saw.keep, OFFCUT)?;
        self.field("currency", |c| c.text(&saw.currency, 10))
    }

    fn cut(&mut self, bar: &CutBar) -> Checked {
        self.field("timber", |c| c.timber(&bar.timber))?;
        self.number("length", bar.length, BAR)?;
        self.number("kept", bar.kept, PART)?;
        self.list("pieces", &bar.pieces, 10_000, |c, (wall, _, length)| {
            c.name(wall.as_str())?;
            c.numbers(&[*length], PART)
        })
    }

    pub(super) fn sundries(&mut self, s: &Sundries) -> Checked {
        self.number("edge", s.edge, SPACING)?;
        self.number("field", s.field, SPACING)?;
        self.number("inner", s.inner, SPACING)?;
        self.number("overhead", s.overhead, SPACING)?;
        self.number("penetration", s.penetration, SHORT)?;
        self.number("screw_box", f64::from(s.screw_box), Limit(1.0, 100_000.0, ""))?;
        self.number("roll", s.roll, SOLD)?;
        self.number("bead", s.bead, SOLD)?;
        self.number("filler", s.filler, KILOGRAMS)?;
        self.number("bag", s.bag, Limit(0.1, 1000.0, "kg"))?;
        self.number("cartridge", s.cartridge, SOLD)?;
        self.number("friction", s.friction, SHORT)?;
        let boxes = Limit(1.0, 100_000.0, "");
        self.number("joint_fixings", f64::from(s.joint_fixings), Limit(0.0, 20.0, ""))?;
        self.number("joint_length", s.joint_length, Limit(10.0, 500.0, "mm"))?;
        self.number("joint_box", f64::from(s.joint_box), boxes)?;
        self.number("plate_apart", s.plate_apart, Limit(100.0, 2000.0, "mm"))?;
        self.number("plate_length", s.plate_length, Limit(10.0, 500.0, "mm"))?;
        self.number("plate_box", f64::from(s.plate_box), boxes)?;
        self.number("packer_bag", f64::from(s.packer_bag), boxes)?;
        self.number("damp_proof", s.damp_proof, SOLD)?;
        s.prices.values().try_for_each(|price| self.number("prices", *price, PRICE))
    }

    pub(super) fn ceiling(&mut self, boarded: Option<&CeilingBoards>) -> Checked {
        let Some(of) = boarded else { return Ok(()) };
        self.field("boarded", |c| {
            c.field("below", |c| c.finish(&of.below))?;
            c.number("joists_deg", of.joists_deg, Limit(-360.0, 360.0, "degrees"))?;
            c.number("centres", of.centres, Limit(50.0, 2000.0, "mm"))?;
            c.number("first", of.first, Limit(0.0, 2000.0, "mm"))?;
            c.number("width", of.width, Limit(5.0, 600.0, "mm"))
        })
    }

    pub(super) fn underlay(&mut self, under: Option<&Underlay>) -> Checked {
        let Some(under) = under else { return Ok(()) };
        let outer = std::mem::replace(&mut self.of, "what lies under the plan".into());
        self.field("underlay", |c| {
            c.field("file", |c| not_a_file_name(&under.file).map_or(Ok(()), |why| c.fault(why)))?;
            c.point("at", under.at)?;
            c.number("unit_mm", under.unit_mm, Limit(1e-6, 1e6, "mm"))?;
            c.number("turn_deg", under.turn_deg, Limit(-360.0, 360.0, "degrees"))?;
            c.number("strength", under.strength, Limit(5.0, 100.0, "%"))
        })?;
        self.of = outer;
        Ok(())
    }

    pub(super) fn insulation(&mut self, insulation: Option<&Insulation>) -> Checked {
        let Some(of) = insulation else { return Ok(()) };
        self.field("insulation", |c| {
            c.field("kind", |c| c.name(of.kind.as_str()))?;
            c.number("thickness", of.thickness, Limit(1.0, 600.0, "mm"))?;
            c.field("slab", |c| c.numbers(&[of.slab.0, of.slab.1], SLAB))?;
            c.number("pack", of.pack.unwrap_or(1.0), Limit(0.01, 10_000.0, "m²"))
        })
    }
}

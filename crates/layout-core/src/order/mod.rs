//! What is ordered, line by line as the merchant sells it: what the plans say and spares on top, rounded up to whole packs,
//! with its mass and its price; then discount, delivery and tax.
//!
//! Money is added up in hundredths, so that what is printed adds up.

mod carry;
mod sum;

use crate::board_plan::BoardPlan;
use crate::catalogue::mass_of;
use crate::document::{Board, Job, SheetStock, Stock, Timber};
use crate::id::Name;
use crate::layout::Layout;
use crate::math::same;
use crate::pieces::SectionPlan;
use crate::platform::stiffness;
use crate::sundries::Need;
use crate::units::Units;
pub use carry::{Remark, remarks};
pub use sum::Sum;

/// What kind of goods a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goods {
    /// Bars.
    Timber,
    /// Sheets.
    Board,
    /// What goes with them, an estimate.
    Sundries,
}

impl Goods {
    /// “timber”, “board”, “sundries”.
    pub fn label(self) -> &'static str {
        match self {
            Goods::Timber => "timber",
            Goods::Board => "board",
            Goods::Sundries => "sundries",
        }
    }
}

/// One line of the order.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderLine {
    /// What kind of goods.
    pub goods: Goods,
    /// What it is: “46×97 C16”, “board standard 12.5”, “screws 38”.
    pub what: String,
    /// Of what there are so many: “4 800”, “1 200 × 2 400”, “box of 500”.
    pub of: String,
    /// How much is needed, in its unit; 0 where that is not known for the line alone.
    pub needed: f64,
    /// “m”, “m²”, “kg”; nothing for what is counted.
    pub unit: &'static str,
    /// How many the plans or the rules ask for.
    pub planned: usize,
    /// How many spare ones on top.
    pub spare: usize,
    /// How many more because it is sold in whole packs.
    pub over: usize,
    /// How many there are in a pack, when it is sold in packs.
    pub pack: Option<usize>,
    /// What one costs, when known.
    pub each: Option<f64>,
    /// What all of them cost, to a hundredth.
    pub price: Option<f64>,
    /// What they weigh, kg; `None` where nobody knows.
    pub mass: Option<f64>,
    /// The longer and the shorter side of one, mm, of bars and sheets.
    pub size: Option<(f64, f64)>,
    /// The rule it was counted by.
    pub rule: String,
    /// Where the rule comes from.
    pub source: &'static str,
}

impl OrderLine {
    /// How many to buy.
    pub fn buy(&self) -> usize {
        self.planned + self.spare + self.over
    }

    /// How many packs to buy, when it is sold in packs.
    pub fn packs(&self) -> Option<usize> {
        self.pack.map(|pack| self.buy() / pack.max(1))
    }

    /// What is bought beyond the plan, in words: “3 spare, 5 over in 2 packs of 12”; nothing when that is nothing.
    pub fn beyond(&self) -> String {
        let spare = (self.spare > 0).then(|| format!("{} spare", self.spare));
        let over = (self.over > 0).then(|| format!("{} over", self.over));
        let packs = self.packs().zip(self.pack).map(|(n, pack)| match n {
            1 => format!("1 pack of {pack}"),
            n => format!("{n} packs of {pack}"),
        });
        let parts: Vec<String> = [spare, over, packs].into_iter().flatten().collect();
        parts.join(", ")
    }

    /// Rounds up to whole packs, and works out what that costs.
    fn settled(mut self, pack: Option<u32>) -> OrderLine {
        self.pack = pack.filter(|pack| *pack > 1).map(|pack| pack as usize);
        let count = self.planned + self.spare;
        self.over = self.pack.map_or(0, |pack| count.div_ceil(pack) * pack - count);
        self.price = self.each.map(|each| hundredth(each * self.buy() as f64));
        self
    }
}

/// What is ordered for a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Order {
    /// Its lines: timber, boards, what goes with them.
    pub lines: Vec<OrderLine>,
    /// What it costs.
    pub sum: Sum,
    /// Kind, thickness and size of the sheets among them, mm.
    pub sheets: Vec<(Name, f64, (f64, f64))>,
    /// Pieces and boards that nothing in the lists gives: they are in no line.
    pub without: usize,
}

impl Order {
    /// What the lines weigh whose mass is known, kg.
    pub fn mass(&self) -> f64 {
        self.lines.iter().filter_map(|l| l.mass).sum()
    }

    /// The longest bar or sheet, mm; 0 when there is none.
    pub fn longest(&self) -> f64 {
        self.lines.iter().filter_map(|l| l.size).map(|(long, _)| long).fold(0.0, f64::max)
    }

    /// The largest sheet, its longer and its shorter side, mm.
    pub fn largest_sheet(&self) -> Option<(f64, f64)> {
        let sheets = self.lines.iter().filter(|l| l.goods == Goods::Board).filter_map(|l| l.size);
        sheets.max_by(|a, b| (a.0 * a.1).total_cmp(&(b.0 * b.1)))
    }

    /// Lines of one kind of goods.
    pub fn of(&self, goods: Goods) -> impl Iterator<Item = &OrderLine> {
        self.lines.iter().filter(move |l| l.goods == goods)
    }
}

/// The order for a job: from its cutting plans, its sheet plans and what goes with them.
pub fn order(
    job: &Job,
    layout: &Layout,
    bars: &[SectionPlan],
    sheets: &[BoardPlan],
    needs: &[Need],
) -> Order {
    let mut lines: Vec<OrderLine> = Vec::new();
    lines.extend(bars.iter().flat_map(|plan| timber(job, plan)));
    lines.extend(sheets.iter().flat_map(|plan| boards(job, layout, plan)));
    lines.extend(needs.iter().map(sundry));
    let pieces = bars.iter().map(|plan| plan.left_over.len()).sum::<usize>();
    let without = pieces + sheets.iter().map(|plan| plan.left_over.len()).sum::<usize>();
    let sizes = sheets.iter().flat_map(|plan| {
        plan.by_size().into_iter().map(|(size, _)| (plan.kind.clone(), plan.thickness, size))
    });
    Order { sum: Sum::of(&lines, &job.buying), lines, sheets: sizes.collect(), without }
}

/// The lines of one section, long bars first.
fn timber(job: &Job, plan: &SectionPlan) -> Vec<OrderLine> {
    let density = density(plan.timber.grade().as_str());
    let area = plan.timber.thickness() * plan.timber.depth();
    let lines = plan.order().into_iter().map(|bars| {
        let cut = plan.bought_bars().filter(|bar| same(bar.stock, bars.length));
        let needed = cut.flat_map(|bar| &bar.pieces).map(|p| p.length).sum::<f64>() / 1000.0;
        let line = OrderLine {
            goods: Goods::Timber,
            what: timber_name(&plan.timber, job.units),
            of: job.units.show(bars.length),
            needed,
            unit: "m",
            planned: bars.bars,
            spare: 0,
            over: 0,
            pack: None,
            each: None,
            price: None,
            mass: None,
            size: Some((bars.length, plan.timber.depth().min(bars.length))),
            rule: match bars.straight {
                0 => "from the cutting plan".into(),
                n => format!("from the cutting plan; {n} have to be straight"),
            },
            source: "computed",
        };
        (bars.length, line)
    });
    let settled = lines.map(|(length, mut line)| {
        let sold = sold_bar(&job.stock, &plan.timber, length);
        line.each = sold.and_then(|s| s.price);
        line.spare = job.buying.spares.of_bars(line.planned);
        let mut line = line.settled(sold.and_then(|s| s.pack));
        line.mass = Some(line.buy() as f64 * area * length * density / 1e9);
        line
    });
    settled.collect()
}

/// A section as it is called in an order: “46×97 C16”.
pub fn timber_name(timber: &Timber, units: Units) -> String {
    format!("{} {}", timber.size_in(units), timber.grade())
}

/// The line of the timber list that bars of this length are bought from.
fn sold_bar<'a>(stock: &'a [Stock], timber: &Timber, length: f64) -> Option<&'a Stock> {
    let is = |s: &&Stock| s.owned.is_none() && s.timber == *timber && same(s.length, length);
    stock.iter().find(is)
}

/// Mean density of a strength class, kg/m³: EN 338:2016, Table 1 (softwood, at 12 % moisture). Of any other grade that of C24.
pub fn density(grade: &str) -> f64 {
    stiffness(grade).or_else(|| stiffness("C24")).map_or(420.0, |(_, density)| density)
}

/// The lines of one kind of board, size by size.
fn boards(job: &Job, layout: &Layout, plan: &BoardPlan) -> Vec<OrderLine> {
    let sizes = plan.by_size();
    let one = sizes.len() == 1;
    let mass = board_mass(layout, plan);
    let line = |((width, length), planned): ((f64, f64), usize)| {
        let is = |s: &&SheetStock| {
            s.owned.is_none()
                && s.kind == plan.kind
                && same(s.thickness, plan.thickness)
                && same(s.size.0, width)
                && same(s.size.1, length)
        };
        let sold = job.sheets.iter().find(is);
        let line = OrderLine {
            goods: Goods::Board,
            what: board_name(plan, job.units),
            of: format!("{} × {}", job.units.show(width), job.units.show(length)),
            needed: if one { plan.area / 1e6 } else { 0.0 },
            unit: "m²",
            planned,
            spare: job.buying.spares.of_sheets(planned),
            over: 0,
            pack: None,
            each: sold.and_then(|s| s.price),
            price: None,
            mass: None,
            size: Some((width.max(length), width.min(length))),
            rule: "from the sheet plan".into(),
            source: "computed",
        };
        let mut line = line.settled(sold.and_then(|s| s.pack));
        line.mass = Some(line.buy() as f64 * width * length / 1e6 * mass);
        line
    };
    sizes.into_iter().map(line).collect()
}

fn board_name(plan: &BoardPlan, units: Units) -> String {
    format!("board {} {}", plan.kind, units.fine(plan.thickness))
}

/// Mass of a square metre of a board as the walls, platforms and ceiling have it, kg.
fn board_mass(layout: &Layout, plan: &BoardPlan) -> f64 {
    let walls = layout.walls.iter().flat_map(|w| {
        let layers = w.boards.layers.iter().map(|l| &l.board);
        layers.chain(w.boards.strips.iter().map(|s| &s.board))
    });
    let platforms = layout.platforms.iter().flat_map(|p| p.boards.iter().map(|l| &l.board));
    let ceiling = layout.ceiling.iter().flat_map(|c| c.layers.iter().map(|l| &l.board));
    let is = |b: &&Board| b.kind == plan.kind && same(b.thickness, plan.thickness);
    let mut all = walls.chain(platforms).chain(ceiling);
    all.find(is).map_or_else(|| mass_of(&Board::new(plan.kind.clone(), plan.thickness)), mass_of)
}

fn sundry(need: &Need) -> OrderLine {
    let line = OrderLine {
        goods: Goods::Sundries,
        what: need.what.to_string(),
        of: need.of.clone(),
        needed: need.amount,
        unit: need.unit,
        planned: need.buy - need.spare,
        spare: need.spare,
        over: 0,
        pack: None,
        each: need.each,
        price: None,
        mass: need.mass,
        size: None,
        rule: need.rule.clone(),
        source: need.source,
    };
    line.settled(None)
}

/// Money to a hundredth, as it is printed.
fn hundredth(money: f64) -> f64 {
    (money.clamp(-1e12, 1e12) * 100.0).round() / 100.0 + 0.0
}

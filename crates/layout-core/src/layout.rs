//! Everything worked out from a job.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::boards::{self, Boarding, Layer as BoardLayer, On};
use crate::ceiling::{self, CeilingLayout, CeilingSpec};
use crate::checks;
use crate::document::{Accepted, Job};
use crate::first_fix::{self, Runs};
use crate::frame::{EndCut, Frame, Member, frame};
use crate::id::{ItemRef, Kind, Mark, Name};
use crate::math::{SAME, SQUARE, same};
use crate::platform::{self, PlatformSpec};
use crate::resolve::{Place, Plan, Shared, WallSpec, resolve, settle_wall};
use crate::snag::{Code, Snag};
use crate::span::Span;
use crate::survey::{Solved, of_shell};
use crate::units::Units;

/// One wall, laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct WallLayout {
    /// Where it stands on the plan.
    pub place: Place,
    /// The wall, settled.
    pub spec: Arc<WallSpec>,
    /// Its timber.
    pub frame: Arc<Frame>,
    /// Its boards.
    pub boards: Arc<Boarding>,
    /// The cables and pipes in it, and what they take out of its timber.
    pub runs: Arc<Runs>,
    /// Pieces that are cut to another length than their own, because they are cut alike with others: by mark.
    pub(crate) alike: Arc<Vec<(Mark, f64)>>,
    /// What is wrong with it, beside what the framer had to do differently.
    pub snags: Arc<Vec<Snag>>,
}

impl WallLayout {
    /// Its name.
    pub fn name(&self) -> &Name {
        &self.spec.name
    }

    /// The piece with this mark.
    pub fn member(&self, mark: Mark) -> Option<&Member> {
        self.frame.members.iter().find(|m| m.mark == mark)
    }

    /// The length of a piece as it is printed and sent to the saw, mm: a whole number of
    /// the job's saw steps (1 mm or 1/16 in). Its two ends are
    /// rounded where they stand, measured from the start of the frame and from the floor, rather than its
    /// length: neighbours still meet. A piece that is not square at both ends is cut to its long point, rounded.
    pub fn cut_length(&self, member: &Member) -> f64 {
        match self.alike.binary_search_by_key(&member.mark, |(mark, _)| *mark) {
            Ok(i) => self.alike[i].1,
            Err(_) => own_length(&self.spec, member),
        }
    }

    /// A wall laid out from nothing.
    pub(crate) fn of(place: Place, spec: WallSpec) -> WallLayout {
        let frame = frame(&spec);
        let alike = Arc::new(alike(&spec, &frame));
        let boards = Arc::new(boards::board(&spec, &frame));
        let runs = first_fix::runs(&spec, &frame);
        let snags = checks::wall(&spec, &frame, &boards, &runs);
        WallLayout {
            place,
            spec: Arc::new(spec),
            frame: Arc::new(frame),
            boards,
            runs: Arc::new(runs),
            alike,
            snags: Arc::new(snags),
        }
    }
}

/// The length of a piece, rounded at its two ends.
fn own_length(spec: &WallSpec, member: &Member) -> f64 {
    let cut = member.cut();
    let square = cut.ends.iter().all(|e| e.bevel.abs() < SQUARE && e.mitre.abs() < SQUARE);
    let (along, up) = (member.solid.stations(), member.solid.heights());
    let units = spec.units;
    let between =
        |span: Span, zero: f64| units.round(span.high - zero) - units.round(span.low - zero);
    if square && same(cut.length, along.length()) {
        between(along, spec.along().low)
    } else if square && same(cut.length, up.length()) {
        between(up, 0.0)
    } else {
        units.round(cut.length)
    }
}

/// Under a floor or a ceiling that was read every upright has its own length: those that differ by no more than
/// the job allows are cut alike, to the shortest of them, which goes in everywhere.
fn alike(spec: &WallSpec, frame: &Frame) -> Vec<(Mark, f64)> {
    if !spec.is_read {
        return Vec::new();
    }
    let tenths =
        |end: EndCut| [end.bevel, end.mitre].map(|a| (a.to_degrees() * 10.0).round() as i64);
    let mut groups: BTreeMap<_, Vec<(f64, Mark)>> = BTreeMap::new();
    for member in &frame.members {
        let kind = member.mark.kind;
        if matches!(kind, Kind::Stud | Kind::Cripple | Kind::Riser) {
            let rip = member.solid.rip().map(|r| (r.wide * 10.0).round() as i64);
            let ends = member.cut().ends.map(tenths);
            let group = groups.entry((kind, &member.timber, ends, rip)).or_default();
            group.push((own_length(spec, member), member.mark));
        }
    }
    let mut alike = Vec::new();
    for mut group in groups.into_values() {
        group.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut shortest = f64::NEG_INFINITY;
        for (length, mark) in group {
            if length - shortest > spec.packing.alike + SAME {
                shortest = length;
            } else if length > shortest {
                alike.push((mark, shortest));
            }
        }
    }
    alike.sort_by_key(|a| a.0);
    alike
}

/// One platform, laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct PlatformLayout {
    /// Where it is on the plan: its corner, and along its width.
    pub place: Place,
    /// The platform, settled.
    pub spec: Arc<PlatformSpec>,
    /// Its timber.
    pub frame: Arc<Frame>,
    /// Its boards: below, above, then of its fronts, from the timber outwards. Places on them are across its joists and
    /// along them, or up a front.
    pub boards: Arc<Vec<BoardLayer<On>>>,
    /// What is wrong with it, beside what the framer had to do differently.
    pub snags: Arc<Vec<Snag>>,
}

impl PlatformLayout {
    /// Its name.
    pub fn name(&self) -> &Name {
        &self.spec.name
    }

    /// The piece with this mark.
    pub fn member(&self, mark: Mark) -> Option<&Member> {
        self.frame.members.iter().find(|m| m.mark == mark)
    }

    /// The length of a piece as it is printed and sent to the saw, whole millimetres; its two ends are
    /// rounded where they lie, measured from the platform's corner and from the floor.
    pub fn cut_length(&self, member: &Member) -> f64 {
        let length = member.cut().length;
        let extents = [member.solid.stations(), member.solid.across(), member.solid.heights()];
        match extents.into_iter().find(|e| same(e.length(), length)) {
            Some(span) => self.spec.units.round(span.high) - self.spec.units.round(span.low),
            None => self.spec.units.round(length),
        }
    }

    /// A platform laid out from nothing.
    pub(crate) fn of(place: Place, spec: PlatformSpec) -> PlatformLayout {
        let frame = platform::frame(&spec);
        let boards = platform::board(&spec, &frame);
        let snags = platform::check(&spec, &frame, &boards);
        PlatformLayout {
            place,
            spec: Arc::new(spec),
            frame: Arc::new(frame),
            boards: Arc::new(boards),
            snags: Arc::new(snags),
        }
    }
}

/// Whatever has pieces with marks of its own.
#[derive(Clone, Copy, Debug)]
pub enum Framed<'a> {
    /// A wall.
    Wall(&'a WallLayout),
    /// A platform.
    Platform(&'a PlatformLayout),
}

impl<'a> Framed<'a> {
    /// Its name, which begins the marks of its pieces.
    pub fn name(self) -> &'a Name {
        match self {
            Framed::Wall(wall) => wall.name(),
            Framed::Platform(platform) => platform.name(),
        }
    }

    /// Where its coordinates are in the job.
    pub fn place(self) -> Place {
        match self {
            Framed::Wall(wall) => wall.place,
            Framed::Platform(platform) => platform.place,
        }
    }

    /// Its timber.
    pub fn frame(self) -> &'a Arc<Frame> {
        match self {
            Framed::Wall(wall) => &wall.frame,
            Framed::Platform(platform) => &platform.frame,
        }
    }

    /// What its lengths are shown and cut in.
    pub fn units(self) -> Units {
        match self {
            Framed::Wall(wall) => wall.spec.units,
            Framed::Platform(platform) => platform.spec.units,
        }
    }

    /// The length of a piece of it as it is printed and sent to the saw.
    pub fn cut_length(self, member: &Member) -> f64 {
        match self {
            Framed::Wall(wall) => wall.cut_length(member),
            Framed::Platform(platform) => platform.cut_length(member),
        }
    }
}

/// Everything worked out from a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The walls, in the job's order, less those that cannot stand anywhere.
    pub walls: Vec<WallLayout>,
    /// The platforms, in the job's order.
    pub platforms: Vec<PlatformLayout>,
    /// The room's own ceiling, where the job boards it.
    pub ceiling: Option<Arc<CeilingLayout>>,
    /// Every snag that is open, the gravest first, then in the job's order.
    pub snags: Vec<Snag>,
    /// What the job accepts, in its order, with the snags that are let stand for it; none when it is no longer
    /// found.
    pub accepted: Vec<(Accepted, Vec<Snag>)>,
    /// The room as its measurements make it; `None` when nothing was measured.
    pub survey: Option<Arc<Solved>>,
    /// The job this is of. Cheap: it shares its walls and make-ups with the one laid out.
    pub(crate) job: Job,
    /// What its walls share.
    pub(crate) plan: Arc<Plan>,
}

impl Layout {
    /// Works a job out from nothing.
    pub fn of(job: &Job) -> Layout {
        let mut plan = resolve(job);
        plan.snags.extend(checks::plan(job, &plan.walls));
        Layout::from_plan(
            job,
            Arc::new(plan),
            survey_of(job),
            |_, shared| WallLayout::of(shared.place, settle_wall(job, shared)),
            PlatformLayout::of,
            |spec| Arc::new(CeilingLayout::of(spec)),
        )
    }

    /// Puts a layout together from its plan, `lay` laying out each wall `joist` each
    /// platform, and `cover` the ceiling.
    pub(crate) fn from_plan(
        job: &Job,
        plan: Arc<Plan>,
        survey: Option<Arc<Solved>>,
        lay: impl Fn(usize, &Shared) -> WallLayout,
        joist: impl Fn(Place, PlatformSpec) -> PlatformLayout,
        cover: impl Fn(CeilingSpec) -> Arc<CeilingLayout>,
    ) -> Layout {
        let walls: Vec<WallLayout> =
            plan.walls.iter().enumerate().map(|(i, shared)| lay(i, shared)).collect();
        let mut snags: Vec<Snag> = plan.snags.clone();
        for wall in &walls {
            snags.extend(wall.snags.iter().chain(&wall.frame.snags).cloned());
        }
        let standing = walls.iter().map(|w| (&w.place, &*w.spec));
        let ceiling = ceiling::settle(job, standing.clone()).map(cover);
        let platforms: Vec<PlatformLayout> = job
            .platforms
            .iter()
            .map(|p| joist(platform::place(p), platform::settle(job, p, &standing)))
            .collect();
        for platform in &platforms {
            snags.extend(platform.snags.iter().chain(&platform.frame.snags).cloned());
        }
        if let Some(solved) = &survey {
            snags.extend(checks::survey(job.units, &job.shell.survey, solved));
        }
        let upright: Vec<_> = walls
            .iter()
            .filter(|w| !w.frame.members.is_empty())
            .map(|w| checks::Standing { place: w.place, spec: &w.spec })
            .collect();
        snags.extend(checks::doors(job, &upright));
        snags.extend(no_stock(job, &walls, &platforms));
        snags.sort_by_key(Snag::severity);
        let accepted = let_stand(&job.accepted, &mut snags);
        Layout { walls, platforms, ceiling, snags, accepted, survey, job: job.clone(), plan }
    }

    /// The wall called `name`.
    pub fn wall(&self, name: &Name) -> Option<&WallLayout> {
        self.walls.iter().find(|w| w.spec.name == *name)
    }

    /// The platform called `name`.
    pub fn platform(&self, name: &Name) -> Option<&PlatformLayout> {
        self.platforms.iter().find(|p| p.spec.name == *name)
    }

    /// Everything that has pieces: the walls, then the platforms, in the job's order.
    pub fn framed(&self) -> impl Iterator<Item = Framed<'_>> {
        self.walls.iter().map(Framed::Wall).chain(self.platforms.iter().map(Framed::Platform))
    }

    /// The piece of a wall or a platform with this mark.
    pub fn member(&self, of: &Name, mark: Mark) -> Option<&Member> {
        let part = self.framed().find(|p| p.name() == of)?;
        part.frame().members.iter().find(|m| m.mark == mark)
    }
}

/// Takes what is accepted out of `snags`.
fn let_stand(accepted: &[Accepted], snags: &mut Vec<Snag>) -> Vec<(Accepted, Vec<Snag>)> {
    let take = |a: &Accepted| {
        let (stands, open): (Vec<Snag>, Vec<Snag>) =
            std::mem::take(snags).into_iter().partition(|s| a.covers(s));
        *snags = open;
        (a.clone(), stands)
    };
    accepted.iter().map(take).collect()
}

/// The room of `job`, worked out from its measurements.
pub(crate) fn survey_of(job: &Job) -> Option<Arc<Solved>> {
    of_shell(&job.shell, job.datum.at).map(Arc::new)
}

/// Sections the job uses and its timber list does not have.
fn no_stock(job: &Job, walls: &[WallLayout], platforms: &[PlatformLayout]) -> Vec<Snag> {
    let mut missing = Vec::new();
    let frames = walls.iter().map(|w| &w.frame).chain(platforms.iter().map(|p| &p.frame));
    let from_bars = frames.flat_map(|f| &f.totals).filter(|t| !t.timber.is_ply());
    for total in from_bars {
        if !missing.contains(&&total.timber) && job.stock.iter().all(|s| s.timber != total.timber) {
            missing.push(&total.timber);
        }
    }
    missing
        .into_iter()
        .map(|timber| {
            Snag::new(
                Code::NoStock,
                ItemRef::Job,
                format!("The timber list has no {} {}", timber.size_in(job.units), timber.grade()),
                "Add its lengths to the timber list, in Yard.",
            )
        })
        .collect()
}

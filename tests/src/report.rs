//! Answers to the questions a case may ask, as text: sorted, and rounded to a tenth of a millimetre.

mod bars;
mod buying;
mod choices;
mod first_fix;
mod sundries;

use std::collections::BTreeMap;
use std::fmt::Write;

use layout_core::board_plan::{self, Patch};
use layout_core::document::{Face, Job, OpeningKind, Sundries, WallEnd};
use layout_core::frame::{Cut, EndCut, Member, Role, board_joints};
use layout_core::id::Name;
use layout_core::layout::{Layout, WallLayout};
use layout_core::packers;
use layout_core::pieces;
use layout_core::resolve::Meets;
use layout_core::setout;
use layout_core::span::Span;

/// The answer to `what`: the name of a question, and behind it the walls (or the opening) it is
/// about; all of them when there is none.
///
/// # Errors
/// When there is no such question, or no such wall or opening.
pub fn answer(job: &Job, layout: &Layout, what: &str) -> Result<String, String> {
    let mut words = what.split_whitespace();
    let question = words.next().unwrap_or_default();
    let about: Vec<&str> = words.collect();
    match question {
        "snags" => return Ok(snags(layout, false)),
        "messages" => return Ok(snags(layout, true)),
        "accepted" => return Ok(first_fix::accepted(layout)),
        "remedies" => return Ok(first_fix::remedies_of(job, layout)),
        "totals" => return Ok(totals(layout)),
        "batches" => return Ok(batches(layout)),
        "bars" => return Ok(bars::bars(job, layout)),
        "plate-joints" => return Ok(bars::joints(job, layout)),
        "to-buy" => return Ok(buying::to_buy(job, layout)),
        "order" => return Ok(sundries::order(job, layout)),
        "sheets" => return Ok(sheets(job, layout)),
        "platforms" => return Ok(platforms(layout)),
        "joists" => return Ok(joists(layout)),
        "platform-boards" => return Ok(sundries::platform_boards(layout)),
        "ceiling-boards" => return Ok(sundries::ceiling_boards(layout)),
        "survey" => return Ok(survey(job, layout)),
        "what-if" => return Ok(choices::what_ifs(job, layout)),
        "choices" => return Ok(choices::odd_bays(job, layout, &about)),
        "boardings" => return Ok(choices::boardings(job, layout, &about)),
        "levels" => return levels(job, layout, &about),
        "drying" => return drying(job, layout, &about),
        "stack" => return stack(job, about.first().copied().unwrap_or_default()),
        _ => {}
    }
    let one = match question {
        "walls" => wall,
        "members" => members,
        "uprights" => uprights,
        "marks" => marks,
        "lengths" => lengths,
        "count" => count,
        "plates" => plates,
        "noggins" => noggins,
        "openings" => openings,
        "centres" => centres,
        "fixings" => fixings,
        "diagonals" => diagonals,
        "soles" => soles,
        "cut" => cut_to,
        "bays" => bays,
        "joints" => joints,
        "boards" => boards,
        "strips" => strips,
        "screws" => sundries::screws,
        "insulation" => sundries::insulation,
        "runs" => first_fix::runs,
        "first-fix" => first_fix::bays,
        "zones" => first_fix::cable_zones,
        other => return Err(format!("no question is called “{other}”")),
    };
    for name in &about {
        if layout.wall(&Name::new(name)).is_none() {
            return Err(format!("no wall “{name}” was framed"));
        }
    }
    let asked =
        layout.walls.iter().filter(|w| about.is_empty() || about.contains(&w.name().as_str()));
    Ok(asked.map(one).collect::<String>().trim_end().to_string())
}

/// A number to a tenth, without a trailing `.0` and never `-0`. Halves go up, also those that
/// arithmetic left a hair short of it.
pub fn num(value: f64) -> String {
    let tenths = (value * 10.0 + 0.5 + 1e-6).floor() + 0.0;
    format!("{}", tenths / 10.0)
}

fn span(s: Span) -> String {
    format!("{}..{}", num(s.low), num(s.high))
}

/// Where the frame starts and stops, and what it meets.
fn wall(w: &WallLayout) -> String {
    let spec = &w.spec;
    let meets = |m: &Meets| match m {
        Meets::Free => "free".to_string(),
        Meets::Existing { side } => format!("existing wall {}", side + 1),
        Meets::Post(post) => format!("post {post}"),
        Meets::Soffit => "soffit".to_string(),
        Meets::Mitres(other) => format!("mitres {other}"),
        Meets::InLine(other) => format!("in line with {other}"),
        Meets::Through(other) => format!("through past {other}"),
        Meets::Butts(other) => format!("butts {other}"),
    };
    let along = spec.along();
    let mut out = format!(
        "{}  along {}  across {}  finished {}  head {}  start {}  end {}\n",
        w.name(),
        span(along),
        span(spec.frame),
        span(spec.finished),
        num(spec.head.at(along.low)),
        meets(&spec.ends[0].meets),
        meets(&spec.ends[1].meets),
    );
    let faces = |at: [f64; 2]| format!("right {} left {}", num(at[0]), num(at[1]));
    if spec.reach() != along {
        let [start, end] = &spec.ends;
        let _ = writeln!(out, "    cut from {} to {}", faces(start.at), faces(end.at));
    }
    if !spec.head.is_level() {
        let line = spec.head.stretches(spec.reach()).into_iter();
        let line: Vec<String> =
            line.map(|s| format!("{} {}..{}", span(s.span), num(s.from), num(s.to))).collect();
        let _ = writeln!(out, "    head {}", line.join(", "));
    }
    for b in &spec.breaks {
        let what = b.with.label();
        let _ = writeln!(out, "    broken by {what} from {} to {}", faces(b.at[0]), faces(b.at[1]));
    }
    for b in &spec.backings {
        let _ = writeln!(
            out,
            "    {:?} for {} at {} on the {:?}",
            b.kind,
            b.with,
            span(b.span),
            b.face
        );
    }
    out
}

/// Every piece: mark, role, place along the wall, across it when it is not as deep as the frame,
/// heights, section when it is not the make-up's, cut.
fn members(w: &WallLayout) -> String {
    w.frame.members.iter().map(|m| member(w, m)).collect()
}

fn member(w: &WallLayout, m: &Member) -> String {
    let mut out = format!(
        "{}-{:<4} {:<13} x {:<16} z {:<16} cut {}",
        w.name(),
        m.mark.to_string(),
        m.role.label(),
        span(m.solid.stations()),
        span(m.solid.heights()),
        cut(&m.cut()),
    );
    let across = m.solid.across();
    if span(across) != span(w.spec.frame) {
        let _ = write!(out, "  y {}", span(across));
    }
    if m.timber != w.spec.makeup.timber {
        let _ = write!(out, "  of {}", m.timber.size());
    }
    if let Some(rip) = m.solid.rip() {
        let (wide, narrow) = (num(rip.wide), num(rip.narrow));
        let _ = write!(out, "  ripped {wide} to {narrow} at {}°", num(rip.bevel.to_degrees()));
    }
    if m.measure_in_place {
        out += "  measure";
    }
    out + "\n"
}

fn cut(cut: &Cut) -> String {
    let end = |e: &EndCut| {
        let deg = |a: f64| num(a.to_degrees());
        match (deg(e.bevel).as_str(), deg(e.mitre).as_str()) {
            ("0", "0") => None,
            (bevel, mitre) => Some(format!("bevel {bevel}° mitre {mitre}°")),
        }
    };
    let mut out = num(cut.length);
    for (which, e) in ["foot", "top"].iter().zip(&cut.ends) {
        if let Some(text) = end(e) {
            let _ = write!(out, " {which} {text}");
        }
    }
    out
}

/// Uprights along the wall: span and role, one a line.
fn uprights(w: &WallLayout) -> String {
    let mut list: Vec<&Member> = w
        .frame
        .members
        .iter()
        .filter(|m| {
            m.role.is_full_height() || matches!(m.role, Role::Jack | Role::Cripple | Role::Slat)
        })
        .collect();
    list.sort_by(|a, b| {
        let key = |m: &Member| (m.solid.stations().low, m.solid.heights().low);
        key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal).then(a.mark.cmp(&b.mark))
    });
    let mut out = String::new();
    for m in list {
        let _ = writeln!(
            out,
            "{}  {:<16} {:<13} {}",
            w.name(),
            span(m.solid.stations()),
            m.role.label(),
            num(m.cut().length)
        );
    }
    out
}

/// Running marks on the plates, from the start of the frame.
fn marks(w: &WallLayout) -> String {
    let marks = w.frame.running(&w.spec);
    let list: Vec<String> = marks.iter().map(|m| format!("{} {}", num(m.at), m.member)).collect();
    format!("{}  {}\n", w.name(), list.join(", "))
}

/// Centres of the full-height uprights, from the start of the frame.
fn centres(w: &WallLayout) -> String {
    let start = w.spec.along().low;
    let mut at: Vec<f64> = full_height(w).map(|s| s.centre() - start).collect();
    at.sort_by(f64::total_cmp);
    let list: Vec<String> = at.into_iter().map(num).collect();
    format!("{}  {}\n", w.name(), list.join(" "))
}

/// Clear gaps between full-height uprights, in order.
fn bays(w: &WallLayout) -> String {
    let mut at: Vec<Span> = full_height(w).collect();
    at.sort_by(|a, b| a.low.total_cmp(&b.low));
    let list: Vec<String> = at.windows(2).map(|p| num(p[1].low - p[0].high)).collect();
    format!("{}  {}\n", w.name(), list.join(" "))
}

fn full_height(w: &WallLayout) -> impl Iterator<Item = Span> + '_ {
    w.frame.members.iter().filter(|m| m.role.is_full_height()).map(|m| m.solid.stations())
}

/// Pieces of one role and length, counted.
fn lengths(w: &WallLayout) -> String {
    let mut counts: BTreeMap<(Role, String), usize> = BTreeMap::new();
    for m in &w.frame.members {
        let length = format!("{:>8}", cut(&m.cut()));
        *counts.entry((m.role, length)).or_default() += 1;
    }
    let mut out = String::new();
    for ((role, length), n) in counts {
        let _ = writeln!(out, "{}  {:<13} {length} × {n}", w.name(), role.label());
    }
    out
}

/// How many of each role.
fn count(w: &WallLayout) -> String {
    let mut counts: BTreeMap<Role, usize> = BTreeMap::new();
    for m in &w.frame.members {
        *counts.entry(m.role).or_default() += 1;
    }
    let list: Vec<String> = counts.iter().map(|(r, n)| format!("{} {n}", r.label())).collect();
    format!("{}  {}\n", w.name(), list.join(", "))
}

/// Plates, heads of openings and sills.
fn plates(w: &WallLayout) -> String {
    let lying = |m: &&Member| m.role.is_plate() || matches!(m.role, Role::OpeningHead | Role::Sill);
    w.frame.members.iter().filter(lying).map(|m| member(w, m)).collect()
}

/// Noggin rows: their height, then each noggin's length from the start.
fn noggins(w: &WallLayout) -> String {
    let rows: Vec<String> = w.frame.rows.iter().map(|r| num(r.height)).collect();
    let mut out = format!("{}  rows {}\n", w.name(), rows.join(" "));
    let needed = w.frame.rows.iter().filter(|r| r.why.is_needed());
    for row in needed {
        let _ = writeln!(out, "    row {} {}", num(row.height), row.why.label());
    }
    let mut by_height: BTreeMap<i64, Vec<&Member>> = BTreeMap::new();
    let lies =
        |r: Role| matches!(r, Role::Noggin | Role::BoxNoggin | Role::Pattress | Role::StudTrimmer);
    for m in w.frame.members.iter().filter(|m| lies(m.role)) {
        let centre = (m.solid.heights().centre() * 10.0).round() as i64;
        by_height.entry(centre).or_default().push(m);
    }
    for (height, mut row) in by_height {
        row.sort_by(|a, b| a.solid.stations().low.total_cmp(&b.solid.stations().low));
        let list: Vec<String> = row
            .iter()
            .map(|m| num(m.cut().length) + if m.measure_in_place { "?" } else { "" })
            .collect();
        let _ = writeln!(out, "    at {}: {}", num(height as f64 / 10.0), list.join(" "));
    }
    out
}

/// Platforms: their run, what holds their sides, and their running marks.
fn platforms(layout: &Layout) -> String {
    let mut out = String::new();
    for p in &layout.platforms {
        let spec = &p.spec;
        let _ = writeln!(
            out,
            "{}  run {}  across 0..{}  z {}  finished {}",
            p.name(),
            span(spec.run()),
            num(spec.width),
            span(spec.heights),
            span(spec.finished)
        );
        for (side, held) in ["start", "end", "first", "last"].iter().zip(&spec.held) {
            let list: Vec<String> =
                held.iter().map(|h| format!("{} {}", h.by.label(), span(h.span))).collect();
            let _ = writeln!(out, "    {side}: {}", list.join(", "));
        }
        let marks = layout_core::platform::running(spec, &p.frame);
        let list: Vec<String> =
            marks.iter().map(|m| format!("{} {}", num(m.at), m.member)).collect();
        let _ = writeln!(out, "    marks {}", list.join(", "));
    }
    out.trim_end().to_string()
}

/// Every piece of the platforms: x along their width, y along their depth.
fn joists(layout: &Layout) -> String {
    let mut out = String::new();
    for p in &layout.platforms {
        for m in &p.frame.members {
            let _ = write!(
                out,
                "{:<7} {:<14} x {:<16} y {:<16} z {:<14} cut {}",
                m.full_mark(p.name()),
                m.role.label(),
                span(m.solid.stations()),
                span(m.solid.across()),
                span(m.solid.heights()),
                cut(&m.cut()),
            );
            if m.timber != p.spec.timber {
                let _ = write!(out, "  of {}", m.timber.size());
            }
            out.push('\n');
        }
    }
    out.trim_end().to_string()
}

/// The holes in the frame.
fn openings(w: &WallLayout) -> String {
    let mut out = String::new();
    for h in &w.spec.holes {
        let sill = h.sill.map_or("floor".into(), num);
        let _ = writeln!(
            out,
            "{}  {} {}  x {}  z {}..{}  width {}",
            w.name(),
            h.label,
            h.name,
            span(h.span),
            sill,
            num(h.top),
            num(h.span.length())
        );
    }
    out
}

/// Where the sole is fixed, and what is packed under it there.
fn fixings(w: &WallLayout) -> String {
    let mut out = String::new();
    for f in packers::fixings(&w.spec, &w.frame) {
        let made = packers::shims(&w.spec, &f);
        let _ = write!(out, "{}  {:<7} {:<3} {}", w.name(), num(f.at), f.plate, num(f.packer));
        if !made.shims.is_empty() {
            let _ = write!(out, " = {}", made.text(w.spec.units));
        }
        if made.left > 0.0 {
            let _ = write!(out, "  left {}", num(made.left));
        }
        out += if f.blocked { "  over a pipe\n" } else { "\n" };
    }
    out
}

fn diagonals(w: &WallLayout) -> String {
    let [a, b] = setout::diagonals(&w.spec);
    format!("{}  {} {}\n", w.name(), num(a), num(b))
}

/// What becomes of the soles at each doorway.
fn soles(w: &WallLayout) -> String {
    let mut out = String::new();
    for hole in &w.spec.holes {
        if let Some(soles) = setout::soles_at(w, hole) {
            let _ = writeln!(out, "{}  {}: {}", w.name(), hole.name, soles.text());
        }
    }
    out
}

/// Uprights as they are sent to the saw.
fn cut_to(w: &WallLayout) -> String {
    let mut list: Vec<&Member> = w.frame.members.iter().filter(|m| !m.role.is_plate()).collect();
    list.retain(|m| m.role.is_full_height() || matches!(m.role, Role::Cripple | Role::Riser));
    let list: Vec<String> =
        list.into_iter().map(|m| format!("{} {}", m.mark, num(w.cut_length(m)))).collect();
    format!("{}  {}\n", w.name(), list.join(", "))
}

/// The walls called `about`; all when there are none.
fn walls<'a>(layout: &'a Layout, about: &'a [&str]) -> impl Iterator<Item = &'a WallLayout> {
    let asked = move |w: &&WallLayout| about.is_empty() || about.contains(&w.name().as_str());
    layout.walls.iter().filter(asked)
}

/// Levels with what is to be added to the laser line, or taken off.
fn levels(job: &Job, layout: &Layout, about: &[&str]) -> Result<String, String> {
    let mut out = String::new();
    for w in walls(layout, about) {
        for level in setout::levels(job, w) {
            let by = setout::from_laser(job, level.height);
            let _ = writeln!(
                out,
                "{}  {:<24} {:>8} {:>8}",
                w.name(),
                level.name,
                num(level.height),
                num(by)
            );
        }
    }
    Ok(out.trim_end().to_string())
}

/// What the plates lose as they dry.
fn drying(job: &Job, layout: &Layout, about: &[&str]) -> Result<String, String> {
    let mut out = String::new();
    for w in walls(layout, about) {
        let d = setout::drying(job.levels.moisture, &w.spec);
        let hundredths = |v: f64| (v * 100.0).round() / 100.0;
        let _ = writeln!(
            out,
            "{}  {} plates  {} -> {}  loses {}",
            w.name(),
            d.plates,
            hundredths(d.now),
            hundredths(d.in_use),
            hundredths(d.loss())
        );
    }
    Ok(out.trim_end().to_string())
}

/// The sum from a leaf to its hole.
fn stack(job: &Job, name: &str) -> Result<String, String> {
    let (_, opening) = job.opening(&Name::new(name)).ok_or(format!("no opening “{name}”"))?;
    let OpeningKind::Door(door) = &opening.kind else { return Err(format!("{name} is no door")) };
    let stack = door.stack();
    let mut out = String::new();
    for line in &stack.lines {
        let _ = writeln!(out, "{:<8} {} × {}", line.what, num(line.width), num(line.height));
    }
    Ok(out + &format!("hole     {} × {}", num(stack.width), num(stack.height)))
}

/// Snags as code, what it is of and where; with words as well when `messages`.
fn snags(layout: &Layout, messages: bool) -> String {
    let mut out = String::new();
    for s in &layout.snags {
        let _ = write!(out, "{} {}  {}", s.severity().label(), s.code.id(), s.of.label());
        if let (Some(wall), Some(station)) = (&s.wall, s.station) {
            let _ = write!(out, "  {wall} {}", num(station));
        }
        if let Some(height) = s.height {
            let _ = write!(out, "  z {}", num(height));
        }
        if let (Some(value), Some(limit)) = (s.value, s.limit) {
            let _ = write!(out, "  {} / {}", num(value), num(limit));
        }
        out.push('\n');
        if messages {
            let _ = writeln!(out, "    {}\n    {}", s.message, s.remedy);
        }
    }
    if out.is_empty() { "none".into() } else { out.trim_end().to_string() }
}

/// The room as its measurements make it: corners, then what each measurement is out by.
fn survey(job: &Job, layout: &Layout) -> String {
    let Some(solved) = &layout.survey else { return "nothing measured".into() };
    let mut out = String::new();
    for c in &solved.corners {
        let error = c.error.map_or("free".into(), |e| format!("± {}", num(e)));
        let _ = writeln!(out, "{}  {}, {}  {error}", c.name, num(c.at.x), num(c.at.y));
    }
    for (i, (line, r)) in job.shell.survey.rows.iter().zip(&solved.readings).enumerate() {
        let what = job.shell.survey.label(&line.what);
        let left = r.residual.map_or("to measure".into(), |v| format!("out by {}", num(v)));
        let suspect = if solved.suspects.contains(&i) { "  suspect" } else { "" };
        let _ = writeln!(out, "{what}  {left}{suspect}");
    }
    let wanted: Vec<String> =
        solved.wanted.iter().map(|what| job.shell.survey.label(what)).collect();
    let _ = write!(out, "free in {}  checks {}", solved.freedom, solved.redundancy);
    if !wanted.is_empty() {
        let _ = write!(out, "  next {}", wanted.join(", "));
    }
    out
}

fn totals(layout: &Layout) -> String {
    let mut out = String::new();
    for t in pieces::totals(layout) {
        let size = t.timber.size();
        let _ =
            writeln!(out, "{size} {}  {} pieces  {}", t.timber.grade(), t.pieces, num(t.length));
    }
    out.trim_end().to_string()
}

fn batches(layout: &Layout) -> String {
    let mut out = String::new();
    for b in pieces::batches(layout) {
        let marks: Vec<String> = b.marks.iter().map(|(w, m)| format!("{w}-{m}")).collect();
        let measure = if b.measure_in_place { "  measure" } else { "" };
        let _ = writeln!(
            out,
            "{}  {} × {}{measure}  {}",
            b.timber.size(),
            cut(&b.cut),
            b.marks.len(),
            marks.join(" ")
        );
    }
    out.trim_end().to_string()
}

/// Sheets to buy, and what each is cut into: boards and offcuts worth keeping, by their lower left corner.
fn sheets(job: &Job, layout: &Layout) -> String {
    let size = |(w, l): (f64, f64)| format!("{}x{}", num(w), num(l));
    let patch = |p: Patch| format!("{} at {},{}", size((p.width, p.length)), num(p.x), num(p.y));
    let mut out = String::new();
    for plan in board_plan::board_plans(job, layout) {
        let _ = writeln!(
            out,
            "{} {}  buy {}  no fewer than {}{}{}  {} boards, {} m2 of {}",
            plan.kind,
            num(plan.thickness),
            plan.bought(),
            plan.fewest,
            if plan.proven { "  proven" } else { "" },
            plan.price.map_or(String::new(), |p| format!("  price {p:.2}")),
            plan.boards,
            num(plan.area / 1e6),
            num(plan.sheet_area() / 1e6),
        );
        for sheet in &plan.sheets {
            let owned = if sheet.owned { " owned" } else { "" };
            let _ = writeln!(out, "  {} x {}{owned}", sheet.count, size(sheet.size));
            for b in &sheet.boards {
                let marks: Vec<String> = b.marks.iter().map(ToString::to_string).collect();
                let turned = if b.turned { " turned" } else { "" };
                let _ = writeln!(out, "    {}{turned}  {}", patch(b.at), marks.join(", "));
            }
            for &offcut in &sheet.offcuts {
                let _ = writeln!(out, "    left {}", patch(offcut));
            }
        }
        for mark in &plan.left_over {
            let _ = writeln!(out, "  no sheet for {mark}");
        }
    }
    out.trim_end().to_string()
}

/// Where the edges of two upright boards meet, from the start of the frame.
fn joints(w: &WallLayout) -> String {
    let start = w.spec.along().low;
    let mut line = w.name().to_string();
    for at in board_joints(&w.spec, WallEnd::Start) {
        let _ = write!(line, " {}", num(at - start));
    }
    line + "\n"
}

/// The boards of every layer: their outlines when they are no rectangles, what they are cut from, and the joints.
fn boards(w: &WallLayout) -> String {
    let mut text = String::new();
    for layer in &w.boards.layers {
        let (side, letter) = match layer.face {
            Face::Right => ("right", 'R'),
            Face::Left => ("left", 'L'),
        };
        let of = format!(
            "{} {} {}",
            layer.board.kind,
            num(layer.board.thickness),
            layer.board.lay.label()
        );
        let sheet = format!("{}x{}", num(layer.sheet.0), num(layer.sheet.1));
        let _ = writeln!(text, "{} {side} {}  {of}, of {sheet}", w.name(), layer.layer + 1);
        for p in &layer.pieces {
            let shape = &p.shape;
            let place = format!("x {}  z {}", span(shape.stations()), span(shape.heights()));
            let cut = if layer.is_whole(p) {
                "whole".to_string()
            } else {
                format!("cut {}x{}", num(p.blank.0), num(p.blank.1))
            };
            let _ = write!(text, "  B{letter}{:<2} {place:<38} {cut}", p.number);
            if shape.outline.len() != 4 || !shape.holes.is_empty() {
                let points = |list: &[[f64; 2]]| {
                    list.iter()
                        .map(|[s, z]| format!("{},{}", num(*s), num(*z)))
                        .collect::<Vec<_>>()
                        .join(" ")
                };
                let _ = write!(text, "  {}", points(&shape.outline));
                for hole in &shape.holes {
                    let _ = write!(text, "  less {}", points(hole));
                }
            }
            text.push('\n');
        }
        for j in &layer.joints {
            let at = if j.along.length() > 0.0 {
                format!("z {}  x {}", num(j.heights.low), span(j.along))
            } else {
                format!("x {}  z {}", num(j.along.low), span(j.heights))
            };
            let bare =
                if j.bare > 0.05 { format!("  bare {}", num(j.bare)) } else { String::new() };
            let corner = if j.at_corner { "  at a corner" } else { "" };
            let _ = writeln!(text, "  joint {at}{bare}{corner}");
        }
    }
    text
}

/// The strips over the ends of a wall and in its reveals.
fn strips(w: &WallLayout) -> String {
    let mut text = String::new();
    for s in &w.boards.strips {
        let [x, y, z] = s.place;
        let _ = writeln!(
            text,
            "{} {} {}  {} {}  {}: x {}  y {}  z {}  cut {}x{}, {:.2} kg, {} screws",
            w.name(),
            s.closes.on().label(),
            s.number,
            s.board.kind,
            num(s.board.thickness),
            s.closes.in_words(),
            span(x),
            span(y),
            span(z),
            num(s.blank().0),
            num(s.blank().1),
            s.mass(),
            s.screws(&Sundries::default()).len(),
        );
    }
    text
}

//! For openings: move one along, hang its door the other way.

use super::{Case, Try};
use crate::document::{Door, Edit, Face, Hinge, Hold, Opening, OpeningKind, WallEnd};
use crate::id::ItemRef;
use crate::snag::Code;

/// How far an opening or a fitting is moved, mm, the shortest way first.
pub(super) const STEPS: [f64; 10] =
    [10.0, 25.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 450.0, 600.0];

pub(super) fn kinds(case: &Case) -> Vec<Vec<Try>> {
    let mut kinds = Vec::new();
    let ItemRef::Opening(name) = &case.snag.of else { return kinds };
    let Some((wall, opening)) = case.job.opening(name) else { return kinds };
    let put = |what: &str, opening: Opening| {
        case.step(what, Edit::PutOpening { wall: wall.name.clone(), opening })
    };
    let to_move = [
        Code::OpeningPastEnd,
        Code::OpeningNoStud,
        Code::OpeningsClash,
        Code::PocketFouled,
        Code::SlideFouled,
        Code::SwingFouled,
        Code::ArchitraveFouled,
        Code::NibShort,
        Code::TrackNoGround,
    ];
    if let (OpeningKind::Door(door), true) =
        (&opening.kind, case.is(&[Code::SwingFouled, Code::NibShort, Code::SlideFouled]))
    {
        let hung = |label: &str, door: Door| {
            let kind = OpeningKind::Door(door);
            vec![Try::new(label, put("hang", Opening { kind, ..opening.clone() }))]
        };
        let hinge = if door.hinge == Hinge::Start { Hinge::End } else { Hinge::Start };
        let opens = if door.opens == Face::Left { Face::Right } else { Face::Left };
        kinds.push(hung("Hang it on its other side", Door { hinge, ..door.clone() }));
        kinds.push(hung("Let it open the other way", Door { opens, ..door.clone() }));
        kinds.push(hung(
            "Hang it on its other side and let it open the other way",
            Door { hinge, opens, ..door.clone() },
        ));
    }
    if case.is(&to_move) {
        let way = if opening.hold.from == WallEnd::Start { 1.0 } else { -1.0 };
        for sign in [-1.0, 1.0] {
            let moves = STEPS.into_iter().map(|step| {
                let by = step * sign;
                let hold = Hold { distance: opening.hold.distance + by * way, ..opening.hold };
                let label = format!("Move it {} {}", case.length(step), Case::towards(by));
                Try::new(label, put("move", Opening { hold, ..opening.clone() }))
            });
            kinds.push(moves.collect());
        }
    }
    if let (OpeningKind::Door(door), true) = (&opening.kind, case.is(&[Code::HoleTooSmall])) {
        let kind = OpeningKind::Door(Door { hole: None, ..door.clone() });
        let label = "Take the size of the hole from the leaf";
        kinds.push(vec![Try::new(label, put("change", Opening { kind, ..opening.clone() }))]);
    }
    kinds
}

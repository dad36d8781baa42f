//! Bars: pieces that no bar of their section can give.

use crate::frame::Frame;
use crate::id::ItemRef;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};

/// Pieces longer than the longest bar of the make-up's section.
pub(super) fn too_long(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    let Some(longest) = spec.longest else { return };
    for member in frame.members.iter().filter(|m| m.timber == spec.makeup.timber) {
        let length = member.cut().length;
        if length > longest + SAME {
            snags.push(
                Snag::new(
                    Code::PieceTooLong,
                    ItemRef::Member { wall: spec.name.clone(), mark: member.mark },
                    format!(
                        "Piece {} ({}) is {} long and the longest bar is {}",
                        member.full_mark(&spec.name),
                        member.role.label(),
                        spec.units.show(length),
                        spec.units.show(longest)
                    ),
                    "Add a longer bar to the timber list, or change the wall.",
                )
                .in_wall(&spec.name, member.solid.stations().centre())
                .measured(length, longest),
            );
        }
    }
}

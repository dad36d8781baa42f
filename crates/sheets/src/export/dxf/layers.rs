//! Names of layers, after the scheme of ISO 13567-2: two letters for who drew it, six for what it is of, two for what
//! kind of drawing it is: `W-TIMBERE-`.

use layout_core::id::ItemRef;

/// What kind of drawing it is: the last two letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    /// Edges of the thing itself.
    Edge,
    /// Hatches.
    Hatch,
    /// Lettering.
    Text,
    /// Dimension and leader lines with their figures.
    Dimension,
}

/// A layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Layer {
    element: &'static str,
    part: Part,
}

impl Layer {
    /// The layer of a part of a drawing that is `of` something.
    pub(super) fn of(of: Option<&ItemRef>, part: Part) -> Layer {
        let element = match of {
            None | Some(ItemRef::Job | ItemRef::MakeUp(_) | ItemRef::Underlay) => "GENERL",
            Some(ItemRef::Wall(_)) => "WALL--",
            Some(ItemRef::Member { .. } | ItemRef::NogginRow { .. }) => "TIMBER",
            Some(ItemRef::Opening(_)) => "OPENIN",
            Some(ItemRef::Platform(_) | ItemRef::PlatformHole(_)) => "PLATFO",
            Some(ItemRef::Point(_) | ItemRef::Route(_)) => "FIRSTF",
            Some(ItemRef::Fitting(_)) => "FITTIN",
            Some(ItemRef::Room(_)) => "ROOM--",
            Some(ItemRef::Datum | ItemRef::Node(_) | ItemRef::Reading { .. } | ItemRef::Survey) => {
                "SETOUT"
            }
            Some(
                ItemRef::Corner(_)
                | ItemRef::Side(_)
                | ItemRef::Post(_)
                | ItemRef::Beam(_)
                | ItemRef::Roof(_),
            ) => "SHELL-",
        };
        Layer { element, part }
    }

    /// Its name.
    pub(super) fn name(self) -> String {
        let part = match self.part {
            Part::Edge => "E-",
            Part::Hatch => "H-",
            Part::Text => "T-",
            Part::Dimension => "D-",
        };
        format!("W-{}{part}", self.element)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_have_ten_letters() {
        for of in [None, Some(ItemRef::Wall("A".into())), Some(ItemRef::Corner(0))] {
            for part in [Part::Edge, Part::Hatch, Part::Text, Part::Dimension] {
                assert_eq!(Layer::of(of.as_ref(), part).name().len(), 10);
            }
        }
    }
}

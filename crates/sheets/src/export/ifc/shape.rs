//! Solids: six-sided pieces by their corners, boards by their outline and thickness.

use layout_core::boards::Shape;
use layout_core::frame::Solid;
use layout_core::math::round_to;

use super::step::{Id, Step, direction, list, point, real};

/// A point in space, mm.
pub(super) type Xyz = [f64; 3];

/// The six sides of a piece by the numbers of its corners: its two ends, then the four between them.
const SIDES: [[usize; 4]; 6] =
    [[3, 2, 1, 0], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]];

/// A side that is out of its plane by more is drawn as two triangles, mm.
const FLAT: f64 = 1e-4;

/// A closed solid: its points, each once, and its faces, seen anticlockwise from outside.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Faces {
    points: Vec<Xyz>,
    faces: Vec<Vec<usize>>,
}

impl Faces {
    /// A piece by its eight corners. Corners that fall together (a feather edge) are one; `None` when nothing of it
    /// is left, or a corner is no place.
    pub(super) fn of(solid: &Solid) -> Option<Faces> {
        Faces::of_corners(solid.corners().map(|p| [p.x, p.y, p.z]))
    }

    /// The same by corners in the order of [`Solid::corners`].
    pub(super) fn of_corners(corners: [Xyz; 8]) -> Option<Faces> {
        let corners = corners.map(|p| p.map(|v| round_to(v, 1e-6) + 0.0));
        if !corners.iter().flatten().all(|v| v.is_finite()) {
            return None;
        }
        let mut points: Vec<Xyz> = Vec::new();
        let numbers = corners.map(|p| match points.iter().position(|q| *q == p) {
            Some(i) => i,
            None => {
                points.push(p);
                points.len() - 1
            }
        });
        let mut faces: Vec<Vec<usize>> = Vec::new();
        for side in SIDES {
            let mut face: Vec<usize> = side.iter().map(|i| numbers[*i]).collect();
            face.dedup();
            while face.len() > 1 && face.first() == face.last() {
                face.pop();
            }
            match face[..] {
                [a, b, c, d] if off_plane([a, b, c, d].map(|i| points[i])) > FLAT => {
                    faces.extend([vec![a, b, c], vec![a, c, d]]);
                }
                [_, _, _, ..] => faces.push(face),
                _ => {}
            }
        }
        let mut solid = Faces { points, faces };
        let volume = solid.volume();
        if volume < 0.0 {
            solid.faces.iter_mut().for_each(|f| f.reverse());
        }
        (volume.abs() > 1.0).then_some(solid)
    }

    /// Its volume, mm³: the pyramids from the first corner to every face.
    pub(super) fn volume(&self) -> f64 {
        let Some(first) = self.points.first() else { return 0.0 };
        let fan = |face: &Vec<usize>| {
            let at = |i: usize| less(self.points[face[i]], *first);
            (1..face.len().saturating_sub(1))
                .map(|i| dot(at(0), cross(at(i), at(i + 1))))
                .sum::<f64>()
        };
        self.faces.iter().map(fan).sum::<f64>() / 6.0
    }

    /// How long the line through `from` along the unit vector `along` runs in it, mm. It has no hollows.
    pub(super) fn chord(&self, from: Xyz, along: Xyz) -> f64 {
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        for face in &self.faces {
            let at = |i: usize| self.points[face[i]];
            // Twice its area along its normal: of a face with corners that fall together, too.
            let normal = (1..face.len().saturating_sub(1)).fold([0.0; 3], |n: Xyz, i| {
                let c = cross(less(at(i), at(0)), less(at(i + 1), at(0)));
                [n[0] + c[0], n[1] + c[1], n[2] + c[2]]
            });
            let (towards, beyond) = (dot(normal, along), dot(normal, less(from, at(0))));
            if towards.abs() <= 1e-9 * dot(normal, normal).sqrt() {
                if beyond > 0.0 {
                    return 0.0;
                }
            } else if towards > 0.0 {
                high = high.min(-beyond / towards);
            } else {
                low = low.max(-beyond / towards);
            }
        }
        (high - low).max(0.0)
    }

    /// The solid as an entity.
    pub(super) fn put(&self, step: &mut Step) -> Id {
        let points = step.put(format_args!(
            "IFCCARTESIANPOINTLIST3D({})",
            list(self.points.iter().map(|p| point(p)))
        ));
        let face = |f: &Vec<usize>| {
            let numbers = list(f.iter().map(|i| i + 1));
            step.put(format_args!("IFCINDEXEDPOLYGONALFACE({numbers})"))
        };
        let faces = list(self.faces.iter().map(face).collect::<Vec<_>>());
        step.put(format_args!("IFCPOLYGONALFACESET({points},.T.,{faces},$)"))
    }
}

/// A surface with no thickness, part by part: the outline of each, anticlockwise as one looks at it, then its holes.
pub(super) fn sheet(step: &mut Step, parts: &[Vec<Vec<Xyz>>]) -> Id {
    let points: Vec<&Xyz> = parts.iter().flatten().flatten().collect();
    let all = step.put(format_args!(
        "IFCCARTESIANPOINTLIST3D({})",
        list(points.iter().map(|p| point(&p[..])))
    ));
    let mut next = 1;
    let mut faces: Vec<Id> = Vec::new();
    for part in parts {
        let mut numbers = part.iter().map(|ring| {
            let first = next;
            next += ring.len();
            list(first..next)
        });
        let Some(outline) = numbers.next() else { continue };
        let holes: Vec<String> = numbers.collect();
        faces.push(if holes.is_empty() {
            step.put(format_args!("IFCINDEXEDPOLYGONALFACE({outline})"))
        } else {
            let holes = list(holes);
            step.put(format_args!("IFCINDEXEDPOLYGONALFACEWITHVOIDS({outline},{holes})"))
        });
    }
    step.put(format_args!("IFCPOLYGONALFACESET({all},.F.,{},$)", list(faces)))
}

/// A board that lies in a plane: where its places (0, 0), (1, 0) and (0, 1) are on the side that looks at the timber,
/// and how far it goes from there, away from the timber.
pub(super) struct Flat {
    pub(super) origin: Xyz,
    pub(super) x: Xyz,
    pub(super) y: Xyz,
    /// Thickness, mm.
    pub(super) thickness: f64,
    /// The way away from the timber.
    pub(super) out: Xyz,
}

impl Flat {
    /// A board with this shape as an entity: its outline with its holes, drawn out.
    pub(super) fn put(&self, step: &mut Step, shape: &Shape) -> Id {
        let mut ring = |points: &[[f64; 2]]| {
            let mut points: Vec<Id> = points
                .iter()
                .map(|p| step.put(format_args!("IFCCARTESIANPOINT({})", point(p))))
                .collect();
            points.extend(points.first().copied());
            step.put(format_args!("IFCPOLYLINE({})", list(points)))
        };
        let outline = ring(&shape.outline);
        let holes: Vec<Id> = shape.holes.iter().map(|h| ring(h)).collect();
        let profile = if holes.is_empty() {
            step.put(format_args!("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,{outline})"))
        } else {
            let holes = list(holes);
            step.put(format_args!("IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,{outline},{holes})"))
        };
        let normal = cross(self.x, self.y);
        let place = placement(step, self.origin, normal, self.x);
        let up = if dot(normal, self.out) > 0.0 { 1.0 } else { -1.0 };
        let way = step.put(format_args!("IFCDIRECTION({})", direction(&[0.0, 0.0, up])));
        let depth = real(self.thickness);
        step.put(format_args!("IFCEXTRUDEDAREASOLID({profile},{place},{way},{depth})"))
    }
}

/// A place with its own z and x axes.
pub(super) fn placement(step: &mut Step, origin: Xyz, z: Xyz, x: Xyz) -> Id {
    let at = step.put(format_args!("IFCCARTESIANPOINT({})", point(&origin)));
    let z = step.put(format_args!("IFCDIRECTION({})", direction(&z)));
    let x = step.put(format_args!("IFCDIRECTION({})", direction(&x)));
    step.put(format_args!("IFCAXIS2PLACEMENT3D({at},{z},{x})"))
}

pub(super) fn less(a: Xyz, b: Xyz) -> Xyz {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn dot(a: Xyz, b: Xyz) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: Xyz, b: Xyz) -> Xyz {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// How far the fourth corner is from the plane of the others, mm.
fn off_plane([a, b, c, d]: [Xyz; 4]) -> f64 {
    let normal = cross(less(c, a), less(d, b));
    let size = dot(normal, normal).sqrt();
    if size < 1e-9 { 0.0 } else { dot(less(b, a), normal).abs() / size }
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::span::Span;

    fn stud(head: (f64, f64)) -> Solid {
        Solid::upright(Span::from(600.0, 45.0), Span::from(0.0, 95.0), (38.0, 38.0), head)
    }

    #[test]
    fn a_stud_has_six_faces_and_its_volume() {
        let faces = Faces::of(&stud((2348.0, 2348.0))).unwrap();
        assert_eq!((faces.points.len(), faces.faces.len()), (8, 6));
        assert!((faces.volume() - 45.0 * 95.0 * 2310.0).abs() < 1e-3);
    }

    #[test]
    fn faces_look_outwards_whichever_way_the_corners_go() {
        let [a, b] = stud((2300.0, 2345.0)).ends;
        let mirrored = Solid { ends: [b, a] };
        assert!(Faces::of(&mirrored).unwrap().volume() > 0.0);
    }

    // A wedge: half a box. Its feather edge has two corners in one.
    #[test]
    fn a_feather_edge_is_one_edge() {
        let wedge = stud((38.0, 2348.0));
        let faces = Faces::of(&wedge).unwrap();
        assert_eq!((faces.points.len(), faces.faces.len()), (6, 5));
        assert!((faces.volume() - 45.0 * 95.0 * 2310.0 / 2.0).abs() < 1e-3);
        assert_eq!(Faces::of(&stud((38.0, 38.0))), None);
        assert_eq!(Faces::of(&stud((f64::NAN, 38.0))), None);
    }

    #[test]
    fn a_twisted_side_is_two_triangles() {
        let mut solid = stud((2348.0, 2348.0));
        solid.ends[1][2].z += 10.0;
        let faces = Faces::of(&solid).unwrap();
        assert_eq!(faces.faces.len(), 7);
        assert!(faces.volume() > 45.0 * 95.0 * 2310.0);
    }
}

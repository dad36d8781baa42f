//! The whole job as a building model: IFC4 (ISO 16739-1) in the text form of ISO 10303-21, Reference View.
//!
//! One storey at finished floor level, in millimetres, job coordinates. Every partition is an `IfcWall` made up of its
//! timber and its boards; every piece of timber an `IfcMember`, every board an `IfcPlate`, every opening an
//! `IfcOpeningElement` that voids its wall, every door an `IfcDoor` that fills one. Platforms are assemblies of the
//! same, the room's own ceiling an `IfcCovering`. Holes and notches for cables and pipes void the pieces they are in;
//! insulation, points and fittings are where they go, and what already stands says that it does.

mod step;
mod guid;
mod shape;
mod facts;
mod existing;
mod bores;
mod filling;
mod hung;
mod opening;
mod parts;

use std::collections::BTreeMap;

use layout_core::document::{Job, Timber};
use layout_core::id::Name;
use layout_core::layout::Layout;

use guid::guid;
use step::{Id, Step, list, real, text};

/// The model as the text of an IFC file. Equal jobs give equal bytes; the same thing has the same `GlobalId` in every
/// file of a job of that title.
pub fn ifc(job: &Job, layout: &Layout) -> String {
    let mut model = Model::new(job);
    existing::existing(&mut model);
    for wall in &layout.walls {
        parts::wall(&mut model, wall);
    }
    for platform in &layout.platforms {
        parts::platform(&mut model, platform);
    }
    if let Some(ceiling) = &layout.ceiling {
        parts::ceiling(&mut model, ceiling);
    }
    model.finish()
}

/// The model so far.
struct Model<'a> {
    step: Step,
    job: &'a Job,
    /// Where solids belong.
    body: Id,
    /// Where lines of walls belong.
    axis: Id,
    storey: Id,
    /// The storey's place, which all others are given from.
    place: Id,
    /// What stands in the storey.
    contained: Vec<Id>,
    /// The pieces of each section.
    timber: BTreeMap<Timber, Vec<Id>>,
    /// The boards of each kind.
    boards: BTreeMap<Name, Vec<Id>>,
    /// The pieces of insulation of each kind.
    filling: BTreeMap<Name, Vec<Id>>,
}

impl<'a> Model<'a> {
    /// Project, units, site, building and storey.
    fn new(job: &'a Job) -> Model<'a> {
        let mut step = Step::default();
        let id = |what: &str| guid(&[&job.title, what]);
        let title = text(&job.title);
        let units = units(&mut step);
        let zero = step.put("IFCCARTESIANPOINT((0.,0.,0.))");
        let origin = step.put(format_args!("IFCAXIS2PLACEMENT3D({zero},$,$)"));
        let context = step
            .put(format_args!("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,0.0001,{origin},$)"));
        let mut sub = |name: &str, view: &str| {
            step.put(format_args!(
                "IFCGEOMETRICREPRESENTATIONSUBCONTEXT('{name}','Model',*,*,*,*,{context},$,.{view}.,$)"
            ))
        };
        let (body, axis) = (sub("Body", "MODEL_VIEW"), sub("Axis", "GRAPH_VIEW"));
        let project = step.put(format_args!(
            "IFCPROJECT('{}',$,{title},$,$,$,$,({context}),{units})",
            id("project")
        ));
        let place = |step: &mut Step, within: Option<Id>| {
            let within = within.map_or("$".into(), |w| w.to_string());
            step.put(format_args!("IFCLOCALPLACEMENT({within},{origin})"))
        };
        let at_site = place(&mut step, None);
        let site = step.put(format_args!(
            "IFCSITE('{}',$,'Site',$,$,{at_site},$,$,.ELEMENT.,$,$,$,$,$)",
            id("site")
        ));
        let at_building = place(&mut step, Some(at_site));
        let building = step.put(format_args!(
            "IFCBUILDING('{}',$,{title},$,$,{at_building},$,$,.ELEMENT.,$,$,$)",
            id("building")
        ));
        let at_storey = place(&mut step, Some(at_building));
        let storey = step.put(format_args!(
            "IFCBUILDINGSTOREY('{}',$,'Finished floor',$,$,{at_storey},$,$,.ELEMENT.,0.)",
            id("storey")
        ));
        for (what, whole, part) in
            [("sites", project, site), ("buildings", site, building), ("storeys", building, storey)]
        {
            step.put(format_args!("IFCRELAGGREGATES('{}',$,$,$,{whole},({part}))", id(what)));
        }
        Model {
            step,
            job,
            body,
            axis,
            storey,
            place: at_storey,
            contained: Vec::new(),
            timber: BTreeMap::new(),
            boards: BTreeMap::new(),
            filling: BTreeMap::new(),
        }
    }

    /// The `GlobalId` of what `parts` name in this job, in quotes.
    fn id(&self, parts: &[&str]) -> String {
        let mut all = vec![self.job.title.as_str()];
        all.extend(parts);
        format!("'{}'", guid(&all))
    }

    /// The solids `items` as the representation of a product.
    fn body(&mut self, kind: &str, items: &[Id]) -> Id {
        let (body, items) = (self.body, list(items));
        let shown =
            self.step.put(format_args!("IFCSHAPEREPRESENTATION({body},'Body','{kind}',{items})"));
        self.step.put(format_args!("IFCPRODUCTDEFINITIONSHAPE($,$,({shown}))"))
    }

    /// The place of what is given in plan coordinates.
    fn whole(&mut self) -> Id {
        let at = shape::placement(&mut self.step, [0.0; 3], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
        let within = self.place;
        self.step.put(format_args!("IFCLOCALPLACEMENT({within},{at})"))
    }

    /// Takes `opening` out of `thing`.
    fn voids(&mut self, of: &[&str], thing: Id, opening: Id) {
        let id = self.id(of);
        self.step.put(format_args!("IFCRELVOIDSELEMENT({id},$,$,$,{thing},{opening})"));
    }

    /// Makes `whole` of `parts`; nothing when there are none.
    fn made_of(&mut self, of: &[&str], whole: Id, parts: &[Id]) {
        if !parts.is_empty() {
            let id = self.id(of);
            let parts = list(parts);
            self.step.put(format_args!("IFCRELAGGREGATES({id},$,$,$,{whole},{parts})"));
        }
    }

    fn finish(mut self) -> String {
        if !self.contained.is_empty() {
            let (id, all, storey) =
                (self.id(&["in storey"]), list(std::mem::take(&mut self.contained)), self.storey);
            self.step
                .put(format_args!("IFCRELCONTAINEDINSPATIALSTRUCTURE({id},$,$,$,{all},{storey})"));
        }
        self.sections();
        self.sheets();
        let name = format!("{}.ifc", self.job.title);
        self.step.file(&name, "ViewDefinition [ReferenceView_V1.2]", "IFC4")
    }

    /// What every piece of timber is of: its strength class, in its section.
    fn sections(&mut self) {
        let mut classes: BTreeMap<Name, Id> = BTreeMap::new();
        for (timber, pieces) in std::mem::take(&mut self.timber) {
            let class = match classes.get(timber.grade()) {
                Some(class) => *class,
                None => {
                    let name = text(timber.grade().as_str());
                    let class = self.step.put(format_args!("IFCMATERIAL({name},$,'wood')"));
                    classes.insert(timber.grade().clone(), class);
                    class
                }
            };
            let size = timber.size();
            let (name, profile) = (text(&format!("{size} {}", timber.grade())), text(&size));
            let section = self.step.put(format_args!(
                "IFCRECTANGLEPROFILEDEF(.AREA.,{profile},$,{},{})",
                real(timber.thickness()),
                real(timber.depth())
            ));
            let part =
                self.step.put(format_args!("IFCMATERIALPROFILE({name},$,{class},{section},$,$)"));
            let set = self.step.put(format_args!("IFCMATERIALPROFILESET({name},$,({part}),$)"));
            self.material(&["section", &size, timber.grade().as_str()], set, &pieces);
        }
    }

    /// What every board and every piece of insulation is of.
    fn sheets(&mut self) {
        for (kind, boards) in std::mem::take(&mut self.boards) {
            let name = text(&format!("{kind} board"));
            let material = self.step.put(format_args!("IFCMATERIAL({name},$,$)"));
            self.material(&["board", kind.as_str()], material, &boards);
        }
        for (kind, pieces) in std::mem::take(&mut self.filling) {
            let name = text(kind.as_str());
            let material = self.step.put(format_args!("IFCMATERIAL({name},$,$)"));
            self.material(&["insulation", kind.as_str()], material, &pieces);
        }
    }

    fn material(&mut self, of: &[&str], material: Id, pieces: &[Id]) {
        let (id, pieces) = (self.id(of), list(pieces));
        self.step.put(format_args!("IFCRELASSOCIATESMATERIAL({id},$,$,$,{pieces},{material})"));
    }
}

/// Millimetres, square and cubic metres, radians, kilograms.
fn units(step: &mut Step) -> Id {
    let units = [
        "IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)",
        "IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.)",
        "IFCSIUNIT(*,.VOLUMEUNIT.,$,.CUBIC_METRE.)",
        "IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)",
        "IFCSIUNIT(*,.MASSUNIT.,.KILO.,.GRAM.)",
    ]
    .map(|unit| step.put(unit));
    step.put(format_args!("IFCUNITASSIGNMENT({})", list(units)))
}

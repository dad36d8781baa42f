//! What is said of a thing beside its shape: property sets and quantities.

use super::Model;
use super::step::{Id, list, real, text};

/// The facts of one thing, gathered before they are written.
pub(super) struct Facts {
    properties: Vec<String>,
    quantities: Vec<String>,
}

impl Facts {
    pub(super) fn new() -> Facts {
        Facts { properties: Vec::new(), quantities: Vec::new() }
    }

    fn property(mut self, name: &'static str, value: impl std::fmt::Display) -> Facts {
        self.properties.push(format!("IFCPROPERTYSINGLEVALUE('{name}',$,{value},$)"));
        self
    }

    /// Whether it is new or exists, in the words of the standard's list of them.
    pub(super) fn status(mut self, word: &'static str) -> Facts {
        let value = format!("IFCPROPERTYENUMERATEDVALUE('Status',$,(IFCLABEL('{word}')),$)");
        self.properties.push(value);
        self
    }

    /// With the properties and quantities of `more` after its own.
    pub(super) fn also(mut self, more: Facts) -> Facts {
        self.properties.extend(more.properties);
        self.quantities.extend(more.quantities);
        self
    }

    /// A mark or reference.
    pub(super) fn mark(self, name: &'static str, value: &str) -> Facts {
        self.property(name, format!("IFCIDENTIFIER({})", text(value)))
    }

    /// A word or a few.
    pub(super) fn label(self, name: &'static str, value: &str) -> Facts {
        self.property(name, format!("IFCLABEL({})", text(value)))
    }

    /// A length, mm.
    pub(super) fn length(self, name: &'static str, value: f64) -> Facts {
        self.property(name, format!("IFCLENGTHMEASURE({})", real(value)))
    }

    /// An angle, radians.
    pub(super) fn angle(self, name: &'static str, value: f64) -> Facts {
        self.property(name, format!("IFCPLANEANGLEMEASURE({})", real(value)))
    }

    /// A count.
    pub(super) fn count(self, name: &'static str, value: usize) -> Facts {
        self.property(name, format!("IFCINTEGER({value})"))
    }

    /// Yes or no.
    pub(super) fn truth(self, name: &'static str, value: bool) -> Facts {
        self.property(name, format!("IFCBOOLEAN(.{}.)", if value { 'T' } else { 'F' }))
    }

    fn quantity(mut self, kind: &str, name: &'static str, value: f64) -> Facts {
        let value = real(value);
        self.quantities.push(format!("IFCQUANTITY{kind}('{name}',$,$,{value},$)"));
        self
    }

    /// A length that is counted, mm.
    pub(super) fn long(self, name: &'static str, value: f64) -> Facts {
        self.quantity("LENGTH", name, value)
    }

    /// An area, from mm²; written in m².
    pub(super) fn wide(self, name: &'static str, value: f64) -> Facts {
        self.quantity("AREA", name, value / 1e6)
    }

    /// A volume, from mm³; written in m³.
    pub(super) fn large(self, name: &'static str, value: f64) -> Facts {
        self.quantity("VOLUME", name, value / 1e9)
    }

    /// A mass, kg.
    pub(super) fn heavy(self, name: &'static str, value: f64) -> Facts {
        self.quantity("WEIGHT", name, value)
    }

    /// Writes the properties as the set `name` of a thing, and the facts gathered later go to another.
    pub(super) fn put(self, model: &mut Model, name: &str, of: &[&str], thing: Id) -> Facts {
        let mut own: Vec<&str> = of.to_vec();
        own.push(name);
        if !self.properties.is_empty() {
            let values: Vec<Id> = self.properties.iter().map(|p| model.step.put(p)).collect();
            let (id, values) = (model.id(&own), list(values));
            let set = model.step.put(format_args!("IFCPROPERTYSET({id},$,'{name}',$,{values})"));
            define(model, &own, thing, set);
        }
        Facts { properties: Vec::new(), ..self }
    }

    /// Writes the quantities as the set `name` of a thing.
    pub(super) fn put_quantities(self, model: &mut Model, name: &str, of: &[&str], thing: Id) {
        let mut own: Vec<&str> = of.to_vec();
        own.push(name);
        let values: Vec<Id> = self.quantities.iter().map(|q| model.step.put(q)).collect();
        let (id, values) = (model.id(&own), list(values));
        let set = model.step.put(format_args!("IFCELEMENTQUANTITY({id},$,'{name}',$,$,{values})"));
        define(model, &own, thing, set);
    }
}

fn define(model: &mut Model, own: &[&str], thing: Id, set: Id) {
    let mut of = own.to_vec();
    of.push("of");
    let id = model.id(&of);
    model.step.put(format_args!("IFCRELDEFINESBYPROPERTIES({id},$,$,$,({thing}),{set})"));
}

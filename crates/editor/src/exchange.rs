//! What is written for other programs: in which form, under which name, and how it is made.

use layout_core::document::Job;
use layout_core::layout::Layout;
use sheets::export::{drawings, dxf, ifc, xlsx};
use sheets::page::PrintOptions;

/// A file for another program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Form {
    /// Every list as a sheet of one workbook.
    Workbook,
    /// The whole job as a building model.
    Model,
    /// The drawing of this name: `plan`, `wall-A`.
    Drawing(String),
}

impl Form {
    /// The drawing on a page of this name, “3-wall-A”, if it is a page with one.
    pub fn of_page(page: &str) -> Option<Form> {
        let name = page.trim_start_matches(|c: char| c.is_ascii_digit()).strip_prefix('-')?;
        let is_drawn = name == "plan" || name.starts_with("wall-") || name.starts_with("platform-");
        is_drawn.then(|| Form::Drawing(name.into()))
    }

    /// What its file name ends in.
    pub fn ending(&self) -> &'static str {
        match self {
            Form::Workbook => "xlsx",
            Form::Model => "ifc",
            Form::Drawing(_) => "dxf",
        }
    }

    /// What is asked for a path for it.
    pub fn question(&self) -> &'static str {
        match self {
            Form::Workbook => "Write all lists as a workbook",
            Form::Model => "Write the job as a building model",
            Form::Drawing(_) => "Write this drawing as DXF",
        }
    }

    /// What such files are called in a file window.
    pub fn kind(&self) -> &'static str {
        match self {
            Form::Workbook => "Workbooks",
            Form::Model => "Building models",
            Form::Drawing(_) => "Drawings",
        }
    }

    /// The bytes of the file.
    ///
    /// # Errors
    /// One plain line when it cannot be made.
    pub fn made(
        &self,
        job: &Job,
        layout: &Layout,
        options: &PrintOptions,
    ) -> Result<Vec<u8>, String> {
        match self {
            Form::Workbook => xlsx(&crate::cli::tables(job, layout), &job.title),
            Form::Model => Ok(ifc(job, layout).into_bytes()),
            Form::Drawing(name) => {
                let drawn = drawings(job, layout, options);
                let drawing = drawn.iter().find(|d| d.name == *name);
                let drawing = drawing.ok_or("There is no such drawing any more.")?;
                Ok(dxf(&drawing.picture, drawing.scale).into_bytes())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_knows_its_drawing() {
        assert_eq!(Form::of_page("1-plan"), Some(Form::Drawing("plan".into())));
        assert_eq!(Form::of_page("12-wall-A"), Some(Form::Drawing("wall-A".into())));
        assert_eq!(Form::of_page("7-saw"), None);
        assert_eq!(Form::of_page("2-plan-part-1"), None);
    }
}

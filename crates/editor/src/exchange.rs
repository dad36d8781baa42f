//! What is written for other programs: in which form, under which name, and how it is made.

use layout_core::document::Job;
use layout_core::layout::Layout;
use sheets::export::{drawing, dxf, ifc, xlsx};
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
        let kinds = ["wall-", "section-", "first-fix-", "platform-"];
        // “boards-of-walls” is their lists.
        let is_face =
            name.starts_with("boards-") && ["-left", "-right"].iter().any(|f| name.contains(f));
        let is_drawn = ["plan", "setting-out"].contains(&name)
            || is_face
            || kinds.iter().any(|kind| name.starts_with(kind));
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
                let drawing = drawing(job, layout, options, name)
                    .ok_or("There is no such drawing any more.")?;
                Ok(dxf(&drawing.picture, drawing.scale).into_bytes())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::document::Face;
    use sheets::page::print_set;

    #[test]
    fn a_page_knows_its_drawing() {
        assert_eq!(Form::of_page("1-plan"), Some(Form::Drawing("plan".into())));
        assert_eq!(Form::of_page("12-wall-A"), Some(Form::Drawing("wall-A".into())));
        assert_eq!(Form::of_page("7-saw"), None);
        assert_eq!(Form::of_page("2-plan-part-1"), None);
        // Lists of all walls, and how sheets of board are cut.
        assert_eq!(Form::of_page("19-first-fix"), None);
        assert_eq!(Form::of_page("38-boards"), None);
        assert_eq!(Form::of_page("39-boards-of-walls"), None);
    }

    /// Whatever page the window offers a drawing of has one.
    #[test]
    fn every_page_that_is_drawn_becomes_a_file() {
        let job = crate::assets::demo();
        let layout = Layout::of(&job);
        let options = PrintOptions { face: Face::Left, ..PrintOptions::default() };
        let mut pages = print_set(&job, &layout, &options);
        pages.dedup_by(|a, b| Form::of_page(&a.name) == Form::of_page(&b.name));
        let forms: Vec<Form> = pages.iter().filter_map(|page| Form::of_page(&page.name)).collect();
        assert!(forms.len() > 30, "{}", forms.len());
        for form in forms {
            let bytes =
                form.made(&job, &layout, &options).unwrap_or_else(|e| panic!("{form:?}: {e}"));
            assert!(bytes.len() > 2_000, "{form:?}");
        }
    }
}

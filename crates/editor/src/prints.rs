//! The prints of a job as they are asked for: which sheets, on what, in which order; drawn, written, shown, sent to a printer.

use std::path::{Path, PathBuf};
use std::process::Command as Program;
use std::sync::{Arc, OnceLock};

use layout_core::document::{Face, Job};
use layout_core::layout::Layout;
use sheets::export::{Meta, pdf};
use sheets::page::{Page, Paper, Part, PrintOptions, Progress, print_set_telling};

use crate::files;
use crate::prefs::{PaperChoice, PrintChoice};

/// On what, and how put together.
pub type How = (PaperChoice, PrintChoice);

/// The print set of one job on one paper.
#[derive(Debug, PartialEq)]
pub struct Prints {
    /// The job.
    pub of: Arc<Job>,
    /// The paper.
    pub paper: PaperChoice,
    /// How they are put together.
    pub choice: PrintChoice,
    /// The pages, in the order they are printed.
    pub pages: Vec<Page>,
}

impl Prints {
    /// Draws the prints of `job`, telling how far they are; `None` when that was stopped.
    pub fn of(
        job: Arc<Job>,
        layout: &Layout,
        (paper, choice): How,
        progress: &Progress,
    ) -> Option<Prints> {
        let options = options(layout, paper, &choice);
        // Nothing asked for is no sheets, not the usual ones.
        let pages = if options.only.is_empty() {
            Vec::new()
        } else {
            print_set_telling(&job, layout, &options, progress)?
        };
        Some(Prints { of: job, paper, choice, pages })
    }

    /// All of them as one PDF.
    ///
    /// # Errors
    /// One plain line when the file cannot be made.
    pub fn pdf(&self) -> Result<Vec<u8>, String> {
        self.some_as_pdf(&self.pages)
    }

    /// One of them, counted from 0, as a PDF of its own.
    ///
    /// # Errors
    /// One plain line when there is no such page, or the file cannot be made.
    pub fn page_pdf(&self, page: usize) -> Result<Vec<u8>, String> {
        let page = self.pages.get(page..=page).ok_or("There is no such page any more.")?;
        self.some_as_pdf(page)
    }

    fn some_as_pdf(&self, pages: &[Page]) -> Result<Vec<u8>, String> {
        if pages.is_empty() {
            return Err("No sheets are chosen: tick some in Sheets.".into());
        }
        pdf(pages, &Meta { title: self.of.title.clone(), date: files::today() })
    }
}

/// The options a choice comes to.
fn options(layout: &Layout, paper: PaperChoice, choice: &PrintChoice) -> PrintOptions {
    let mut only = Part::all(layout);
    only.retain(|part| choice.includes(part.sort()));
    if choice.by_wall {
        only = Part::by_wall(only);
    }
    PrintOptions {
        paper: match (paper, choice.upright) {
            (PaperChoice::A4, false) => Paper::A4,
            (PaperChoice::A3, false) => Paper::A3,
            (PaperChoice::A4, true) => Paper::A4Upright,
            (PaperChoice::A3, true) => Paper::A3Upright,
        },
        date: files::today(),
        only,
        face: if choice.left_face { Face::Left } else { Face::Right },
        scale: choice.scale.map(f64::from),
        labels: choice.label_sheet(),
    }
}

/// The same for files of other programs, which take what they want of all parts.
pub fn options_of_all(layout: &Layout, (paper, choice): &How) -> PrintOptions {
    PrintOptions { only: Vec::new(), ..options(layout, *paper, choice) }
}

/// Writes a PDF where the program keeps what it can make again, for the system to show or print.
///
/// # Errors
/// One plain line when there is no such place, or it cannot be written to.
pub fn put_aside(title: &str, bytes: &[u8]) -> Result<PathBuf, String> {
    let folder = directories::ProjectDirs::from("", "", "baywright")
        .map(|dirs| dirs.cache_dir().to_path_buf())
        .ok_or("The system has no place for files that are made again. Write the PDF instead.")?;
    std::fs::create_dir_all(&folder)
        .map_err(|e| format!("The folder {} cannot be made: {e}", folder.display()))?;
    let path = folder.join(format!("{}.pdf", files::safe_name(title)));
    files::save_bytes(&path, bytes)?;
    Ok(path)
}

/// The system’s own way to send a file to its printer, where there is one: `lp`, which POSIX names.
pub fn printer() -> Option<&'static Path> {
    static FOUND: OnceLock<Option<PathBuf>> = OnceLock::new();
    let look = || {
        let paths = std::env::var_os("PATH")?;
        std::env::split_paths(&paths).map(|folder| folder.join("lp")).find(|file| file.is_file())
    };
    FOUND.get_or_init(look).as_deref()
}

/// Sends a PDF to the system’s usual printer at its own size.
///
/// # Errors
/// One plain line with what the system said.
pub fn send(path: &Path) -> Result<(), String> {
    let program =
        printer().ok_or("This system has no printer to send to. Write the PDF instead.")?;
    let said = Program::new(program)
        .args(["-o", "print-scaling=none"])
        .arg(path)
        .output()
        .map_err(|e| format!("The printer could not be asked: {e}."))?;
    if said.status.success() {
        return Ok(());
    }
    let why = String::from_utf8_lossy(&said.stderr);
    let why = why.lines().next().unwrap_or_default().trim().trim_end_matches('.').to_string();
    Err(format!("The system did not print: {why}. Write the PDF and print that."))
}

#[cfg(test)]
mod tests {
    use super::*;
    use sheets::page::Sort;

    fn made(choice: PrintChoice) -> Prints {
        let job = Arc::new(crate::assets::demo());
        let layout = Layout::of(&job);
        let how = (PaperChoice::A4, choice);
        Prints::of(job, &layout, how, &Progress::default()).unwrap()
    }

    /// Labels of one's own are laid out as they are written; what cannot be read leaves the usual ones.
    #[test]
    fn labels_may_be_of_ones_own() {
        let own =
            |text: &str| PrintChoice { own_labels: Some(text.into()), ..PrintChoice::default() };
        assert_eq!(own("60x30,3x9").label_sheet().count, (3, 9));
        assert_eq!(own("rubbish").label_sheet(), PrintChoice::default().label_sheet());
        let mut choice = own("60x30,2x3");
        for sort in Sort::ALL.into_iter().filter(|s| s.is_usual()) {
            choice = choice.switching(sort);
        }
        let pieces = made(choice.clone()).of;
        let pages = made(choice.switching(Sort::Labels)).pages.len();
        let pieces: usize =
            Layout::of(&pieces).framed().map(|part| part.frame().members.len()).sum();
        assert_eq!(pages, pieces.div_ceil(6));
    }

    #[test]
    fn what_is_chosen_is_printed_and_in_what_order() {
        let mut choice = PrintChoice::default();
        for sort in Sort::ALL.into_iter().filter(|s| s.is_usual()) {
            choice = choice.switching(sort);
        }
        assert_eq!(made(choice.clone()).pages, [], "nothing chosen is no sheets");
        assert!(made(choice.clone()).pdf().is_err());
        choice = choice.switching(Sort::Crew).switching(Sort::Walls);
        choice.upright = true;
        choice.by_wall = true;
        let prints = made(choice.clone());
        assert!(prints.pages.iter().all(|p| p.width < p.height));
        assert_eq!(prints.pages[0].title, "Wall A");
        assert_eq!(prints.pages[1].title, "Crew sheet of wall A");
        assert!(prints.page_pdf(0).unwrap().starts_with(b"%PDF-"));
        assert!(prints.page_pdf(10_000).is_err());
        // Switching twice is switching back.
        let again = choice.switching(Sort::Yard).switching(Sort::Yard);
        assert_eq!(again, choice);
    }
}

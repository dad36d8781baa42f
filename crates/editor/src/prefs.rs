//! What is remembered between runs: the look, the size of lettering, recent files, and that the
//! first hint has been read. Kept as RON in the person's own settings folder.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use sheets::page::{LabelSheet, Sort};

use crate::theme::Look;

/// How many recent files are kept.
const RECENT: usize = 8;

/// Everything remembered between runs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Prefs {
    /// Version of this file.
    pub version: u32,
    /// The look.
    pub look: Look,
    /// Size of everything in the window; 1 as designed.
    pub scale: f32,
    /// Paper of the prints.
    pub paper: PaperChoice,
    /// How they are put together.
    pub prints: PrintChoice,
    /// Files opened or saved, the latest first.
    pub recent: Vec<PathBuf>,
    /// The folder last used in a file question.
    pub folder: Option<PathBuf>,
    /// True when the first hint has been put away.
    pub hint_read: bool,
}

/// The paper the prints are laid out for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum PaperChoice {
    /// 297 × 210 mm.
    A4,
    /// 420 × 297 mm.
    #[default]
    A3,
}

/// How the prints are put together.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct PrintChoice {
    /// True for sheets that stand on their short side.
    pub upright: bool,
    /// Scale of elevations, 1 to this, where they fit; the largest that fits when `None`.
    pub scale: Option<u16>,
    /// True for elevations seen on the left face.
    pub left_face: bool,
    /// True when all that is of one wall is printed together.
    pub by_wall: bool,
    /// Kinds of sheets that are usual and left out, or not usual and wanted, by their names.
    pub switched: Vec<String>,
    /// Which of the usual sheets of labels, from 0.
    pub labels: usize,
    /// Labels of one's own, as they are written: “60x30,3x9”; `None` for one of the usual.
    pub own_labels: Option<String>,
}

impl PrintChoice {
    /// The scales to choose from: ISO 5455, and the 1:25 that frames are often drawn at.
    pub const SCALES: [u16; 5] = [10, 20, 25, 50, 100];

    /// The labels that are printed. Own ones that cannot be read are those chosen from the usual.
    pub fn label_sheet(&self) -> LabelSheet {
        let own = self.own_labels.as_ref().and_then(|text| LabelSheet::read(text).ok());
        own.unwrap_or_else(|| LabelSheet::USUAL.get(self.labels).copied().unwrap_or_default())
    }

    /// True when sheets of this kind are printed.
    pub fn includes(&self, sort: Sort) -> bool {
        sort.is_usual() != self.switched.iter().any(|name| name == sort.label())
    }

    /// The same with a kind of sheet taken in or left out.
    #[must_use]
    pub fn switching(&self, sort: Sort) -> PrintChoice {
        let mut choice = self.clone();
        let known = choice.switched.len();
        choice.switched.retain(|name| name != sort.label());
        if choice.switched.len() == known {
            choice.switched.push(sort.label().into());
            choice.switched.sort();
        }
        choice
    }
}

/// One change to what is remembered.
#[derive(Clone, Debug, PartialEq)]
pub enum Preference {
    /// Another way to put the prints together.
    Prints(PrintChoice),
    /// Another look.
    Look(Look),
    /// Another size of everything.
    Scale(f32),
    /// Other paper.
    Paper(PaperChoice),
    /// The first hint has been read, or is wanted again.
    HintRead(bool),
    /// Forget the recent files.
    ForgetRecent,
}

impl Default for Prefs {
    fn default() -> Prefs {
        Prefs {
            version: 1,
            look: Look::Light,
            scale: 1.0,
            paper: PaperChoice::default(),
            prints: PrintChoice::default(),
            recent: Vec::new(),
            folder: None,
            hint_read: false,
        }
    }
}

impl Prefs {
    /// The sizes the window comes in.
    pub const SCALES: [f32; 5] = [0.9, 1.0, 1.15, 1.3, 1.6];

    /// Where they are kept; `None` when the system has no such place.
    pub fn usual_path() -> Option<PathBuf> {
        directories::ProjectDirs::from("", "", "baywright")
            .map(|dirs| dirs.config_dir().join("prefs.ron"))
    }

    /// Reads them. Settings that cannot be read are the usual ones again, with a line that says so.
    pub fn read(path: &Path) -> (Prefs, Option<String>) {
        let text = match std::fs::read_to_string(path) {
            Ok(text) => text,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return (Prefs::default(), None),
            Err(e) => return (Prefs::default(), Some(unreadable(&e.to_string(), path))),
        };
        match ron::from_str::<Prefs>(&text) {
            Ok(prefs) => (prefs.sound(), None),
            Err(e) => {
                (Prefs::default(), Some(unreadable(&format!("line {}", e.span.start.line), path)))
            }
        }
    }

    /// Writes them: a new file is renamed over the old one.
    ///
    /// # Errors
    /// One line that says what could not be written.
    pub fn write(&self, path: &Path) -> Result<(), String> {
        let folder = path.parent().unwrap_or(path);
        std::fs::create_dir_all(folder)
            .map_err(|e| format!("Settings not kept: {e}. {}", folder.display()))?;
        let text = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default())
            .map_err(|e| format!("Settings not kept: {e}."))?;
        crate::files::save_bytes(path, text.as_bytes()).map(|_| ())
    }

    /// Makes one change.
    pub fn change(&mut self, change: &Preference) {
        match change {
            Preference::Look(look) => self.look = *look,
            Preference::Scale(scale) => self.scale = *scale,
            Preference::Paper(paper) => self.paper = *paper,
            Preference::Prints(choice) => self.prints = choice.clone(),
            Preference::HintRead(read) => self.hint_read = *read,
            Preference::ForgetRecent => self.recent.clear(),
        }
        *self = std::mem::take(self).sound();
    }

    /// Remembers that `path` was opened or saved.
    pub fn used(&mut self, path: &Path) {
        self.recent.retain(|p| p != path);
        self.recent.insert(0, path.to_path_buf());
        self.recent.truncate(RECENT);
        self.folder = path
            .parent()
            .map(Path::to_path_buf)
            .filter(|p| !p.as_os_str().is_empty())
            .or(self.folder.take());
    }

    fn sound(mut self) -> Prefs {
        self.scale = if self.scale.is_finite() { self.scale.clamp(0.8, 2.0) } else { 1.0 };
        self.recent.truncate(RECENT);
        self
    }
}

fn unreadable(why: &str, path: &Path) -> String {
    format!("The settings could not be read ({why}); the usual ones are used. {}", path.display())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_come_back_as_they_were_kept() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("deep/prefs.ron");
        let mut prefs = Prefs { look: Look::Dark, hint_read: true, ..Prefs::default() };
        prefs.used(Path::new("somewhere/a.job"));
        prefs.used(Path::new("somewhere/b.job"));
        prefs.used(Path::new("somewhere/a.job"));
        prefs.write(&path).unwrap();
        let (back, told) = Prefs::read(&path);
        assert_eq!((back.clone(), told), (prefs, None));
        assert_eq!(back.recent, [Path::new("somewhere/a.job"), Path::new("somewhere/b.job")]);
    }

    #[test]
    fn damaged_settings_are_told_once_and_put_back_to_the_usual() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("prefs.ron");
        std::fs::write(&path, "(look: Purple").unwrap();
        let (prefs, told) = Prefs::read(&path);
        assert_eq!(prefs, Prefs::default());
        assert!(told.unwrap().contains("line 1"));
    }
}

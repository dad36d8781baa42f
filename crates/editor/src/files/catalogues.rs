//! The catalogues: the person's own copies where there are any, the built-in ones otherwise.

use std::path::{Path, PathBuf};

use layout_core::catalogue::{
    Catalogue, read_boards, read_doors, read_fittings, read_linings, read_timber,
};
use layout_core::document::ReadError;

use super::read_text;
use crate::assets::CATALOGUES;

/// The folder a person's own catalogues are looked for in; `None` when the system has no such place.
pub fn catalogue_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "baywright")
        .map(|dirs| dirs.config_dir().join("catalogues"))
}

/// The catalogues, with own files from `folder` in place of the built-in ones, and a line for each
/// own file that could not be read (the built-in one stands in for it).
pub fn catalogue_from(folder: Option<&Path>) -> (Catalogue, Vec<String>) {
    let mut told = Vec::new();
    let [timber, boards, doors, linings, fittings] = CATALOGUES;
    let catalogue = Catalogue {
        timber: one(folder, timber, read_timber, &mut told),
        boards: one(folder, boards, read_boards, &mut told),
        doors: one(folder, doors, read_doors, &mut told),
        linings: one(folder, linings, read_linings, &mut told),
        fittings: one(folder, fittings, read_fittings, &mut told),
    };
    (catalogue, told)
}

fn one<T>(
    folder: Option<&Path>,
    (name, built_in): (&str, &str),
    read: impl Fn(&str) -> Result<Vec<T>, ReadError>,
    told: &mut Vec<String>,
) -> Vec<T> {
    let own = folder.map(|f| f.join(name)).filter(|path| path.exists());
    if let Some(path) = own {
        match read_text(&path)
            .and_then(|text| read(&text).map_err(|e| format!("{}:{e}", path.display())))
        {
            Ok(list) => return list,
            Err(line) => told.push(line),
        }
    }
    // A test holds that every built-in catalogue reads.
    read(built_in).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn own_catalogues_come_first_and_a_bad_one_is_told() {
        let (built_in, told) = catalogue_from(None);
        assert_eq!(told, [""; 0]);
        assert!(built_in.timber.len() > 5 && built_in.boards.len() > 5);
        assert!(built_in.doors.len() > 5 && built_in.linings.len() > 2);
        assert!(built_in.fittings.len() > 10);
        let dir = tempfile::tempdir().unwrap();
        std::fs::write(
            dir.path().join("linings.ron"),
            "[(name: \"own\", thickness: 40, rebate: 0)]",
        )
        .unwrap();
        std::fs::write(dir.path().join("doors.ron"), "[(name: \"own\", width: 1)]").unwrap();
        let (own, told) = catalogue_from(Some(dir.path()));
        assert_eq!(own.linings.len(), 1);
        assert_eq!(own.doors, built_in.doors);
        assert_eq!(told.len(), 1);
        assert!(
            told[0].ends_with("doors.ron:1:2: height is missing in a door leaf"),
            "{}",
            told[0]
        );
    }
}

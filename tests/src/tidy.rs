//! Rules of the house that a machine can hold: who may use whom, words that do not belong in a
//! finished program, licences, links, and a case for every snag.

mod licences;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

use layout_core::snag::Code;
use serde_json::Value;

/// The longest a source file may be before it should be two.
const LONGEST_FILE: usize = 750;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the suite lies in the project").into()
}

/// Files under `folder` with one of these endings, in order, build output left out.
fn files(folder: &Path, endings: &[&str]) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for path in std::fs::read_dir(&folder).into_iter().flatten().flatten().map(|e| e.path()) {
            let name = path.file_name().unwrap_or_default().to_string_lossy().to_string();
            if path.is_dir() {
                if name != "target" && name != ".git" && name != "__pycache__" {
                    folders.push(path);
                }
            } else if endings.iter().any(|e| name.ends_with(e)) {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn text(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn shown(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).display().to_string()
}

fn metadata(arguments: &[&str]) -> Value {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .args(arguments)
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("cargo metadata is JSON")
}

/// Fails with every complaint at once.
fn none(complaints: &[String], rule: &str) {
    assert!(complaints.is_empty(), "{rule}\n  {}", complaints.join("\n  "));
}

#[test]
fn crates_depend_downwards_only() {
    let allowed: BTreeMap<&str, &[&str]> = BTreeMap::from([
        ("saw", [].as_slice()),
        (
            "layout-core",
            &["saw", "csv", "nalgebra", "ron", "serde", "i_overlay", "spade", "strsim"],
        ),
        (
            "sheets",
            &[
                "layout-core",
                "saw",
                "csv",
                "dejavu",
                "krilla",
                "rust_xlsxwriter",
                "nalgebra",
                "serde",
                "serde_json",
                "ttf-parser",
            ],
        ),
    ]);
    let metadata = metadata(&["--no-deps"]);
    let mut wrong = Vec::new();
    for package in metadata["packages"].as_array().expect("packages") {
        let name = package["name"].as_str().expect("a name");
        for dependency in package["dependencies"].as_array().expect("dependencies") {
            let on = dependency["name"].as_str().expect("a name");
            let for_tests = dependency["kind"].as_str() == Some("dev");
            let over = ["editor", "suite"].contains(&on)
                && !(for_tests && name == "editor" && on == "suite");
            let beyond = !for_tests && allowed.get(name).is_some_and(|list| !list.contains(&on));
            if over || beyond {
                wrong.push(format!("{name} uses {on}"));
            }
        }
    }
    none(&wrong, "saw ◀ layout-core ◀ sheets ◀ editor, and each uses only what it needs:");
}

#[test]
fn every_dependency_is_used() {
    let metadata = metadata(&["--no-deps"]);
    let mut listed: BTreeSet<String> = BTreeSet::new();
    let mut wrong = Vec::new();
    for package in metadata["packages"].as_array().expect("packages") {
        let name = package["name"].as_str().expect("a name");
        let manifest = PathBuf::from(package["manifest_path"].as_str().expect("a path"));
        let sources: String =
            files(manifest.parent().expect("a folder"), &[".rs"]).iter().map(|p| text(p)).collect();
        for dependency in package["dependencies"].as_array().expect("dependencies") {
            let on = dependency["name"].as_str().expect("a name");
            listed.insert(on.to_string());
            if !sources.contains(&format!("{}::", on.replace('-', "_"))) {
                wrong.push(format!("{name} does not use {on}"));
            }
        }
    }
    let workspace = text(&root().join("Cargo.toml"));
    let shared =
        workspace.split("[workspace.dependencies]").nth(1).and_then(|t| t.split("\n[").next());
    let own = ["saw", "layout-core", "sheets", "editor", "suite"];
    for line in shared.unwrap_or_default().lines().filter(|l| l.contains('=')) {
        let name = line.split('=').next().unwrap_or_default().trim();
        if !listed.contains(name) && !own.contains(&name) {
            wrong.push(format!("nothing uses {name}"));
        }
    }
    none(&wrong, "dependencies that could go:");
}

#[test]
fn core_and_sheets_know_no_window() {
    let mut wrong = Vec::new();
    for name in ["saw", "layout-core", "sheets"] {
        for path in files(&root().join("crates").join(name), &[".rs", ".toml"]) {
            for (i, line) in text(&path).lines().enumerate() {
                let code = line.split("//").next().unwrap_or_default();
                if code.contains("egui") || code.contains("eframe") {
                    wrong.push(format!("{}:{}", shown(&path), i + 1));
                }
            }
        }
    }
    none(&wrong, "only the editor knows the window toolkit:");
}

#[test]
fn modules_of_the_core_use_only_those_above_them() {
    let source = root().join("crates/layout-core/src");
    let order: Vec<String> = text(&source.join("lib.rs"))
        .lines()
        .filter_map(|l| l.trim_start_matches("pub ").strip_prefix("mod ")?.strip_suffix(';'))
        .map(str::to_string)
        .collect();
    assert!(order.len() > 5, "lib.rs lists its modules one a line");
    let mut wrong = Vec::new();
    for (i, module) in order.iter().enumerate() {
        let mut paths = files(&source.join(module), &[".rs"]);
        paths.extend([source.join(format!("{module}.rs"))].into_iter().filter(|p| p.exists()));
        for path in paths {
            let all = text(&path);
            let program = all.split("#[cfg(test)]").next().unwrap_or_default();
            for (n, line) in program.lines().enumerate() {
                let code = line.split("//").next().unwrap_or_default();
                for used in code.split("crate::").skip(1) {
                    let used: String =
                        used.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                    let above = order.iter().position(|m| *m == used);
                    if above.is_some_and(|above| above > i) {
                        wrong.push(format!("{}:{} uses {used}", shown(&path), n + 1));
                    }
                }
            }
        }
    }
    none(&wrong, "a module uses only those listed above it in lib.rs:");
}

#[test]
fn nothing_unfinished_and_nothing_of_one_machine() {
    // Put together so that this file does not find itself.
    let bang = |word: &str| format!("{word}!");
    let forbidden = [
        bang("todo"),
        bang("unimplemented"),
        bang("dbg"),
        ["TO", "DO"].concat(),
        ["FIX", "ME"].concat(),
        ["XX", "X"].concat(),
        ["for", " now"].concat(),
        ["#[", "ignore"].concat(),
        ["/", "work/"].concat(),
        ["/", "tmp/"].concat(),
        ["/", "home/"].concat(),
        ["/", "root/"].concat(),
        ["C:", "\\"].concat(),
    ];
    let mut wrong = Vec::new();
    for folder in ["crates", "tests", "docs", "assets", ".ci"] {
        for path in files(
            &root().join(folder),
            &[".rs", ".md", ".toml", ".ron", ".py", ".wall", "run", "all"],
        ) {
            for (i, line) in text(&path).lines().enumerate() {
                for word in forbidden.iter().filter(|w| line.contains(w.as_str())) {
                    wrong.push(format!("{}:{} “{word}”", shown(&path), i + 1));
                }
            }
        }
    }
    none(&wrong, "words that do not belong in a finished program:");
}

#[test]
fn every_snag_has_a_case() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut seen = BTreeSet::new();
    for path in files(here, &[".wall"]) {
        for ask in crate::fixture::Case::read(&text(&path)).asks {
            if ask.what == "snags" || ask.what == "messages" {
                seen.extend(
                    ask.answer.lines().filter_map(|l| Some(l.split(' ').nth(1)?.to_string())),
                );
            }
        }
    }
    let missing: Vec<String> =
        Code::ALL.iter().map(|c| c.id().to_string()).filter(|id| !seen.contains(id)).collect();
    none(&missing, "snags that no case under tests/suite shows:");
}

#[test]
fn every_snag_is_listed_once() {
    let ids: BTreeSet<&str> = Code::ALL.iter().map(|c| c.id()).collect();
    assert_eq!(ids.len(), Code::ALL.len(), "two snags share a name");
    let enumerated = text(&root().join("crates/layout-core/src/snag.rs"));
    let body = enumerated
        .split("pub enum Code {")
        .nth(1)
        .and_then(|t| t.split("\n}").next())
        .expect("Code");
    let variants =
        body.lines().filter(|l| l.trim().ends_with(',') && !l.trim().starts_with("//")).count();
    assert_eq!(variants, Code::ALL.len(), "Code::ALL lists every code");
}

#[test]
fn links_in_the_docs_lead_somewhere() {
    let mut wrong = Vec::new();
    let mut documents = files(&root().join("docs"), &[".md"]);
    documents.extend(files(&root().join("tests"), &[".md"]));
    documents.extend(
        ["README.md", "DEVELOPERS.md"].map(|f| root().join(f)).into_iter().filter(|p| p.exists()),
    );
    for path in documents {
        let folder = path.parent().expect("a folder");
        for (i, line) in text(&path).lines().enumerate() {
            for link in line.split("](").skip(1).filter_map(|l| l.split(')').next()) {
                let file = link.split('#').next().unwrap_or_default();
                let elsewhere = file.is_empty() || file.contains("://");
                if !elsewhere && !folder.join(file).exists() {
                    wrong.push(format!("{}:{} {link}", shown(&path), i + 1));
                }
            }
        }
    }
    none(&wrong, "links that lead nowhere:");
}

#[test]
fn files_are_not_gathering_places() {
    let mut long = Vec::new();
    for folder in ["crates", "tests"] {
        for path in files(&root().join(folder), &[".rs"]) {
            let lines = text(&path).lines().count();
            if lines > LONGEST_FILE {
                long.push(format!("{} has {lines} lines", shown(&path)));
            }
        }
    }
    none(&long, "files that should be two:");
}

#[test]
fn docs_are_in_british_spelling() {
    let american = [
        "color", "center ", "centers", "behavior", "gray ", "meter ", "meters", "labeled",
        "modeling",
    ];
    let mut wrong = Vec::new();
    let mut documents = files(&root().join("docs"), &[".md"]);
    documents.extend(
        ["README.md", "DEVELOPERS.md"].map(|f| root().join(f)).into_iter().filter(|p| p.exists()),
    );
    for path in documents {
        for (i, line) in text(&path).lines().enumerate() {
            // Code in back-ticks is spelt as the code is.
            let prose: String = line.split('`').step_by(2).collect();
            for word in american.iter().filter(|w| prose.to_lowercase().contains(**w)) {
                wrong.push(format!("{}:{} “{}”", shown(&path), i + 1, word.trim()));
            }
        }
    }
    none(&wrong, "British spelling, please:");
}

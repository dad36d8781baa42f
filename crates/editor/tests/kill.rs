//! A saver killed at any moment leaves the old file or the new one, whole. Here it saves over and over
//! until it is killed, and the file is looked at.

#![cfg(unix)]

use std::os::unix::fs::MetadataExt;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use editor::files::{clear_left_overs, save_bytes};

const SIZE: usize = 3_000_000;
const KILLS: usize = 60;
const HOW: &str = "BAYWRIGHT_TEST_SAVES_BY";
const WHERE: &str = "BAYWRIGHT_TEST_SAVES_TO";

/// One of the two contents, told apart by their letter.
fn content(letter: u8) -> Vec<u8> {
    vec![letter; SIZE]
}

fn is_whole(bytes: &[u8]) -> bool {
    bytes.len() == SIZE && bytes.iter().all(|b| *b == bytes[0])
}

/// The saver that is killed: this test program, told by its surroundings where to save. Left to itself
/// it saves once and looks.
#[test]
fn the_saver() {
    if let (Ok(how), Ok(path)) = (std::env::var(HOW), std::env::var(WHERE)) {
        for letter in [b'a', b'b'].into_iter().cycle() {
            match how.as_str() {
                "saving" => assert_eq!(save_bytes(Path::new(&path), &content(letter)), Ok(None)),
                _ => std::fs::write(&path, content(letter)).unwrap(),
            }
        }
    }
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("job.ron");
    assert_eq!(save_bytes(&path, &content(b'a')), Ok(None));
    assert!(is_whole(&std::fs::read(&path).unwrap()));
}

/// Kills savers and counts files that are neither the old nor the new, and temporary files left
/// behind.
fn kill_savers(how: &str, dir: &Path) -> (usize, usize) {
    let path = dir.join("job.ron");
    let (mut torn, mut left) = (0, 0);
    let mut seed = 20_260_504_u64;
    for _ in 0..KILLS {
        std::fs::write(&path, content(b'0')).unwrap();
        let before = std::fs::metadata(&path).unwrap();
        let mut saver = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "the_saver"])
            .env(HOW, how)
            .env(WHERE, &path)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // However slow the machine is today, it has begun when the file is another one.
        let begun = || {
            let now = std::fs::metadata(&path).unwrap();
            now.ino() != before.ino()
                || now.len() != before.len()
                || now.mtime_nsec() != before.mtime_nsec()
        };
        let patience = Instant::now();
        while !begun() {
            assert!(patience.elapsed() < Duration::from_secs(60), "the saver never saved");
            std::thread::sleep(Duration::from_millis(1));
        }
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        std::thread::sleep(Duration::from_micros((seed >> 33) % 30_000));
        saver.kill().unwrap();
        saver.wait().unwrap();
        torn += usize::from(!is_whole(&std::fs::read(&path).unwrap()));
        left += std::fs::read_dir(dir).unwrap().count() - 1;
        clear_left_overs(&path);
        assert_eq!(std::fs::read_dir(dir).unwrap().count(), 1, "what was left behind is cleared");
    }
    (torn, left)
}

#[test]
fn killed_savers_leave_whole_files() {
    let dir = tempfile::tempdir().unwrap();
    let (torn, left) = kill_savers("saving", dir.path());
    assert_eq!(torn, 0, "of {KILLS}");
    // The recipe bites: some were killed in the middle of a save.
    assert!(left > 0, "none of {KILLS} was killed in the middle");
    // And the same killing tears files that are simply written.
    let dir = tempfile::tempdir().unwrap();
    let (torn, _) = kill_savers("writing", dir.path());
    assert!(torn > 0, "plain writing was never caught in the middle, so neither would saving be");
}

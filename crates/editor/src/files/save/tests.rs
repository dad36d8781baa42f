use super::*;
use crate::assets::demo;
use layout_core::math::PlanPoint;

fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().to_string())
        .collect();
    names.sort();
    names
}

fn told(path: &Path, dir: &Path) -> String {
    let line = save_bytes(path, b"new").unwrap_err();
    let real = dir.canonicalize().unwrap().display().to_string();
    line.replace(&real, "DIR").replace(&dir.display().to_string(), "DIR")
}

#[test]
fn a_saved_job_reads_back_and_leaves_nothing_beside_it() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("job.ron");
    for title in ["first", "second"] {
        let job = Job { title: title.into(), ..demo() };
        assert_eq!(save_job(&path, &job), Ok(None));
        assert_eq!(crate::files::read_job(&path), Ok(job));
    }
    assert_eq!(names_in(dir.path()), ["job.ron"]);
}

#[test]
fn a_job_that_could_not_be_read_back_is_not_saved_over_a_good_one() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("job.ron");
    save_job(&path, &demo()).unwrap();
    let mut bad = demo();
    bad.datum.at = PlanPoint::new(f64::NAN, 0.0);
    assert_eq!(
        save_job(&path, &bad),
        Err("Not saved, because it could not be read back: at: it is not a number".into())
    );
    assert_eq!(crate::files::read_job(&path), Ok(demo()));
}

#[test]
fn folders_that_are_not_there_are_told() {
    let dir = tempfile::tempdir().unwrap();
    assert_eq!(
        told(&dir.path().join("gone/job.ron"), dir.path()),
        "Not saved: there is no folder DIR/gone. Save it elsewhere (Save as…)"
    );
    assert_eq!(told(dir.path(), dir.path()), "Not saved: this is a folder: DIR");
    assert_eq!(
        told(&dir.path().join(".."), dir.path()),
        "Not saved: this is not the name of a file: DIR/.."
    );
}

#[test]
fn long_names_leave_room_for_the_temporary_one() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("n".repeat(255));
    assert_eq!(save_bytes(&path, b"new"), Ok(None));
    assert_eq!(std::fs::read(&path).unwrap(), b"new");
}

#[test]
fn left_overs_of_the_dead_are_cleared_and_no_others() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("job.ron");
    save_bytes(&path, b"x").unwrap();
    let dead = 4_194_305; // above the largest process number Linux gives out
    let alive = std::process::id();
    let keep = [
        format!(".job.ron.{alive}.aaaaaa.saving"),
        format!(".other.ron.{dead}.aaaaaa.saving"),
        ".job.ron.recover".to_string(),
        ".job.ron.mine.saving".to_string(),
    ];
    for name in &keep {
        std::fs::write(dir.path().join(name), "x").unwrap();
    }
    std::fs::write(dir.path().join(format!(".job.ron.{dead}.bbbbbb.saving")), "x").unwrap();
    clear_left_overs(&path);
    let mut expected = keep.to_vec();
    expected.push("job.ron".into());
    expected.sort();
    assert_eq!(names_in(dir.path()), expected);
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::os::unix::fs::{MetadataExt, PermissionsExt, chown, symlink};

    fn mode(path: &Path) -> u32 {
        std::fs::metadata(path).unwrap().mode() & 0o7777
    }

    #[test]
    fn links_are_followed_and_stay() {
        let dir = tempfile::tempdir().unwrap();
        let at = |name: &str| dir.path().join(name);
        std::fs::create_dir(at("real")).unwrap();
        std::fs::write(at("real/job.ron"), "old").unwrap();
        symlink("real/job.ron", at("link")).unwrap();
        symlink("link", at("link-to-link")).unwrap();
        save_bytes(&at("link-to-link"), b"new").unwrap();
        assert!(at("link").is_symlink() && at("link-to-link").is_symlink());
        assert_eq!(std::fs::read(at("real/job.ron")).unwrap(), b"new");

        symlink("real/not-yet.ron", at("dangling")).unwrap();
        save_bytes(&at("dangling"), b"new").unwrap();
        assert!(at("dangling").is_symlink());
        assert_eq!(std::fs::read(at("real/not-yet.ron")).unwrap(), b"new");

        symlink("round", at("about")).unwrap();
        symlink("about", at("round")).unwrap();
        assert_eq!(
            told(&at("round"), dir.path()),
            "Not saved: the link leads in a circle: DIR/round"
        );
    }

    #[test]
    fn mode_and_owner_are_kept() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("job.ron");
        save_bytes(&path, b"old").unwrap();
        let usual = dir.path().join("usual");
        std::fs::write(&usual, "").unwrap();
        assert_eq!(mode(&path), mode(&usual), "a new file is as private as any other");
        std::fs::set_permissions(&path, Permissions::from_mode(0o664)).unwrap();
        // Only the superuser may give a file away; everyone else checks that it stays theirs.
        let owner = match chown(&path, Some(1000), Some(1000)) {
            Ok(()) => (1000, 1000),
            Err(_) => {
                (std::fs::metadata(&path).unwrap().uid(), std::fs::metadata(&path).unwrap().gid())
            }
        };
        save_bytes(&path, b"new").unwrap();
        let after = std::fs::metadata(&path).unwrap();
        assert_eq!((mode(&path), (after.uid(), after.gid())), (0o664, owner));
    }

    #[test]
    fn what_is_read_only_or_no_file_is_refused() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("job.ron");
        std::fs::write(&path, "old").unwrap();
        std::fs::set_permissions(&path, Permissions::from_mode(0o444)).unwrap();
        assert_eq!(
            told(&path, dir.path()),
            "Not saved: the file is read-only. Save it elsewhere (Save as…): DIR/job.ron"
        );
        assert_eq!(std::fs::read(&path).unwrap(), b"old");
        assert_eq!(
            save_bytes(Path::new("/dev/null"), b"x"),
            Err("Not saved: this is not an ordinary file: /dev/null".into())
        );
    }
}

/// File systems made for the test. They need the right to mount; without it these tests fail and say so.
#[cfg(target_os = "linux")]
mod mounted {
    use super::*;
    use std::process::Command;

    struct Mount {
        dir: tempfile::TempDir,
    }

    impl Mount {
        fn new(steps: &[&[&str]]) -> Mount {
            let mount = Mount { dir: tempfile::tempdir().unwrap() };
            let dir = mount.dir.path().display().to_string();
            for step in steps {
                let arguments: Vec<String> = step.iter().map(|a| a.replace("DIR", &dir)).collect();
                let run = Command::new("mount").args(&arguments).output().expect("mount runs");
                assert!(
                    run.status.success(),
                    "this test mounts a small file system and needs the right to (run it as root): {}",
                    String::from_utf8_lossy(&run.stderr)
                );
            }
            let mounts = std::fs::read_to_string("/proc/mounts").unwrap();
            assert!(mounts.contains(&dir), "{dir} is mounted");
            mount
        }
    }

    impl Drop for Mount {
        fn drop(&mut self) {
            let _ = Command::new("umount").arg("-l").arg(self.dir.path()).status();
        }
    }

    #[test]
    fn a_full_disk_leaves_the_old_file_and_nothing_else() {
        let mount = Mount::new(&[&["-t", "tmpfs", "-o", "size=64k", "tmpfs", "DIR"]]);
        let path = mount.dir.path().join("job.ron");
        save_bytes(&path, b"old").unwrap();
        let line = save_bytes(&path, &vec![b'x'; 200_000]).unwrap_err();
        assert_eq!(
            line,
            format!(
                "Not saved (the disk is full), the old file is untouched. Try again, or save it elsewhere (Save as…): {}",
                path.display()
            )
        );
        assert_eq!(std::fs::read(&path).unwrap(), b"old");
        assert_eq!(names_in(mount.dir.path()), ["job.ron"]);
    }

    #[test]
    fn a_read_only_folder_is_told_with_a_way_out() {
        let mount = Mount::new(&[&["-t", "tmpfs", "-o", "size=64k", "tmpfs", "DIR"]]);
        let path = mount.dir.path().join("job.ron");
        save_bytes(&path, b"old").unwrap();
        let dir = mount.dir.path().display().to_string();
        assert!(Command::new("mount").args(["-o", "remount,ro", &dir]).status().unwrap().success());
        let line = save_bytes(&path, b"new").unwrap_err();
        assert_eq!(
            line,
            format!(
                "Not saved: the folder {dir} cannot be written to. Save it elsewhere (Save as…)"
            )
        );
        assert_eq!(std::fs::read(&path).unwrap(), b"old");
    }
}

//! The file under the plan: brought beside the job's own, read with care, ready to be shown.

use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::ColorImage;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};
use layout_core::document::not_a_file_name;

use crate::drawing::{self, Drawing};
use crate::files;

/// What lies under the plan, as it was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Under {
    /// Its file.
    pub path: PathBuf,
    /// What it shows, or why it cannot be shown.
    pub shown: Result<Shown, String>,
}

/// What it shows. Places are from its lower left corner, u to the right and v up.
#[derive(Clone, Debug, PartialEq)]
pub enum Shown {
    /// Lines of another program.
    Drawing(Drawing),
    /// A picture.
    Picture {
        /// Width and height, dots.
        size: [f64; 2],
        /// Its dots, fewer when there are very many.
        dots: Arc<ColorImage>,
    },
}

/// A picture is not wider or higher in its file, dots.
const WIDEST: u32 = 16_000;
/// It is shown with no more, dots.
const SHOWN: u32 = 4096;
/// And takes no more memory while it is read.
const MEMORY: u64 = 512 << 20;

impl Under {
    /// Reads the file at `path`.
    pub fn read(path: &Path) -> Under {
        let shown = files::read_bytes(path).and_then(|bytes| Shown::of(&bytes, path));
        Under { path: path.into(), shown }
    }
}

impl Shown {
    /// What the bytes of the file at `path` show.
    ///
    /// # Errors
    /// One plain line.
    pub fn of(bytes: &[u8], path: &Path) -> Result<Shown, String> {
        let is_picture = bytes.starts_with(b"\x89PNG") || bytes.starts_with(b"\xff\xd8\xff");
        if is_picture {
            return picture(bytes)
                .map_err(|why| format!("The picture cannot be read: {why}. {}", path.display()));
        }
        let text = String::from_utf8_lossy(bytes);
        let drawing = drawing::read(&text).map_err(|why| {
            let line = "This is no PNG or JPEG, and no DXF in text form that can be read";
            format!("{line}: {why}. {}", path.display())
        })?;
        Ok(Shown::Drawing(from_corner(drawing)))
    }

    /// Width and height in its own units.
    pub fn size(&self) -> [f64; 2] {
        match self {
            Shown::Picture { size, .. } => *size,
            Shown::Drawing(drawing) => extent(drawing).1,
        }
    }

    /// Millimetres to one of its units as it is put down: what a drawing says, or else what makes it ten metres wide.
    pub fn unit(&self) -> f64 {
        let [width, height] = self.size();
        let ten_metres = 10_000.0 / width.max(height).max(1e-6);
        match self {
            Shown::Drawing(drawing) => drawing.unit.unwrap_or(ten_metres),
            Shown::Picture { .. } => ten_metres,
        }
    }

    /// Its lines, when it is a drawing.
    pub fn drawing(&self) -> Option<&Drawing> {
        match self {
            Shown::Drawing(drawing) => Some(drawing),
            Shown::Picture { .. } => None,
        }
    }
}

/// The least place and the size of a drawing.
fn extent(drawing: &Drawing) -> ([f64; 2], [f64; 2]) {
    let mut low = [f64::INFINITY; 2];
    let mut high = [f64::NEG_INFINITY; 2];
    for point in drawing.lines.iter().flat_map(|l| &l.points) {
        for i in 0..2 {
            low[i] = low[i].min(point[i]);
            high[i] = high[i].max(point[i]);
        }
    }
    (low, [high[0] - low[0], high[1] - low[1]])
}

/// The drawing with its places counted from its lower left corner.
fn from_corner(mut drawing: Drawing) -> Drawing {
    let (low, _) = extent(&drawing);
    for point in drawing.lines.iter_mut().flat_map(|l| &mut l.points) {
        *point = [point[0] - low[0], point[1] - low[1]];
    }
    drawing
}

fn picture(bytes: &[u8]) -> Result<Shown, String> {
    let plain = |e: image::ImageError| match e {
        image::ImageError::Limits(_) => format!("it is larger than {WIDEST} × {WIDEST} dots"),
        e => e.to_string().to_lowercase(),
    };
    let reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format();
    let mut reader = reader.map_err(|e| files::plain(&e))?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(WIDEST);
    limits.max_image_height = Some(WIDEST);
    limits.max_alloc = Some(MEMORY);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(plain)?;
    // A camera held on its side says so instead of turning the dots.
    let turn = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut image = DynamicImage::from_decoder(decoder).map_err(plain)?;
    image.apply_orientation(turn);
    let size = [f64::from(image.width()), f64::from(image.height())];
    if image.width().max(image.height()) > SHOWN {
        image = image.thumbnail(SHOWN, SHOWN);
    }
    let dots = image.to_rgba8();
    let wide = [dots.width() as usize, dots.height() as usize];
    let dots = ColorImage::from_rgba_unmultiplied(wide, dots.as_raw());
    Ok(Shown::Picture { size, dots: Arc::new(dots) })
}

/// Puts a copy of the file `from` beside the job at `job`, unless it is there already, and reads it. A file that cannot be
/// shown is not copied.
///
/// # Errors
/// One plain line.
pub fn bring(from: &Path, job: &Path) -> Result<Under, String> {
    let bytes = files::read_bytes(from)?;
    let shown = Shown::of(&bytes, from)?;
    let folder = job.parent().unwrap_or(Path::new(""));
    let name = safe_name(from);
    let same = |path: &Path| files::read_bytes(path).is_ok_and(|there| there == bytes);
    let (stem, ending) = name.rsplit_once('.').unwrap_or((&name, ""));
    for n in 1..100 {
        let own = if n == 1 { name.clone() } else { format!("{stem}-{n}.{ending}") };
        let path = folder.join(own);
        if std::fs::symlink_metadata(&path).is_err() {
            files::save_bytes(&path, &bytes)?;
        } else if !same(&path) {
            continue;
        }
        return Ok(Under { path, shown: Ok(shown) });
    }
    Err(format!("There are too many files called {name} beside the job."))
}

/// The file under the plan goes along when a job is saved in another folder. What cannot be copied stays where it is; the
/// window says so when it looks for it.
pub fn follow(under: &Path, job: &Path) {
    let to = under.file_name().zip(job.parent()).map(|(name, folder)| folder.join(name));
    if let Some(to) = to.filter(|to| std::fs::symlink_metadata(to).is_err())
        && let Ok(bytes) = files::read_bytes(under)
    {
        let _ = files::save_bytes(&to, &bytes);
    }
}

/// The name of the file at `path`, as it may stand in a job.
fn safe_name(path: &Path) -> String {
    let own = path.file_name().unwrap_or_default().to_string_lossy();
    if not_a_file_name(&own).is_none() {
        return own.into_owned();
    }
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase()).unwrap_or_default();
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    format!("{}.{}", files::safe_name(&stem), files::safe_name(&ending))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: &str = "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\n5.0\n20\n7.0\n11\n9.0\n21\n10.0\n0\nENDSEC\n0\nEOF\n";

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Cursor::new(Vec::new());
        let image = image::RgbImage::from_pixel(width, height, image::Rgb([200, 30, 30]));
        image.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        bytes.into_inner()
    }

    #[test]
    fn a_file_is_brought_beside_the_job_once() {
        let (far, near) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let from = far.path().join("room.dxf");
        std::fs::write(&from, SQUARE).unwrap();
        let job = near.path().join("shed.ron");
        let under = bring(&from, &job).unwrap();
        assert_eq!(under.path, near.path().join("room.dxf"));
        assert_eq!(bring(&from, &job).unwrap(), under);
        assert_eq!(Under::read(&under.path), under);
        // Another file of that name gets another name.
        std::fs::write(&from, SQUARE.replace("5.0", "6.0")).unwrap();
        assert_eq!(bring(&from, &job).unwrap().path, near.path().join("room-2.dxf"));
        let shown = under.shown.unwrap();
        assert_eq!(shown.size(), [4.0, 3.0]);
        assert_eq!(shown.drawing().unwrap().lines[0].points, [[0.0, 0.0], [4.0, 3.0]]);
    }

    #[test]
    fn a_picture_is_as_large_as_its_dots_and_ten_metres_wide() {
        let shown = Shown::of(&png(400, 200), Path::new("x.png")).unwrap();
        assert_eq!((shown.size(), shown.unit()), ([400.0, 200.0], 25.0));
        let Shown::Picture { dots, .. } = shown else { panic!("a picture") };
        assert_eq!(dots.size, [400, 200]);
        // Very many dots are shown as fewer; its size stays.
        let shown = Shown::of(&png(5000, 10), Path::new("x.png")).unwrap();
        let Shown::Picture { size, dots } = shown else { panic!("a picture") };
        assert_eq!((size[0], dots.size[0]), (5000.0, SHOWN as usize));
    }

    #[test]
    fn what_cannot_be_shown_is_told_and_not_copied() {
        let (far, near) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let job = near.path().join("shed.ron");
        let mut cut = png(40, 40);
        cut.truncate(60);
        for (name, bytes) in [("a.png", cut), ("b.dxf", b"hello".to_vec()), ("c.txt", Vec::new())] {
            let from = far.path().join(name);
            std::fs::write(&from, bytes).unwrap();
            let line = bring(&from, &job).unwrap_err();
            assert!(line.contains(name) && !line.contains('\n'), "{line}");
        }
        assert_eq!(std::fs::read_dir(near.path()).unwrap().count(), 0);
        assert!(bring(far.path(), &job).is_err(), "a folder is no picture");
    }
}

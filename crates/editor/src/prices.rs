//! Price lists for the window: read and held against the job off the frame, offered, and then taken over as one edit.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use layout_core::board_plan::board_plans;
use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::order::order;
use layout_core::pieces::Planning;
use layout_core::prices::{Offer, offer, read_prices, write_prices};
use layout_core::sundries;

use crate::files;

/// A price list that was read, and what it would change.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceOffer {
    /// Where the list is.
    pub path: PathBuf,
    /// The job it was held against.
    pub of: Arc<Job>,
    /// Row by row, with the heads of columns that are not read; or every row that is wrong.
    pub found: Result<(Offer, Vec<String>), Vec<String>>,
}

impl PriceOffer {
    /// Reads the list at `path` and holds it against `job`.
    pub fn of(path: PathBuf, job: Arc<Job>) -> PriceOffer {
        let found = found(&path, &job);
        PriceOffer { path, of: job, found }
    }

    /// The name of the file.
    pub fn name(&self) -> String {
        name(&self.path)
    }
}

fn name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

fn found(path: &Path, job: &Job) -> Result<(Offer, Vec<String>), Vec<String>> {
    let text = files::read_table(path).map_err(|line| vec![line])?;
    let list = read_prices(&text)
        .map_err(|rows| rows.iter().map(|row| format!("line {row}")).collect::<Vec<_>>())?;
    let needs = sundries::order(job, &Layout::of(job));
    let offer = offer(job, &needs, &list, &name(path)).map_err(|why| vec![why])?;
    Ok((offer, list.unread))
}

/// The price list of `job`, for the merchant to fill in.
pub fn price_list(job: &Job) -> String {
    let layout = Layout::of(job);
    let needs = sundries::order(job, &layout);
    let (bars, sheets) = (Planning::new(job, &layout).plans(), board_plans(job, &layout));
    write_prices(job, &order(job, &layout, &bars, &sheets, &needs))
}

//! The commands: everything the window works out, for scripts and tests. `docs/COMMANDS.md`
//! describes them for people; results go to standard output, messages to standard error, one
//! line each.

mod boards;
mod changes;
mod compare;
mod compare_boards;
mod compare_what_if;
mod csv;
mod cut_pieces;
mod cut_sheets;
mod new;
mod out;
mod prices;
mod saw;
mod schedule;
mod setout_floor;
mod setout;
mod sheets;
mod snags;
mod survey;
mod workbook;
mod yard;

use std::ffi::OsString;
use std::io::{Write, stderr, stdin};
use std::path::{Path, PathBuf};

use clap::{CommandFactory, Parser, Subcommand, ValueEnum};
use layout_core::document::{Job, read};
use serde::de::DeserializeOwned;

use ::sheets::page::LabelSheet;

use crate::files;
pub(crate) use workbook::tables;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done = 0,
    /// The job has open stops.
    Stops = 1,
    /// The input or the command line is wrong.
    Input = 2,
    /// The output cannot be written.
    Output = 3,
}

/// Why a command did not come to its end: how it ends then, and the line that says why (nothing
/// when there is nobody left to read it).
struct Failure(Exit, String);

impl Failure {
    fn input(line: impl Into<String>) -> Failure {
        Failure(Exit::Input, line.into())
    }

    fn output(line: impl Into<String>) -> Failure {
        Failure(Exit::Output, line.into())
    }
}

type Outcome = Result<Exit, Failure>;

#[derive(Parser)]
#[command(
    name = "baywright",
    version,
    about = "Designs, sets out and lists timber stud partitions. Without a command it opens the window.",
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true
)]
struct Arguments {
    /// A job to open in the window
    file: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand)]
enum Command {
    /// Every piece of timber: mark, role, section, cut length, end cuts, place
    Schedule {
        /// The job; - for standard input
        file: PathBuf,
        #[command(flatten)]
        form: Form,
    },
    /// A cutting plan: which bars and sheets to buy and what to cut from each
    Saw {
        /// The job; - for standard input
        #[arg(required_unless_present_any = ["sheets", "pieces"])]
        #[arg(conflicts_with_all = ["sheets", "pieces"])]
        file: Option<PathBuf>,
        /// Look for joints of plates that come to less
        #[arg(long, requires = "file", conflicts_with = "csv")]
        joints: bool,
        /// Instead of a job, a bare problem of lengths to cut from bars, as JSON; - for standard input
        #[arg(long, value_name = "FILE", conflicts_with = "sheets")]
        pieces: Option<PathBuf>,
        /// With --pieces: the longest to look for better plans, seconds
        #[arg(long, value_name = "N", requires = "pieces", default_value_t = cut_pieces::SECONDS)]
        seconds: f64,
        /// Instead of a job, a bare problem of rectangles to cut from sheets, as JSON
        #[arg(long, value_name = "FILE", conflicts_with = "csv")]
        sheets: Option<PathBuf>,
        #[command(flatten)]
        form: Form,
    },
    /// What to buy: timber, boards, screws, tape, beads, filler, insulation, linings; price lists
    Yard {
        /// The job; - for standard input
        file: PathBuf,
        /// Instead, a price list for the merchant to fill in, as a table for a spreadsheet
        #[arg(long, conflicts_with_all = ["prices", "json", "csv"])]
        price_list: bool,
        /// Take the prices of this list over: what it would change, or a new job with -o
        #[arg(long, value_name = "LIST.csv", conflicts_with_all = ["json", "csv"])]
        prices: Option<PathBuf>,
        /// With --prices: the job file to write; - for standard output
        #[arg(short, long, value_name = "NEWFILE", requires = "prices")]
        out: Option<PathBuf>,
        /// With -o: replace a file that is already there
        #[arg(long, requires = "out")]
        force: bool,
        #[command(flatten)]
        form: Form,
    },
    /// Running marks, fixings with their packers, levels off the laser line, diagonals
    Setout {
        /// The job; - for standard input
        file: PathBuf,
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// What is or will be wrong; exit code 1 when a stop is open
    Snags {
        /// The job; - for standard input
        file: PathBuf,
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// The room from its tape measurements: corners, residuals, what is suspect, what to measure next
    Survey {
        /// The job; - for standard input
        file: PathBuf,
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// What every odd bay of a wall, every place for an opening, or every way to lay boards comes to
    Compare {
        /// The job; - for standard input
        file: PathBuf,
        /// The wall; the one the opening is in when it is left out
        #[arg(long)]
        wall: Option<String>,
        /// The opening to try along its wall
        #[arg(long)]
        opening: Option<String>,
        /// The make-up whose boards to lay upright and across, in every size, at every centres, from either end
        #[arg(long, value_name = "MAKE-UP", conflicts_with_all = ["wall", "opening"])]
        boards: Option<String>,
        /// The whole job with other centres, of another timber, from other lengths, its boards laid another way
        #[arg(long, conflicts_with_all = ["wall", "opening", "boards"])]
        what_if: bool,
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// The print set, written to a folder
    Sheets {
        /// The job; - for standard input
        file: PathBuf,
        /// The folder to write to; made when it is not there
        #[arg(short, long, value_name = "DIR")]
        out: PathBuf,
        /// Size of the sheets
        #[arg(long, value_enum, default_value_t = Paper::A3)]
        paper: Paper,
        /// Sheets that stand on their short side
        #[arg(long)]
        upright: bool,
        /// Elevations of walls at 1 to this where they fit; the largest scale that fits when it is left out
        #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1000))]
        scale: Option<u16>,
        /// The face walls are seen from
        #[arg(long, value_enum, default_value_t = Side::Right)]
        face: Side,
        /// These sheets, in this order: plan, setting-out, marks, saw, boards, wall-A, crew-A, crew, rod-A, rods, labels …
        #[arg(long, value_name = "SHEET", value_delimiter = ',')]
        only: Vec<String>,
        /// Labels by their dimensions, mm: 99.1x38.1, 63.5x38.1, 70x35, or 60x30,3x9,LEFT+TOP,GAPxGAP
        #[arg(long, value_name = "SIZE", default_value = "99.1x38.1", value_parser = LabelSheet::read)]
        labels: LabelSheet,
        /// What to write
        #[arg(long = "as", value_enum, value_delimiter = ',', default_values_t = [Kind::Pdf])]
        kinds: Vec<Kind>,
    },
    /// What changed between two states of a job: what moved, is cut again, new, left over, and what still serves
    Changes {
        /// The job as it was
        old: PathBuf,
        /// The job as it is; - for standard input
        new: PathBuf,
        /// As JSON
        #[arg(long, conflicts_with = "out")]
        json: bool,
        /// A folder to write the change sheet to; made when it is not there
        #[arg(short, long, value_name = "DIR")]
        out: Option<PathBuf>,
        /// Size of the sheet
        #[arg(long, value_enum, default_value_t = Paper::A3, requires = "out")]
        paper: Paper,
    },
    /// A new job file from a starter
    New {
        /// The starter to begin from
        #[arg(long, value_name = "NAME", default_value = "empty-room")]
        from: String,
        #[command(flatten)]
        room: new::RoomFrom,
        /// Replace a file that is already there
        #[arg(long)]
        force: bool,
        /// The file to make; - for standard output
        file: PathBuf,
    },
}

/// In which form a list comes.
#[derive(clap::Args, Clone, Copy)]
struct Form {
    /// As JSON
    #[arg(long, conflicts_with = "csv")]
    json: bool,
    /// As a table for a spreadsheet
    #[arg(long)]
    csv: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Paper {
    A4,
    A3,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Side {
    Right,
    Left,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Kind {
    /// All sheets in one file
    Pdf,
    /// A file for each sheet
    Svg,
    /// The plan, each elevation and each platform as a drawing for other programs
    Dxf,
    /// Every list as a sheet of one workbook
    Xlsx,
    /// The whole job as a building model
    Ifc,
}

/// Runs the program with `arguments`, its own name first.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Exit {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    if let Some(line) = no_such_command(&arguments) {
        return ended(Err(Failure::input(line)));
    }
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) if error.use_stderr() => return ended(Err(Failure::input(one_line(&error)))),
        // Help and version were asked for.
        Err(error) => return ended(out::print(&error.render().to_string()).map(|()| Exit::Done)),
    };
    let Some(command) = arguments.command else {
        let opened = crate::app::open_window(arguments.file);
        return ended(opened.map(|()| Exit::Done).map_err(Failure::output));
    };
    ended(match command {
        Command::Schedule { file, form } => {
            job_from(&file).and_then(|job| schedule::run(&job, form))
        }
        Command::Saw { sheets: Some(file), form, .. } => cut_sheets::run(&file, form.json),
        Command::Saw { pieces: Some(file), seconds, form, .. } => {
            cut_pieces::run(&file, seconds, form)
        }
        Command::Saw { file, joints, form, .. } => {
            job_from(&file.unwrap_or_default()).and_then(|job| saw::run(&job, joints, form))
        }
        Command::Yard { file, price_list: true, .. } => {
            job_from(&file).and_then(|job| prices::write_list(&job))
        }
        Command::Yard { file, prices: Some(list), out, force, .. } => {
            job_from(&file).and_then(|job| prices::run(&job, &list, out.as_deref(), force))
        }
        Command::Yard { file, form, .. } => job_from(&file).and_then(|job| yard::run(&job, form)),
        Command::Setout { file, json } => job_from(&file).and_then(|job| setout::run(&job, json)),
        Command::Snags { file, json } => job_from(&file).and_then(|job| snags::run(&job, json)),
        Command::Survey { file, json } => job_from(&file).and_then(|job| survey::run(&job, json)),
        Command::Compare { file, boards: Some(makeup), json, .. } => {
            job_from(&file).and_then(|job| compare_boards::run(&job, &makeup, json))
        }
        Command::Compare { file, what_if: true, json, .. } => {
            job_from(&file).and_then(|job| compare_what_if::run(&job, json))
        }
        Command::Compare { file, wall, opening, json, .. } => job_from(&file)
            .and_then(|job| compare::run(&job, wall.as_deref(), opening.as_deref(), json)),
        Command::Sheets { file, out, paper, upright, scale, face, only, labels, kinds } => {
            let asked = sheets::Asked { paper, upright, scale, face, only, labels, kinds };
            job_from(&file).and_then(|job| sheets::run(&job, &out, &asked))
        }
        Command::Changes { old, new, json, out, paper } => job_from(&old).and_then(|was| {
            let is = job_from(&new)?;
            let sheet = out.map(|folder| (folder, paper));
            changes::run(&was, &is, json, sheet)
        }),
        Command::New { from, room, force, file } => new::run(&from, &room, force, &file),
    })
}

fn ended(outcome: Outcome) -> Exit {
    match outcome {
        Ok(exit) => exit,
        Err(Failure(exit, line)) => {
            if !line.is_empty() {
                // Nobody is left to tell when even this fails.
                let _ = writeln!(stderr(), "{line}");
            }
            exit
        }
    }
}

fn job_from(file: &Path) -> Result<Job, Failure> {
    if file == Path::new("-") {
        let text = files::read_input(stdin().lock(), "-").map_err(Failure::input)?;
        return read(&text).map_err(|e| Failure::input(format!("-:{e}")));
    }
    files::read_job(file).map_err(Failure::input)
}

/// A bare problem to be cut, as JSON from a file or standard input.
fn bare_problem<T: DeserializeOwned>(file: &Path) -> Result<T, Failure> {
    let text = if file == Path::new("-") {
        files::read_input(stdin().lock(), "-")
    } else {
        files::read_text(file)
    };
    let text = text.map_err(Failure::input)?;
    serde_json::from_str(&text).map_err(|e| {
        let line = e.to_string();
        let what = line.rsplit_once(" at line ").map_or(line.as_str(), |(what, _)| what);
        let what = what.replace("expected f64", "expected a number");
        Failure::input(format!("{}:{}:{}: {what}", file.display(), e.line(), e.column()))
    })
}

/// A first word that is followed by more is meant as a command; the line that says there is none
/// of that name.
fn no_such_command(arguments: &[OsString]) -> Option<String> {
    let [_, word, _, ..] = arguments else { return None };
    let word = word.to_string_lossy();
    let commands = Arguments::command();
    let names: Vec<&str> = commands.get_subcommands().map(clap::Command::get_name).collect();
    if word.starts_with('-') || names.contains(&&*word) {
        return None;
    }
    Some(format!(
        "There is no command {word}; there are {}. See baywright --help",
        names.join(", ")
    ))
}

/// What is wrong with the command line, in one line.
fn one_line(error: &clap::Error) -> String {
    let text = error.render().to_string();
    let mut parts = text.lines().map(str::trim).filter(|l| !l.is_empty());
    let first = parts.next().unwrap_or_default().trim_start_matches("error: ").to_string();
    // What is missing is listed one a line; a tip stands on a line of its own.
    let listed: Vec<&str> = parts
        .take_while(|l| !l.starts_with("Usage:") && !l.starts_with("For more"))
        .map(|l| l.trim_start_matches("tip: "))
        .collect();
    let join = if first.ends_with(':') { " " } else { "; " };
    let listed =
        if listed.is_empty() { String::new() } else { format!("{join}{}", listed.join("; ")) };
    format!("{first}{listed}. See baywright --help")
}

//! Carries commands out: the only writer of the session, of the settings and of files.

mod under;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use layout_core::document::{Face, Job};
use layout_core::id::ItemRef;
use layout_core::layout::Layout;
use sheets::export::svg;
use sheets::page::Progress;

use crate::assets;
use crate::command::{Command, Finished};
use crate::exchange::Form;
use crate::files::{self, Recovery};
use crate::jobs::{Jobs, Kind};
use crate::keep::{self, Due, Keeper};
use crate::prefs::{Preference, Prefs};
use crate::prices::{PriceOffer, price_list};
use crate::prints::{self, How, Prints};
use crate::session::{Dialog, Message, PathAsk, Session, Tool, Where};

/// An answer to a file question that comes sooner than this was not given by a person.
const AT_ONCE: Duration = Duration::from_millis(1200);

/// A question for the system's own file window.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What the path is for.
    pub ask: PathAsk,
    /// The folder to begin in.
    pub folder: PathBuf,
    /// The name to begin with, when something is to be written.
    pub name: String,
}

/// Whoever can put a file question to the person; `None` when no path was chosen or nobody answers.
pub type Asker = Arc<dyn Fn(&Question) -> Option<PathBuf> + Send + Sync>;

/// Everything commands may write to.
pub struct Desk {
    /// The session.
    pub session: Session,
    /// What is remembered between runs.
    pub prefs: Prefs,
    /// Work off the frame.
    pub jobs: Jobs,
    /// True when the window may close without a question.
    pub leaving: bool,
    keeper: Keeper,
    prefs_path: Option<PathBuf>,
    asker: Asker,
}

impl Desk {
    /// A desk with `session` on it. Settings are written to `prefs_path`, and
    /// unsaved work is put aside, when there is one.
    pub fn new(
        session: Session,
        prefs: Prefs,
        prefs_path: Option<PathBuf>,
        jobs: Jobs,
        asker: Asker,
    ) -> Desk {
        Desk { session, prefs, jobs, leaving: false, keeper: Keeper::default(), prefs_path, asker }
    }

    /// Carries out one command.
    pub fn run(&mut self, command: Command) {
        match command {
            Command::Each(commands) => commands.into_iter().for_each(|c| self.run(c)),
            Command::New(_) | Command::Open(_) | Command::Quit if self.session.changed() => {
                self.session.dialog = Some(Dialog::Unsaved(Box::new(command)));
            }
            Command::New(_) | Command::Open(_) | Command::Quit => self.run_anyway(command),
            Command::Anyway(command) => {
                self.session.dialog = None;
                self.run_anyway(*command);
            }
            Command::SaveThen(command) => {
                self.session.dialog = None;
                self.save(Some(command));
            }
            Command::Save => self.save(None),
            Command::SaveAs(None) => self.ask(PathAsk::Save(None)),
            Command::SaveAs(Some(path)) => self.save_to(path, None),
            Command::SaveAsThen(path, then) => self.save_to(path, Some(then)),
            Command::ExportPdf(None) => self.ask(PathAsk::Pdf),
            Command::ExportSvg(page, None) => self.ask(PathAsk::Svg(page)),
            Command::PlaceUnder(None) => self.ask(PathAsk::Under),
            Command::PlaceUnder(Some(path)) => self.place_under(path),
            Command::ExportFor(form, None) => self.ask(PathAsk::For(form)),
            Command::ExportFor(form, Some(path)) => self.export(path, move |job, layout, how| {
                form.made(job, layout, &prints::options_of_all(layout, how))
            }),
            Command::ExportPage(page, None) => self.ask(PathAsk::Page(page)),
            Command::ExportPdf(Some(path)) => self.export_prints(path, Prints::pdf),
            Command::ExportPage(page, Some(path)) => {
                self.export_prints(path, move |prints| prints.page_pdf(page));
            }
            Command::ViewPrints => self.hand_over(opened),
            Command::SendPrints => self.hand_over(|path| match prints::send(&path) {
                Ok(()) => Finished::Sent(path),
                Err(line) => Finished::Failed(line),
            }),
            Command::ExportSvg(page, Some(path)) => self.export_prints(path, move |prints| {
                let page = prints.pages.get(page).ok_or("There is no such page any more.")?;
                Ok(svg(page).into_bytes())
            }),
            Command::TakePrices(None) => self.ask(PathAsk::Prices),
            Command::TakePrices(Some(path)) => self.take_prices(path),
            Command::WritePrices(None) => self.ask(PathAsk::PriceList),
            Command::WritePrices(Some(path)) => self.write_prices(path),
            Command::Recover(found) => self.recover(*found),
            Command::Discard(found) => {
                files::drop_journal(&found.journal);
                self.session.dialog = None;
            }
            Command::ShowFile(path) => self.show(path),
            Command::Prefer(preference) => self.prefer(&preference),
            Command::Finished(finished) => self.finished(finished),
            command => run(&mut self.session, command),
        }
    }

    fn run_anyway(&mut self, command: Command) {
        match command {
            Command::New(starter) => match assets::starter(&starter) {
                Some(job) => self.begin(Arc::new(job), None),
                None => self.say(Message::failed(format!("There is no starter called {starter}."))),
            },
            Command::Open(None) => self.ask(PathAsk::Open),
            Command::Open(Some(path)) => self.open(path),
            Command::Quit => {
                self.keeper.forget();
                self.leaving = true;
            }
            command => self.run(command),
        }
    }

    /// Puts another job on the desk. What was put aside of the one before is not wanted any more.
    fn begin(&mut self, job: Arc<Job>, path: Option<PathBuf>) {
        self.keeper.forget();
        let view = self.session.view.0 + 1;
        self.session = Session::new(Arc::unwrap_or_clone(job), path);
        self.session.view.0 = view;
    }

    fn open(&mut self, path: PathBuf) {
        self.session.dialog = None;
        let started = self.jobs.start(Kind::Open, move || match files::read_job(&path) {
            Ok(job) => {
                files::clear_left_overs(&path);
                Finished::Opened {
                    found: files::find_recovery(&path).map(Box::new),
                    job: Arc::new(job),
                    path,
                }
            }
            Err(line) => Finished::Failed(line),
        });
        if !started {
            self.say(Message::failed(
                "Another job is still being opened. Try again when it is there.",
            ));
        }
    }

    fn save(&mut self, then: Option<Box<Command>>) {
        match self.session.path.clone() {
            Some(path) => self.save_to(path, then),
            None => self.ask(PathAsk::Save(then)),
        }
    }

    fn save_to(&mut self, path: PathBuf, then: Option<Box<Command>>) {
        self.session.dialog = None;
        let job = self.session.history.job().clone();
        let under = self.session.under.as_ref().map(|u| u.path.clone());
        let started = self.jobs.start(Kind::Save, move || match files::save_job(&path, &job) {
            Ok(remark) => {
                if let Some(under) = under {
                    crate::under::follow(&under, &path);
                }
                Finished::Saved { path, job, remark, then }
            }
            Err(line) => Finished::Failed(line),
        });
        if !started {
            self.say(Message::failed("The job is still being saved. Save again in a moment."));
        }
    }

    /// Draws the prints of the committed job and writes what `make` makes of them.
    fn export_prints(
        &mut self,
        path: PathBuf,
        make: impl FnOnce(&Prints) -> Result<Vec<u8>, String> + Send + 'static,
    ) {
        self.export(path, |job, layout, how| {
            drawn(job.clone(), layout, how).and_then(|p| make(&p))
        });
    }

    /// Writes what `make` makes of the committed job for the paper that is chosen.
    fn export(
        &mut self,
        path: PathBuf,
        make: impl FnOnce(&Arc<Job>, &Layout, &How) -> Result<Vec<u8>, String> + Send + 'static,
    ) {
        self.session.dialog = None;
        let (job, how) = self.wanted_prints();
        let started = self.jobs.start(Kind::Export, move || {
            let layout = Layout::of(&job);
            let written =
                make(&job, &layout, &how).and_then(|bytes| files::save_bytes(&path, &bytes));
            match written {
                Ok(_) => Finished::Exported(path),
                Err(line) => Finished::Failed(line),
            }
        });
        if !started {
            self.say(Message::failed("Prints are still being written. Try again in a moment."));
        }
    }

    /// Reads a price list and holds it against the committed job.
    fn take_prices(&mut self, path: PathBuf) {
        self.session.dialog = None;
        let job = self.session.history.job().clone();
        let read = move || Finished::Prices(Box::new(PriceOffer::of(path, job)));
        if !self.jobs.start(Kind::Prices, read) {
            self.say(Message::failed("A price list is still being read. Try again in a moment."));
        }
    }

    fn write_prices(&mut self, path: PathBuf) {
        self.session.dialog = None;
        let job = self.session.history.job().clone();
        let write = move || match files::save_bytes(&path, price_list(&job).as_bytes()) {
            Ok(_) => Finished::Exported(path),
            Err(line) => Finished::Failed(line),
        };
        if !self.jobs.start(Kind::Prices, write) {
            self.say(Message::failed("A price list is still being read. Try again in a moment."));
        }
    }

    /// A price list was read: it is offered, unless the job has changed meanwhile; then it is held against that.
    fn offer_prices(&mut self, offer: Box<PriceOffer>) {
        if Arc::ptr_eq(&offer.of, self.session.history.job()) {
            self.session.dialog = Some(Dialog::Prices(offer));
        } else {
            self.take_prices(offer.path);
        }
    }

    /// Draws the prints of the committed job, puts them aside as PDF and hands them to the system.
    fn hand_over(&mut self, then: impl FnOnce(PathBuf) -> Finished + Send + 'static) {
        let (job, how) = self.wanted_prints();
        let started = self.jobs.start(Kind::Export, move || {
            let title = job.title.clone();
            let made = drawn(job.clone(), &Layout::of(&job), &how)
                .and_then(|prints| prints.pdf())
                .and_then(|bytes| prints::put_aside(&title, &bytes));
            made.map_or_else(Finished::Failed, then)
        });
        if !started {
            self.say(Message::failed("Prints are still being written. Try again in a moment."));
        }
    }

    /// The committed job, and how its prints are put together.
    fn wanted_prints(&self) -> (Arc<Job>, How) {
        (self.session.history.job().clone(), (self.prefs.paper, self.prefs.prints.clone()))
    }

    /// Shows a file in whatever the system shows such files with.
    fn show(&mut self, path: PathBuf) {
        self.jobs.start(Kind::Show, move || opened(path));
    }

    /// Asks for a path: by the system's file window when it answers, by typing when it does not.
    fn ask(&mut self, ask: PathAsk) {
        let question =
            Question { folder: self.folder(), name: self.suggested_name(&ask), ask: ask.clone() };
        let asker = self.asker.clone();
        let (answer, began) = (ask.clone(), Instant::now());
        let started = self.jobs.start(Kind::Ask, move || {
            let path = asker(&question);
            Finished::Chose { ask: answer, path, at_once: began.elapsed() < AT_ONCE }
        });
        if started {
            self.session.dialog = None;
            self.session.asking = Some(ask);
        } else {
            let why = "The system's file window is still busy. Type the path here instead.";
            self.session.dialog = Some(Dialog::Path(ask, Some(why.into())));
        }
    }

    /// The folder a file question begins in.
    pub fn folder(&self) -> PathBuf {
        let beside = self.session.path.as_deref().and_then(Path::parent).map(Path::to_path_buf);
        beside
            .or_else(|| self.prefs.folder.clone())
            .or_else(|| directories::UserDirs::new().map(|dirs| dirs.home_dir().to_path_buf()))
            .unwrap_or_default()
    }

    /// The file name a question about writing begins with.
    pub fn suggested_name(&self, ask: &PathAsk) -> String {
        suggested_name(&self.session, ask)
    }

    fn prefer(&mut self, preference: &Preference) {
        self.prefs.change(preference);
        self.keep_prefs();
    }

    fn keep_prefs(&mut self) {
        if let Some(path) = &self.prefs_path
            && let Err(line) = self.prefs.write(path)
        {
            self.session.message = Some(Message::failed(line));
        }
    }

    fn say(&mut self, message: Message) {
        self.session.message = Some(message);
    }

    fn finished(&mut self, finished: Finished) {
        match finished {
            Finished::Opened { path, job, found } => {
                self.prefs.used(&path);
                self.begin(job, Some(path));
                self.keep_prefs();
                if let Some(found) = found {
                    self.found(*found);
                }
            }
            Finished::Under { placed, under } => self.under_read(under, placed),
            Finished::Found(found) => self.found(*found),
            Finished::Saved { path, job, remark, then } => {
                self.prefs.used(&path);
                self.session.message = Some(match remark {
                    Some(remark) => Message::failed(remark),
                    None => Message::done(format!("Saved {}", file_name(&path))),
                });
                self.session.path = Some(path);
                self.session.saved = job;
                self.keeper.forget();
                self.keep_prefs();
                if let Some(then) = then {
                    self.run(*then);
                }
            }
            Finished::Chose { ask, path, at_once } => self.chose(ask, path, at_once),
            Finished::Nothing
            | Finished::Printed(_)
            | Finished::Compared(_)
            | Finished::WhatIf(_)
            | Finished::Planned(_) => {}
            Finished::Prices(offer) => self.offer_prices(offer),
            Finished::Exported(path) => {
                self.prefs.folder =
                    path.parent().map(Path::to_path_buf).or(self.prefs.folder.take());
                self.session.message = Some(Message {
                    file: Some(path.clone()),
                    ..Message::done(format!("Wrote {}", path.display()))
                });
            }
            Finished::Sent(path) => {
                let line = format!("{} was sent to the printer", file_name(&path));
                self.say(Message::done(line));
            }
            Finished::Showing(path) => {
                let line = format!("The system was asked to show {}", file_name(&path));
                self.say(Message::done(line));
            }
            Finished::Failed(line) => self.say(Message::failed(line)),
        }
    }

    /// Unsaved work was found: it is offered, never opened silently.
    fn found(&mut self, found: Recovery) {
        let of = found.of.as_ref().map_or_else(|| "the job".into(), |path| file_name(path));
        if found.in_use {
            let line = format!("{of} is open in another window. Save here under another name.");
            self.say(Message::failed(line));
        } else if let Err(line) = &found.job {
            self.say(Message::failed(format!(
                "Unsaved work was found, but cannot be read. {line}"
            )));
        } else {
            self.session.dialog = Some(Dialog::Recover(Box::new(found)));
        }
    }

    /// Puts unsaved work from an earlier run on the desk. It stays unsaved, and its copy is kept
    /// until it is saved.
    fn recover(&mut self, found: Recovery) {
        let Ok(job) = found.job else { return };
        let job = Arc::new(job);
        let here = self.session.path.is_some() && self.session.path == found.of;
        let saved = if here { self.session.saved.clone() } else { Arc::new(Job::default()) };
        self.begin(job, found.of);
        self.session.saved = saved;
        let job = self.session.history.job().clone();
        self.keeper.keeping(job, found.journal, Instant::now());
    }

    /// Puts unsaved work aside when it is time; says when to ask again.
    pub fn keep(&mut self, now: Instant) -> Option<Duration> {
        self.prefs_path.as_ref()?;
        let job = self.session.history.job().clone();
        let changed = self.session.changed() && !self.leaving;
        keep::at_stake(changed.then_some((&job, self.session.path.as_deref())));
        match self.keeper.due(&job, changed, now) {
            Due::Never => None,
            Due::In(wait) => Some(wait),
            Due::Now => {
                let of = self.session.path.clone();
                let journal = files::journal_path(of.as_deref())?;
                self.keeper.keeping(job.clone(), journal.clone(), now);
                self.jobs.start(Kind::Journal, move || {
                    match files::keep_journal(&journal, of.as_deref(), &job) {
                        Ok(()) => Finished::Nothing,
                        Err(line) => Finished::Failed(line),
                    }
                });
                None
            }
        }
    }

    /// Looks for work on jobs that were never saved, from a run that did not end well.
    pub fn look_for_lost_work(&mut self) {
        let folder =
            files::journal_path(None).and_then(|path| path.parent().map(Path::to_path_buf));
        if let Some(folder) = folder.filter(|_| self.prefs_path.is_some()) {
            self.jobs.start(Kind::Journal, move || {
                files::find_recoveries(&folder)
                    .into_iter()
                    .next()
                    .map_or(Finished::Nothing, |found| Finished::Found(Box::new(found)))
            });
        }
    }

    /// An answer from the system's file window. One that is no longer waited for is dropped.
    fn chose(&mut self, ask: PathAsk, path: Option<PathBuf>, at_once: bool) {
        if self.session.asking.as_ref() != Some(&ask) {
            return;
        }
        self.session.asking = None;
        match path {
            Some(path) => self.answer(ask, path),
            None if at_once => {
                let why = "No file window answered on this machine. Type the path here.";
                self.session.dialog = Some(Dialog::Path(ask, Some(why.into())));
            }
            None => {}
        }
    }

    fn answer(&mut self, ask: PathAsk, path: PathBuf) {
        match ask {
            PathAsk::Open => self.open(path),
            PathAsk::Save(then) => self.save_to(path, then),
            PathAsk::Pdf => self.run(Command::ExportPdf(Some(path))),
            PathAsk::Page(page) => self.run(Command::ExportPage(page, Some(path))),
            PathAsk::Svg(page) => self.run(Command::ExportSvg(page, Some(path))),
            PathAsk::For(form) => self.run(Command::ExportFor(form, Some(path))),
            PathAsk::Under => self.run(Command::PlaceUnder(Some(path))),
            PathAsk::Prices => self.run(Command::TakePrices(Some(path))),
            PathAsk::PriceList => self.run(Command::WritePrices(Some(path))),
        }
    }
}

/// Prints drawn for a file.
fn drawn(job: Arc<Job>, layout: &Layout, how: &How) -> Result<Prints, String> {
    Prints::of(job, layout, how.clone(), &Progress::default())
        .ok_or_else(|| "The prints could not be drawn. Try again.".into())
}

/// Asks the system to show a file.
fn opened(path: PathBuf) -> Finished {
    match opener::open(&path) {
        Ok(()) => Finished::Showing(path),
        Err(e) => Finished::Failed(format!(
            "Nothing on this machine shows such files: {e}. {}",
            path.display()
        )),
    }
}

/// The file name a question about writing begins with.
pub fn suggested_name(session: &Session, ask: &PathAsk) -> String {
    let title: String = session
        .history
        .job()
        .title
        .chars()
        .map(|c| if c.is_alphanumeric() || " -_,".contains(c) { c } else { '-' })
        .take(80)
        .collect();
    let stem = match title.trim() {
        "" => "job",
        title => title,
    };
    match ask {
        PathAsk::Open | PathAsk::Under | PathAsk::Prices => String::new(),
        PathAsk::PriceList => format!("{stem}, prices.csv"),
        PathAsk::Save(_) => {
            session.path.as_deref().map_or_else(|| format!("{stem}.{EXTENSION}"), file_name)
        }
        PathAsk::Pdf => format!("{stem}.pdf"),
        PathAsk::Page(page) => format!("{stem}, page {}.pdf", page + 1),
        PathAsk::Svg(page) => format!("{stem}, page {}.svg", page + 1),
        PathAsk::For(Form::Drawing(name)) => format!("{stem}, {name}.dxf"),
        PathAsk::For(form) => format!("{stem}.{}", form.ending()),
    }
}

/// What the names of job files end in.
pub const EXTENSION: &str = "ron";

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// Carries out one command that needs nothing but the session.
pub fn run(session: &mut Session, command: Command) {
    match command {
        Command::Each(commands) => commands.into_iter().for_each(|c| run(session, c)),
        Command::Go(place) => {
            session.gesture = None;
            session.place = place;
        }
        Command::Take(tool) => {
            (session.gesture, session.marking) = (None, None);
            session.place = Where::Draw;
            session.tool = tool;
        }
        Command::Pick(item) => {
            session.preview = None;
            pick(session, item);
        }
        Command::ShowWall(wall) => session.wall = Some(wall),
        Command::OtherFace => {
            session.face = match session.face {
                Face::Left => Face::Right,
                Face::Right => Face::Left,
            };
        }
        Command::Boards(layer) => session.boards = layer,
        Command::Mend(snag) => {
            session.mending = snag.map(|snag| *snag);
            (session.accepting, session.preview) = (None, None);
        }
        Command::AskReason(snag) => {
            session.accepting = snag.map(|snag| *snag);
            (session.mending, session.preview) = (None, None);
        }
        Command::Preview(edit) => session.preview = edit,
        Command::Zones(shown) => session.zones = shown,
        Command::CompareBoards(on) => {
            session.comparing_boards = on;
            session.preview = None;
        }
        Command::Compare(on) => {
            session.comparing = on;
            session.preview = None;
            if on {
                session.place = Where::Draw;
            }
        }
        Command::MarkUnder(on) => {
            session.gesture = None;
            session.marking = on.then(Vec::new);
            if on {
                (session.place, session.tool) = (Where::Draw, Tool::Pick);
            }
        }
        Command::Marked(at) => under::marked(session, at),
        Command::View(view) => session.view = (session.view.0 + 1, view),
        Command::Edit(edit) => {
            let job = edit.apply(session.history.job());
            if let layout_core::document::Edit::Rename { item, to } = &edit {
                follow_rename(session, item, to);
            }
            session.history.commit(edit.label(), job);
            (session.mending, session.accepting, session.preview) = (None, None, None);
            session.settle();
        }
        Command::Drag(mut gesture) => {
            gesture.units = session.history.job().units;
            session.gesture = Some(gesture);
            session.preview = None;
        }
        Command::Drop => {
            let edit = session.gesture.take().and_then(|g| g.edit(session.history.job()));
            if let Some(edit) = edit {
                run(session, Command::Edit(edit));
            }
        }
        Command::Cancel if session.gesture.is_some() => session.gesture = None,
        Command::Cancel if session.marking.is_some() => session.marking = None,
        Command::Cancel => session.tool = Tool::Pick,
        Command::Undo => {
            session.gesture = None;
            session.history.undo();
            session.settle();
        }
        Command::Redo => {
            session.gesture = None;
            session.history.redo();
            session.settle();
        }
        Command::Ask(dialog) => {
            // A path that is typed makes a late answer of the system's file window unwanted.
            if matches!(dialog, Dialog::Path(..)) {
                session.asking = None;
            }
            session.dialog = Some(dialog);
        }
        Command::Dismiss => session.dialog = None,
        Command::Say(message) => session.message = Some(message),
        Command::Hush => session.message = None,
        _ => {}
    }
}

/// Picks `item`; the wall it is in comes into the elevation.
fn pick(session: &mut Session, item: Option<ItemRef>) {
    let job = session.history.job();
    if let Some(wall) = item.as_ref().and_then(|item| job.wall_of(item)) {
        session.wall = Some(wall.name.clone());
    }
    session.picked = item;
}

/// What is picked or shown keeps being picked or shown under its new name.
fn follow_rename(session: &mut Session, item: &ItemRef, to: &layout_core::id::Name) {
    if let (ItemRef::Wall(old), Some(shown)) = (item, &session.wall)
        && old == shown
    {
        session.wall = Some(to.clone());
    }
    if session.picked.as_ref() == Some(item) {
        session.picked = Some(match item {
            ItemRef::Node(_) => ItemRef::Node(to.clone()),
            ItemRef::Wall(_) => ItemRef::Wall(to.clone()),
            ItemRef::Opening(_) => ItemRef::Opening(to.clone()),
            ItemRef::Post(_) => ItemRef::Post(to.clone()),
            ItemRef::Beam(_) => ItemRef::Beam(to.clone()),
            ItemRef::Roof(_) => ItemRef::Roof(to.clone()),
            ItemRef::Room(_) => ItemRef::Room(to.clone()),
            ItemRef::Point(_) => ItemRef::Point(to.clone()),
            ItemRef::Route(_) => ItemRef::Route(to.clone()),
            ItemRef::Fitting(_) => ItemRef::Fitting(to.clone()),
            ItemRef::MakeUp(_) => ItemRef::MakeUp(to.clone()),
            ItemRef::Platform(_) => ItemRef::Platform(to.clone()),
            ItemRef::PlatformHole(_) => ItemRef::PlatformHole(to.clone()),
            item => item.clone(),
        });
    }
}

/// Puts a file question to the system's own file window.
pub fn system_asker() -> Asker {
    Arc::new(|question| {
        let dialog = rfd::FileDialog::new().set_directory(&question.folder);
        let writing = |title: &str, kind: &str, ending: &str| {
            rfd::FileDialog::new()
                .set_directory(&question.folder)
                .set_file_name(&question.name)
                .set_title(title)
                .add_filter(kind, &[ending])
                .save_file()
        };
        match &question.ask {
            PathAsk::Open => dialog
                .set_title("Open a job")
                .add_filter("Baywright jobs", &[EXTENSION])
                .add_filter("All files", &["*"])
                .pick_file(),
            PathAsk::Under => dialog
                .set_title("Put a drawing or a picture under the plan")
                .add_filter("Drawings and pictures", &["dxf", "png", "jpg", "jpeg"])
                .add_filter("All files", &["*"])
                .pick_file(),
            PathAsk::Save(_) => writing("Save the job as", "Baywright jobs", EXTENSION),
            PathAsk::Pdf => writing("Write the prints as PDF", "PDF", "pdf"),
            PathAsk::Page(_) => writing("Write this page as PDF", "PDF", "pdf"),
            PathAsk::Svg(_) => writing("Write this page as SVG", "SVG", "svg"),
            PathAsk::For(form) => writing(form.question(), form.kind(), form.ending()),
            PathAsk::PriceList => writing("Write a price list", "Tables", "csv"),
            PathAsk::Prices => dialog
                .set_title("Take over a price list")
                .add_filter("Tables", &["csv", "txt", "tsv"])
                .add_filter("All files", &["*"])
                .pick_file(),
        }
    })
}

//! The window: each frame shows the scene, gathers what is asked, and carries it out.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use eframe::{CreationContext, NativeOptions};
use egui::{CentralPanel, Context, Frame, Margin, Ui, ViewportBuilder, ViewportCommand};
use layout_core::catalogue::Catalogue;
use layout_core::document::Job;
use sheets::page::Progress;

use crate::canvas::{self, DrawState};
use crate::command::{Command, Finished};
use crate::derived::{About, Compared, Derived, Planned, WhatIfs};
use crate::files;
use crate::jobs::{Jobs, Kind};
use crate::panels::dialogs::{Dialogs, dialogs_ui};
use crate::panels::topbar::{TopBar, topbar_ui};
use crate::panels::{help, message, statusbar};
use crate::places;
use crate::places::sheets::Sheets;
use crate::places::yard::Yard;
use crate::prefs::Prefs;
use crate::prints::{How, Prints};
use crate::run::{Asker, Desk, suggested_name, system_asker};
use crate::scene::Scene;
use crate::session::{Message, PathAsk, Session, Where};
use crate::theme::{Look, Theme, install_fonts};

/// How long good news stays on screen, seconds.
const GOOD_NEWS: f64 = 6.0;

/// How the window begins.
pub struct Start {
    /// The job to begin with; the demonstration when there is none.
    pub job: Option<Job>,
    /// A file to open at once.
    pub open: Option<PathBuf>,
    /// Where the settings are kept; `None` to keep none and to leave the person's own catalogues alone.
    pub prefs: Option<PathBuf>,
    /// Who is asked for paths.
    pub asker: Asker,
}

/// Prints that were begun.
struct Begun {
    of: Arc<Job>,
    how: How,
    progress: Arc<Progress>,
}

/// The window.
pub struct App {
    desk: Desk,
    derived: Derived,
    catalogue: Catalogue,
    theme: Theme,
    shown: Option<(Look, f32, String)>,
    topbar: TopBar,
    dialogs: Dialogs,
    yard: Yard,
    sheets: Sheets,
    /// What the prints were last begun for, and how far they are.
    printing: Option<Begun>,
    /// What choices were last compared for, and the way to give that up.
    comparing: Option<(Arc<Job>, About, Arc<AtomicBool>)>,
    /// What better cutting plans were last looked for, and the way to give that up.
    planning: Option<(Arc<Job>, Arc<AtomicBool>)>,
    /// What other choices for the whole job were last worked out for, and the way to give that up.
    choosing: Option<(Arc<Job>, Arc<AtomicBool>)>,
    draw: DrawState,
    /// The good news on screen, and since when, seconds.
    told: Option<(Message, f64)>,
    queue: Vec<Command>,
}

impl App {
    /// The window as it begins.
    pub fn new(ctx: &Context, start: Start) -> App {
        install_fonts(ctx);
        ctx.options_mut(|o| o.zoom_with_keyboard = false);
        let (prefs, told) = start.prefs.as_deref().map_or_else(Default::default, Prefs::read);
        let mut session = Session::new(start.job.clone().unwrap_or_else(crate::assets::demo), None);
        let own = start.prefs.as_ref().and_then(|_| files::catalogue_folder());
        let (catalogue, unread) = files::catalogue_from(own.as_deref());
        session.message = told.or_else(|| unread.into_iter().next()).map(Message::failed);
        let derived = Derived::new(session.history.job().clone());
        let theme = Theme::of(prefs.look);
        let mut desk = Desk::new(session, prefs, start.prefs, Jobs::new(ctx), start.asker);
        desk.look_for_lost_work();
        // Without a file, the job that was last open is opened; without a history, the demonstration.
        let last = || desk.prefs.recent.first().filter(|path| path.is_file()).cloned();
        let open = start.open.or_else(|| if start.job.is_none() { last() } else { None });
        let queue = open.map(|path| Command::Open(Some(path))).into_iter().collect();
        let mut app = App {
            desk,
            derived,
            catalogue,
            theme,
            shown: None,
            topbar: TopBar::default(),
            dialogs: Dialogs::default(),
            yard: Yard::default(),
            sheets: Sheets::default(),
            printing: None,
            comparing: None,
            planning: None,
            choosing: None,
            draw: DrawState::default(),
            told: None,
            queue,
        };
        app.dress(ctx);
        app
    }

    /// The session, to look at.
    pub fn session(&self) -> &Session {
        &self.desk.session
    }

    /// The settings, to look at.
    pub fn prefs(&self) -> &Prefs {
        &self.desk.prefs
    }

    /// The table of measurements with what is being typed in it, to look at.
    pub fn measuring(&self) -> Option<&canvas::Measuring> {
        self.draw.measuring.as_ref()
    }

    /// What has been worked out, to look at.
    pub fn derived(&self) -> &Derived {
        &self.derived
    }

    /// Asks for `command`, as a view would.
    pub fn ask(&mut self, command: Command) {
        self.queue.push(command);
    }

    /// True while work off the frame is running.
    pub fn busy(&self) -> bool {
        !self.desk.jobs.running().is_empty()
    }

    /// Look, size and window title follow the settings and the job.
    fn dress(&mut self, ctx: &Context) {
        let wanted = (
            self.desk.prefs.look,
            self.desk.prefs.scale,
            self.desk.session.history.job().title.clone(),
        );
        if self.shown.as_ref() != Some(&wanted) {
            self.theme = Theme::of(wanted.0);
            self.theme.install(ctx);
            ctx.set_zoom_factor(wanted.1);
            ctx.send_viewport_cmd(ViewportCommand::Title(format!("Baywright — {}", wanted.2)));
            self.shown = Some(wanted);
        }
    }

    fn run_queue(&mut self, ctx: &Context) -> bool {
        let commands = std::mem::take(&mut self.queue);
        let ran = !commands.is_empty();
        for command in commands {
            match command {
                Command::Finished(Finished::Printed(prints)) => self.derived.prints = Some(prints),
                Command::Finished(Finished::Compared(compared)) => {
                    self.derived.compared = compared.or(self.derived.compared.take());
                }
                Command::Finished(Finished::WhatIf(found)) => {
                    // What was given up has nothing to add to what is newer.
                    if Arc::ptr_eq(&found.of, &self.derived.base_job) {
                        self.derived.what_if = Some(found);
                    }
                }
                Command::Finished(Finished::Planned(planned)) => {
                    self.derived.lists.planned(&planned);
                }
                Command::StopPrints => {
                    if let Some(begun) = &self.printing {
                        begun.progress.stop();
                    }
                }
                Command::DrawPrints => self.printing = None,
                command => self.desk.run(command),
            }
        }
        if self.desk.leaving {
            ctx.send_viewport_cmd(ViewportCommand::Close);
        }
        ran
    }

    /// The system wants the window closed: not before unsaved work has been asked about.
    fn closing(&mut self, ctx: &Context) {
        let wanted = ctx.input(|i| i.viewport().close_requested());
        if wanted && !self.desk.leaving && self.desk.session.changed() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.queue.push(Command::Quit);
        }
    }

    /// Draws the prints again, off the frame, when they are of another job or put together otherwise. Those being drawn for an
    /// earlier one are given up.
    fn prints(&mut self) {
        let job = &self.derived.base_job;
        let how = (self.desk.prefs.paper, self.desk.prefs.prints.clone());
        let is_begun =
            self.printing.as_ref().is_some_and(|b| Arc::ptr_eq(&b.of, job) && b.how == how);
        let running = self.desk.jobs.running().contains(&Kind::Print);
        if let (false, true, Some(begun)) = (is_begun, running, &self.printing) {
            // It wakes the window when it has ended.
            begun.progress.stop();
        }
        if !is_begun && !running {
            let progress = Arc::new(Progress::default());
            self.printing =
                Some(Begun { of: job.clone(), how: how.clone(), progress: progress.clone() });
            let (job, layout) = (job.clone(), self.derived.base.clone());
            self.desk.jobs.start(Kind::Print, move || {
                match Prints::of(job, &layout, how, &progress) {
                    Some(prints) => Finished::Printed(Arc::new(prints)),
                    None => Finished::Nothing,
                }
            });
        }
        let running = self.desk.jobs.running().contains(&Kind::Print);
        let begun = self.printing.as_ref();
        self.derived.printing = begun.filter(|_| running).map(|b| b.progress.so_far());
        self.derived.prints_stopped = begun.is_some_and(|b| b.progress.is_stopped());
    }

    /// Compares the choices for what is picked, off the frame. What is being compared for an earlier job, or for
    /// something else, is given up.
    fn compare(&mut self) {
        let session = &self.desk.session;
        let shown = session.comparing && session.place == Where::Draw;
        let about = About::picked(session).filter(|_| shown);
        let job = &self.derived.base_job;
        let begun = self
            .comparing
            .as_ref()
            .is_some_and(|(of, what, _)| about.as_ref() == Some(what) && Arc::ptr_eq(of, job));
        if begun {
            return;
        }
        if let Some((_, _, stop)) = self.comparing.take() {
            stop.store(true, Ordering::Relaxed);
        }
        // The one given up wakes the window when it has ended.
        let Some(about) = about.filter(|_| !self.desk.jobs.running().contains(&Kind::Compare))
        else {
            return;
        };
        let stop = Arc::new(AtomicBool::new(false));
        self.comparing = Some((job.clone(), about.clone(), stop.clone()));
        let (job, layout) = (job.clone(), self.derived.base.clone());
        let sold = self.catalogue.boards.clone();
        self.desk.jobs.start(Kind::Compare, move || {
            Finished::Compared(Compared::of(job, &layout, about, &sold, &stop).map(Arc::new))
        });
    }

    /// Works the whole job out with other choices, off the frame, while they are looked at. Those of an earlier job are given up.
    fn what_if(&mut self) {
        let shown = self.desk.session.place == Where::Yard && self.yard.asks_what_if();
        let job = &self.derived.base_job;
        if shown && self.choosing.as_ref().is_some_and(|(of, _)| Arc::ptr_eq(of, job)) {
            return;
        }
        if let Some((_, stop)) = self.choosing.take() {
            stop.store(true, Ordering::Relaxed);
        }
        let known = self.derived.what_if.as_ref();
        let known = known.is_some_and(|found| found.ended && Arc::ptr_eq(&found.of, job));
        // The one given up wakes the window when it has ended.
        if !shown || known || self.desk.jobs.running().contains(&Kind::WhatIf) {
            return;
        }
        let stop = Arc::new(AtomicBool::new(false));
        self.choosing = Some((job.clone(), stop.clone()));
        let (job, layout) = (job.clone(), self.derived.base.clone());
        self.desk.jobs.start_telling(Kind::WhatIf, move |tell| {
            let so_far = |found| tell(Finished::WhatIf(Arc::new(found)));
            Finished::WhatIf(Arc::new(WhatIfs::of(&job, &layout, &stop, &so_far)))
        });
    }

    /// Looks for better cutting plans, off the frame. The search for an earlier job is given up.
    fn plan(&mut self) {
        let job = &self.derived.base_job;
        if self.planning.as_ref().is_some_and(|(of, _)| Arc::ptr_eq(of, job)) {
            return;
        }
        if let Some((_, stop)) = &self.planning {
            stop.store(true, Ordering::Relaxed);
        }
        // The one given up wakes the window when it has ended.
        if self.desk.jobs.running().contains(&Kind::Plan) {
            return;
        }
        let stop = Arc::new(AtomicBool::new(false));
        self.planning = Some((job.clone(), stop.clone()));
        let (job, layout) = (job.clone(), self.derived.base.clone());
        self.desk.jobs.start_telling(Kind::Plan, move |tell| {
            let so_far = |planned| tell(Finished::Planned(Arc::new(planned)));
            Finished::Planned(Arc::new(Planned::of(&job, &layout, &stop, &so_far)))
        });
    }

    /// Good news goes away by itself; what could not be done stays until it is put away.
    fn hush(&mut self, ctx: &Context) {
        let message = self.desk.session.message.clone().filter(|m| !m.failed);
        let Some(message) = message else { return self.told = None };
        let now = ctx.input(|i| i.time);
        match &self.told {
            Some((told, at)) if *told == message => {
                if now - at >= GOOD_NEWS {
                    self.queue.push(Command::Hush);
                }
            }
            _ => {
                self.told = Some((message, now));
                ctx.request_repaint_after_secs(GOOD_NEWS as f32);
            }
        }
    }

    fn dropped_files(&mut self, ctx: &Context) {
        let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|f| f.path().to_path_buf()));
        if let Some(path) = dropped {
            self.queue.push(Command::Open(Some(path)));
        }
    }

    fn panels(&mut self, ui: &mut Ui) {
        let App {
            desk, derived, catalogue, theme, topbar, dialogs, yard, sheets, draw, queue, ..
        } = self;
        let scene = Scene::new(&desk.session, derived, &desk.prefs, catalogue, theme);
        topbar_ui(ui, &scene, topbar, queue);
        statusbar::statusbar_ui(ui, &scene, desk.jobs.running(), queue, |ui, _| {
            canvas::hand_ui(ui, &scene, draw);
        });
        message::message_ui(ui, &scene, queue);
        if scene.session.place == Where::Draw && !scene.prefs.hint_read {
            help::hint_ui(ui, &scene, queue);
        }
        let margin = if scene.session.place == Where::Draw {
            Margin::ZERO
        } else {
            Margin::symmetric(28, 20)
        };
        CentralPanel::default().frame(Frame::new().fill(theme.sheet).inner_margin(margin)).show(
            ui,
            |ui| match scene.session.place {
                Where::Draw => places::draw::draw_ui(ui, &scene, draw, queue),
                Where::Snags => places::snags::snags_ui(ui, &scene, queue),
                Where::Saw => places::saw::saw_ui(ui, &scene, queue),
                Where::Yard => places::yard::yard_ui(ui, &scene, yard, &derived.base, queue),
                Where::Sheets => places::sheets::sheets_ui(ui, &scene, sheets, queue),
            },
        );
        let start = |ask: &PathAsk| desk.folder().join(suggested_name(&desk.session, ask));
        dialogs_ui(ui.ctx(), &scene, dialogs, start, queue);
        crate::actions::keys(ui.ctx(), &scene, queue);
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &Context, _frame: &mut eframe::Frame) {
        self.desk.jobs.collect(&mut self.queue);
        self.dropped_files(ctx);
        self.closing(ctx);
        self.hush(ctx);
        self.run_queue(ctx);
        self.desk.look_under();
        if let Some(wait) = self.desk.keep(Instant::now()) {
            ctx.request_repaint_after(wait);
        }
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.dress(ui.ctx());
        self.derived.refresh(self.desk.session.history.job(), self.desk.session.live());
        self.derived.mend(self.desk.session.mending.as_ref());
        self.prints();
        self.compare();
        self.plan();
        self.what_if();
        self.panels(ui);
        if self.run_queue(ui.ctx()) {
            ui.ctx().request_repaint();
        }
    }
}

/// Opens the window, on `path` when there is one, and comes back when it is closed.
///
/// # Errors
/// One line when the system has no window to give.
pub fn open_window(path: Option<PathBuf>) -> Result<(), String> {
    crate::keep::keep_when_failing();
    let viewport = ViewportBuilder::default()
        .with_app_id("baywright")
        .with_title("Baywright")
        .with_icon(crate::icons::window_icon())
        .with_inner_size([1366.0, 768.0])
        .with_min_inner_size([1100.0, 680.0])
        .with_drag_and_drop(true);
    let options =
        NativeOptions { viewport, renderer: eframe::Renderer::Glow, ..NativeOptions::default() };
    let start = Start { job: None, open: path, prefs: Prefs::usual_path(), asker: system_asker() };
    let create = move |cc: &CreationContext<'_>| -> Result<
        Box<dyn eframe::App>,
        Box<dyn std::error::Error + Send + Sync>,
    > { Ok(Box::new(App::new(&cc.egui_ctx, start))) };
    eframe::run_native("Baywright", options, Box::new(create)).map_err(|e| {
        // Only the last part says what a person can do something about.
        let why = e.to_string();
        let why = why.rsplit(": ").next().unwrap_or_default().trim_end_matches('.');
        format!("No window could be opened: {why}. The commands work without one; see --help.")
    })
}

/// An asker for tests: nobody answers.
pub fn nobody() -> Asker {
    Arc::new(|_| None)
}

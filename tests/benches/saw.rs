//! How long plans for bars take: `cargo bench -p suite --bench saw`; results are in `docs/PERFORMANCE.md`. Nothing is
//! asserted: that is what `tests/cutting` is for.

#[path = "../cutting/generate.rs"]
mod generate;

use std::path::Path;
use std::time::Instant;

use saw::{Demand, Planner, Problem, StockLine};
use serde_json::Value;

/// Time spent: seconds gone by, and those this thread has been at work where the system says, to a few milliseconds.
#[derive(Clone, Copy)]
struct Watch {
    start: Instant,
    worked: f64,
}

fn worked() -> f64 {
    let spent = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let spent = spent.and_then(|s| s.split(' ').next()?.parse::<f64>().ok());
    spent.map_or(f64::MAX, |nanoseconds| nanoseconds * 1e-9)
}

impl Watch {
    fn start() -> Watch {
        Watch { start: Instant::now(), worked: worked() }
    }

    /// Seconds, those in which others kept the thread waiting left out.
    fn seconds(self) -> f64 {
        let by = self.start.elapsed().as_secs_f64();
        by.min(worked() - self.worked + 0.004)
    }
}

struct Run {
    seconds: f64,
    proven: bool,
    gap: f64,
}

/// Plans for so long at the most.
fn run(problem: &Problem, most: f64) -> (Run, Planner) {
    let watch = Watch::start();
    let mut planner = Planner::new(problem).expect("numbers that can be reckoned with");
    planner.run(&|| watch.start.elapsed().as_secs_f64() < most || watch.seconds() < most);
    let seconds = watch.seconds();
    let cost = planner.best().cost(problem) as f64;
    let gap = 100.0 * (cost - planner.bound() as f64).max(0.0) / cost.max(1.0);
    (Run { seconds, proven: planner.proven(), gap }, planner)
}

fn report(title: &str, runs: &[Run]) {
    let mut seconds: Vec<f64> = runs.iter().map(|r| r.seconds * 1e3).collect();
    seconds.sort_by(f64::total_cmp);
    let at = |part: f64| seconds[((seconds.len() - 1) as f64 * part) as usize];
    let proven = runs.iter().filter(|r| r.proven).count();
    let quick = runs.iter().filter(|r| r.proven && r.seconds <= 0.05).count();
    let gap = runs.iter().map(|r| r.gap).fold(0.0, f64::max);
    println!(
        "{title}: {} jobs, {proven} proven, {quick} in 50 ms; median {:.1} ms, nine in ten {:.1} ms, slowest {:.0} ms; \
         largest gap {gap:.3} %",
        runs.len(),
        at(0.5),
        at(0.9),
        at(1.0)
    );
}

fn instance(text: &str) -> Problem {
    let read: Value = serde_json::from_str(text).unwrap();
    let tenths = |v: &Value| 10 * v.as_u64().unwrap();
    let stock = read["stock"].as_array().unwrap().iter().map(|s| StockLine {
        length: tenths(&s["length_mm"]),
        cost: s["price"].as_u64().unwrap(),
        available: s["available"].as_u64().map(|n| n as u32),
        bowed: false,
    });
    let pieces = read["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .map(|p| Demand::new(tenths(&p["length_mm"]), p["count"].as_u64().unwrap()));
    Problem {
        kerf: tenths(&read["kerf_mm"]),
        stock: stock.collect(),
        pieces: pieces.collect(),
        ..Problem::default()
    }
}

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cutting");
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    paths.retain(|p| p.extension().is_some_and(|e| e == "json"));
    paths.sort();
    let mut runs = Vec::new();
    for path in &paths {
        let problem = instance(&std::fs::read_to_string(path).unwrap());
        let (run, planner) = run(&problem, 5.0);
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        let (cost, bound) = (planner.best().cost(&problem), planner.bound());
        println!("{name:12} cost {cost}, bound {bound}, {:.1} ms", run.seconds * 1e3);
        runs.push(run);
    }
    report("known answers", &runs);
    let jobs = |seeds: std::ops::Range<u64>, least: u64, most: u64, seconds: f64| -> Vec<Run> {
        let size = |seed: u64| least + (most - least) * (seed % 10) / 9;
        seeds.map(|seed| run(&generate::room(seed, size(seed)), seconds).0).collect()
    };
    report("20 to 60 pieces", &jobs(1_000..1_150, 20, 60, 1.0));
    report("100 to 200 pieces", &jobs(1..151, 100, 200, 1.0));
    report("1,000 to 2,000 pieces", &jobs(2_000..2_015, 1_000, 2_000, 0.5));
}

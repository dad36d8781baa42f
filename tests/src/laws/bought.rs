//! Laws of the order and of price lists: what is added up adds up, what is sold in packs comes in packs, and a list that is
//! written and read again changes nothing.

use layout_core::board_plan::board_plans;
use layout_core::compare::{WhatIf, Whole, what_ifs};
use layout_core::document::{Buying, Job, SheetStock, Spares};
use layout_core::layout::Layout;
use layout_core::order::{Goods, Order, order};
use layout_core::pieces::Planning;
use layout_core::prices::{Does, offer, read_prices, write_prices};
use layout_core::sundries::{self, Need};

use super::law_of;

/// The job with something of everything that is bought.
fn furnished(job: &Job) -> Job {
    let mut job = job.clone();
    for (i, line) in job.stock.iter_mut().enumerate() {
        line.pack = [None, Some(4), Some(3)][i % 3];
        line.available = (i % 4 == 1).then_some(60);
        if i % 5 == 0 {
            line.price = Some(100.0 / 12.0);
        }
    }
    let size = |w: f64| SheetStock {
        price: Some(w / 128.0),
        pack: Some(6),
        ..SheetStock::new("standard".into(), 12.5, (w, 2400.0))
    };
    job.sheets.extend([size(1200.0), size(900.0)]);
    job.sundries.prices.insert("filler".into(), 11.5);
    job.sundries.prices.insert("=no formula".into(), 1.25);
    job.sundries.prices.insert("filler, \"fine\"; 5 kg".into(), 7.0);
    job.buying = Buying {
        tax: 20.0,
        discount: 2.5,
        delivery: 45.0,
        free_from: Some(700.0),
        spares: Spares { bars: 10.0, bars_least: 2, sheets: 5.0, sheets_least: 0, sundries: 12.5 },
        ..Buying::default()
    };
    job
}

fn ordered(job: &Job) -> (Order, Vec<Need>) {
    let layout = Layout::of(job);
    let needs = sundries::order(job, &layout);
    let (bars, sheets) = (Planning::new(job, &layout).plans(), board_plans(job, &layout));
    (order(job, &layout, &bars, &sheets, &needs), needs)
}

#[test]
fn an_order_adds_up() {
    law_of("an order adds up", super::tries() / 4, |job, _| {
        let job = furnished(job);
        let (order, _) = ordered(&job);
        let (sum, near) = (order.sum, |a: f64, b: f64| (a - b).abs() < 0.0051);
        let mut wrong = Vec::new();
        let goods: f64 = order.lines.iter().filter_map(|l| l.price).sum();
        let unpriced = order.lines.iter().filter(|l| l.price.is_none()).count();
        let net = sum.goods - sum.discount;
        let delivery = if net >= 700.0 || order.lines.is_empty() { 0.0 } else { 45.0 };
        if !near(goods, sum.goods) || unpriced != sum.unpriced {
            wrong.push(format!("goods {goods} and {unpriced} without a price: {sum:?}"));
        }
        if !near(sum.discount, goods * 0.025) || !near(sum.delivery, delivery) {
            wrong.push(format!("discount and delivery: {sum:?}"));
        }
        let tax = (net + delivery) * 0.2;
        if !near(sum.tax, tax) || !near(sum.total, net + delivery + sum.tax) {
            wrong.push(format!("tax and total: {sum:?}"));
        }
        for line in &order.lines {
            let spare_ones = match line.goods {
                Goods::Timber => (line.planned as f64 * 0.1 - 1e-9).ceil().max(2.0),
                Goods::Board => (line.planned as f64 * 0.05 - 1e-9).ceil(),
                Goods::Sundries => line.spare as f64,
            };
            let in_packs = line.pack.is_none_or(|n| line.buy().is_multiple_of(n) && line.over < n);
            if line.planned == 0 || line.spare as f64 != spare_ones || !in_packs {
                wrong.push(format!("{line:?}"));
            }
            let paid = line.each.map(|each| each * line.buy() as f64);
            if !paid.zip(line.price).is_none_or(|(a, b)| near(a, b)) {
                wrong.push(format!("{} costs {:?}, not {paid:?}", line.what, line.price));
            }
            let weighs = line.goods == Goods::Sundries || line.mass.is_some_and(|kg| kg > 0.0);
            if !weighs {
                wrong.push(format!("{} weighs {:?}", line.what, line.mass));
            }
        }
        wrong
    });
}

#[test]
fn a_price_list_read_again_changes_nothing() {
    law_of("a price list read again changes nothing", super::tries() / 4, |job, _| {
        let job = furnished(job);
        let (order, needs) = ordered(&job);
        let text = write_prices(&job, &order);
        let mut wrong = Vec::new();
        // Semicolons and tabs too, as other spreadsheets write it.
        for between in [",", ";", "\t"] {
            let text = if between == "," { text.clone() } else { resown(&text, between) };
            let list = match read_prices(&text) {
                Ok(list) => list,
                Err(rows) => return vec![format!("{between:?}: {}\n{text}", rows[0])],
            };
            let back = offer(&job, &needs, &list, "list.csv").map_err(|why| vec![why]);
            let back = match back {
                Ok(back) => back,
                Err(why) => return why,
            };
            if let Some(edit) = &back.edit {
                let changed = back.changes.iter().find(|c| c.does != Does::Nothing);
                wrong.push(format!("{between:?}: {}: {changed:?}", edit.label()));
            }
            if back.others > 0 {
                wrong.push(format!("{} lines are not in the list", back.others));
            }
        }
        // With every price a tenth dearer, it changes every price and nothing else.
        let list = match read_prices(&text) {
            Ok(list) => list,
            Err(rows) => return vec![rows[0].to_string()],
        };
        let mut dearer = list.clone();
        for row in &mut dearer.rows {
            row.price = row.price.map(|price| price * 1.1);
        }
        match offer(&job, &needs, &dearer, "list.csv") {
            Ok(back) => {
                let priced = list.rows.iter().filter(|r| r.price.is_some()).count();
                if back.count(Does::Prices) != priced || back.count(Does::Adds) != 0 {
                    wrong.push(format!("{priced} prices: {}", back.in_words()));
                }
                let after = back.edit.map(|edit| edit.apply(&job)).unwrap_or_default();
                let alike = job.stock.iter().zip(&after.stock).all(|(a, b)| {
                    let b = layout_core::document::Stock { price: a.price, ..b.clone() };
                    *a == b
                });
                if !alike || after.stock.len() != job.stock.len() {
                    wrong.push("a line of timber changed in more than its price".into());
                }
            }
            Err(why) => wrong.push(why),
        }
        wrong
    });
}

/// The table with something else between its cells.
fn resown(text: &str, between: &str) -> String {
    let mut out = String::new();
    let mut quoted = false;
    for c in text.chars() {
        quoted ^= c == '"';
        match c {
            ',' if !quoted => out.push_str(between),
            c => out.push(c),
        }
    }
    out
}

const HEAD: &str =
    "kind,what,thickness_mm,width_mm,length_mm,grade,pack,in_stock,price,price_for\n";

#[track_caller]
fn refused(rows: &str, lines: &[&str]) {
    let text = format!("{HEAD}{rows}");
    for text in [text.clone(), text.replace('\n', "\r\n")] {
        let told = read_prices(&text).expect_err("it is refused");
        let told: Vec<String> = told.iter().map(ToString::to_string).collect();
        assert_eq!(told, lines, "{text:?}");
    }
}

#[test]
fn every_row_that_is_wrong_is_told() {
    refused(
        "timber,,46,97,2400,C16,,,dear,\nboard,standard,12.5,1200,2400,,,,9.5,\nnails,,,,,,,,1,\n",
        &[
            "2: price: “dear” is not a number; expected one such as 7.40",
            "4: kind: “nails” is none; expected timber, board or sundries",
        ],
    );
    refused(
        "timber,,46,97,99,C16,,,1,\ntimber,,,97,2400,C16,,,1,\nboard,,12.5,1200,2400,,,,1,\n",
        &[
            "2: length: 99 is out of range; expected 100 to 100000",
            "3: thickness: it is empty; expected a number of mm",
            "4: what: it is empty; say what it is",
        ],
    );
    refused(
        "timber,,46,97,2400,C16,1.5,,1,\ntimber,,46,97,3000,C16,,,1,pack\ntimber,,46,97,3600,C16,,,1,m2\n",
        &[
            "2: pack: 1.5 is not one of the whole numbers from 1 to 10000; leave it empty where nobody says",
            "3: price_for: it is for a pack, and pack is empty",
            "4: price_for: “m2” will not do; expected each, pack, m for timber or m2 for boards",
        ],
    );
    refused(
        "timber,,46,97,2400,C16,,,7,40,each\ntimber,,46,97,3600,C16,,,7,40\nsundries,tape,,,,,,,\"1,234\",\ntimber,,46,97,2400,C16,,,1,\ntimber,,46,97,2400,C16,,,2,\n",
        &[
            "2: it has 11 cells, the first line 10; put a number with a decimal comma in quotes, or semicolons between cells",
            "3: price_for: “40” looks like the end of a number; put a number with a decimal comma in quotes, or semicolons between cells",
            "4: price: “1,234” could be 1.234 or 1234; write one of them",
            "6: it is about the same as line 5",
        ],
    );
    refused(
        "sundries,\"tape,,,,,,,1,\nsundries,beads,,,,,,,1,\n",
        &["2: a quote is opened and not closed on its line; close it"],
    );
    let empty = read_prices("").expect_err("it is refused");
    assert_eq!(empty[0].to_string(), "1: the list is empty; its first line names its columns");
    let headless = read_prices("timber,46,97,2400,7.40\n").expect_err("it is refused");
    assert_eq!(headless.len(), 2, "{headless:?}");
    assert!(headless[0].message.starts_with("there is no column called kind; "), "{headless:?}");
    let twice = read_prices("kind,price,price\n").expect_err("it is refused");
    assert_eq!(twice[0].to_string(), "1: two columns are called price; take one out");
}

/// The same list as three countries' spreadsheets write it, columns in another order, prices of a metre, a square metre and a pack.
#[test]
fn a_list_is_read_as_it_comes() {
    let lists = [
        "\r\n\r\nKind,Section,Length m,Grade,Price,Price for,Notes\ntimber,46x97,\"4,8\",C24,1.85,m,fresh\n",
        "\u{feff}Kind;Section;Length m;Grade;Price;Price for;Notes\r\n\r\ntimber;97 × 46;4,8;C24;£ 1,85;m;fresh\r\n",
        "price for\tprice\tgrade\tlength_mm\twidth_mm\tthickness_mm\tkind\tnotes\nm\t1.85\tC24\t4800\t97\t46\tTimber\tfresh\n",
    ];
    for text in lists {
        let list = read_prices(text).expect("it reads");
        assert_eq!(list.unread.len(), 1, "{text}");
        assert_eq!(list.rows[0].of.words(Default::default()), "46×97 C24, 4\u{2009}800", "{text}");
        assert!((list.rows[0].price.unwrap() - 8.88).abs() < 1e-9, "{text}");
        assert_eq!(list.rows[0].pack, None, "{text}");
    }
    let text = format!(
        "{HEAD}board,standard,12.5,1200,2400,,,,3.25,m2\nboard,standard,15,1200,2400,,48,,480,pack\n"
    );
    let list = read_prices(&text).expect("it reads");
    assert!((list.rows[0].price.unwrap() - 9.36).abs() < 1e-9);
    assert_eq!((list.rows[1].price, list.rows[1].pack), (Some(10.0), Some(Some(48))));
}

/// Nothing of a list makes the reader panic: each byte of a good one left out, doubled, or another.
#[test]
fn no_text_is_too_odd() {
    let good =
        format!("{HEAD}timber,,46,97,2400,C16,4,60,7.40,each\nsundries,\"a \"\"b\"\"\",,,,,,,1,\n");
    for at in 0..good.len() {
        for with in ["", ",", "\"", "\n", "\u{feff}", "9", "-", "é", "\0"] {
            let text = format!("{}{with}{}", &good[..at], &good[at + 1..]);
            if let Err(rows) = read_prices(&text) {
                assert!(
                    rows.iter().all(|r| !r.message.contains(['\n', '\r'])),
                    "{text:?}: {rows:?}"
                );
            }
        }
    }
    let long: String = std::iter::repeat_n("sundries,x,,,,,,,1,\n", 6000).collect();
    assert!(read_prices(&format!("{HEAD}{long}")).is_err());
}

#[test]
fn what_is_told_of_a_choice_is_what_it_comes_to() {
    law_of("what is told of a choice is what it comes to", super::tries() / 50, |job, _| {
        let job = furnished(job);
        let layout = Layout::of(&job);
        let mut told = 0;
        let counted = std::cell::Cell::new(0);
        let all = what_ifs(&job, &layout, &|| true, &|rows| counted.set(rows.len()));
        let mut wrong = Vec::new();
        for what in &all {
            let after = what.edit.as_ref().map_or_else(|| job.clone(), |edit| edit.apply(&job));
            let fresh = Whole::of(&after, &Layout::of(&after), &|| true);
            if fresh != what.whole {
                wrong.push(format!("{}: {fresh:?}, told {:?}", what.label, what.whole));
            }
            if what.edit.is_some() && after == job {
                wrong.push(format!("{} is the job as it is", what.label));
            }
            told += 1;
        }
        let given_up = what_ifs(&job, &layout, &|| false, &|_| {});
        if counted.get() != told || !given_up.is_empty() || all[0].edit.is_some() {
            wrong.push(format!("{} told of {told}", counted.get()));
        }
        let whole = |w: &&WhatIf| w.whole.without == 0;
        for (column, of) in [(1, 0), (2, 1), (3, 2)] {
            let value =
                |w: &WhatIf| [w.whole.waste_share, w.whole.cuts as f64, w.whole.pieces as f64][of];
            let least = all.iter().filter(whole).map(value).fold(f64::INFINITY, f64::min);
            for what in all.iter().filter(|w| w.best[column]) {
                if value(what) > least + 1e-6 || what.whole.without > 0 {
                    wrong.push(format!("{} is not the least in column {column}", what.label));
                }
            }
        }
        wrong
    });
}

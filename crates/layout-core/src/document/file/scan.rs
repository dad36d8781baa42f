//! Finds its way about the text of a job file: where a value starts and ends, which part of the
//! job an offset belongs to, and what breaks the grammar, in words a joiner would use.
//!
//! It never builds a tree, so a big file costs nothing: values are walked one level at a time.

use std::ops::ControlFlow;

use super::{ReadError, Spot};

/// Brackets within brackets, at most. A job needs about ten.
const DEEPEST: usize = 32;

/// One step down into a job: a field of a structure, or an item of a list or tuple from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// The field of this name.
    Field(&'static str),
    /// The item of this index.
    Item(usize),
}

/// One value inside brackets.
#[derive(Clone, Debug)]
pub(super) struct Inner<'a> {
    /// Its field name, when it has one.
    pub(super) key: Option<&'a str>,
    /// Its index among the values of the same brackets.
    pub(super) index: usize,
    /// Where the value starts.
    pub(super) value: usize,
}

/// Checks brackets, commas, numbers and texts of the whole file. Gives the offsets of the minus
/// signs of zeros written as `-0`, which stand for plain zero.
pub(super) fn check_grammar(text: &str) -> Result<Vec<usize>, ReadError> {
    let mut scan = Scan::new(text, 0);
    scan.attributes()?;
    scan.space()?;
    if scan.rest().is_empty() {
        return Err(
            scan.fault(scan.pos, "the file is empty; a job starts with (version: 1, title: …")
        );
    }
    scan.value()?;
    scan.space()?;
    if scan.rest().is_empty() {
        return Ok(scan.minus_zeros);
    }
    Err(scan.fault(scan.pos, "there is more text after the job's closing bracket; remove it"))
}

/// Where the first value of a file starts.
pub(super) fn root(text: &str) -> usize {
    let mut scan = Scan::new(text, 0);
    scan.attributes().and_then(|()| scan.space()).map_or(0, |()| scan.pos)
}

/// Where the value that starts at `value` ends.
pub(super) fn end(text: &str, value: usize) -> usize {
    let mut scan = Scan::new(text, value);
    scan.value().map_or(text.len(), |()| scan.pos)
}

/// Where the value starts that `path` leads to from the root. A step that is not written in the
/// file (a field left to its default) leads no further.
pub(super) fn locate(text: &str, path: &[Step]) -> usize {
    let mut at = root(text);
    for step in path {
        let mut next = None;
        each(text, at, |inner| {
            let found = match step {
                Step::Field(name) => inner.key == Some(*name),
                Step::Item(index) => inner.index == *index,
            };
            next = found.then_some(inner.value);
            if found { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        match next {
            Some(value) => at = value,
            None => return at,
        }
    }
    at
}

/// The values within the outermost brackets of the value that starts at `at`, in order, each
/// visited before it is looked into. `Some(…)` is looked through. Nothing when it has no brackets.
pub(super) fn each<'a>(
    text: &'a str,
    at: usize,
    mut visit: impl FnMut(Inner<'a>) -> ControlFlow<()>,
) {
    let mut scan = Scan::new(text, at);
    let mut name = scan.word();
    while name == "Some" && scan.space().is_ok() && scan.rest().starts_with('(') {
        scan.pos += 1;
        if scan.space().is_err() {
            return;
        }
        name = scan.word();
    }
    if scan.space().is_err() || !scan.rest().starts_with(['(', '[', '{']) {
        return;
    }
    scan.pos += 1;
    let mut index = 0;
    while scan.space().is_ok()
        && !scan.rest().is_empty()
        && !scan.rest().starts_with([')', ']', '}'])
    {
        let from = scan.pos;
        let key = scan.key();
        if scan.space().is_err() {
            return;
        }
        let value = scan.pos;
        if visit(Inner { key, index, value }).is_break() {
            return;
        }
        if scan.value().is_err() || scan.pos == from || scan.space().is_err() {
            return;
        }
        index += 1;
        if scan.rest().starts_with(',') {
            scan.pos += 1;
        }
    }
}

/// The field names around the byte at `offset`, outermost first, and where the innermost bracketed
/// value starts that it lies in.
pub(super) fn around(text: &str, offset: usize) -> (Vec<&str>, usize) {
    let root = root(text);
    let mut scan = Scan::new(text, root);
    scan.watch = Some(offset);
    // What is wrong with the grammar was told before anyone asks for this.
    let _ = scan.value();
    scan.keys.reverse();
    (scan.keys, scan.around.unwrap_or(root))
}

/// Line and column of a byte offset, both from 1; columns count characters.
pub(super) fn spot(text: &str, offset: usize) -> Spot {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    let before = &text[..offset];
    let line_start = before.rfind('\n').map_or(0, |i| i + 1);
    Spot {
        line: before.matches('\n').count() + 1,
        column: before[line_start..].chars().count() + 1,
    }
}

/// Byte offset of a line and column as [`spot`] counts them.
pub(super) fn offset(text: &str, spot: Spot) -> usize {
    let mut start = 0;
    for _ in 1..spot.line {
        match text[start..].find('\n') {
            Some(i) => start += i + 1,
            None => return text.len(),
        }
    }
    text[start..]
        .char_indices()
        .nth(spot.column.saturating_sub(1))
        .map_or(text.len(), |(i, _)| start + i)
}

/// The token at `offset`, as it would be quoted: a bracket, a text, a word or a number.
pub(super) fn token(text: &str, offset: usize) -> &str {
    let mut scan = Scan::new(text, offset);
    match scan.rest().chars().next() {
        Some('"') => {
            let _ = scan.string();
        }
        Some(c) if is_word(c) || is_number_start(c) => {
            scan.take(|c| is_word(c) || is_number_part(c));
        }
        Some(c) => scan.pos += c.len_utf8(),
        None => {}
    }
    &text[offset..scan.pos]
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

fn is_number_start(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '+' | '-' | '.')
}

fn is_number_part(c: char) -> bool {
    is_word(c) || matches!(c, '+' | '-' | '.')
}

/// True for what the file format takes as a number.
fn is_number(token: &str) -> bool {
    if token.parse::<f64>().is_ok() {
        return true;
    }
    let digits: String = token.chars().filter(|c| *c != '_').collect();
    let unsigned = digits.trim_start_matches(['+', '-']);
    let (radix, tail) = match unsigned.get(..2) {
        Some("0x") => (16, &unsigned[2..]),
        Some("0b") => (2, &unsigned[2..]),
        Some("0o") => (8, &unsigned[2..]),
        _ => (10, unsigned),
    };
    if radix != 10 {
        return u128::from_str_radix(tail, radix).is_ok();
    }
    digits.parse::<f64>().is_ok()
}

struct Scan<'a> {
    text: &'a str,
    pos: usize,
    depth: usize,
    minus_zeros: Vec<usize>,
    /// An offset to be found, the field names around it from the inside out, and where the
    /// innermost bracketed value around it starts.
    watch: Option<usize>,
    keys: Vec<&'a str>,
    around: Option<usize>,
}

impl<'a> Scan<'a> {
    fn new(text: &'a str, pos: usize) -> Scan<'a> {
        Scan {
            text,
            pos,
            depth: 0,
            minus_zeros: Vec::new(),
            watch: None,
            keys: Vec::new(),
            around: None,
        }
    }

    fn rest(&self) -> &'a str {
        &self.text[self.pos..]
    }

    fn fault(&self, at: usize, message: impl Into<String>) -> ReadError {
        ReadError::at(spot(self.text, at), message)
    }

    fn take(&mut self, part: impl Fn(char) -> bool) {
        let rest = self.rest();
        self.pos += rest.find(|c| !part(c)).unwrap_or(rest.len());
    }

    /// Spaces, line ends and remarks.
    fn space(&mut self) -> Result<(), ReadError> {
        loop {
            self.take(char::is_whitespace);
            let rest = self.rest();
            if rest.starts_with("//") {
                self.pos += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("/*") {
                self.remark()?;
            } else {
                return Ok(());
            }
        }
    }

    fn remark(&mut self) -> Result<(), ReadError> {
        let start = self.pos;
        let mut open = 0_usize;
        loop {
            let rest = self.rest();
            if rest.starts_with("/*") {
                open += 1;
                self.pos += 2;
            } else if rest.starts_with("*/") {
                open -= 1;
                self.pos += 2;
                if open == 0 {
                    return Ok(());
                }
            } else if let Some(c) = rest.chars().next() {
                self.pos += c.len_utf8();
            } else {
                return Err(self.fault(start, "this /* remark is not closed; end it with */"));
            }
        }
    }

    /// `#![enable(…)]` lines at the top.
    fn attributes(&mut self) -> Result<(), ReadError> {
        self.space()?;
        while self.rest().starts_with("#!") {
            let rest = self.rest();
            self.pos += rest.find(']').map_or(rest.len(), |i| i + 1);
            self.space()?;
        }
        Ok(())
    }

    /// A word, when there is one here.
    fn word(&mut self) -> &'a str {
        let start = self.pos;
        if self.rest().starts_with("r#") && self.rest()[2..].starts_with(is_word) {
            self.pos += 2;
        }
        if self.rest().starts_with(|c: char| c.is_alphabetic() || c == '_') {
            self.take(is_word);
        }
        &self.text[start..self.pos]
    }

    /// A field name and its colon, when there is one here.
    fn key(&mut self) -> Option<&'a str> {
        let start = self.pos;
        let word = self.word();
        if !word.is_empty() && self.space().is_ok() && self.rest().starts_with(':') {
            self.pos += 1;
            return Some(word);
        }
        self.pos = start;
        None
    }

    fn value(&mut self) -> Result<(), ReadError> {
        let start = self.pos;
        let rest = self.rest();
        match rest.chars().next() {
            None => Err(self.fault(start, "the file stops here in the middle of the job")),
            Some('"') => self.string(),
            Some('(') => self.brackets(start, ')'),
            Some('[') => self.brackets(start, ']'),
            Some('{') => self.brackets(start, '}'),
            Some('r') if rest[1..].trim_start_matches('#').starts_with('"') => self.raw_string(),
            Some(c) if is_number_start(c) => self.number(),
            Some(c) if c.is_alphabetic() || c == '_' => {
                self.word();
                let end = self.pos;
                self.space()?;
                if self.rest().starts_with('(') {
                    return self.brackets(start, ')');
                }
                self.pos = end;
                Ok(())
            }
            Some('\'' | '“' | '”' | '‘' | '’') => {
                Err(self.fault(start, "texts go between straight double quotes: \"like this\""))
            }
            Some(c) => {
                Err(self
                    .fault(start, format!("expected a value, found {}", quoted(&c.to_string()))))
            }
        }
    }

    fn number(&mut self) -> Result<(), ReadError> {
        let start = self.pos;
        self.take(is_number_part);
        let token = &self.text[start..self.pos];
        if token.starts_with('-') && token.parse::<f64>() == Ok(0.0) {
            self.minus_zeros.push(start);
        }
        // `-inf` and its like are numbers to the parser; the limits refuse them by name later.
        if is_number(token) || matches!(token.trim_start_matches(['+', '-']), "inf" | "NaN") {
            return Ok(());
        }
        let unit = token.trim_start_matches(is_number_start);
        let advice = match unit {
            "mm" => "lengths are millimetres already: leave the mm out".to_string(),
            "m" | "cm" | "in" | "ft" => {
                format!("lengths are in millimetres without a unit, not in {unit}")
            }
            _ => "write it like 2400 or 12.5".to_string(),
        };
        Err(self.fault(start, format!("{} is not a number; {advice}", quoted(token))))
    }

    fn string(&mut self) -> Result<(), ReadError> {
        let start = self.pos;
        self.pos += 1;
        loop {
            let rest = self.rest();
            match rest.find(['"', '\\']) {
                Some(i) if rest[i..].starts_with('"') => {
                    self.pos += i + 1;
                    return Ok(());
                }
                Some(i) => {
                    let escaped = rest[i + 1..].chars().next().map_or(0, char::len_utf8);
                    self.pos += i + 1 + escaped;
                }
                None => {
                    self.pos = self.text.len();
                    return Err(self.fault(start, "this text is not closed; end it with \""));
                }
            }
        }
    }

    fn raw_string(&mut self) -> Result<(), ReadError> {
        let start = self.pos;
        self.pos += 1;
        let hashes = self.rest().len() - self.rest().trim_start_matches('#').len();
        let end = format!("\"{}", "#".repeat(hashes));
        self.pos += hashes + 1;
        match self.rest().find(&end) {
            Some(i) => {
                self.pos += i + end.len();
                Ok(())
            }
            None => Err(self.fault(start, "this text is not closed")),
        }
    }

    /// Everything between two brackets, the opening one here, `close` the one that must follow.
    /// The value they belong to starts at `value_start`, which may be a word before them.
    fn brackets(&mut self, value_start: usize, close: char) -> Result<(), ReadError> {
        let start = self.pos;
        let open = &self.text[start..=start];
        if self.depth == DEEPEST {
            let message =
                format!("brackets are nested more than {DEEPEST} deep; a job needs about ten");
            return Err(self.fault(start, message));
        }
        self.depth += 1;
        self.pos += 1;
        let mut last = None;
        loop {
            self.space()?;
            if self.rest().starts_with(close) {
                self.pos += 1;
                self.depth -= 1;
                return Ok(());
            }
            let from = self.pos;
            if self.rest().is_empty() {
                let at = spot(self.text, start);
                let message = format!(
                    "the file ends, but the {open} of line {}:{} is not closed",
                    at.line, at.column
                );
                return Err(self.fault(from, message));
            }
            if let Some(wrong) = self.rest().chars().next().filter(|c| matches!(c, ')' | ']' | '}'))
            {
                let at = spot(self.text, start);
                let message = format!(
                    "found {wrong} where {close} should close the {open} of line {}:{}",
                    at.line, at.column
                );
                return Err(self.fault(from, message));
            }
            let key = self.key();
            self.space()?;
            let value = self.pos;
            self.value()?;
            if self.watch.is_some_and(|offset| (from..self.pos).contains(&offset)) {
                self.keys.extend(key);
                let bracketed = self.text[..self.pos].ends_with([')', ']', '}']);
                self.around.get_or_insert(if bracketed { value } else { value_start });
            }
            let this = &self.text[value..self.pos];
            // `centres: 400,5`: a second number straight after the comma of a named one.
            if let Some((number, end)) = last
                && key.is_none()
                && from == end + 1
                && is_number(this)
            {
                let message = format!("write {number}.{this} with a point, not a comma");
                return Err(self.fault(end, message));
            }
            last = (key.is_some() && is_number(this)).then_some((this, self.pos));
            self.space()?;
            if close == '}' && key.is_none() && self.rest().starts_with(':') {
                self.pos += 1;
                self.space()?;
                self.value()?;
                self.space()?;
            }
            if self.rest().starts_with(',') {
                self.pos += 1;
            } else if !self.rest().starts_with([')', ']', '}']) && !self.rest().is_empty() {
                let found = quoted(token(self.text, self.pos));
                return Err(
                    self.fault(self.pos, format!("expected a comma or {close} before {found}"))
                );
            }
        }
    }
}

/// A token as it is shown in a message: at most 200 characters, no control characters.
pub(super) fn quoted(token: &str) -> String {
    let clean = shown(token);
    if clean.starts_with('"') { clean } else { format!("\"{clean}\"") }
}

/// Text from a file as it may be shown: at most 200 characters, one line, nothing that could
/// change how the rest of the line is read.
pub(super) fn shown(text: &str) -> String {
    let mut clean: String = text
        .chars()
        .filter(|c| {
            !c.is_control() && !matches!(*c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        })
        .take(200)
        .collect();
    if clean.len() < text.len() && clean.chars().count() == 200 {
        clean.push('…');
    }
    clean
}

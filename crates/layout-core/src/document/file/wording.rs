//! Puts what the RON reader says into plain words, with the field it is about and the nearest
//! right name.

use ron::error::{Error, SpannedError};

use super::scan::{self, quoted, shown};
use super::{ReadError, Spot};

/// The message a joiner reads for `error`.
pub(super) fn reworded(text: &str, error: &SpannedError) -> ReadError {
    let spot = Spot { line: error.span.start.line, column: error.span.start.col };
    let start = scan::offset(text, spot);
    let at = start + text[start..].len() - text[start..].trim_start().len();
    let (keys, brackets) = scan::around(text, at);
    let found = scan::token(text, at);
    let expected = |what: &str| match keys.last() {
        Some(field) => format!("{field}: expected {what}, found {}", quoted(found)),
        None => format!("expected {what}, found {}", quoted(found)),
    };
    let (offset, message) = match &error.code {
        Error::ExpectedFloat | Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } => {
            (at, expected("a number"))
        }
        Error::FloatUnderscore => (at, expected("a number without an underscore beside its point")),
        Error::IntegerOutOfBounds => {
            let at = token_start(text, at);
            let found = quoted(scan::token(text, at));
            (
                at,
                format!(
                    "{}expected a whole number, not negative and not that large, found {found}",
                    of(&keys)
                ),
            )
        }
        Error::ExpectedString | Error::ExpectedStringEnd => {
            (at, expected("a text between double quotes"))
        }
        Error::ExpectedBoolean => (at, expected("true or false")),
        Error::ExpectedArray => (at, expected("a list in square brackets, […]")),
        Error::ExpectedComma if wanted_whole(text, at) => {
            let at = token_start(text, at);
            (
                at,
                format!(
                    "{}expected a whole number, found {}",
                    of(&keys),
                    quoted(scan::token(text, at))
                ),
            )
        }
        Error::ExpectedStructLike
        | Error::ExpectedNamedStructLike(_)
        | Error::ExpectedMap
        | Error::ExpectedUnit => {
            if found == ")" || found == "," {
                let word = text[..at].trim_end().len() - 1;
                let message = format!(
                    "{}expected values in round brackets, (…), before {found}",
                    of(&scan::around(text, word).0)
                );
                (at, message)
            } else {
                (at, expected("values in round brackets, (…)"))
            }
        }
        Error::ExpectedStructLikeEnd => (
            at,
            format!(
                "{}expected the closing ), found {}; decimals take a point",
                of(&keys),
                quoted(found)
            ),
        ),
        Error::ExpectedArrayEnd => (at, expected("the closing ]")),
        Error::ExpectedIdentifier if found == "(" => (
            at,
            format!(
                "{}expected the name of a field, found another (; one pair is enough",
                of(&keys)
            ),
        ),
        Error::ExpectedIdentifier
        | Error::InvalidIdentifier(_)
        | Error::SuggestRawIdentifier(_) => (at, expected("a name without quotes")),
        Error::ExpectedDifferentStructName { expected: name, found } => {
            (at, format!("expected {}, found {}", kind(name), quoted(found)))
        }
        Error::ExpectedDifferentLength { expected: wanted, found } => {
            let wanted = wanted.replace("a tuple of size ", "");
            (brackets, format!("{}expected {wanted} values, found {found}", of(&keys)))
        }
        Error::NoSuchEnumVariant { expected: names, found, .. } => {
            let at = last_word(text, at, found);
            let field =
                scan::around(text, at).0.last().map(|f| format!("{f}: ")).unwrap_or_default();
            (at, format!("{field}there is no {}; {}", quoted(found), choice(found, names)))
        }
        Error::NoSuchStructField { expected: names, found, outer } => {
            let at = last_word(text, at, found);
            let outer = outer.as_deref().map_or("this", kind);
            (
                at,
                format!("there is no field {} in {outer}; {}", quoted(found), choice(found, names)),
            )
        }
        Error::MissingStructField { field, outer } => {
            let outer = outer.as_deref().map_or("this", kind);
            (brackets, format!("{field} is missing in {outer}"))
        }
        Error::DuplicateStructField { field, outer } => {
            let outer = outer.as_deref().map_or("this", kind);
            (last_word(text, at, field), format!("{field} is given twice in {outer}; keep one"))
        }
        Error::InvalidValueForType { expected: wanted, found } => {
            (at, format!("{}expected {}, found {}", of(&keys), shown(wanted), shown(found)))
        }
        Error::InvalidEscape(why) => {
            (at, format!("{}a \\ in a text is not followed by what it should be: {why}", of(&keys)))
        }
        Error::NoSuchExtension(name) => {
            (at, format!("there is no extension {}; remove the line", quoted(name)))
        }
        Error::ExceededRecursionLimit => (at, "brackets are nested deeper than a job needs".into()),
        other => (at, format!("{}{}", of(&keys), shown(&other.to_string()))),
    };
    ReadError::at(scan::spot(text, offset), message)
}

fn of(keys: &[&str]) -> String {
    keys.last().map(|k| format!("{k}: ")).unwrap_or_default()
}

/// True when the reader stopped inside a number at its point: it wanted a whole one.
fn wanted_whole(text: &str, at: usize) -> bool {
    text[at..].starts_with(['.', 'e', 'E']) && text[..at].ends_with(|c: char| c.is_ascii_digit())
}

fn token_start(text: &str, at: usize) -> usize {
    text[..at]
        .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '_' | '-' | '+')))
        .map_or(0, |i| i + 1)
}

/// The reader stands somewhere after a name it did not like: where that name starts.
fn last_word(text: &str, at: usize, word: &str) -> usize {
    let end = (at + word.len()).min(text.len());
    let end = (0..=end).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0);
    text[..end].rfind(word).unwrap_or(at)
}

/// What to write instead: the nearest of `names`, or all of them.
fn choice(found: &str, names: &[&str]) -> String {
    match nearest(found, names.iter().copied()) {
        Some(name) => format!("did you mean {name}?"),
        None if names.is_empty() => "it has none".into(),
        None => format!("expected one of {}", names.join(", ")),
    }
}

/// The name most like `found`, when one is like enough to be what was meant.
pub(super) fn nearest<'a>(found: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let lower = found.to_lowercase();
    names
        .map(|name| (strsim::normalized_damerau_levenshtein(&lower, &name.to_lowercase()), name))
        .filter(|(likeness, _)| *likeness >= 0.5)
        .fold(None, |best: Option<(f64, &str)>, next| match best {
            Some(b) if b.0 >= next.0 => Some(b),
            _ => Some(next),
        })
        .map(|(_, name)| name)
}

/// What a structure of the file is called in a sentence.
fn kind(name: &str) -> &str {
    match name {
        "Job" => "a job",
        "Datum" => "the datum",
        "Layer" => "a layer",
        "Levels" => "the levels",
        "Shell" => "the shell",
        "Corner" => "a corner",
        "Gap" => "a gap",
        "Survey" => "the survey",
        "Measurement" => "a measurement",
        "Post" => "a post",
        "Beam" => "a beam",
        "RoofPlane" => "a roof plane",
        "Room" => "a room",
        "MakeUp" => "a make-up",
        "Timber" => "a timber",
        "Board" => "a board",
        "Finish" => "a finish",
        "Noggins" => "the noggins",
        "Node" => "a node",
        "Wall" => "a wall",
        "Opening" => "an opening",
        "Hold" => "a hold",
        "Door" => "a door",
        "Architrave" => "an architrave",
        "Lining" | "LiningSize" => "a lining",
        "Section" => "a section",
        "Sheet" => "a board",
        "Leaf" => "a door leaf",
        "Point" => "a point",
        "Platform" => "a platform",
        "PlatformHole" => "a hole",
        "Hung" | "Fitting" => "a fitting",
        "RowRule" => "a rule for noggin rows",
        "Stock" => "a stock line",
        "SheetStock" => "a line of the board list",
        "SawSettings" => "the saw",
        "CutBar" => "a bar that was cut",
        "CrewCopy" => "a crew copy",
        other => other,
    }
}

//! What a person hands over, whatever it is called: a record, a report with the record inside, a record pasted in a message
//! with words around it. The content is looked at, never a name.

use std::fmt;

use super::brackets::{Brackets, end_of, mended};
use super::gate::{FILE_LIMIT, OpenError, Opened, fits, open};

/// Why something handed over cannot be opened as a whole, and what of it can be.
#[derive(Clone, Debug)]
pub struct NotOpened {
    /// The one sentence to say.
    pub trouble: OpenError,
    /// What stands before the trouble and can be kept, where there is any. It is worth offering: to join it to a test
    /// adds what is new in it, and takes nothing away.
    pub rest: Option<Box<Opened>>,
}

impl fmt::Display for NotOpened {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.trouble.fmt(f)
    }
}

impl std::error::Error for NotOpened {}

impl From<OpenError> for NotOpened {
    fn from(trouble: OpenError) -> Self {
        Self { trouble, rest: None }
    }
}

/// Opens the content of a file, of the clipboard or of a drop: UTF-8 or UTF-16 with or without a byte-order mark, any line
/// ends, and the record anywhere in it.
///
/// # Errors
/// [`NotOpened`] with the sentence to say, and what can be kept all the same.
///
/// ```
/// use record::open_any;
/// let message = "Here it is! {\"format\": \"spray-test\", \"version\": 1, \"title\": \"Gates\"} See you";
/// assert_eq!(open_any(message.as_bytes()).unwrap().test.title, "Gates");
///
/// let cut_off = r#"{ "format": "spray-test", "version": 1, "title": "Gates", "panels": [ { "label": "A1"#;
/// let trouble = open_any(cut_off.as_bytes()).unwrap_err();
/// assert!(trouble.to_string().contains("line 1"));
/// assert_eq!(trouble.rest.unwrap().test.title, "Gates");
/// ```
pub fn open_any(bytes: &[u8]) -> Result<Opened, NotOpened> {
    open_each(bytes).swap_remove(0)
}

/// Opens every record in the content of a file or a message, as [`open_any`] opens the first: one answer a record, and one
/// where there is none. The same record twice, as in a message that quotes another, is one.
///
/// ```
/// use record::open_each;
/// let record = |title: &str| format!(r#"{{ "format": "spray-test", "version": 1, "title": "{title}" }}"#);
/// let message = format!("Both of them: {} and {}.", record("Gates"), record("Doors"));
/// let titles: Vec<_> = open_each(message.as_bytes()).into_iter().map(|opened| opened.unwrap().test.title).collect();
/// assert_eq!(titles, ["Gates", "Doors"]);
/// ```
pub fn open_each(bytes: &[u8]) -> Vec<Result<Opened, NotOpened>> {
    if bytes.len() > FILE_LIMIT {
        return vec![Err(OpenError::TooLong.into())];
    }
    let (text, broken) = decoded(bytes);
    let blank = text.len() - text.trim_start_matches(is_blank).len();
    let mut next = if text[blank..].starts_with('{') { Some(blank) } else { record_in(&text) };
    let mut all: Vec<Result<Opened, NotOpened>> = Vec::new();
    while let Some(start) = next {
        let (opened, end) = open_at(&text, start);
        next = record_in(&text[end..]).map(|found| end + found).filter(|_| all.len() < MOST_RECORDS);
        let same = |known: &Result<Opened, NotOpened>| match (known, &opened) {
            (Ok(known), Ok(opened)) => known.test == opened.test,
            _ => false,
        };
        if !all.iter().any(same) {
            all.push(opened.and_then(within_bounds));
        }
    }
    if all.is_empty() {
        all.push(Err(nothing_found(&text).into()));
    }
    let Some(byte) = broken else { return all };
    let mut told = Vec::new();
    for opened in all {
        // Some of its characters are lost: what was read of it is no more than the rest.
        let rest = opened.map_or_else(|trouble| trouble.rest, |opened| Some(Box::new(opened)));
        told.push(Err(NotOpened { trouble: OpenError::NotText { byte }, rest }));
    }
    told
}

/// Records looked for in one message: nobody sends more, and each is a card on the screen.
const MOST_RECORDS: usize = 10;

/// What was opened from a text, unless it would be longer here than a record may be.
fn within_bounds(opened: Opened) -> Result<Opened, NotOpened> {
    if fits(&opened.test) { Ok(opened) } else { Err(OpenError::TooLong.into()) }
}

/// Opens the record that begins at `start`, or somewhere behind it; and says from where on to look for another.
fn open_at(text: &str, start: usize) -> (Result<Opened, NotOpened>, usize) {
    let trouble = match open(&text[start..]) {
        Ok(opened) => return (Ok(opened), text.len()),
        Err(trouble) => trouble,
    };
    // Words may stand behind it, or it is an object with the record inside.
    let inside = record_in(&text[start..]).map_or(start, |found| start + found);
    let end = end_of(&text[inside..]).map(|end| inside + end);
    if let Some(end) = end
        && let Ok(opened) = open(&text[inside..end])
    {
        return (Ok(opened), end);
    }
    // Of one that breaks off nobody can say where it ends: another may begin behind its own first word.
    let end = end.unwrap_or_else(|| text[inside..].find(KEY).map_or(text.len(), |key| inside + key + KEY.len()));
    let OpenError::Unreadable { line, column } = trouble else { return (Err(trouble.into()), end) };
    let (before, offset) = place_of(text, start);
    let column = if line == 1 { offset + column } else { column };
    let readable = &text[inside..byte_of(text, start, line, column).max(inside)];
    let rest = mended(readable).and_then(|text| open(&text).ok()).and_then(|rest| within_bounds(rest).ok());
    let trouble = OpenError::Unreadable { line: before + line, column };
    (Err(NotOpened { trouble, rest: rest.map(Box::new) }), end)
}

/// What to say where there is no record anywhere.
fn nothing_found(text: &str) -> OpenError {
    if text.chars().all(is_blank) { OpenError::Empty } else { OpenError::NothingInside }
}

fn is_blank(c: char) -> bool {
    c.is_whitespace() || c == '\u{feff}'
}

/// The text of some bytes, and from which byte on characters were lost.
fn decoded(bytes: &[u8]) -> (String, Option<usize>) {
    match bytes {
        [0xef, 0xbb, 0xbf, rest @ ..] => utf_8(rest, 3),
        [0xff, 0xfe, rest @ ..] => utf_16(rest, 2, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => utf_16(rest, 2, u16::from_be_bytes),
        // What opens a record or a document, in either order.
        [b'{' | b'<', 0, ..] => utf_16(bytes, 0, u16::from_le_bytes),
        [0, b'{' | b'<', ..] => utf_16(bytes, 0, u16::from_be_bytes),
        _ => utf_8(bytes, 0),
    }
}

fn utf_8(bytes: &[u8], skipped: usize) -> (String, Option<usize>) {
    match std::str::from_utf8(bytes) {
        Ok(text) => (text.to_owned(), None),
        Err(trouble) => (String::from_utf8_lossy(bytes).into_owned(), Some(skipped + trouble.valid_up_to() + 1)),
    }
}

fn utf_16(bytes: &[u8], skipped: usize, unit: fn([u8; 2]) -> u16) -> (String, Option<usize>) {
    let units = bytes.chunks_exact(2).map(|pair| unit([pair[0], pair[1]]));
    let mut text = String::with_capacity(bytes.len());
    let mut broken = None;
    let mut byte = skipped;
    for read in char::decode_utf16(units) {
        if read.is_err() {
            broken = broken.or(Some(byte + 1));
        }
        let c = read.unwrap_or(char::REPLACEMENT_CHARACTER);
        byte += 2 * c.len_utf16();
        text.push(c);
    }
    (text, broken.or((bytes.len() % 2 == 1).then_some(skipped + bytes.len())))
}

/// How many lines end before a place, and how many bytes stand before it in its own, as the reader of JSON counts.
fn place_of(text: &str, at: usize) -> (usize, usize) {
    let before = &text.as_bytes()[..at];
    let lines = before.iter().filter(|byte| **byte == b'\n').count();
    (lines, before.iter().rev().take_while(|byte| **byte != b'\n').count())
}

/// The place of a column in the `line`th line from the one in which `start` stands, both counted from 1.
fn byte_of(text: &str, start: usize, line: usize, column: usize) -> usize {
    let first = start - place_of(text, start).1;
    let ends = text.bytes().enumerate().skip(first).filter(|(_, byte)| *byte == b'\n').map(|(place, _)| place + 1);
    let begin = [first].into_iter().chain(ends).nth(line - 1).unwrap_or(text.len());
    let mut place = (begin + column.saturating_sub(1)).min(text.len());
    while !text.is_char_boundary(place) {
        place -= 1;
    }
    place
}

/// What every record has at its own level.
const KEY: &str = "\"format\"";

/// Most steps taken while seeking the brace that a record begins with.
const SEEK: usize = FILE_LIMIT;

/// Where a record begins in a text: the brace whose object says at its own level that its format is a spray test.
fn record_in(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let (mut steps, mut from) = (0, 0);
    while let Some(at) = text[from..].find(KEY).map(|found| from + found) {
        from = at + KEY.len();
        let says = text[from..].trim_start().strip_prefix(':').map(str::trim_start);
        if !says.is_some_and(|says| says.starts_with("\"spray-test\"")) {
            continue;
        }
        for start in (0..at).rev() {
            steps += 1;
            if bytes[start] == b'{' {
                steps += at - start;
                if is_own_level(&bytes[start..at]) {
                    return Some(start);
                }
            }
            if steps > SEEK {
                return None;
            }
        }
    }
    None
}

/// Whether what comes after `before`, which begins with a brace, stands in that very object.
fn is_own_level(before: &[u8]) -> bool {
    let mut brackets = Brackets::default();
    before.iter().all(|byte| brackets.take(*byte) && brackets.depth() > 0)
        && brackets.depth() == 1
        && !brackets.quoted()
}

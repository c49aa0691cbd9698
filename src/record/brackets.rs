//! The brackets of a JSON text, byte by byte, for texts that are no JSON as a whole.

/// Brackets open so far; those within strings do not count.
#[derive(Default)]
pub struct Brackets {
    /// What closes each of them, the innermost last.
    open: Vec<u8>,
    quoted: bool,
    escaped: bool,
}

impl Brackets {
    /// Takes the next byte; false where it closes what is not open.
    pub fn take(&mut self, byte: u8) -> bool {
        match byte {
            _ if self.escaped => self.escaped = false,
            b'\\' if self.quoted => self.escaped = true,
            b'"' => self.quoted = !self.quoted,
            _ if self.quoted => {}
            b'{' => self.open.push(b'}'),
            b'[' => self.open.push(b']'),
            b'}' | b']' => return self.open.pop() == Some(byte),
            _ => {}
        }
        true
    }

    /// How many are open.
    pub fn depth(&self) -> usize {
        self.open.len()
    }

    /// Whether the text stands within a string.
    pub fn quoted(&self) -> bool {
        self.quoted
    }
}

/// Where the object that `text` begins with ends: behind its last brace. `None` where it breaks off.
pub fn end_of(text: &str) -> Option<usize> {
    let mut brackets = Brackets::default();
    for (place, byte) in text.bytes().enumerate() {
        if !brackets.take(byte) {
            return None;
        }
        if brackets.depth() == 0 {
            return Some(place + 1);
        }
    }
    None
}

/// An object that breaks off, ended behind the last part of it that is whole. Lists of numbers are kept whole or not at
/// all: half a list of readings would be another measurement. `None` where nothing of it is whole.
pub fn mended(text: &str) -> Option<String> {
    let mut brackets = Brackets::default();
    let mut whole: Option<(usize, Vec<u8>)> = None;
    let mut before = b' ';
    for (place, byte) in text.bytes().enumerate() {
        let quoted = brackets.quoted;
        if !brackets.take(byte) {
            break;
        }
        let end = match byte {
            _ if quoted => None,
            b'}' | b']' => Some(place + 1),
            b',' if before == b'}' || brackets.open.last() == Some(&b'}') => Some(place),
            _ => None,
        };
        // Deeper than any record: its brackets are no longer worth keeping count of.
        if let Some(end) = end.filter(|_| brackets.depth() <= DEEPEST) {
            let (kept, open) = whole.get_or_insert_default();
            *kept = end;
            open.clone_from(&brackets.open);
        }
        if !byte.is_ascii_whitespace() {
            before = byte;
        }
    }
    let (end, open) = whole?;
    let closing: String = open.iter().rev().map(|byte| char::from(*byte)).collect();
    Some([&text[..end], &closing].concat())
}

/// Nesting beyond which no text is a record.
const DEEPEST: usize = 32;

#[cfg(test)]
mod tests {
    use super::{end_of, mended};

    #[test]
    fn the_end_of_an_object_lies_behind_its_last_brace() {
        for (text, end) in [
            ("{}", Some(2)),
            (r#"{"a": "}", "b": [1, {}]} and {"#, Some(24)),
            (r#"{"a": "\"}"}x"#, Some(12)),
            ("{", None),
            ("{]", None),
            (r#"{"a": "}"#, None),
        ] {
            assert_eq!(end_of(text), end, "{text}");
        }
    }

    #[test]
    fn what_breaks_off_ends_behind_its_last_whole_part() {
        for (text, whole) in [
            (r#"{"a": 1, "b": 2"#, Some(r#"{"a": 1}"#)),
            (r#"{"a": [{"b": 1}, {"b": 2}, {"b": 3"#, Some(r#"{"a": [{"b": 1}, {"b": 2}]}"#)),
            (r#"{"a": 1, "l": [1, 2, 3"#, Some(r#"{"a": 1}"#)),
            (r#"{"a": 1, "l": [1, 2, 3], "b": "c, d"#, Some(r#"{"a": 1, "l": [1, 2, 3]}"#)),
            (r#"{"a": {"b": 1}"#, Some(r#"{"a": {"b": 1}}"#)),
            (r#"{"a": 1"#, None),
            ("{", None),
            ("[[[[", None),
        ] {
            assert_eq!(mended(text).as_deref(), whole, "{text}");
        }
    }
}

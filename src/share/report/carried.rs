//! The record inside a report.

use chart::is_no_character;
use record::{SprayTest, write};

/// Writes the record into a hidden part of a document. Whatever could end that part, or may not stand in a document, is
/// spelled as JSON spells it: the text between the tags is a record as it stands, and nothing in a name is markup.
pub fn push_carried(out: &mut String, test: &SprayTest) {
    out.push_str("<pre id=\"record\" hidden>\n");
    for c in write(test).chars() {
        // All of these occur within the strings of JSON alone.
        if matches!(c, '<' | '>' | '&') || (c.is_control() && c != '\n') || is_no_character(c) {
            let mut halves = [0; 2];
            for half in c.encode_utf16(&mut halves) {
                out.push_str("\\u");
                for shift in [12, 8, 4, 0] {
                    out.push(char::from(b"0123456789abcdef"[usize::from(*half >> shift & 15)]));
                }
            }
        } else {
            out.push(c);
        }
    }
    out.push_str("</pre>\n");
}

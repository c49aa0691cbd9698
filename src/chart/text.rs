//! Words on the picture: their width, judged without a font.

/// What keeps a name that runs from right to left from turning its neighbors around, and the end of it.
const ISOLATE: char = '\u{2068}';
const ISOLATE_END: char = '\u{2069}';

/// Width of `text` set at `size` px, judged from classes of letters with a little to spare over common system fonts.
/// The same on every backend, so that layout and taps agree wherever a picture is drawn.
pub(super) fn width(text: &str, size: f64) -> f64 {
    size * text.chars().map(letter).sum::<f64>()
}

/// Width of one letter in ems.
fn letter(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' => 0.33,
        'f' | 'r' | 't' | '(' | ')' | '[' | ']' | '/' | '-' => 0.42,
        'm' | 'w' | 'M' | 'W' | '%' | '@' | '…' => 1.0,
        'A'..='Z' | '√' | '&' | '+' | '=' | '<' | '>' | '~' | '#' | '−' => 0.78,
        '\u{20}'..='\u{24f}' | 'μ' => 0.62,
        ISOLATE | ISOLATE_END => 0.0,
        _ => 1.05,
    }
}

/// `text` without what no font can show, cut to `room` px with an ellipsis. Empty where not even a letter fits.
pub(super) fn fit(text: &str, size: f64, room: f64) -> String {
    let clean = |c: &char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}' | '\u{200e}'..='\u{202f}');
    // Two hundred letters fill the widest picture many times over.
    let text: String = text.trim().chars().filter(clean).take(200).collect();
    if width(&text, size) <= room {
        return text;
    }
    let mut used = width("…", size);
    let head: String = text
        .chars()
        .take_while(|c| {
            used += size * letter(*c);
            used <= room
        })
        .collect();
    // A name that runs the other way stands by itself, cut or not.
    let end =
        if head.contains(ISOLATE) && !head.contains(ISOLATE_END) { ISOLATE_END.to_string() } else { String::new() };
    match head.trim_matches(|c: char| c.is_whitespace() || c == ISOLATE) {
        "" => String::new(),
        _ => [head.trim_end(), "…", &end].concat(),
    }
}

/// `text` in lines of at most `room` px, broken between words; a word longer than a line is cut with an ellipsis.
pub(super) fn wrapped(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(line, size) + width(" ", size) + width(word, size) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(fit(word, size, room)),
        }
    }
    lines
}

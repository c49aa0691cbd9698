//! The sheet that a report is written on: HTML put together from plain strings, every one of them escaped.

use chart::push_text;
use findings::words::long_worded;

/// A growing HTML document.
#[derive(Default)]
pub(super) struct Paper {
    pub out: String,
}

impl Paper {
    /// Markup of our own; never anything from a record.
    pub fn markup(&mut self, markup: &'static str) {
        self.out.push_str(markup);
    }

    /// Text of whatever origin.
    pub fn text(&mut self, text: &str) {
        push_text(&mut self.out, text);
    }

    /// An element with nothing but text in it; left out where there is none.
    pub fn element(&mut self, name: &'static str, text: &str) {
        if !text.is_empty() {
            self.out.push('<');
            self.out.push_str(name);
            self.out.push('>');
            self.text(text);
            self.out.push_str("</");
            // The name without its attributes.
            self.out.push_str(name.split(' ').next().unwrap_or(name));
            self.out.push_str(">\n");
        }
    }

    /// A list with points; left out where it is empty.
    pub fn list(&mut self, items: &[String]) {
        if items.iter().any(|item| !item.is_empty()) {
            self.markup("<ul>\n");
            items.iter().for_each(|item| self.element("li", item));
            self.markup("</ul>\n");
        }
    }

    /// What to know of a table, under it; of what is left out with a star.
    pub fn notes(&mut self, notes: &[(bool, String)]) {
        if notes.is_empty() {
            return;
        }
        self.markup("<ul>\n");
        for (left_out, note) in notes {
            if *left_out {
                self.element("li class=\"out\"", &["* ", note].concat());
            } else {
                self.element("li", note);
            }
        }
        self.markup("</ul>\n");
    }

    /// The same of sentences of our own.
    pub fn bullets(&mut self, items: &[&str]) {
        self.markup("<ul>\n");
        items.iter().for_each(|item| self.element("li", item));
        self.markup("</ul>\n");
    }

    /// A table; the first cell of each row names it. Left out where it has no rows.
    pub fn table(&mut self, caption: &str, heads: &[&str], rows: &[Line]) {
        if rows.is_empty() {
            return;
        }
        self.open_table(caption, heads);
        self.markup("<tbody>\n");
        for row in rows {
            self.markup("<tr>");
            for (place, cell) in row.cells.iter().enumerate() {
                self.cell(place == 0, cell);
            }
            self.markup("</tr>\n");
        }
        self.markup("</tbody>\n</table>\n");
    }

    /// A table up to its body.
    pub fn open_table(&mut self, caption: &str, heads: &[&str]) {
        self.markup("<table>\n");
        self.element("caption", caption);
        self.markup("<thead><tr>");
        // A panel or a candidate may have no name yet.
        for head in heads {
            let name = if long_worded(head) { "th scope=\"col\" class=\"long\"" } else { "th scope=\"col\"" };
            self.element(name, if head.trim().is_empty() { "–" } else { head });
        }
        self.markup("</tr></thead>\n");
    }

    /// A cell: the head of its row, or not. A line break in it stands before what is less important.
    pub fn cell(&mut self, head: bool, text: &str) {
        // Words stay whole; one that no column of a phone has room for is broken.
        self.markup(match (head, long_worded(text)) {
            (true, false) => "<th scope=\"row\">",
            (true, true) => "<th scope=\"row\" class=\"long\">",
            (false, false) => "<td>",
            (false, true) => "<td class=\"long\">",
        });
        let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
        self.text(first);
        if !rest.is_empty() {
            self.markup("<br><small>");
            self.text(rest);
            self.markup("</small>");
        }
        self.markup(if head { "</th>" } else { "</td>" });
    }
}

/// A row of a table.
pub(super) struct Line {
    pub cells: Vec<String>,
}

impl Line {
    pub fn new(cells: Vec<String>) -> Self {
        Self { cells }
    }
}

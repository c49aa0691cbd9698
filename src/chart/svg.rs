//! A picture as SVG text: it stands in a document without scripts, and stays sharp at any size.

use super::palette::{Ink, Palette};
use super::scene::{Dot, Item, Scene, Side};

/// The page's own type: the system's plain letters.
pub(super) const FONT: &str = "system-ui, sans-serif";

/// From the middle height of plain letters down to the line they stand on, as a share of their size (customary).
const BELOW_MIDDLE: f64 = 0.35;

/// Writes text so that nothing in it can be taken for markup, in an element as in an attribute. Characters that no
/// document may hold (controls, and the code points that never are characters) are left out.
///
/// ```
/// let mut out = String::new();
/// chart::push_text(&mut out, "A & B <\"x\">");
/// assert_eq!(out, "A &amp; B &lt;&quot;x&quot;&gt;");
/// ```
pub fn push_text(out: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(c),
            c if c.is_control() || is_no_character(c) => {}
            c => out.push(c),
        }
    }
}

/// Unicode's noncharacters: U+FDD0 to U+FDEF, and the last two of each plane.
pub fn is_no_character(c: char) -> bool {
    let code = u32::from(c);
    (0xfdd0..=0xfdef).contains(&code) || code & 0xfffe == 0xfffe
}

impl Scene {
    /// The picture as one `svg` element, in CSS px, with `told` as what it says to those who do not see it.
    ///
    /// ```
    /// use chart::{Look, LossChart, TimeFrame};
    /// let svg = LossChart::new("Lost, g", TimeFrame::default()).scene(&Look::new(328.0, 260.0)).svg("Nothing yet.");
    /// assert!(svg.starts_with("<svg ") && svg.contains(">Lost, g</text>") && svg.contains("Nothing yet."));
    /// ```
    pub fn svg(&self, told: &str) -> String {
        let palette = Palette::of(self.look.theme());
        let mut pen = Pen { out: String::from("<svg"), palette };
        pen.words("xmlns", "http://www.w3.org/2000/svg");
        pen.numbers("viewBox", &[0.0, 0.0, self.look.width(), self.look.height()]);
        pen.words("role", "img");
        pen.words("aria-label", told);
        pen.words("font-family", FONT);
        pen.numbers("font-size", &[self.look.text_px()]);
        pen.out.push_str(">\n");
        let mut items = self.items.iter().peekable();
        while let Some(item) = items.next() {
            match item {
                // The dashes of a line are one path: a picture is half as long for it.
                Item::Stroke { line, width, ink, alpha } => {
                    let mut lines = vec![&line[..]];
                    while let Some(Item::Stroke { line, width: w, ink: i, alpha: a }) = items.peek()
                        && (w, i, a) == (width, ink, alpha)
                    {
                        lines.push(line);
                        items.next();
                    }
                    pen.stroke(&lines, *width, *ink, *alpha);
                }
                item => pen.item(item, BELOW_MIDDLE * self.look.text_px()),
            }
        }
        pen.out.push_str("</svg>\n");
        pen.out
    }
}

struct Pen {
    out: String,
    palette: Palette,
}

impl Pen {
    fn words(&mut self, name: &str, words: &str) {
        self.open(name);
        push_text(&mut self.out, words);
        self.out.push('"');
    }

    fn numbers(&mut self, name: &str, numbers: &[f64]) {
        self.open(name);
        for (place, number) in numbers.iter().enumerate() {
            if place > 0 {
                self.out.push(' ');
            }
            push_hundredths(&mut self.out, *number);
        }
        self.out.push('"');
    }

    /// Dots to the tenth of a CSS px.
    fn dots(&mut self, dots: &[Dot]) {
        for (place, (x, y)) in dots.iter().enumerate() {
            if place > 0 {
                self.out.push(' ');
            }
            push_hundredths(&mut self.out, (x * 10.0).round() / 10.0);
            self.out.push(' ');
            push_hundredths(&mut self.out, (y * 10.0).round() / 10.0);
        }
    }

    fn corners(&mut self, dots: &[Dot]) {
        self.open("points");
        self.dots(dots);
        self.out.push('"');
    }

    fn stroke(&mut self, lines: &[&[Dot]], width: f64, ink: Ink, alpha: f64) {
        self.out.push_str("<path");
        self.open("d");
        for line in lines {
            self.out.push('M');
            self.dots(line);
        }
        self.out.push('"');
        self.words("fill", "none");
        self.ink("stroke", ink, alpha);
        self.numbers("stroke-width", &[width]);
        self.out.push_str("/>\n");
    }

    fn ink(&mut self, name: &str, ink: Ink, alpha: f64) {
        let (r, g, b) = self.palette.colour(ink);
        self.open(name);
        self.out.push('#');
        for byte in [r, g, b] {
            for half in [byte >> 4, byte & 15] {
                self.out.push(char::from(b"0123456789abcdef"[usize::from(half)]));
            }
        }
        self.out.push('"');
        if alpha < 1.0 {
            self.numbers("opacity", &[alpha]);
        }
    }

    fn open(&mut self, name: &str) {
        self.out.push(' ');
        self.out.push_str(name);
        self.out.push_str("=\"");
    }

    /// Draws an item; words stand on a line `below` their middle height.
    fn item(&mut self, item: &Item, below: f64) {
        match item {
            Item::Area { corners, ink, alpha } => {
                self.out.push_str("<polygon");
                self.corners(corners);
                self.ink("fill", *ink, *alpha);
            }
            Item::Stroke { line, width, ink, alpha } => return self.stroke(&[line], *width, *ink, *alpha),
            Item::Rule { from, to, width, ink } => {
                return self.stroke(&[&[*from, *to]], *width, *ink, 1.0);
            }
            Item::Disc { centre, radius, ink } => {
                self.out.push_str("<circle");
                self.numbers("cx", &[centre.0]);
                self.numbers("cy", &[centre.1]);
                self.numbers("r", &[*radius]);
                self.ink("fill", *ink, 1.0);
            }
            Item::Word { text, at, side, ink } => {
                self.out.push_str("<text");
                self.words("text-anchor", side.anchor());
                self.numbers("x", &[at.0]);
                self.numbers("y", &[at.1 + below]);
                self.ink("fill", *ink, 1.0);
                self.out.push('>');
                push_text(&mut self.out, text);
                self.out.push_str("</text>\n");
                return;
            }
        }
        self.out.push_str("/>\n");
    }
}

impl Side {
    fn anchor(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// A number to the hundredth, without idle zeros: a hundredth of a CSS px is finer than anybody sees.
fn push_hundredths(out: &mut String, number: f64) {
    let hundredths = (number * 100.0).round() as i64;
    if hundredths < 0 {
        out.push('-');
    }
    let (whole, rest) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    out.push_str(&whole.to_string());
    if rest > 0 {
        out.push('.');
        out.push(char::from(b'0' + (rest / 10) as u8));
        if rest % 10 > 0 {
            out.push(char::from(b'0' + (rest % 10) as u8));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::push_hundredths;

    #[test]
    fn numbers_are_as_short_as_they_can_be() {
        for (number, text) in
            [(0.0, "0"), (12.0, "12"), (0.13, "0.13"), (-1.5, "-1.5"), (328.006, "328.01"), (0.004, "0")]
        {
            let mut out = String::new();
            push_hundredths(&mut out, number);
            assert_eq!(out, text);
        }
    }
}

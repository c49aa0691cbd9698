//! What a picture drew, read back from its SVG.

use plotters_svg::SVGBackend;

/// Shapes and words of a picture.
#[derive(Debug, Default)]
pub struct Drawn {
    /// Every coordinate pair of every shape, device px.
    pub dots: Vec<(f64, f64)>,
    pub words: Vec<Word>,
}

#[derive(Clone, Debug)]
pub struct Word {
    pub text: String,
    pub x: f64,
    pub y: f64,
    /// "start", "middle" or "end".
    pub anchor: String,
    /// Size of the letters as they come out, device px.
    pub size: f64,
}

impl Word {
    /// The stretch from left to right, with half the size to a letter and half of that to a narrow one (common practice
    /// for plain letters).
    pub fn stretch(&self) -> (f64, f64) {
        let letters = self.text.chars().map(|c| if "ijlftrI.,:;'|!()[]/- ".contains(c) { 0.25 } else { 0.5 });
        let width = self.size * letters.sum::<f64>();
        match self.anchor.as_str() {
            "start" => (self.x, self.x + width),
            "end" => (self.x - width, self.x),
            _ => (self.x - width / 2.0, self.x + width / 2.0),
        }
    }
}

/// Paints a scene and reads every number back.
pub fn draw(scene: &comb_scale::chart::Scene) -> Drawn {
    let mut svg = String::new();
    scene.paint(&mut SVGBackend::with_string(&mut svg, scene.px_size())).unwrap();
    let mut drawn = Drawn::default();
    let mut lines = svg.lines();
    lines.next();
    while let Some(line) = lines.next() {
        let get = |name: &str| {
            let from = line.find(&format!(" {name}=\""))? + name.len() + 3;
            Some(&line[from..from + line[from..].find('"')?])
        };
        let number = |name: &str| get(name).map(|v| v.parse::<f64>().unwrap());
        match line.split([' ', '>']).next().unwrap_or_default() {
            "<polygon" | "<polyline" => drawn.dots.extend(get("points").unwrap().split_whitespace().map(|pair| {
                let (x, y) = pair.split_once(',').unwrap();
                (x.parse().unwrap(), y.parse().unwrap())
            })),
            "<rect" => {
                let (x, y) = (number("x").unwrap(), number("y").unwrap());
                drawn.dots.extend([(x, y), (x + number("width").unwrap(), y + number("height").unwrap())]);
            }
            "<circle" => drawn.dots.push((number("cx").unwrap(), number("cy").unwrap())),
            "<text" => drawn.words.push(Word {
                text: plain(lines.next().unwrap()),
                x: number("x").unwrap(),
                y: number("y").unwrap(),
                anchor: get("text-anchor").unwrap().to_owned(),
                size: number("font-size").unwrap(),
            }),
            "</text" | "</svg" | "" => {}
            other => panic!("an element nobody reads back: {other}"),
        }
    }
    drawn
}

/// Text as it was before it was written into the SVG.
fn plain(text: &str) -> String {
    let pairs = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&apos;", "'"), ("&amp;", "&")];
    pairs.into_iter().fold(text.to_owned(), |text, (from, to)| text.replace(from, to))
}

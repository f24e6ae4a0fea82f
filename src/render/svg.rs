//! Drawings in black on white as SVG, in millimetres; nothing depends on hue.

use super::html::escape;

/// Millimetres in a point.
const MM_PER_PT: f64 = 25.4 / 72.0;

/// Where a text stands to its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    /// Begins there.
    Start,
    Middle,
    End,
}

/// A mark of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    Dot,
    Square,
    Triangle,
    Diamond,
    Ring,
}

impl Mark {
    /// Marks of several strips, in order.
    pub(super) fn of(index: usize) -> Self {
        [Self::Dot, Self::Square, Self::Triangle, Self::Diamond]
            .into_iter()
            .cycle()
            .nth(index)
            .unwrap_or(Self::Ring)
    }
}

/// A line's look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pen {
    /// mm.
    pub(super) width: f64,
    /// Lengths of dash and gap, mm; empty for a whole line.
    pub(super) dash: &'static str,
}

impl Pen {
    pub(super) const fn whole(width: f64) -> Self {
        Self { width, dash: "" }
    }

    pub(super) const fn dashed(width: f64, dash: &'static str) -> Self {
        Self { width, dash }
    }

    fn attributes(self) -> String {
        let dash =
            if self.dash.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", self.dash) };
        format!("stroke=\"#000\" stroke-width=\"{:.2}\"{dash}", self.width)
    }
}

#[derive(Debug)]
pub(super) struct Svg {
    size: (f64, f64),
    body: String,
}

type Point = (f64, f64);

impl Svg {
    /// An empty drawing of a width and height, mm.
    pub(super) fn new(width: f64, height: f64) -> Self {
        Self { size: (width, height), body: String::new() }
    }

    pub(super) fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.body.push_str(&format!(
            "<line x1=\"{:.2}\" y1=\"{:.2}\" x2=\"{:.2}\" y2=\"{:.2}\" {}/>\n",
            from.0,
            from.1,
            to.0,
            to.1,
            pen.attributes()
        ));
    }

    pub(super) fn path(&mut self, points: &[Point], pen: Pen) {
        let text: Vec<String> = points.iter().map(|(x, y)| format!("{x:.2},{y:.2}")).collect();
        self.body.push_str(&format!(
            "<polyline points=\"{}\" fill=\"none\" stroke-linejoin=\"round\" {}/>\n",
            text.join(" "),
            pen.attributes()
        ));
    }

    pub(super) fn frame(&mut self, at: Point, size: Point, pen: Pen) {
        self.body.push_str(&format!(
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"none\" {}/>\n",
            at.0,
            at.1,
            size.0,
            size.1,
            pen.attributes()
        ));
    }

    /// Dots in a row or column, 1.5 mm apart.
    pub(super) fn dots(&mut self, from: Point, to: Point) {
        self.body.push_str(&format!(
            "<line x1=\"{:.2}\" y1=\"{:.2}\" x2=\"{:.2}\" y2=\"{:.2}\" stroke=\"#000\" stroke-width=\"0.16\" stroke-dasharray=\"0 1.5\" stroke-linecap=\"round\"/>\n",
            from.0, from.1, to.0, to.1
        ));
    }

    /// A filled disc.
    pub(super) fn disc(&mut self, at: Point, radius: f64) {
        self.body.push_str(&format!(
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius:.2}\" fill=\"#000\"/>\n",
            at.0, at.1
        ));
    }

    pub(super) fn mark(&mut self, mark: Mark, at: Point) {
        let (x, y) = at;
        let open = "fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.35\"";
        self.body.push_str(&match mark {
            Mark::Dot => format!("<circle cx=\"{x:.2}\" cy=\"{y:.2}\" r=\"1.00\" fill=\"#000\"/>\n"),
            Mark::Ring => format!("<circle cx=\"{x:.2}\" cy=\"{y:.2}\" r=\"0.80\" {open}/>\n"),
            Mark::Square => {
                format!(
                    "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"1.90\" height=\"1.90\" {open}/>\n",
                    x - 0.95,
                    y - 0.95
                )
            }
            Mark::Triangle => format!(
                "<path d=\"M{x:.2} {:.2}L{:.2} {:.2}L{:.2} {:.2}Z\" {open}/>\n",
                y - 1.3,
                x + 1.2,
                y + 0.85,
                x - 1.2,
                y + 0.85
            ),
            Mark::Diamond => format!(
                "<path d=\"M{x:.2} {:.2}L{:.2} {y:.2}L{x:.2} {:.2}L{:.2} {y:.2}Z\" {open}/>\n",
                y - 1.35,
                x + 1.35,
                y + 1.35,
                x - 1.35
            ),
        });
    }

    pub(super) fn ringed(&mut self, letter: &str, at: Point) {
        self.body.push_str(&format!(
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"3.40\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.50\"/>\n",
            at.0, at.1
        ));
        self.text(letter, (at.0, at.1 + 1.55), 13.0, Anchor::Middle, true);
    }

    /// A text with its foot at a point, kept clear of lines by a white edge.
    pub(super) fn text(&mut self, text: &str, at: Point, size_pt: f64, anchor: Anchor, bold: bool) {
        self.turned(text, at, size_pt, (anchor, 0.0), bold);
    }

    /// A text turned by degrees about its point.
    pub(super) fn turned(
        &mut self,
        text: &str,
        at: Point,
        size_pt: f64,
        (anchor, degrees): (Anchor, f64),
        bold: bool,
    ) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let weight = if bold { " font-weight=\"bold\"" } else { "" };
        let turn = if degrees == 0.0 {
            String::new()
        } else {
            format!(" transform=\"rotate({degrees:.2} {:.2} {:.2})\"", at.0, at.1)
        };
        self.body.push_str(&format!(
            "<text x=\"{:.2}\" y=\"{:.2}\" font-size=\"{:.2}\" text-anchor=\"{anchor}\"{weight}{turn} stroke=\"#fff\" stroke-width=\"0.7\" paint-order=\"stroke\">{}</text>\n",
            at.0,
            at.1,
            size_pt * MM_PER_PT,
            escape(text)
        ));
    }

    /// The drawing as markup.
    pub(super) fn finish(self, label: &str) -> String {
        let (width, height) = self.size;
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"{}\" width=\"{width:.2}mm\" height=\"{height:.2}mm\" viewBox=\"0 0 {width:.2} {height:.2}\">\n{}</svg>\n",
            escape(label),
            self.body
        )
    }
}

/// A rectangle of paper that stands for a rectangle of figures.
#[derive(Debug, Clone, Copy)]
pub(super) struct Axes {
    /// Figures at the left and right.
    pub(super) x: (f64, f64),
    /// Figures at the foot and head.
    pub(super) y: (f64, f64),
    /// Left upper corner, mm.
    pub(super) at: Point,
    /// Width and height, mm.
    pub(super) size: Point,
}

impl Axes {
    pub(super) fn px(&self, x: f64) -> f64 {
        self.at.0 + (x - self.x.0) / (self.x.1 - self.x.0) * self.size.0
    }

    pub(super) fn py(&self, y: f64) -> f64 {
        self.at.1 + self.size.1 - (y - self.y.0) / (self.y.1 - self.y.0) * self.size.1
    }

    pub(super) fn p(&self, x: f64, y: f64) -> Point {
        (self.px(x), self.py(y))
    }

    pub(super) fn right(&self) -> f64 {
        self.at.0 + self.size.0
    }

    pub(super) fn foot(&self) -> f64 {
        self.at.1 + self.size.1
    }
}

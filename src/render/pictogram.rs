//! Pictograms of the GHS, drawn here from lines, circles and curves: a black symbol in a frame that stands on its corner. The frame is
//! black, so that it is still there under a red safelight and from a printer of one ink.

use crate::label::pictogram::Pictogram;

/// Frame: a square on its corner, from -50 to 50.
const FRAME: &str =
    "<path d=\"M0-47.5 47.5 0 0 47.5-47.5 0Z\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"3.5\"/>";

/// The drawing, `across_mm` from corner to corner.
pub(super) fn svg(pictogram: Pictogram, across_mm: f64) -> String {
    format!(
        "<svg viewBox=\"-50 -50 100 100\" style=\"width:{across_mm:.2}mm;height:{across_mm:.2}mm\" role=\"img\" aria-label=\"{}\">{FRAME}{}</svg>",
        pictogram.name(),
        symbol(pictogram)
    )
}

fn symbol(pictogram: Pictogram) -> &'static str {
    match pictogram {
        Pictogram::Flame => concat!(
            "<path d=\"M1-33C4-22 15-16 15-1C18-3 20-7 19-12C25-3 26 10 19 19H-17C-25 11-24-3-14-11C-14-6-13-3-10-1C-11-13 0-19 1-33Z\"/>",
            "<path d=\"M1 3C6 8 10 13 6 19H-6C-10 13-4 9 1 3Z\" fill=\"#fff\"/>",
            "<path d=\"M-19 22H20V26H-19Z\"/>"
        ),
        Pictogram::FlameOverCircle => concat!(
            "<path d=\"M1-37C3-29 11-25 11-15C13-16 14-19 14-22C18-16 19-8 14-2H-12C-18-8-17-17-10-22C-10-19-9-17-7-15C-8-24 0-28 1-37Z\"/>",
            "<path d=\"M1-13C4-10 7-6 4-2H-4C-7-6-3-9 1-13Z\" fill=\"#fff\"/>",
            "<circle cx=\"0\" cy=\"12\" r=\"11\" fill=\"none\" stroke=\"#000\" stroke-width=\"5\"/>",
            "<path d=\"M-14 27.5H14V31.5H-14Z\"/>"
        ),
        Pictogram::Corrosion => concat!(
            "<g fill=\"#fff\" stroke=\"#000\" stroke-width=\"2\">",
            "<path d=\"M-20-23-1-15.5-4-8-23-15.5Z\"/><path d=\"M20-23 1-15.5 4-8 23-15.5Z\"/></g>",
            "<path d=\"M-21.5-19.5-3-12-4-8-23-15.5ZM21.5-19.5 3-12 4-8 23-15.5Z\"/>",
            "<path d=\"M-7-5Q-10-.5-7 0Q-4-.5-7-5ZM-7 3Q-10 7.5-7 8Q-4 7.5-7 3ZM8-5Q5-.5 8 0Q11-.5 8-5ZM8 3Q5 7.5 8 8Q11 7.5 8 3Z\"/>",
            "<path d=\"M-29 10H-15Q-13 11-12 14Q-9 18-6 14Q-5 11-3 10H-1V18H-24Z\"/>",
            "<path d=\"M2 14Q3 10 5 11Q8 16 11 11Q13 9 17 10H26Q30 12 26 16L19 20H8Q3 19 2 14Z\"/>"
        ),
        Pictogram::Skull => concat!(
            "<path d=\"M-20 8 19 20M20 8-19 20\" stroke=\"#000\" stroke-width=\"5\" stroke-linecap=\"round\"/>",
            "<circle cx=\"-21\" cy=\"5.5\" r=\"3.4\"/><circle cx=\"-22\" cy=\"9.5\" r=\"3.4\"/><circle cx=\"21\" cy=\"5.5\" r=\"3.4\"/><circle cx=\"22\" cy=\"9.5\" r=\"3.4\"/>",
            "<circle cx=\"-18\" cy=\"22\" r=\"3.4\"/><circle cx=\"-20.5\" cy=\"18\" r=\"3.4\"/><circle cx=\"18\" cy=\"22\" r=\"3.4\"/><circle cx=\"20.5\" cy=\"18\" r=\"3.4\"/>",
            "<path d=\"M0-35C11-35 16-27 16-18C16-12 13-8 10-6L9 3Q0 7-9 3L-10-6C-13-8-16-12-16-18C-16-27-11-35 0-35Z\" stroke=\"#fff\" stroke-width=\"1.6\"/>",
            "<g fill=\"#fff\"><ellipse cx=\"-6.8\" cy=\"-17\" rx=\"4.5\" ry=\"5\"/><ellipse cx=\"6.8\" cy=\"-17\" rx=\"4.5\" ry=\"5\"/><path d=\"M0-11 3-5H-3Z\"/></g>",
            "<path d=\"M-5-2V4M0-2V5M5-2V4\" stroke=\"#fff\" stroke-width=\"1.4\"/>"
        ),
        Pictogram::HealthHazard => concat!(
            "<ellipse cx=\"0\" cy=\"-26\" rx=\"8\" ry=\"9.5\"/><path d=\"M-5-20H5L6-13C15-11 21-6 22 4L23 20H-23L-22 4C-21-6-15-11-6-13Z\"/>",
            "<path d=\"M0-13 3 0 13-6 7 4 20 7 7 10 13 20 3 13.5 0 24-3 13.5-13 20-7 10-20 7-7 4-13-6-3 0Z\" fill=\"#fff\"/>"
        ),
        Pictogram::ExclamationMark => concat!(
            "<path d=\"M0-34Q8-34 7.5-26L4 9Q3.5 11 0 11Q-3.5 11-4 9L-7.5-26Q-8-34 0-34Z\"/>",
            "<circle cx=\"0\" cy=\"22\" r=\"7\"/>"
        ),
        Pictogram::Environment => concat!(
            "<path d=\"M-28 13H4Q10 13 13 16H23L18 21H-20Z\"/>",
            "<path d=\"M-12 14-10-2-19-12-17.6-13.2-9.5-6-9.5-13-15-22-13.4-23-8-15.5-5-25-3.2-24.4-5.5-13.5-1-18-.2-17-5.5-10-5-4 4-11 5-9.6-4.5-.5-3 14Z\"/>",
            "<path d=\"M2 2Q11-8 21 0L28-5V8L21 3Q12 11 2 2Z\"/><circle cx=\"8\" cy=\"0.6\" r=\"1.5\" fill=\"#fff\"/>"
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_symbol_is_drawn_in_black_and_white_only() {
        for pictogram in Pictogram::ALL {
            let drawing = svg(pictogram, 22.6);
            assert!(
                drawing.matches("<path").count() >= 2,
                "{}: an empty frame is no pictogram",
                pictogram.name()
            );
            for colour in drawing.split('"').filter(|value| value.starts_with('#')) {
                assert!(["#000", "#fff"].contains(&colour), "{colour}");
            }
        }
    }
}

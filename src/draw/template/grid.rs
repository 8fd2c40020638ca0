//! How a template is cut into tiles: the way of the paper that needs fewer, and where each window lies.

use super::bars::ACROSS;
use super::page::MARGIN;
use super::placer::meets;
use super::{Paper, TemplateError};
use crate::geom::{Contour, Point, Rect, Vec2};

/// Height of the words under a tile, mm.
pub(super) const WORDS: f64 = 20.0;
/// Room that a register mark takes, mm.
const MARK: f64 = 4.5;

/// Tiles of one template.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    /// Paper width and height as used, mm.
    pub paper: (f64, f64),
    /// Columns, rows.
    pub count: (u32, u32),
    /// Size of the content, mm.
    pub content: (f64, f64),
    /// Size of a window in content millimetres.
    pub window: (f64, f64),
    /// Overlap in content millimetres.
    pub overlap: f64,
    /// Printer correction.
    pub scale: (f64, f64),
}

impl Grid {
    /// Upright or lying paper, whichever needs fewer tiles (upright of two alike).
    ///
    /// # Errors
    /// An overlap that is not a length or takes more than half a window.
    pub fn choose(
        paper: Paper,
        content: (f64, f64),
        overlap: f64,
        scale: (f64, f64),
    ) -> Result<Option<Grid>, TemplateError> {
        let Some((w, h)) = paper.size() else { return Ok(None) };
        let ways = [(w, h), (h, w)].map(|size| Grid::on(size, content, overlap, scale));
        let most = ways.iter().map(|g| g.window.0.min(g.window.1) / 2.0).fold(f64::INFINITY, f64::min);
        if !(0.0..=most).contains(&overlap) {
            return Err(TemplateError::Overlap { overlap, most });
        }
        Ok(ways.into_iter().min_by_key(|g| g.count.0 * g.count.1))
    }

    fn on(paper: (f64, f64), content: (f64, f64), overlap: f64, scale: (f64, f64)) -> Grid {
        let window = (
            (paper.0 - 2.0 * MARGIN) / scale.0 - ACROSS,
            (paper.1 - 2.0 * MARGIN - WORDS) / scale.1 - ACROSS,
        );
        let count = |size: f64, window: f64| {
            let step = window - overlap;
            // a hair of rounding must not cost a page
            if step > 0.0 { ((size - overlap - 1e-6) / step).ceil().clamp(1.0, 1000.0) as u32 } else { 1000 }
        };
        Grid {
            paper,
            count: (count(content.0, window.0), count(content.1, window.1)),
            content,
            window,
            overlap,
            scale,
        }
    }

    /// `B3`: row letter from the top, column number from the left.
    pub fn name(&self, column: u32, row: u32) -> String {
        let mut letters = String::new();
        let mut k = row;
        loop {
            letters.insert(0, char::from(b'A' + (k % 26) as u8));
            match (k / 26).checked_sub(1) {
                Some(more) => k = more,
                None => break,
            }
        }
        format!("{letters}{}", column + 1)
    }

    /// The part of the content that a tile shows.
    pub fn shown(&self, column: u32, row: u32) -> Rect {
        let step = Vec2::new(self.window.0 - self.overlap, self.window.1 - self.overlap);
        let x = step.x * f64::from(column);
        let top = self.content.1 - step.y * f64::from(row);
        Rect::new(x, top - self.window.1, x + self.window.0, top)
    }

    /// The window on the page.
    pub fn on_page(&self) -> Rect {
        let x = MARGIN + ACROSS * self.scale.0;
        let y = MARGIN + WORDS + ACROSS * self.scale.1;
        Rect::new(x, y, self.paper.0 - MARGIN, self.paper.1 - MARGIN)
    }

    /// Every tile: column and row, in the order of pages.
    pub fn tiles(&self) -> impl Iterator<Item = (u32, u32)> + '_ {
        (0..self.count.1).flat_map(|row| (0..self.count.0).map(move |column| (column, row)))
    }

    /// Middles of the register marks, in the content: two on every seam of two tiles, beside the lines that
    /// are drawn where there is room.
    pub fn marks(&self, lines: &[Contour]) -> Vec<Point> {
        let mut found = Vec::new();
        let half = self.overlap / 2.0;
        for (column, row) in self.tiles() {
            let r = self.shown(column, row);
            for middle in [0.27, 0.73] {
                if column + 1 < self.count.0 {
                    found.push(beside(lines, middle, |part| {
                        Point::new(r.x1 - half, r.y0 + part * r.height())
                    }));
                }
                if row + 1 < self.count.1 {
                    found
                        .push(beside(lines, middle, |part| Point::new(r.x0 + part * r.width(), r.y0 + half)));
                }
            }
        }
        found
    }
}

/// Box that a mark takes.
pub(super) fn mark_box(p: Point) -> Rect {
    Rect::from_center_size(p, (2.0 * MARK, 2.0 * MARK))
}

/// The place along a seam, nearest to its wish, whose mark meets no line; the wish itself where none is free.
fn beside(lines: &[Contour], wish: f64, at: impl Fn(f64) -> Point) -> Point {
    (0..=15)
        .flat_map(|k| [wish + 0.012 * f64::from(k), wish - 0.012 * f64::from(k)])
        .map(&at)
        .find(|p| !lines.iter().any(|c| meets(c, mark_box(*p))))
        .unwrap_or_else(|| at(wish))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tiles_cover_the_content_and_overlap_as_asked() {
        for (w, h) in [(80.0, 60.0), (400.0, 200.0), (1000.0, 400.0), (173.0, 240.0), (2000.0, 900.0)] {
            for paper in [Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid] {
                for overlap in [0.0, 10.0, 25.0] {
                    let g =
                        Grid::choose(paper, (w, h), overlap, (1.03, 0.98)).expect("lawful").expect("paper");
                    let last = g.shown(g.count.0 - 1, g.count.1 - 1);
                    assert!(last.x1 >= w - 1e-6 && last.y0 <= 1e-6, "{g:?}");
                    if g.count.0 > 1 {
                        let (a, b) = (g.shown(0, 0), g.shown(1, 0));
                        assert!((a.x1 - b.x0 - overlap).abs() < 1e-9);
                    }
                    let page = g.on_page();
                    assert!((page.width() - g.window.0 * g.scale.0).abs() < 1e-9);
                    assert!((page.height() - g.window.1 * g.scale.1).abs() < 1e-9);
                }
            }
        }
    }

    #[test]
    fn fewer_pages_decide_the_way_of_the_paper() {
        let wide = Grid::choose(Paper::A4, (420.0, 150.0), 10.0, (1.0, 1.0)).expect("lawful").expect("paper");
        assert_eq!((wide.count, wide.paper), ((2, 1), (297.0, 210.0)));
        let tall = Grid::choose(Paper::A4, (170.0, 400.0), 10.0, (1.0, 1.0)).expect("lawful").expect("paper");
        assert_eq!((tall.count, tall.paper), ((1, 2), (210.0, 297.0)));
    }

    #[test]
    fn absurd_overlaps_are_refused() {
        for overlap in [-1.0, 150.0, f64::NAN] {
            assert!(Grid::choose(Paper::A4, (400.0, 200.0), overlap, (1.0, 1.0)).is_err());
        }
    }

    #[test]
    fn rows_have_letters() {
        let g = Grid::on((210.0, 297.0), (100.0, 100.0), 10.0, (1.0, 1.0));
        assert_eq!([g.name(0, 0), g.name(2, 1), g.name(0, 26)], ["A1", "B3", "AA1"]);
    }
}

//! A view or a table on sheets of paper with frame, title block, notice and notes, as the fabrication drawing has them.

use crate::check::Finding;
use crate::draw::drawing::flow::{self, Piece, Pour, columns, moved};
use crate::draw::drawing::ordinate::Bands;
use crate::draw::drawing::paper::{Family, PageSize, SIZES, Scale};
use crate::draw::drawing::sheet::{BESIDE, LEGIBLE, Space};
use crate::draw::drawing::title::{self, Says};
use crate::draw::drawing::{DrawingError, DrawingOptions, frame, number::Print};
use crate::draw::template::strip::CAUTIONS;
use crate::draw::template::words::{mm, short_hash, thickness};
use crate::draw::template::{Standing, TemplateOptions, count_words};
use crate::draw::{Drawing, Entry, Item, Page, Units};
use crate::geom::{Rect, Vec2};
use crate::panel::Panel;

/// A view at a scale: its lower left corner is (0, 0), mm on paper.
pub struct Drawn {
    /// Its items.
    pub items: Vec<Item>,
    /// Its size, mm.
    pub size: (f64, f64),
    /// Room beside it.
    pub bands: Bands,
    /// Words and tables about it, in reading order.
    pub blocks: Vec<Vec<Piece>>,
}

impl Drawn {
    /// Width and height with what stands beside it, mm.
    fn room(&self) -> (f64, f64) {
        let (b, (w, h)) = (self.bands, self.size);
        (w + b.left + b.right, h + b.below + b.above)
    }
}

/// What a page is about.
pub struct About<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Its findings.
    pub findings: &'a [Finding],
    /// Page asked for, staleness.
    pub opts: &'a DrawingOptions,
    /// Kind of document, for the title block.
    pub kind: &'a str,
    /// What of the panel it shows.
    pub part: String,
    /// Name of its pages.
    pub name: String,
}

impl About<'_> {
    fn standing(&self) -> Standing {
        let stale = TemplateOptions { stale: self.opts.stale.clone(), ..TemplateOptions::default() };
        Standing::of(self.panel, self.findings, &stale)
    }

    /// How lengths are printed.
    pub fn print(&self) -> Print {
        Print::of(self.panel.unit)
    }

    fn says(&self, standing: &Standing) -> Says<'_> {
        let sheet = self.panel.sheets.first();
        let or = |s: Option<String>| s.unwrap_or_else(|| "not given".into());
        Says {
            title: &self.panel.title,
            kind: self.kind.to_owned(),
            name: self.panel.name.clone(),
            part: self.part.clone(),
            scale: "-".into(),
            material: or(sheet.and_then(|s| s.material.clone())),
            thickness: or(sheet.map(thickness)),
            coat: or(sheet.and_then(|s| s.coat).map(|c| format!("{} mm", mm(c)))),
            tolerance: "not to cut from".into(),
            unit: self.print().unit(),
            status: standing.notice().unwrap_or_else(|| count_words(&standing.counts)),
            sheet: 1,
            sheets: 1,
        }
    }

    fn sizes(&self) -> (Family, Vec<PageSize>) {
        let family = if self.panel.unit.is_inch() { Family::Asme } else { Family::Iso };
        let family = self.opts.page.map_or(family, |p| p.family);
        let all = || SIZES.iter().filter(|s| s.family == family).copied().collect();
        (family, self.opts.page.map_or_else(all, |p| vec![p]))
    }

    /// `draw` is asked for a scale, first with what goes with the view above it, then beside it. The pages of a view that is `real` mm large: the smallest paper at the largest scale on which it fits, 1:2 or
    /// larger where any paper takes that.
    ///
    /// # Errors
    /// No standard scale brings it on to the page.
    pub fn view(
        &self,
        real: (f64, f64),
        draw: impl Fn(Scale, bool) -> Option<Drawn>,
    ) -> Result<Vec<Page>, DrawingError> {
        let standing = self.standing();
        let mut says = self.says(&standing);
        let (family, sizes) = self.sizes();
        for least in [LEGIBLE, u32::MAX] {
            for size in &sizes {
                let space = Space::of(size, &says, &standing);
                for scale in Scale::all(family).iter().filter(|s| s.part <= least) {
                    let k = scale.factor();
                    if real.0 * k > space.area.width() || real.1 * k > space.above() {
                        continue;
                    }
                    let fits = |v: &Drawn| {
                        let (w, h) = v.room();
                        w <= space.area.width() && h <= space.above()
                    };
                    let Some(view) = [false, true].into_iter().find_map(|b| draw(*scale, b).filter(fits))
                    else {
                        continue;
                    };
                    let (w, h) = view.size;
                    let (wide, b) = (view.room().0, view.bands);
                    says.scale = scale.words();
                    let at = Vec2::new(space.left(wide) + b.left, space.area.y1 - b.above - h);
                    let used =
                        Rect::new(at.x - b.left, at.y - b.below, at.x + w + b.right, at.y + h + b.above);
                    let first = view.items.iter().map(|i| moved(i, at)).collect();
                    return Ok(self.set(size, &says, &standing, Some((first, used)), &view.blocks));
                }
            }
        }
        let page = sizes.last().map_or("paper", |s| s.name);
        Err(DrawingError::TooLarge { metal: real, page })
    }

    /// Pages of words and tables alone, as wide as the page, on the smallest paper.
    pub fn words(&self, blocks: &[Vec<Piece>]) -> Vec<Page> {
        let standing = self.standing();
        let (_, sizes) = self.sizes();
        let size = sizes.first().copied().unwrap_or(SIZES[0]);
        self.set(&size, &self.says(&standing), &standing, None, blocks)
    }

    fn set(
        &self,
        size: &PageSize,
        says: &Says<'_>,
        standing: &Standing,
        view: Option<(Vec<Item>, Rect)>,
        blocks: &[Vec<Piece>],
    ) -> Vec<Page> {
        let space = Space::of(size, says, standing);
        let table = view.is_none();
        let whole = Rect::new(space.area.x0, space.title.y1 + BESIDE, space.area.x1, space.area.y1);
        let (_, each) = columns(space.area.width());
        let mut pour = Pour::new(flow::set(blocks, if table { whole.width() } else { each }));
        let mut bare: Vec<(String, Vec<Item>)> = Vec::new();
        if let Some((mut items, used)) = view {
            items.extend(pour.fill(&space.slots(Some(used)), false));
            bare.push((says.scale.clone(), items));
        }
        while !pour.done() {
            let slots = if table { vec![whole] } else { space.slots(None) };
            bare.push(("-".into(), pour.fill(&slots, true)));
        }
        let sheets = bare.len();
        let pages = bare.into_iter().enumerate().map(|(k, (scale, items))| {
            let says = Says { sheet: k + 1, sheets, scale, ..says.clone() };
            let mut all = frame::frame(size, space.title);
            all.extend(title::block(size, &says));
            all.extend(space.notice(standing));
            all.extend(items);
            Page {
                name: if sheets == 1 { self.name.clone() } else { format!("{} {}", self.name, k + 1) },
                width: size.width,
                height: size.height,
                items: all.into_iter().map(Entry::Item).collect(),
            }
        });
        pages.collect()
    }

    /// Pages as a drawing.
    pub fn drawing(&self, pages: Vec<Page>) -> Drawing {
        let standing = self.standing();
        let panel = self.panel;
        let mut meta = vec![
            ("panel".to_owned(), panel.name.clone()),
            ("kind".to_owned(), self.kind.to_owned()),
            ("revision".to_owned(), panel.title.get("revision").unwrap_or("not given").to_owned()),
            ("inputs".to_owned(), panel.hash.clone()),
            ("verdicts".to_owned(), count_words(&standing.counts)),
        ];
        if let Some(n) = standing.notice() {
            meta.push(("notice".to_owned(), n));
        }
        let units = if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre };
        Drawing { title: format!("{}: {}", panel.name, self.kind), pages, meta, units }
    }

    /// What every such page ends with.
    pub fn standing_block(&self) -> Vec<Piece> {
        let standing = self.standing();
        let mut b = vec![Piece::Head("Standing".into())];
        b.extend(standing.notice().map(Piece::Strong));
        if let Some((because, by)) = &standing.lifted {
            b.push(Piece::Strong(format!("CUT IN SPITE OF {}", standing.against.join(", "))));
            b.push(Piece::Words(format!("recorded reason: {because} ({by})")));
        }
        b.push(Piece::Words(format!("verdicts: {}", count_words(&standing.counts))));
        let revision = self.panel.title.get("revision").unwrap_or("not given");
        let hash = short_hash(self.panel);
        b.push(Piece::Words(format!("revision {revision}; content of the inputs: {hash}")));
        b
    }
}

/// The cautions of every drawing.
pub fn cautions() -> Vec<Piece> {
    let mut b = vec![Piece::Head("Cautions".into())];
    b.push(Piece::Words(
        "Not to cut from. Check every number against your own instruments and airframe.".into(),
    ));
    b.extend(CAUTIONS.iter().skip(1).map(|c| Piece::Words((*c).into())));
    b
}

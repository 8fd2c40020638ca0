//! One sheet of metal on sheets of paper: which page, which scale, where the view and the columns stand.

use super::flow::{self, GUTTER, Pour, columns, moved};
use super::notes;
use super::options::DrawingError;
use super::paper::{Family, PageSize, SIZES, Scale};
use super::title::{self, Says};
use super::view::{Mode, Scene, View};
use super::{frame, legend, revisions};
use crate::draw::template::Standing;
use crate::draw::{Anchor, Entry, Item, Layer, Page, Text, Weight, text};
use crate::geom::{Point, Rect, Vec2};

/// Paper between the frame and what it holds, mm.
const INSIDE: f64 = 6.0;
/// Paper between view, columns and title block, mm.
pub const BESIDE: f64 = 5.0;
/// Letter height of the notice at the top of every page, mm.
const NOTICE: f64 = 5.0;
/// Smallest scale at which a drawing counts as legible, part per paper.
pub const LEGIBLE: u32 = 2;

/// A choice of page, scale and mode, with the view drawn.
struct Choice {
    size: PageSize,
    scale: Scale,
    mode: Mode,
    view: View,
    /// Lower left corner of the view's box on the page.
    at: Vec2,
}

/// The pages of one sheet of metal, and the words of their scale.
pub fn pages(
    scene: &Scene<'_>,
    says: &Says<'_>,
    standing: &Standing,
    page: Option<PageSize>,
    legend: Option<legend::Legend<'_>>,
) -> Result<(Vec<Page>, PageSize, Scale), DrawingError> {
    let choice = choose(scene, says, standing, page)?;
    let (size, scale) = (choice.size, choice.scale);
    let says = Says { scale: scale.words(), ..says.clone() };
    let mut blocks = notes::blocks(scene, choice.mode, standing, &choice.view.unplaced);
    blocks.push(revisions::notes(says.title, title::width(&size)));
    let space = Space::of(&size, &says, standing);
    let (_, each) = columns(space.area.width());
    let mut pour = Pour::new(flow::set(&blocks, each));
    let mut first: Vec<Item> = choice.view.items.iter().map(|i| moved(i, choice.at)).collect();
    first.extend(pour.fill(&space.slots(Some(choice.used())), false));
    let mut bare = vec![(scale.words(), String::new(), first)];
    // what the first page does not hold goes on beside the equipment
    if let Some(seen) = legend.as_ref().and_then(|l| l.view(&space)) {
        let mut items = seen.items;
        pour.add(flow::set(&[seen.table], each));
        items.extend(pour.fill(&space.slots(Some(seen.used)), false));
        bare.push((seen.scale, ", equipment".to_owned(), items));
    }
    while !pour.done() {
        bare.push(("-".into(), String::new(), pour.fill(&space.slots(None), true)));
    }
    let sheets = bare.len();
    let pages = bare.into_iter().enumerate().map(|(k, (scale, more, items))| {
        let says = Says { sheet: k + 1, sheets, scale, part: format!("{}{more}", says.part), ..says.clone() };
        let mut all = frame::frame(&size, space.title);
        all.extend(title::block(&size, &says));
        all.extend(space.notice(standing));
        all.extend(items);
        Page {
            name: format!("sheet {}", k + 1),
            width: size.width,
            height: size.height,
            items: all.into_iter().map(Entry::Item).collect(),
        }
    });
    Ok((pages.collect(), size, scale))
}

/// The smallest page at the largest scale on which the view is legible: first at 1:2 or larger with every tag
/// placed; then at any scale; then with tags told in words.
fn choose(
    scene: &Scene<'_>,
    says: &Says<'_>,
    standing: &Standing,
    page: Option<PageSize>,
) -> Result<Choice, DrawingError> {
    let family = if scene.print.inch { Family::Asme } else { Family::Iso };
    let family = page.map_or(family, |p| p.family);
    let sizes: Vec<PageSize> =
        page.map_or_else(|| SIZES.iter().filter(|s| s.family == family).copied().collect(), |p| vec![p]);
    // a table alone tells the places of tags that the view does not show
    let both = &[Mode::Ordinates, Mode::Table][..];
    for (least, all_tags, modes) in
        [(LEGIBLE, true, both), (u32::MAX, true, both), (u32::MAX, false, &[Mode::Table][..])]
    {
        for mode in modes.iter().copied() {
            for size in &sizes {
                for scale in Scale::all(family).iter().filter(|s| s.part <= least) {
                    let found = attempt(scene, says, standing, size, *scale, mode);
                    let good = |c: &Choice| !all_tags || (c.view.unplaced.is_empty() && c.view.legible);
                    if let Some(c) = found.filter(good) {
                        return Ok(c);
                    }
                }
            }
        }
    }
    let b = scene.plan.bounds();
    let page = sizes.last().map_or("paper", |s| s.name);
    Err(DrawingError::TooLarge { metal: (b.width(), b.height()), page })
}

fn attempt(
    scene: &Scene<'_>,
    says: &Says<'_>,
    standing: &Standing,
    size: &PageSize,
    scale: Scale,
    mode: Mode,
) -> Option<Choice> {
    let space = Space::of(size, says, standing);
    let b = scene.plan.bounds();
    let (w, h) = (b.width() * scale.factor(), b.height() * scale.factor());
    // before anything is drawn: the bare view must fit
    if w > space.area.width() || h > space.above() {
        return None;
    }
    let view = scene.draw(scale.factor(), mode)?;
    let bands = view.bands;
    let (wide, tall) = (w + bands.left + bands.right, h + bands.below + bands.above);
    if wide > space.area.width() || tall > space.above() {
        return None;
    }
    let at = Vec2::new(space.left(wide) + bands.left, space.area.y1 - bands.above - h);
    Some(Choice { size: *size, scale, mode, view, at })
}

impl Choice {
    /// Box of the view with its numbers, on the page.
    fn used(&self) -> Rect {
        let (b, (w, h)) = (self.view.bands, self.view.size);
        let at = self.at.to_point();
        Rect::new(at.x - b.left, at.y - b.below, at.x + w + b.right, at.y + h + b.above)
    }
}

/// The room of a page.
pub struct Space {
    /// Inside the frame, below the notice.
    pub area: Rect,
    /// Title block with its revisions.
    pub title: Rect,
    /// Where the notice stands.
    top: Point,
    /// Room for the notice.
    wide: f64,
}

impl Space {
    /// The room of a size.
    pub fn of(size: &PageSize, says: &Says<'_>, standing: &Standing) -> Space {
        let f = size.frame().inflate(-INSIDE, -INSIDE);
        let told = standing.notice().is_some() || standing.lifted.is_some();
        let top = if told { f.y1 - NOTICE - BESIDE } else { f.y1 };
        Space {
            area: Rect::new(f.x0, f.y0, f.x1, top),
            title: title::room(size, says),
            top: Point::new(f.x0, f.y1 - NOTICE),
            wide: f.width(),
        }
    }

    /// Height above the title block.
    pub fn above(&self) -> f64 {
        self.area.y1 - self.title.y1 - BESIDE
    }

    /// Where a box of a width begins: a narrow one leaves whole columns free at its right, a wide one stands in
    /// the middle.
    pub fn left(&self, wide: f64) -> f64 {
        let (_, each) = columns(self.area.width());
        let beside = self.area.width() - wide;
        self.area.x0 + if beside >= each + GUTTER { 0.0 } else { beside / 2.0 }
    }

    /// The notice that no page lacks.
    pub fn notice(&self, standing: &Standing) -> Vec<Item> {
        let words = standing.notice().or_else(|| {
            let (because, by) = standing.lifted.as_ref()?;
            Some(format!("cut in spite of {}: {because} ({by})", standing.against.join(", ")))
        });
        let Some(words) = words else { return Vec::new() };
        let wide = text::width(&words, NOTICE, Weight::Bold);
        let height = if wide > self.wide { NOTICE * self.wide / wide } else { NOTICE };
        vec![Item::text(Layer::Notice, Text::new(self.top, height, Anchor::LEFT, words).bold())]
    }

    /// Columns that a used box leaves, left to right.
    pub fn slots(&self, used: Option<Rect>) -> Vec<Rect> {
        let (count, each) = columns(self.area.width());
        let slots = (0..count).map(|k| {
            let x0 = self.area.x0 + (each + GUTTER) * k as f64;
            let (mut y0, mut y1) = (self.area.y0, self.area.y1);
            if x0 + each > self.title.x0 - BESIDE {
                y0 = self.title.y1 + BESIDE;
            }
            if let Some(u) = used.filter(|u| x0 < u.x1 + GUTTER && u.x0 < x0 + each + GUTTER) {
                y1 = u.y0 - BESIDE;
            }
            Rect::new(x0, y0, x0 + each, y1)
        });
        slots.collect()
    }
}

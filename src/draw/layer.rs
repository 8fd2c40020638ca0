//! The layers of a drawing: what a machine or a reader does with an item.

/// What a machine or a reader does with an item. Only [`Layer::Cut`] is ever cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Hatching and filled areas, under everything else.
    Hatch,
    /// Page border and title block.
    Frame,
    /// Openings and edges that the sheet has already: shown, not cut again.
    Existing,
    /// Bezels, bodies and other outlines shown for orientation.
    Outline,
    /// Lettering and lines to engrave.
    Engrave,
    /// Closed contours that the machine cuts through the sheet.
    Cut,
    /// Centre marks and points to spot: marked, never cut.
    Mark,
    /// Scale bars and the lines to measure before cutting.
    Scale,
    /// Register marks, tile edges and the tile map.
    Register,
    /// Dimension, extension and leader lines with their numbers.
    Dimension,
    /// Names, notes and tables.
    Text,
    /// Verdicts and stamps (NOT FOR CUTTING, NOT TO SCALE).
    Notice,
}

impl Layer {
    /// Every layer, from the back to the front: the order in which they are painted and listed.
    pub const ALL: [Layer; 12] = [
        Layer::Hatch,
        Layer::Frame,
        Layer::Existing,
        Layer::Outline,
        Layer::Engrave,
        Layer::Cut,
        Layer::Mark,
        Layer::Scale,
        Layer::Register,
        Layer::Dimension,
        Layer::Text,
        Layer::Notice,
    ];

    /// Name in files: upper case, lawful in every DXF version.
    pub fn name(self) -> &'static str {
        match self {
            Layer::Cut => "CUT",
            Layer::Mark => "MARK",
            Layer::Existing => "EXISTING",
            Layer::Engrave => "ENGRAVE",
            Layer::Outline => "OUTLINE",
            Layer::Hatch => "HATCH",
            Layer::Dimension => "DIMENSION",
            Layer::Text => "TEXT",
            Layer::Scale => "SCALE",
            Layer::Register => "REGISTER",
            Layer::Frame => "FRAME",
            Layer::Notice => "NOTICE",
        }
    }

    /// What is done with it, in words for a layer list on the sheet.
    pub fn does(self) -> &'static str {
        match self {
            Layer::Cut => "cut through the sheet",
            Layer::Mark => "mark or spot, never cut",
            Layer::Existing => "already there, do not cut",
            Layer::Engrave => "engrave, never cut",
            Layer::Outline => "for orientation only, do not cut",
            Layer::Hatch => "for reading only, do not cut",
            Layer::Dimension => "for reading only, do not cut",
            Layer::Text => "for reading only, do not cut",
            Layer::Scale => "measure before cutting, do not cut",
            Layer::Register => "for joining pages, do not cut",
            Layer::Frame => "for reading only, do not cut",
            Layer::Notice => "read before cutting, do not cut",
        }
    }

    /// Whether a machine cuts what stands on it.
    pub fn is_cut(self) -> bool {
        self == Layer::Cut
    }
}

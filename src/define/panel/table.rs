//! The table of a panel file.

use super::table_arrange::{ARRANGE, SEVERAL};
use super::table_floating::FLOATING;
use super::table_items::{CHANGE, LABEL, PLACEMENT, ROW, STACK};
use super::table_space::SPACE;
use super::words::{Compensates, Forbids, LayerRole, LayerSide, ProcessKind, Structure};
use crate::define::document::FileKind;
use crate::define::instrument::HOLES;
use crate::define::instrument::{HEAD, ROOM, SIZE, SOURCES};
use crate::define::shape::{OUTLINE, SHAPE};
use crate::define::table::{Field, Kind, Record, Rule, list, may, must};
use crate::define::words::Word;
use crate::units::Sign;

pub(super) const GAP: Kind = Kind::Length(Sign::Any);
const IN_SHAPE: Kind = Kind::Object(&SHAPE);
const IN_OUTLINE: Kind = Kind::Either(&[Kind::Path, Kind::Object(&OUTLINE)]);

pub(super) const ID: Field = must("id", Kind::Id, "Its id, used in relations and findings.");
pub(super) const TURN: Field = may("turn", Kind::Angle, "Turned counter-clockwise, in degrees.");
pub(super) const ON: Field =
    may("on", Kind::Id, "Id of the insert or layer that carries it; the main sheet when missing.");
const BECAUSE: Field = may("because", Kind::Text, "Why.");
pub(super) const KEPT: Field = may("kept", Kind::Flag, "It is there already and stays as it is.");
const AT_SHAPE: Field =
    may("at", Kind::Point, "Where the shape's origin lies; the panel's datum when missing.");

/// What a panel file is.
pub const FILE: FileKind = FileKind { key: "panel", record: &PANEL };

/// The outermost object of a panel file.
pub const PANEL: Record = Record {
    name: "panel",
    doc: "A panel: its sheet, what is there already, what is placed on it, and what is asked of it. Seen from the seat: x to the right, y up, depth forward.",
    fields: &[
        HEAD,
        &[
            must("panel", Kind::Text, "Title."),
            may("builds-on", Kind::Text, "Name of the panel file beside this one that it changes."),
            may("remove", list(&Kind::Id), "Ids of that file's items that go."),
            may(
                "change",
                Kind::Map(&Kind::Object(&CHANGE)),
                "That file's items that change, by id: only what changes.",
            ),
            may("as-found", Kind::Flag, "Everything in this file is there already."),
            may("sheet", Kind::Object(&SHEET), "The main sheet."),
            may(
                "tilt",
                Kind::Angle,
                "Tilt of the panel: positive when its top leans forward, away from the pilot.",
            ),
            may("eye", SIZE, "From the pilot's eye to the panel."),
            may("layers", list(&Kind::Object(&LAYER)), "Further sheets that lie on the main one."),
            may(
                "inserts",
                list(&Kind::Object(&INSERT)),
                "Small panels screwed into openings of the main sheet.",
            ),
            may(
                "floating",
                list(&Kind::Object(&FLOATING)),
                "Panels on shock mounts in or before openings of the main sheet.",
            ),
            may(
                "holes",
                list(&Kind::Object(&HOLES)),
                "Holes of the sheet itself: how it is fixed to the airframe.",
            ),
            may("old-openings", list(&Kind::Object(&OLD_OPENING)), "Openings that are there and stay."),
            may("zones", list(&Kind::Object(&ZONE)), "Where something may not be."),
            may("flanges", list(&Kind::Object(&FLANGE)), "Where the sheet is bent: nothing may be cut."),
            may("depth", Kind::Object(&DEPTH), "Room behind the sheet."),
            may("place", list(&Kind::Object(&PLACEMENT)), "Instruments on the panel."),
            may("rows", list(&Kind::Object(&ROW)), "Instruments in rows at a pitch."),
            may("stacks", list(&Kind::Object(&STACK)), "Columns of units that slide into frames."),
            may("labels", list(&Kind::Object(&LABEL)), "Labels and placards."),
            may(
                "together",
                list(&SEVERAL),
                "Items that a hand on the board moves together: lists of ids, each item in one of them. The outermost file's word holds alone.",
            ),
            may(
                "arrange",
                Kind::Object(&ARRANGE),
                "What the command `arrange` is to respect and to strive for.",
            ),
            may("limits", Kind::Map(&Kind::Object(&LIMIT)), "Your own limits, by rule, each with a reason."),
            may("process", Kind::Object(&PROCESS), "How the openings are cut."),
            may("tolerances", Kind::Object(&TOLERANCES), "Tolerances where no other is given."),
            may(
                "accepted",
                list(&Kind::Object(&ACCEPTED)),
                "Findings that somebody has looked at and accepts.",
            ),
            may("reasons", Kind::Object(&REASONS), "Recorded reasons."),
            may("sources", Kind::Map(&Kind::Object(&SOURCES)), "Where this file's sizes come from, by name."),
            may("source", Kind::Id, "Name of the source that holds where no other is named."),
            may("title", Kind::Object(&TITLE), "Title block (ISO 7200)."),
        ],
        SPACE,
    ],
    rules: &[&[
        Rule::AtLeastOne(&["sheet", "builds-on"]),
        Rule::Beside { key: "remove", beside: &["builds-on"] },
        Rule::Beside { key: "change", beside: &["builds-on"] },
    ]],
};

const SHEET: Record = Record {
    name: "sheet",
    doc: "A sheet of metal or composite.",
    fields: &[&[
        may("outline", IN_OUTLINE, "Its outline."),
        may("material", Kind::Text, "Material, such as \"6061-T6\"."),
        may("thickness", SIZE, "Thickness, bare."),
        may("coat", ROOM, "Thickness of paint or other coat on one face."),
        may("new", Kind::Flag, "A new blank: nothing exists in it yet."),
        may("survey", ROOM, "How far its edge may lie further in or out than measured, at 95 %."),
        may(
            "structure",
            Kind::Either(&[Kind::Choice(Structure::WORDS), Kind::Object(&STRUCTURE)]),
            "Is this panel structure?",
        ),
        may("source", Kind::Id, "Name of the source of these sizes in `sources`."),
    ]],
    rules: &[],
};

const STRUCTURE: Record = Record {
    name: "answer",
    doc: "Is this panel structure, and who says so?",
    fields: &[&[
        must("is", Kind::Choice(Structure::WORDS), "The answer."),
        may("by", Kind::Text, "Who says so, or which document."),
    ]],
    rules: &[],
};

const LAYER: Record = Record {
    name: "layer",
    doc: "A further sheet that lies on the main one. Thickness is summed at each item.",
    fields: &[&[
        ID,
        must("role", Kind::Choice(LayerRole::WORDS), "What it is."),
        may(
            "side",
            Kind::Choice(LayerSide::WORDS),
            "On which side it lies: an overlay in front, others behind, when missing.",
        ),
        may("material", Kind::Text, "Material."),
        may("thickness", SIZE, "Thickness."),
        may("outline", IN_OUTLINE, "Its outline; the main sheet's when missing."),
        AT_SHAPE,
        may(
            "openings",
            Kind::Either(&[
                Kind::Choice(&[("same", "The same openings as the main sheet.")]),
                list(&Kind::Object(&OLD_OPENING)),
            ]),
            "Openings that it has beside those of the items on it; a larger one round an item's is cut in its place. \"same\" (default): none.",
        ),
        may("exists", Kind::Flag, "It is there already."),
        BECAUSE,
        may("source", Kind::Id, "Name of the source of these sizes in `sources`."),
    ]],
    rules: &[],
};

const INSERT: Record = Record {
    name: "insert",
    doc: "A small panel screwed into an opening of the main sheet.",
    fields: &[&[
        ID,
        must("outline", IN_OUTLINE, "Its own outline, about its own origin."),
        must("at", Kind::Point, "Where its origin lies."),
        TURN,
        may("material", Kind::Text, "Material."),
        may("thickness", SIZE, "Thickness."),
        may("coat", ROOM, "Thickness of coat on one face."),
        may("opening", IN_SHAPE, "The opening in the main sheet, about the insert's origin."),
        may(
            "screws",
            list(&Kind::Object(&HOLES)),
            "Its screws, about its origin: holes in insert and main sheet.",
        ),
        may(
            "lies",
            Kind::Choice(LayerSide::WORDS),
            "On which side of the main sheet it lies (default front).",
        ),
        KEPT,
        may("source", Kind::Id, "Name of the source of these sizes in `sources`."),
    ]],
    rules: &[],
};

const OLD_OPENING: Record = Record {
    name: "old opening",
    doc: "An opening that is there and stays.",
    fields: &[&[
        ID,
        must("shape", IN_SHAPE, "Its shape as measured."),
        AT_SHAPE,
        TURN,
        ON,
        may("stays", Kind::Flag, "It stays (default). False: the new sheet does not have it."),
        may(
            "survey",
            ROOM,
            "How far its place may be off as measured, any direction, at 95 %; that of `tolerances` when missing.",
        ),
        may("source", Kind::Id, "Name of the source of these sizes in `sources`."),
    ]],
    rules: &[],
};

const ZONE: Record = Record {
    name: "zone",
    doc: "Where something may not be.",
    fields: &[&[
        ID,
        must("shape", IN_SHAPE, "Its shape."),
        AT_SHAPE,
        TURN,
        must(
            "forbids",
            Kind::List { of: &Kind::Choice(Forbids::WORDS), least: 1, most: 3 },
            "What may not be there.",
        ),
        BECAUSE,
    ]],
    rules: &[],
};

const FLANGE: Record = Record {
    name: "flange",
    doc: "Where the sheet is bent or stiffened: nothing may be cut.",
    fields: &[&[ID, must("shape", IN_SHAPE, "Its shape."), AT_SHAPE, TURN, BECAUSE]],
    rules: &[],
};

const DEPTH: Record = Record {
    name: "depth map",
    doc: "Room behind the sheet, from its front face. Where nothing is said, depth is withheld.",
    fields: &[&[
        may("default", ROOM, "Where no area says otherwise."),
        may("areas", list(&Kind::Object(&AREA)), "Areas; where several overlap the shallowest holds."),
    ]],
    rules: &[],
};

const AREA: Record = Record {
    name: "area",
    doc: "Part of the sheet behind which a depth is known.",
    fields: &[&[
        may("id", Kind::Id, "Its id, used in findings."),
        must("shape", IN_SHAPE, "Its shape."),
        AT_SHAPE,
        TURN,
        may("available", ROOM, "Depth available; missing: not measured yet."),
    ]],
    rules: &[],
};

const LIMIT: Record = Record {
    name: "limit",
    doc: "Your own limit for a rule.",
    fields: &[&[
        may("at-least", Kind::Amount, "At least this: a length, diameters as \"2 D\", degrees."),
        may("at-most", Kind::Amount, "At most this."),
        must("because", Kind::Text, "Why: the report prints it."),
    ]],
    rules: &[&[Rule::One(&["at-least", "at-most"])]],
};

const PROCESS: Record = Record {
    name: "process",
    doc: "How the openings are cut.",
    fields: &[&[
        must("kind", Kind::Choice(ProcessKind::WORDS), "The tool."),
        may("tool-radius", SIZE, "Radius of a turning tool: the least inside corner."),
        may("kerf", SIZE, "Width of the cut."),
        may("spot", SIZE, "Diameter of the hole where a beam or jet starts."),
        may(
            "compensates",
            Kind::Choice(Compensates::WORDS),
            "Who allows for the width of the cut (default cutter).",
        ),
        may("tolerance", ROOM, "How far a cut contour may be off, per side."),
        may("source", Kind::Id, "Name of the source of these sizes in `sources`."),
    ]],
    rules: &[],
};

const TOLERANCES: Record = Record {
    name: "tolerances",
    doc: "Tolerances where no other is given, plus or minus.",
    fields: &[&[
        may("position", ROOM, "Of the position of an opening."),
        may("size", ROOM, "Of an instrument's size that gives none."),
        may("survey", ROOM, "Of what was measured on the old panel."),
    ]],
    rules: &[],
};

const ACCEPTED: Record = Record {
    name: "accepted finding",
    doc: "A finding that somebody has looked at and accepts. Its verdict does not change.",
    fields: &[&[
        must("finding", Kind::Text, "The finding's id: rule/subject.part/subject.part."),
        must("because", Kind::Text, "Why."),
        must("by", Kind::Text, "By whom."),
    ]],
    rules: &[],
};

const REASONS: Record = Record {
    name: "reasons",
    doc: "Recorded reasons.",
    fields: &[&[may("cut-anyway", Kind::Object(&REASON), "Why it may be cut in spite of its verdicts.")]],
    rules: &[],
};

const REASON: Record = Record {
    name: "reason",
    doc: "A reason and who gives it.",
    fields: &[&[must("because", Kind::Text, "Why."), must("by", Kind::Text, "By whom.")]],
    rules: &[],
};

/// The fields of a title block, in the order in which they are printed.
pub(super) const TITLE_FIELDS: &[Field] = &[
    may("owner", Kind::Words, "Legal owner of the drawing."),
    may("number", Kind::Words, "Identification number."),
    may("aeroplane", Kind::Words, "The aeroplane that the panel is for, in your own words."),
    may("revision", Kind::Words, "Revision index."),
    may("date", Kind::Words, "Date of issue, in your own words; the program fills in none."),
    may("title", Kind::Words, "Title, if it is not the panel's."),
    may("supplementary-title", Kind::Words, "Supplementary title."),
    may("drawn-by", Kind::Words, "Creator."),
    may("approved-by", Kind::Words, "Approval person; the program approves nothing."),
    may("department", Kind::Words, "Responsible department."),
    may("reference", Kind::Words, "Technical reference: whom to ask."),
    may("document-type", Kind::Words, "Document type."),
    may("status", Kind::Words, "Document status."),
    may("language", Kind::Words, "Language code."),
    may(
        "general-tolerance",
        Kind::Words,
        "General tolerance of what states none, as the drawing prints it; ISO 2768-1 m when missing.",
    ),
];

const TITLE: Record = Record {
    name: "title block",
    doc: "Title block (ISO 7200).",
    fields: &[
        TITLE_FIELDS,
        &[may("revisions", list(&Kind::Object(&REVISION)), "What changed with each revision, oldest first.")],
    ],
    rules: &[],
};

const REVISION: Record = Record {
    name: "revision",
    doc: "One revision of the panel.",
    fields: &[&[
        must("index", Kind::Words, "Its index, such as \"A\"."),
        must("change", Kind::Words, "What changed."),
        may("date", Kind::Words, "When, in your own words."),
        may("by", Kind::Words, "Who changed it."),
    ]],
    rules: &[],
};

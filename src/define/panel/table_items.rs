//! The table of what is placed on a panel: placements, rows, stacks, labels, changes.

use super::table::{GAP, ID, KEPT, ON, TURN};
use super::words::Side;
use crate::define::instrument::SIZE;
use crate::define::table::{Field, Kind, Record, Rule, list, may, must};
use crate::define::words::Word;
use crate::units::Sign;

const INSTRUMENT: Kind = Kind::Text;
const LOCKED: Field = may("locked", Kind::Flag, "No suggestion may move it.");
const PROVISION: Field = may("provision", Kind::Flag, "Kept free for later: judged, not cut.");

/// Where an item stands: by coordinates, or by relation to another.
const POSITION: &[Field] = &[
    may("at", Kind::Point, "By coordinates: to the right and up from the datum."),
    may("right-of", Kind::Id, "To the right of this item, at the same height."),
    may("left-of", Kind::Id, "To the left of this item, at the same height."),
    may("above", Kind::Id, "Above this item, in line with it."),
    may("below", Kind::Id, "Below this item, in line with it."),
    may("centred-on", Kind::Id, "With its centre on this item's."),
    may("mirror-of", Kind::Id, "Where this item's mirror image would stand."),
    may("about", Kind::Length(Sign::Any), "The x of the line about which it is mirrored."),
    may("pitch", Kind::Length(Sign::Positive), "From centre to centre."),
    may("gap", GAP, "From edge to edge (of bezel, or of whatever shows in front)."),
    may("level", Kind::Id, "Beside one item, but at the height of this one."),
    may("in-line-with", Kind::Id, "Above or below one item, but in line with this one."),
    may("offset", Kind::Point, "Moved on from there: to the right and up."),
];

/// What hangs is not held.
const HUNG: Rule = Rule::AtMostOne(&["rear-support", "droop"]);

const BESIDE: &[&str] = &["right-of", "left-of", "above", "below"];
const RELATED: &[Rule] = &[
    Rule::AtMostOne(&["pitch", "gap"]),
    Rule::Beside { key: "pitch", beside: BESIDE },
    Rule::Beside { key: "right-of", beside: &["pitch", "gap"] },
    Rule::Beside { key: "left-of", beside: &["pitch", "gap"] },
    Rule::Beside { key: "above", beside: &["pitch", "gap"] },
    Rule::Beside { key: "below", beside: &["pitch", "gap"] },
    Rule::Beside { key: "gap", beside: BESIDE },
    Rule::Beside { key: "level", beside: &["right-of", "left-of"] },
    Rule::Beside { key: "in-line-with", beside: &["above", "below"] },
    Rule::Beside { key: "mirror-of", beside: &["about"] },
    Rule::Beside { key: "about", beside: &["mirror-of"] },
    Rule::Beside { key: "offset", beside: &["right-of", "left-of", "above", "below", "centred-on"] },
];
const PLACES: &[&str] = &["at", "right-of", "left-of", "above", "below", "centred-on", "mirror-of"];

const NUMBERS: Field = may(
    "numbers",
    Kind::Numbers,
    "Its own numbers in place of its definition's, by the paths that `panelwright instruments show` prints.",
);

const PLACED: &[Field] = &[
    TURN,
    may("mirrored", Kind::Flag, "Mirrored left to right."),
    ON,
    PROVISION,
    LOCKED,
    KEPT,
    may(
        "critical",
        Kind::Flag,
        "Must not be worked by mistake: what the hand works of its neighbours keeps apart (rule critical-apart).",
    ),
    may("title", Kind::Text, "What it is here, in plain words."),
    may("label", Kind::Either(&[Kind::Text, list(&Kind::Id)]), "Its lettering: a text, or ids of `labels`."),
    may("checked", Kind::Signed, "You have confirmed its sizes on your own part: who and when."),
    NUMBERS,
    may("rear-support", Kind::Text, "What holds its back: bracket, tray, shelf."),
    may(
        "droop",
        Kind::Amount,
        "It hangs by its front flange alone, and its back drops: degrees, or the sag of its back end as a length with its unit.",
    ),
];

pub(super) const PLACEMENT: Record = Record {
    name: "placement",
    doc: "An instrument put on the panel.",
    fields: &[
        &[ID, must("instrument", INSTRUMENT, "Name of its definition, such as \"round/3-1-8in-front\".")],
        POSITION,
        PLACED,
    ],
    rules: &[&[Rule::One(PLACES), HUNG], RELATED],
};

pub(super) const CHANGE: Record = Record {
    name: "change",
    doc: "What changes of an item of the file that this one builds on.",
    fields: &[
        &[
            may("instrument", INSTRUMENT, "Name of its definition."),
            may("text", Kind::Text, "A label's text."),
            may("height", SIZE, "A label's letter height."),
            may("process", Kind::Text, "How a label is made."),
            may("of", Kind::Id, "The item that a label names."),
        ],
        POSITION,
        PLACED,
    ],
    rules: &[&[
        Rule::AtMostOne(PLACES),
        HUNG,
        Rule::AtMostOne(&["pitch", "gap"]),
        Rule::Beside { key: "right-of", beside: &["pitch", "gap"] },
        Rule::Beside { key: "left-of", beside: &["pitch", "gap"] },
        Rule::Beside { key: "above", beside: &["pitch", "gap"] },
        Rule::Beside { key: "below", beside: &["pitch", "gap"] },
        Rule::Beside { key: "level", beside: &["right-of", "left-of"] },
        Rule::Beside { key: "in-line-with", beside: &["above", "below"] },
        Rule::Beside { key: "mirror-of", beside: &["about"] },
        Rule::Beside { key: "about", beside: &["mirror-of"] },
        Rule::Beside { key: "offset", beside: &["right-of", "left-of", "above", "below", "centred-on"] },
    ]],
};

pub(super) const ROW: Record = Record {
    name: "row",
    doc: "Instruments in a row at a pitch or gap. The position is the first one's.",
    fields: &[
        &[
            may("id", Kind::Id, "Its id."),
            may("instrument", INSTRUMENT, "Name of the definition of those that name none."),
            must(
                "ids",
                Kind::List { of: &Kind::Either(&[Kind::Id, Kind::Object(&ROW_ITEM)]), least: 1, most: 500 },
                "Its items from the first to the last: ids, or objects.",
            ),
            must("along", Kind::Choice(Side::WORDS), "The direction in which it runs."),
            may(
                "first-pitch",
                Kind::Length(Sign::Positive),
                "From centre to centre between the item it stands beside and the first one; `pitch` when missing.",
            ),
            may(
                "first-gap",
                GAP,
                "From edge to edge between the item it stands beside and the first one; `gap` when missing.",
            ),
        ],
        POSITION,
        PLACED,
    ],
    rules: &[&[
        Rule::One(PLACES),
        HUNG,
        Rule::One(&["pitch", "gap"]),
        Rule::AtMostOne(&["first-pitch", "first-gap"]),
        Rule::Beside { key: "first-pitch", beside: BESIDE },
        Rule::Beside { key: "first-gap", beside: BESIDE },
        Rule::Beside { key: "level", beside: &["right-of", "left-of"] },
        Rule::Beside { key: "in-line-with", beside: &["above", "below"] },
        Rule::Beside { key: "mirror-of", beside: &["about"] },
        Rule::Beside { key: "about", beside: &["mirror-of"] },
        Rule::Beside { key: "offset", beside: &["right-of", "left-of", "above", "below", "centred-on"] },
    ]],
};

const ROW_ITEM: Record = Record {
    name: "row item",
    doc: "One item of a row.",
    fields: &[&[ID, may("instrument", INSTRUMENT, "Name of its definition.")], PLACED],
    rules: &[&[HUNG]],
};

pub(super) const STACK: Record = Record {
    name: "stack",
    doc: "A column of units in a frame, filled from the top.",
    fields: &[
        &[
            ID,
            must("instrument", INSTRUMENT, "Name of the frame's definition."),
            must(
                "units",
                Kind::List { of: &Kind::Object(&IN_STACK), least: 0, most: 100 },
                "Its units from the top.",
            ),
        ],
        POSITION,
        PLACED,
    ],
    rules: &[&[Rule::One(PLACES), HUNG], RELATED],
};

const IN_STACK: Record = Record {
    name: "unit of a stack",
    doc: "A unit, or room kept free for one.",
    fields: &[&[
        may("id", Kind::Id, "Its id."),
        may("instrument", INSTRUMENT, "Name of its definition."),
        may("provision", SIZE, "Room kept free: its height."),
        may("title", Kind::Text, "What it is here, in plain words."),
        may(
            "label",
            Kind::Either(&[Kind::Text, list(&Kind::Id)]),
            "Its lettering: a text, or ids of `labels`.",
        ),
        may("kept", Kind::Flag, "It is there already and stays as it is."),
        NUMBERS,
        may("checked", Kind::Signed, "You have confirmed its sizes on your own part: who and when."),
    ]],
    rules: &[&[
        Rule::One(&["instrument", "provision"]),
        Rule::Beside { key: "instrument", beside: &["id"] },
        Rule::Beside { key: "numbers", beside: &["instrument"] },
    ]],
};

pub(super) const LABEL: Record = Record {
    name: "label",
    doc: "A label or placard.",
    fields: &[
        &[
            ID,
            must("text", Kind::Text, "Its text; \\n begins a new line."),
            may("height", SIZE, "Height of its capital letters."),
            may("process", Kind::Text, "How it is made: engraved, printed, placard."),
            may("of", Kind::Id, "The item that it names."),
            TURN,
            ON,
            LOCKED,
            KEPT,
        ],
        POSITION,
    ],
    rules: &[&[Rule::One(PLACES)], RELATED],
};

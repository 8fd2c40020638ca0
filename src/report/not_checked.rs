//! What this version does not check, and the cautions. Both end every report.

/// What is left to others, one line each.
pub const NOT_CHECKED: &[&str] = &[
    "loads: whether sheet, brackets, rails and shock mounts hold under the load factors",
    "vibration, and whether a floating panel sways and a long unit droops no farther than the file says",
    "what the file does not tell of the airframe: ribs, ducts, lines and controls that nobody has measured",
    "mass, balance and the equipment list",
    "electrical load, wire and breaker sizes, battery endurance",
    "influence on the compass",
    "independence of the standby from what it stands by for",
    "sight and reach from the seat",
    "whether anybody approves the change",
];

/// The usual cautions, one sentence each.
pub const CAUTIONS: &[&str] = &[
    "Isolate the battery before work: earthed lead off first, on last. Displays and locator beacons have batteries of their own.",
    "An open ignition lead leaves a magneto live: treat the propeller as live.",
    "Lines behind a panel may hold fuel or oil. Keep swarf out of wiring, cables and instruments.",
    "Opened pitot or static lines need a leak test before flight; swing the compass after work near it.",
    "Have the controls inspected, full and free with everything fitted, by a second person.",
    "Measure the scale bars of a printed sheet, both ways, before you cut. Check every number against your own instrument and airframe data.",
    "The maintenance manual, the local rules and the licensed person who signs decide. This program advises: it approves nothing.",
];

/// Cautions of a cutting file's report.
pub const CUT_CAUTIONS: &[&str] = &[
    "Cut a trial in card or scrap first and lay it on the panel: a file can be clean and still be the wrong one.",
    "Check the size that the machine's program shows against the one told here before the first cut.",
    "Keep swarf out of wiring, cables and instruments; lines behind a panel may hold fuel or oil.",
    "Is the panel structure, and who approves the change? The maintenance manual, the local rules and the licensed person \
     who signs decide. This program advises: it approves nothing.",
];

//! The words of a panel file.

use crate::define::words::words;

words!(
    /// Is the panel structure?
    Structure {
        Yes = "yes": "It carries flight loads.",
        No = "no": "It does not.",
        Unknown = "unknown": "Not known yet: ask before cutting.",
    }
);

words!(
    /// What a layer is to the panel.
    LayerRole {
        Structural = "structural": "Old structural sheet that stays.",
        Doubler = "doubler": "Second sheet that strengthens.",
        Overlay = "overlay": "Thin cover.",
    }
);

words!(
    /// On which side of the main sheet a layer lies.
    LayerSide {
        Front = "front": "The pilot's side.",
        Behind = "behind": "Behind the sheet.",
    }
);

words!(
    /// What a zone forbids.
    Forbids {
        Cut = "cut": "Openings.",
        Behind = "behind": "Anything behind the sheet.",
        Front = "front": "Anything in front of the sheet.",
    }
);

words!(
    /// How the openings are cut.
    ProcessKind {
        Hand = "hand": "Saw, file, fly cutter, drill.",
        Punch = "punch": "Knock-out punch or hole saw.",
        Router = "router": "Router or mill.",
        Waterjet = "waterjet": "Waterjet.",
        Laser = "laser": "Laser.",
    }
);

words!(
    /// Who allows for the width of the cut.
    Compensates {
        Cutter = "cutter": "The shop's machine: the file holds finished contours.",
        File = "file": "The file: it holds the tool's path.",
    }
);

words!(
    /// The direction in which a row or a relation runs.
    Side {
        Right = "right": "To the right.",
        Left = "left": "To the left.",
        Up = "up": "Up.",
        Down = "down": "Down.",
    }
);

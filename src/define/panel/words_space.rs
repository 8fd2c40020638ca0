//! The words of what stands, moves and runs behind and in front of a panel.

use crate::define::words::words;

words!(
    /// The axes in which points are given.
    Frame {
        Panel = "panel": "The panel's: to the right, up, forward.",
        Aeroplane = "aeroplane": "The aeroplane's: station aft, butt line right, water line up.",
    }
);

words!(
    /// An axis of either frame.
    Axis {
        X = "x": "Panel: to the right.",
        Y = "y": "Panel: up.",
        D = "d": "Panel: forward.",
        Station = "station": "Aeroplane: aft.",
        ButtLine = "butt-line": "Aeroplane: to the right.",
        WaterLine = "water-line": "Aeroplane: up.",
    }
);

words!(
    /// What a fixed thing of the airframe is.
    ObstacleKind {
        Rib = "rib": "Rib or former.",
        SubPanel = "sub-panel": "Sheet behind or below the panel.",
        Stringer = "stringer": "Stringer or longeron.",
        Firewall = "firewall": "Firewall.",
        Tank = "tank": "Tank.",
        Duct = "duct": "Duct.",
        CanopyFrame = "canopy-frame": "Frame of the canopy or windscreen.",
        Glareshield = "glareshield": "Glareshield.",
        Tube = "tube": "Tube of the structure.",
        Knees = "knees": "Room for the knees.",
        Bracket = "bracket": "Bracket.",
        Other = "other": "Something else.",
    }
);

words!(
    /// What a driver's number is.
    DriverKind {
        Slide = "slide": "A length.",
        Turn = "turn": "Degrees.",
    }
);

words!(
    /// What a control is.
    ControlKind {
        Wheel = "wheel": "Control wheel with its shaft.",
        Stick = "stick": "Stick.",
        Pedals = "pedals": "Pedals.",
        Lever = "lever": "Lever.",
        Cable = "cable": "Push-pull cable, chain or cable run.",
        Canopy = "canopy": "Canopy or its frame.",
        Arm = "arm": "Arm that carries a display.",
        Other = "other": "Something else.",
    }
);

words!(
    /// What a line is.
    LineKind {
        Hose = "hose": "Hose.",
        Wires = "wires": "Wire bundle.",
        Coax = "coax": "Coaxial cable.",
        Drive = "drive": "Mechanical drive cable.",
        Pipe = "pipe": "Rigid pipe.",
        ControlCable = "control-cable": "Control cable: push-pull or wire rope.",
    }
);

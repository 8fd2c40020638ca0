//! The words of an instrument file.

use crate::define::words::words;

/// What kinds of instrument the catalogue knows.
pub(super) const KINDS: &[(&str, &str)] = &[
    ("gauge", "Instrument with a dial: round or square case."),
    ("display", "Screen."),
    ("radio", "Radio, transponder, audio panel, navigator."),
    ("stack", "Frame in which units slide."),
    ("toggle", "Toggle or rocker switch."),
    ("push", "Push button."),
    ("rotary", "Rotary switch or selector."),
    ("key", "Key switch."),
    ("breaker", "Circuit breaker."),
    ("fuse", "Fuse holder."),
    ("lamp", "Warning or indicator lamp."),
    ("dimmer", "Control of lighting."),
    ("knob-control", "Knob that turns something behind."),
    ("push-pull", "Push-pull cable with its knob."),
    ("lever", "Lever or quadrant."),
    ("valve", "Fuel or other valve."),
    ("vent", "Air vent."),
    ("jack", "Headset jack."),
    ("outlet", "Power or data outlet."),
    ("compass", "Magnetic compass."),
    ("clock", "Clock."),
    ("mount", "Shock mount."),
    ("nutplate", "Captive nut."),
    ("arm", "Arm or holder of a tablet or monitor."),
    ("blank", "Plate that covers an unused opening."),
    ("placard", "Plate with required text."),
    ("box", "Map box, glove box, printer: anything else with a body."),
    ("other", "None of these."),
];

words!(
    /// How an instrument is held.
    Mounting {
        Front = "front": "Put in from the front; its bezel lies on the sheet.",
        Rear = "rear": "Put in from behind; its flange or shoulder seats against the sheet's back.",
        Clamp = "clamp": "Held by a clamp round its case behind the sheet.",
    }
);

words!(
    /// Through which side it comes out for service.
    Service {
        Front = "front": "The pilot's side.",
        Rear = "rear": "Behind.",
        Both = "both": "Either side.",
    }
);

words!(
    /// The standing of a size.
    Basis {
        Maker = "maker": "Maker's installation drawing: name document and revision.",
        Measured = "measured": "Measured on the part: say who and when.",
        Standard = "standard": "Published standard: name document and edition.",
        Practice = "practice": "Common practice, no source.",
        Typical = "typical": "Typical: measure yours.",
        Invented = "invented": "Invented for the demo.",
    }
);

words!(
    /// How an opening is made.
    Make {
        Drawing = "drawing": "Cut to the drawing.",
        FromPart = "from-part": "Drilled or traced from the part itself.",
    }
);

words!(
    /// The head of a fastener.
    HeadKind {
        Raised = "raised": "Stands on the sheet (pan, round, hexagon).",
        Countersunk = "countersunk": "Flush, in a countersunk seat.",
        None = "none": "No head in front (a stud, a press nut).",
    }
);

words!(
    /// What leaves the instrument at a port.
    PortKind {
        Connector = "connector": "Plug with wires.",
        Hose = "hose": "Hose or tube with its fitting.",
        Duct = "duct": "Wide air duct.",
        Cable = "cable": "Push-pull cable.",
        Drive = "drive": "Turning mechanical drive.",
        Coax = "coax": "Coaxial cable with its plug.",
        Wire = "wire": "Single wires or terminals.",
        Light = "light": "Light guide or lamp holder.",
    }
);

words!(
    /// What a port carries.
    Carries {
        Pitot = "pitot": "Ram pressure.",
        Static = "static": "Static pressure.",
        Vacuum = "vacuum": "Vacuum or instrument air.",
        Manifold = "manifold": "Manifold pressure.",
        Oil = "oil": "Oil.",
        Fuel = "fuel": "Fuel.",
        Air = "air": "Ventilation or cooling air.",
        Power = "power": "Supply current.",
        Ignition = "ignition": "Ignition leads: an open one leaves a magneto live.",
        Signal = "signal": "Signals and data.",
        Aerial = "aerial": "Radio frequency.",
        Audio = "audio": "Audio.",
        Mechanical = "mechanical": "Push, pull or turning.",
        Light = "light": "Light.",
        Several = "several": "Several of these in one plug.",
    }
);

words!(
    /// The direction in which something leaves the instrument.
    Towards {
        Back = "back": "Forward, away from the pilot: behind the sheet.",
        Up = "up": "Up.",
        Down = "down": "Down.",
        Left = "left": "To the left.",
        Right = "right": "To the right.",
        Front = "front": "Towards the pilot.",
    }
);

words!(
    /// What the pilot touches.
    FrontKind {
        Knob = "knob": "Knob that turns.",
        Lever = "lever": "Lever or bat.",
        Button = "button": "Button or key to press.",
        Key = "key": "Key that is put in.",
        CardDoor = "card-door": "Door or slot for a card.",
        Socket = "socket": "Socket with its plug in.",
        Lock = "lock": "Lock or screw worked by a tool.",
        Handle = "handle": "Handle to pull or push.",
        Screen = "screen": "Screen to touch or read.",
        Guard = "guard": "Guard over a switch.",
    }
);

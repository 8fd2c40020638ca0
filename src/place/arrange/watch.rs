//! How long a search may go on: a count of moves, which repeats, and the user's patience, which does not.

/// Counts moves and asks now and then whether to go on.
pub struct Watch<'a> {
    /// Moves that may be made.
    pub most: u64,
    /// Moves that were made.
    pub made: u64,
    /// It was told to stop before its moves were made.
    pub stopped: bool,
    /// Asked every so many moves, with what is reached so far; `false` stops.
    ask: &'a mut dyn FnMut(&Told) -> bool,
    phase: &'static str,
}

/// What is told while it runs.
#[derive(Clone, Debug)]
pub struct Told {
    /// Moves made.
    pub made: u64,
    /// Moves that may be made.
    pub most: u64,
    /// What it does.
    pub phase: &'static str,
    /// How far it is.
    pub state: String,
}

/// Moves between two questions.
const EVERY: u64 = 16;

impl<'a> Watch<'a> {
    /// Starts with so many moves.
    pub fn new(most: u64, ask: &'a mut dyn FnMut(&Told) -> bool) -> Watch<'a> {
        Watch { most, made: 0, stopped: false, ask, phase: "" }
    }

    /// What is done from now on.
    pub fn phase(&mut self, words: &'static str) {
        self.phase = words;
    }

    /// Whether no more moves are to be made.
    pub fn over(&self) -> bool {
        self.stopped || self.made >= self.most
    }

    /// Counts a move; `false`: no more.
    pub fn another(&mut self, state: impl FnOnce() -> String) -> bool {
        if self.stopped || self.made >= self.most {
            return false;
        }
        self.made += 1;
        if self.made.is_multiple_of(EVERY) {
            let told = Told { made: self.made, most: self.most, phase: self.phase, state: state() };
            self.stopped = !(self.ask)(&told);
        }
        !self.stopped
    }
}

//! The sections of space of a chain of files as one.

use crate::define::Text;
use crate::define::panel::Panel;
use crate::define::panel::space::{Airframe, Control, Driver, Line, Obstacle};
use crate::diag::Where;

use super::super::merge::From;

/// The sections of space: each with the file that it comes from.
#[derive(Default)]
pub(in crate::resolve) struct Lists<'a> {
    pub airframe: Option<&'a Airframe>,
    pub obstacles: Vec<From<'a, Obstacle>>,
    pub drivers: Vec<From<'a, Driver>>,
    pub controls: Vec<From<'a, Control>>,
    pub lines: Vec<From<'a, Line>>,
}

impl<'a> Lists<'a> {
    /// Takes what a file adds.
    pub fn take(&mut self, def: &'a Panel, file: usize) {
        let space = &def.space;
        self.airframe = space.airframe.as_ref().or(self.airframe);
        self.obstacles.extend(space.obstacles.iter().map(|def| From { def, file }));
        self.drivers.extend(space.drivers.iter().map(|def| From { def, file }));
        self.controls.extend(space.controls.iter().map(|def| From { def, file }));
        self.lines.extend(space.lines.iter().map(|def| From { def, file }));
    }

    /// Takes away what bears an id.
    pub fn remove(&mut self, id: &Text) {
        self.obstacles.retain(|x| x.def.id.value != *id);
        self.drivers.retain(|x| x.def.id.value != *id);
        self.controls.retain(|x| x.def.id.value != *id);
        self.lines.retain(|x| x.def.id.value != *id);
    }

    /// Everything that has an id.
    pub fn ids(&self) -> impl Iterator<Item = (&'a Text, &'a Where)> {
        let obstacles = self.obstacles.iter().map(|x| &x.def.id);
        let drivers = self.drivers.iter().map(|x| &x.def.id);
        let controls = self.controls.iter().map(|x| &x.def.id);
        let all = obstacles.chain(drivers).chain(controls).chain(self.lines.iter().map(|x| &x.def.id));
        all.map(|id| (&id.value, &id.place))
    }
}

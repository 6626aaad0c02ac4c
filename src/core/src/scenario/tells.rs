//! Which texts of the files people are shown, and laying translations over them.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::texts::Texts;
use super::{Catalogue, Course, Scenario};
use crate::source::Told;
use crate::vehicle::Vehicle;

/// Something read from a file, with texts that people are shown.
pub trait Tells: Clone {
    /// All of these texts. The one list of them: what is not here is neither translated nor asked for.
    fn told_mut(&mut self) -> Vec<&mut Told>;

    /// Shows the texts in another language, as far as there are translations; the rest, and everything
    /// without a language, as the file has it.
    fn show_in(&mut self, texts: Option<&Texts>) {
        for told in self.told_mut() {
            let shown = texts.and_then(|t| t.get(told.as_written()));
            told.show(shown);
        }
    }

    /// The texts as the file has them.
    fn written(&self) -> BTreeSet<String> {
        let mut copy = self.clone();
        let all = copy.told_mut();
        all.iter().map(|t| t.as_written().to_owned()).collect()
    }

    /// The texts as they are shown, in the file's order: for telling whether that has changed, which `==`
    /// does not look at.
    fn shown(&self) -> Vec<String> {
        let mut copy = self.clone();
        copy.told_mut().iter().map(|t| t.to_string()).collect()
    }
}

impl Tells for Vehicle {
    fn told_mut(&mut self) -> Vec<&mut Told> {
        // Not the name, which is the car's own; not the legends, which are printed on the lid; not the
        // covers and positions, which are ids.
        let mut all = vec![&mut self.about];
        all.extend(self.parts.values_mut().map(|it| &mut it.label));
        all.extend(self.connectors.values_mut().map(|it| &mut it.label));
        all.extend(self.boxes.values_mut().map(|it| &mut it.label));
        all.extend(self.places.values_mut().map(|it| &mut it.label));
        all.extend(self.controls.values_mut().map(|it| &mut it.label));
        all
    }
}

impl Tells for Scenario {
    fn told_mut(&mut self) -> Vec<&mut Told> {
        let mut all = vec![&mut self.title, &mut self.topic];
        all.extend(&mut self.complaints);
        all.extend(self.states.iter_mut().map(|it| &mut it.label));
        all
    }
}

impl Tells for Course {
    fn told_mut(&mut self) -> Vec<&mut Told> {
        let mut all = vec![&mut self.title, &mut self.about];
        for lesson in &mut self.lessons {
            all.extend([&mut lesson.title, &mut lesson.idea, &mut lesson.task]);
        }
        all
    }
}

impl Catalogue {
    /// Shows all texts in another language, as [`Tells::show_in`]. Cases that are open keep the language
    /// they were drawn in.
    pub fn show_in(&mut self, texts: Option<&Texts>) {
        each(self.vehicles.values_mut(), texts);
        each(self.scenarios.values_mut(), texts);
        each(self.courses.values_mut(), texts);
    }

    /// All texts that people are shown, as the files have them.
    pub fn written(&self) -> BTreeSet<String> {
        let vehicles = self.vehicles.values().flat_map(|it| it.written());
        let scenarios = self.scenarios.values().flat_map(|it| it.written());
        let courses = self.courses.values().flat_map(|it| it.written());
        vehicles.chain(scenarios).chain(courses).collect()
    }
}

fn each<'a, T: Tells + 'a>(all: impl Iterator<Item = &'a mut Arc<T>>, texts: Option<&Texts>) {
    all.for_each(|it| Arc::make_mut(it).show_in(texts));
}

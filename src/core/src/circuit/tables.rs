//! A network's values laid out for the solver's loops, rebuilt when a value changed.

use super::device::{Device, Law};
use super::network::{Element, ElementId};

#[derive(Copy, Clone, Debug)]
pub(super) struct ContactRow {
    pub(super) element: ElementId,
    pub(super) coil: ElementId,
    pub(super) pull_in_a: f64,
    pub(super) drop_out_a: f64,
    pub(super) closed_at_rest: bool,
    pub(super) siemens: f64,
}

impl ContactRow {
    /// Whether its armature is pulled in with so much current in the coil, if it was or was not before.
    pub(super) fn pulls(&self, pulled: bool, coil_a: f64) -> bool {
        coil_a
            >= if pulled {
                self.drop_out_a
            } else {
                self.pull_in_a
            }
    }
}

#[derive(Clone, Debug, Default)]
pub(super) struct Tables {
    /// Straight elements: `i = siemens (v - emf_v)`, by element. Zero for curved ones and for contacts.
    pub(super) siemens: Vec<f64>,
    pub(super) emf_v: Vec<f64>,
    pub(super) curved: Vec<(u32, Device)>,
    pub(super) contacts: Vec<ContactRow>,
}

impl Tables {
    /// Takes over one element's new value. False if the tables cannot say it without being filled anew.
    pub(super) fn change(&mut self, index: usize, from: &Element, to: &Element) -> bool {
        let straight = |element: &Element| match Law::of(element) {
            Law::Line { siemens, emf_v } if !matches!(element, Element::Contact { .. }) => {
                Some((siemens, emf_v))
            }
            _ => None,
        };
        let (Some(_), Some((siemens, emf_v))) = (straight(from), straight(to)) else {
            return false;
        };
        self.siemens[index] = siemens;
        self.emf_v[index] = emf_v;
        true
    }

    pub(super) fn of(elements: &[Element]) -> Tables {
        let mut tables = Tables {
            siemens: Vec::with_capacity(elements.len()),
            emf_v: Vec::with_capacity(elements.len()),
            ..Tables::default()
        };
        for (index, element) in elements.iter().enumerate() {
            let mut line = (0.0, 0.0);
            match Law::of(element) {
                Law::Curve(device) => tables.curved.push((index as u32, device)),
                Law::Line { siemens, emf_v } => match *element {
                    Element::Contact {
                        coil,
                        pull_in_a,
                        drop_out_a,
                        closed_at_rest,
                        ..
                    } => {
                        tables.contacts.push(ContactRow {
                            element: ElementId(index as u32),
                            coil,
                            pull_in_a,
                            drop_out_a,
                            closed_at_rest,
                            siemens,
                        });
                    }
                    _ => line = (siemens, emf_v),
                },
            }
            tables.siemens.push(line.0);
            tables.emf_v.push(line.1);
        }
        tables
    }
}

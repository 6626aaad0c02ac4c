//! What contacts remember between solves. Knows positions and thresholds, nothing of how currents are found.

use super::network::{Element, ElementId, Network};
use super::tables::ContactRow;

/// The positions of the contacts, carried from solve to solve.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct State {
    /// By element; false for what is no contact.
    pulled: Vec<bool>,
}

impl State {
    /// Every contact at rest.
    pub fn rest(net: &Network) -> State {
        State {
            pulled: vec![false; net.element_count()],
        }
    }

    /// Whether the armature behind a contact is pulled in (not whether the contact is closed).
    pub fn pulled_in(&self, contact: ElementId) -> bool {
        self.pulled
            .get(contact.0 as usize)
            .copied()
            .unwrap_or(false)
    }

    /// Whether a contact is closed. False for an element that is no contact.
    pub fn contact_closed(&self, net: &Network, contact: ElementId) -> bool {
        match net.elements().get(contact.0 as usize) {
            Some(Element::Contact { closed_at_rest, .. }) => {
                self.pulled_in(contact) != *closed_at_rest
            }
            _ => false,
        }
    }

    pub(super) fn positions(&self, contacts: &[ContactRow]) -> Vec<bool> {
        contacts
            .iter()
            .map(|row| self.pulled_in(row.element))
            .collect()
    }

    pub(super) fn store(&mut self, contacts: &[ContactRow], positions: &[bool], elements: usize) {
        self.pulled.resize(elements, false);
        for (row, &pulled) in contacts.iter().zip(positions) {
            self.pulled[row.element.0 as usize] = pulled;
        }
    }
}

/// How contacts that are due to move are let move.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub(super) enum Pace {
    /// All at once.
    Together,
    /// Those of one coil at a time, the coil with the lowest number first.
    OneCoil,
}

/// Positions after contacts answered to their coils' currents. Equal to `positions` when all is settled.
pub(super) fn answer(
    contacts: &[ContactRow],
    positions: &[bool],
    amps: &[f64],
    pace: Pace,
) -> Vec<bool> {
    let mut next: Vec<bool> = contacts
        .iter()
        .zip(positions)
        .map(|(row, &pulled)| row.pulls(pulled, amps[row.coil.0 as usize].abs()))
        .collect();
    if pace == Pace::OneCoil {
        let due = |at: &usize| next[*at] != positions[*at];
        if let Some(coil) = (0..next.len())
            .filter(due)
            .map(|at| contacts[at].coil)
            .min()
        {
            for (at, row) in contacts.iter().enumerate() {
                if row.coil != coil {
                    next[at] = positions[at];
                }
            }
        }
    }
    next
}

//! What a solve found: voltages, currents, positions.

use super::balance::{LAW_FLOOR_A, LAW_SHARE};
use super::device::Law;
use super::factor::Island;
use super::network::{Attachment, Element, ElementId, Network, NodeId};

/// Label of a network's node number, of no node.
const NOWHERE: Island = Island::MAX;

/// The operating point of a network with its tools.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// By node, ground included. On a floating island counted from an arbitrary one of its nodes.
    pub(super) volts: Vec<f64>,
    /// By node; 0 has a path to ground.
    pub(super) islands: Vec<Island>,
    pub(super) amps: Vec<f64>,
    pub(super) tool_amps: Vec<f64>,
    /// Closed contacts, rising.
    pub(super) closed: Vec<ElementId>,
    pub(super) flipped: Vec<ElementId>,
}

impl Solution {
    /// Voltage of a node against ground. `None` if the node floats: no element that conducts leads from it
    /// to ground, not even a blocked junction. `None` also for a node that is not of the network.
    pub fn voltage(&self, node: NodeId) -> Option<f64> {
        (self.island(node) == 0).then(|| self.volts[node.0 as usize])
    }

    /// `V(a) - V(b)`, also where both float together. `None` where no path leads from one to the other.
    pub fn difference(&self, a: NodeId, b: NodeId) -> Option<f64> {
        let (island, other) = (self.island(a), self.island(b));
        (island == other && island != NOWHERE)
            .then(|| self.volts[a.0 as usize] - self.volts[b.0 as usize])
    }

    /// Current through an element, counted from its end `a` to its end `b`. Zero for what conducts nothing
    /// and for an element that is not of the network.
    pub fn current(&self, element: ElementId) -> f64 {
        self.amps.get(element.0 as usize).copied().unwrap_or(0.0)
    }

    /// Current through the tool at this place of the list, from its end `a` to its end `b`.
    pub fn tool_current(&self, tool: usize) -> f64 {
        self.tool_amps.get(tool).copied().unwrap_or(0.0)
    }

    /// Whether a relay contact is closed. False for an element that is no contact.
    pub fn contact_closed(&self, element: ElementId) -> bool {
        self.closed.binary_search(&element).is_ok()
    }

    /// The contacts that stand otherwise than before the solve, in the order of their numbers.
    pub fn flipped(&self) -> &[ElementId] {
        &self.flipped
    }

    /// The largest miss of Kirchhoff's current law at any node but ground, in amperes, worked out anew from
    /// the voltages and the elements' laws. The network and tools must be those that were solved.
    pub fn kirchhoff_residual_a(&self, net: &Network, tools: &[Attachment]) -> f64 {
        self.nodes(net, tools)
            .iter()
            .skip(1)
            .fold(
                0.0,
                |most, &(sum, _)| if sum.abs() <= most { most } else { sum.abs() },
            )
    }

    /// As [`Solution::kirchhoff_residual_a`], as a share of what is allowed at the node: 1 nA and 1e-12 of
    /// the sum of the sizes of its currents.
    pub fn kirchhoff_share(&self, net: &Network, tools: &[Attachment]) -> f64 {
        self.nodes(net, tools)
            .iter()
            .skip(1)
            .fold(0.0, |most, &(sum, size)| {
                let share = sum.abs() / (LAW_FLOOR_A + LAW_SHARE * size);
                if share <= most { most } else { share }
            })
    }

    /// Sum of the currents into each node, and of their sizes.
    fn nodes(&self, net: &Network, tools: &[Attachment]) -> Vec<(f64, f64)> {
        let mut nodes = vec![(0.0, 0.0); self.volts.len()];
        let mut meet = |a: NodeId, b: NodeId, element: &Element| {
            let amps = Law::of(element).amps(self.volts[a.0 as usize] - self.volts[b.0 as usize]);
            for (node, amps) in [(a, -amps), (b, amps)] {
                let node = &mut nodes[node.0 as usize];
                node.0 += amps;
                node.1 += amps.abs();
            }
        };
        for index in 0..self.amps.len() {
            let id = ElementId(index as u32);
            let element = net.element(id);
            if matches!(element, Element::Contact { .. }) && !self.contact_closed(id) {
                continue;
            }
            let (a, b) = net.ends(id);
            meet(a, b, element);
        }
        for tool in tools {
            meet(tool.a, tool.b, &tool.element);
        }
        nodes
    }

    fn island(&self, node: NodeId) -> Island {
        self.islands
            .get(node.0 as usize)
            .copied()
            .unwrap_or(NOWHERE)
    }
}

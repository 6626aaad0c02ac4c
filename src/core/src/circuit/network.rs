//! Named nodes and the two-terminal elements between them.
//!
//! Only describes the network; whether its values make sense is asked in `values`, what they do in `device`.

use std::sync::Arc;

/// A place where elements meet. Voltages are counted from [`NodeId::GROUND`].
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(pub u32);

impl NodeId {
    /// The reference node, 0 V. Every network has it.
    pub const GROUND: NodeId = NodeId(0);
}

/// An element of a [`Network`], in the order of adding.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ElementId(pub u32);

/// Voltage up to which a small motor stands: friction of brushes and bearings holds it (common practice, no
/// source: some tenths of a volt).
pub const MOTOR_STANDS_V: f64 = 0.2;

/// A two-terminal element between a node `a` and a node `b`.
///
/// Voltage is `V(a) - V(b)`; current is counted from `a` to `b` through the element. Every resistance must
/// lie between 10 µΩ and 1 TΩ; other ranges are given at each field. A value outside its range is a
/// [`SolveError::BadValue`](super::SolveError::BadValue) at the next solve.
#[derive(Copy, Clone, Debug, PartialEq)]
pub enum Element {
    /// Keeps its place and conducts nothing.
    Open,
    /// Ohm's law.
    Resistor {
        /// Resistance.
        ohms: f64,
    },
    /// Thévenin source with its positive pole at `a`: open, `V(a) - V(b)` is `emf_v`.
    Source {
        /// Open-circuit voltage, within ±1 kV.
        emf_v: f64,
        /// Internal resistance.
        ohms: f64,
    },
    /// A regulated supply: as [`Element::Source`], but what it delivers is held between zero and `limit_a`;
    /// it cannot sink. Beyond either limit its current still rises by 0.1 µA a volt.
    LimitedSource {
        /// Open-circuit voltage, within ±1 kV.
        emf_v: f64,
        /// Internal resistance.
        ohms: f64,
        /// Most it can deliver, 1 µA to 10 kA.
        limit_a: f64,
    },
    /// A tungsten filament in its steady state: power radiated as T⁴ less that received from surroundings
    /// at the cold temperature, resistance as T^1.2.
    Filament {
        /// Voltage at which `rated_a` flows, 0.1 V to 1 kV.
        rated_v: f64,
        /// Current at `rated_v`, 0.1 mA to 1 kA.
        rated_a: f64,
        /// Cold resistance as a fraction of the resistance at `rated_v`, 0.01 to 0.99; about a tenth for a
        /// vehicle's lamp.
        cold_fraction: f64,
    },
    /// A junction conducting from `a` to `b`: Shockley's law in series with a resistance, and a leakage of
    /// 1 pA a volt beside them.
    Diode {
        /// Saturation current, 1e-20 A to 1 mA.
        saturation_a: f64,
        /// Ideality factor times thermal voltage, 10 mV to 1 V.
        slope_v: f64,
        /// Series resistance, 10 µΩ to 1 MΩ.
        ohms: f64,
    },
    /// A permanent-magnet motor at steady speed ω under friction and a load torque that rises with ω² (a
    /// fan): `V = I R + k ω`, `k (I - If) = c ω²`, the same in both directions. Friction holds it up to
    /// 0.2 V (`If R`); there it is its winding's resistance. A leakage of 1 nA a volt lies beside it.
    FanMotor {
        /// Winding and brush resistance.
        ohms: f64,
        /// Back-EMF constant k (also N·m per ampere), 1e-6 to 1000.
        volts_per_rad_s: f64,
        /// Load constant c in N·m·s², 1e-12 to 1000.
        load_nms2: f64,
    },
    /// A switched-on transistor with current limiting, the same in both directions. Beyond the limit its
    /// current still rises by 0.1 µA a volt.
    Limiter {
        /// Resistance below the limit.
        on_ohms: f64,
        /// Current at which limiting starts, 1 µA to 10 kA.
        limit_a: f64,
    },
    /// A relay contact moved by the size of the current through another element. Where the contact stands is
    /// kept in [`State`](super::State).
    Contact {
        /// The element whose current moves the contact. It may not be the contact itself.
        coil: ElementId,
        /// The contact leaves its rest position at this current or more, 1 nA to 100 kA.
        pull_in_a: f64,
        /// It returns to rest below this current; at most `pull_in_a`.
        drop_out_a: f64,
        /// A normally closed contact, as between 30 and 87a.
        closed_at_rest: bool,
        /// Resistance when closed.
        ohms: f64,
    },
}

/// An element put on from outside: a tool between two nodes. A short list that changes often.
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Attachment {
    /// Where end `a` touches.
    pub a: NodeId,
    /// Where end `b` touches.
    pub b: NodeId,
    /// What lies between. A [`Element::Contact`] is refused here.
    pub element: Element,
}

/// What does not change after building, shared between the copies of a network.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Structure {
    node_names: Vec<String>,
    element_names: Vec<String>,
    pub(super) ends: Vec<(NodeId, NodeId)>,
}

impl Structure {
    pub(super) fn node_count(&self) -> usize {
        self.node_names.len()
    }
}

/// Nodes and elements. Copies share everything until one of them changes, so a copy costs next to nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    structure: Arc<Structure>,
    elements: Arc<Vec<Element>>,
    lately: Lately,
}

/// Which values were set since somebody else last took them, so that a solver need not compare all of them.
/// Says nothing of what the network is: networks that came to the same values in other ways are equal.
#[derive(Clone, Default)]
struct Lately {
    from: Option<Arc<Vec<Element>>>,
    set: Vec<u32>,
}

impl PartialEq for Lately {
    fn eq(&self, _: &Lately) -> bool {
        true
    }
}

impl std::fmt::Debug for Lately {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("..")
    }
}

impl Default for Network {
    fn default() -> Self {
        Self::new()
    }
}

impl Network {
    /// A network with the ground node only.
    pub fn new() -> Self {
        Self {
            structure: Arc::new(Structure {
                node_names: vec!["ground".to_owned()],
                element_names: Vec::new(),
                ends: Vec::new(),
            }),
            elements: Arc::default(),
            lately: Lately::default(),
        }
    }

    /// Adds a node. The name serves messages only: the same name twice makes two nodes.
    pub fn node(&mut self, name: &str) -> NodeId {
        let structure = Arc::make_mut(&mut self.structure);
        structure.node_names.push(name.to_owned());
        NodeId((structure.node_names.len() - 1) as u32)
    }

    /// Adds an element between two nodes.
    pub fn add(&mut self, name: &str, a: NodeId, b: NodeId, element: Element) -> ElementId {
        let structure = Arc::make_mut(&mut self.structure);
        structure.element_names.push(name.to_owned());
        structure.ends.push((a, b));
        self.lately = Lately::default();
        Arc::make_mut(&mut self.elements).push(element);
        ElementId((self.elements.len() - 1) as u32)
    }

    /// Gives an element another value, or makes it another kind of element between the same ends.
    ///
    /// # Panics
    /// If the element is not of this network.
    pub fn set(&mut self, id: ElementId, element: Element) {
        // A solver tells by the shared values whether anything changed.
        if self.elements[id.0 as usize] == element {
            return;
        }
        if Arc::get_mut(&mut self.elements).is_none() {
            self.lately.from = Some(self.elements.clone());
            self.lately.set.clear();
        }
        self.lately.set.push(id.0);
        Arc::make_mut(&mut self.elements)[id.0 as usize] = element;
    }

    /// Elements of which one may have other values than these, if that is known without comparing all.
    pub(super) fn set_since(&self, kept: &Arc<Vec<Element>>) -> Option<&[u32]> {
        let from = self.lately.from.as_ref()?;
        Arc::ptr_eq(from, kept).then_some(&self.lately.set)
    }

    /// An element's present value.
    ///
    /// # Panics
    /// If the element is not of this network.
    pub fn element(&self, id: ElementId) -> &Element {
        &self.elements[id.0 as usize]
    }

    /// The nodes an element lies between, `a` first.
    ///
    /// # Panics
    /// If the element is not of this network.
    pub fn ends(&self, id: ElementId) -> (NodeId, NodeId) {
        self.structure.ends[id.0 as usize]
    }

    /// A node's name, or a stand-in for a node that is not of this network.
    pub fn node_name(&self, id: NodeId) -> &str {
        self.structure
            .node_names
            .get(id.0 as usize)
            .map_or("(no such node)", String::as_str)
    }

    /// An element's name, or a stand-in for an element that is not of this network.
    pub fn element_name(&self, id: ElementId) -> &str {
        self.structure
            .element_names
            .get(id.0 as usize)
            .map_or("(no such element)", String::as_str)
    }

    /// Number of nodes, ground included.
    pub fn node_count(&self) -> usize {
        self.structure.node_names.len()
    }

    /// Number of elements, open ones included.
    pub fn element_count(&self) -> usize {
        self.elements.len()
    }

    pub(super) fn structure(&self) -> &Arc<Structure> {
        &self.structure
    }

    pub(super) fn elements(&self) -> &Arc<Vec<Element>> {
        &self.elements
    }
}

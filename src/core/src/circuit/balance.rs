//! Kirchhoff's current law at a point: what each element carries at given voltages, and what each node then
//! misses. Knows nothing of how a better point is found.

use super::device::{Device, Law, Tangent};
use super::network::{Attachment, Element};
use super::pattern::Pattern;
use super::ports::PortEnds;
use super::tables::Tables;

/// What Kirchhoff's current law may miss at a node: a part that does not depend on the currents there ...
pub(super) const LAW_FLOOR_A: f64 = 1e-9;
/// ... and a part that goes with the sum of their sizes.
pub(super) const LAW_SHARE: f64 = 1e-12;

/// Last bits by which working out a law may miss its current.
const LAW_BITS: f64 = 4.0;

/// An element put on from outside, ready for the loops.
#[derive(Copy, Clone, Debug)]
pub(super) struct ToolRow {
    pub(super) ends: PortEnds,
    pub(super) law: Law,
}

impl ToolRow {
    /// None for what conducts nothing. The nodes must be of the network.
    pub(super) fn of(tool: &Attachment, pattern: &Pattern) -> Option<ToolRow> {
        (tool.element != Element::Open).then(|| ToolRow {
            ends: [tool.a, tool.b].map(|end| pattern.place[end.0 as usize]),
            law: Law::of(&tool.element),
        })
    }

    pub(super) fn is_straight(&self) -> bool {
        matches!(self.law, Law::Line { .. })
    }
}

/// The network with its contacts in given positions.
#[derive(Copy, Clone)]
pub(super) struct Still<'a> {
    pub(super) pattern: &'a Pattern,
    pub(super) tables: &'a Tables,
    /// Slopes of the straight elements, contacts in their positions included.
    pub(super) siemens: &'a [f64],
}

/// Ends, slope and electromotive force of an element on a straight line.
pub(super) type Line = (PortEnds, f64, f64);

impl<'a> Still<'a> {
    pub(super) fn lines(self) -> impl Iterator<Item = Line> + 'a {
        let rows = self
            .pattern
            .ends
            .iter()
            .zip(self.siemens)
            .zip(&self.tables.emf_v);
        rows.map(|((&ends, &siemens), &emf_v)| (ends, siemens, emf_v))
    }

    pub(super) fn curves(self) -> impl Iterator<Item = (PortEnds, &'a Device)> {
        let ends = &self.pattern.ends;
        self.tables
            .curved
            .iter()
            .map(|(element, device)| (ends[*element as usize], device))
    }
}

/// Voltages by place (ground last) and the currents that belong to them.
#[derive(Clone, Debug, Default)]
pub(super) struct Point {
    pub(super) volts: Vec<f64>,
    pub(super) amps: Vec<f64>,
    pub(super) tool_amps: Vec<f64>,
}

pub(super) fn across(volts: &[f64], [a, b]: PortEnds) -> f64 {
    volts[a as usize] - volts[b as usize]
}

#[derive(Clone, Debug, Default)]
pub(super) struct Balance {
    /// Current into each place that nothing there carries off.
    pub(super) into: Vec<f64>,
    /// The same without the tools.
    pub(super) bare: Vec<f64>,
    /// Sum of the sizes of the currents at each place.
    sizes: Vec<f64>,
    /// Slopes of the curved elements and of the tools.
    pub(super) slopes: Vec<f64>,
    pub(super) tool_slopes: Vec<f64>,
    /// A conductance beside each curved element, to ease a hard search; zero in the network itself.
    pub(super) soft_s: f64,
}

impl Balance {
    pub(super) fn clear(&mut self, places: usize) {
        self.into.clear();
        self.into.resize(places, 0.0);
        self.sizes.clear();
        self.sizes.resize(places, 0.0);
        self.slopes.clear();
        self.tool_slopes.clear();
    }

    /// The network's own first guess: every curved element on the straight line it starts with, at zero volts.
    pub(super) fn first_lines(&mut self, still: Still) {
        self.clear(still.pattern.n + 1);
        for (ends, siemens, emf_v) in still.lines() {
            self.meet(ends, -siemens * emf_v);
        }
        for (ends, device) in still.curves() {
            let Tangent { amps, siemens } = device.first_line();
            self.meet(ends, amps);
            self.slopes.push(siemens);
        }
        self.into[still.pattern.n] = 0.0;
        self.bare.clone_from(&self.into);
    }

    /// Everything at the point's voltages.
    pub(super) fn evaluate(&mut self, still: Still, tools: &[ToolRow], point: &mut Point) {
        self.clear(still.pattern.n + 1);
        point.amps.resize(still.siemens.len(), 0.0);
        for ((ends, siemens, emf_v), through) in still.lines().zip(&mut point.amps) {
            let amps = siemens * (across(&point.volts, ends) - emf_v);
            *through = amps;
            self.meet(ends, amps);
        }
        for (element, device) in &still.tables.curved {
            let ends = still.pattern.ends[*element as usize];
            let v = across(&point.volts, ends);
            let Tangent { amps, siemens } = device.at(v).beside(self.soft_s, v);
            point.amps[*element as usize] = amps;
            self.slopes.push(siemens);
            self.meet(ends, amps);
        }
        self.add_tools(still, tools, point);
    }

    /// The tools' part alone.
    pub(super) fn add_tools(&mut self, still: Still, tools: &[ToolRow], point: &mut Point) {
        point.tool_amps.clear();
        self.bare.clone_from(&self.into);
        for tool in tools {
            let v = across(&point.volts, tool.ends);
            let tangent = tool.law.tangent(v);
            let Tangent { amps, siemens } = if tool.is_straight() {
                tangent
            } else {
                tangent.beside(self.soft_s, v)
            };
            point.tool_amps.push(amps);
            self.tool_slopes.push(siemens);
            self.meet(tool.ends, amps);
        }
        // Ground takes whatever comes.
        self.into[still.pattern.n] = 0.0;
        self.bare[still.pattern.n] = 0.0;
    }

    #[inline]
    fn meet(&mut self, [a, b]: PortEnds, amps: f64) {
        let (a, b, size) = (a as usize, b as usize, amps.abs());
        self.into[a] -= amps;
        self.into[b] += amps;
        self.sizes[a] += size;
        self.sizes[b] += size;
    }

    /// Whether no node misses more than this share of what is promised. False if anything is no number.
    pub(super) fn holds(&self, share: f64) -> bool {
        let (floor, part) = (share * LAW_FLOOR_A, share * LAW_SHARE);
        self.into
            .iter()
            .zip(&self.sizes)
            .all(|(into, size)| into.abs() <= floor + part * size)
    }

    /// The place that misses most.
    pub(super) fn worst_place(&self) -> usize {
        let mut place = 0;
        for at in 0..self.into.len() {
            if self.into[at].is_nan() || self.into[at].abs() > self.into[place].abs() {
                place = at;
            }
        }
        place
    }

    /// Puts into `currents` a bound of what rounding alone may make each place miss: an element's current is
    /// rounded by its slope times the last bits of the voltages it comes from, and by a few last bits of its own.
    /// The tools' own is put into `tool_amps`.
    pub(super) fn rounding(
        &self,
        still: Still,
        tools: &[ToolRow],
        point: &Point,
        currents: &mut [f64],
        tool_amps: &mut Vec<f64>,
    ) {
        currents.fill(0.0);
        let volts = &point.volts;
        let bound = |[a, b]: PortEnds, siemens: f64, emf_v: f64, amps: f64| {
            let sizes = volts[a as usize].abs() + volts[b as usize].abs() + emf_v.abs();
            f64::EPSILON * (siemens * sizes + LAW_BITS * amps.abs())
        };
        let mut add = |[a, b]: PortEnds, amps: f64| {
            currents[a as usize] += amps;
            currents[b as usize] += amps;
        };
        for ((ends, siemens, emf_v), &amps) in still.lines().zip(&point.amps) {
            add(ends, bound(ends, siemens, emf_v, amps));
        }
        for ((element, _), &siemens) in still.tables.curved.iter().zip(&self.slopes) {
            let ends = still.pattern.ends[*element as usize];
            add(
                ends,
                bound(ends, siemens, 0.0, point.amps[*element as usize]),
            );
        }
        currents[still.pattern.n] = 0.0;
        tool_amps.clear();
        for ((tool, &siemens), &amps) in tools.iter().zip(&self.tool_slopes).zip(&point.tool_amps) {
            let emf_v = if let Law::Line { emf_v, .. } = tool.law {
                emf_v
            } else {
                0.0
            };
            tool_amps.push(bound(tool.ends, siemens, emf_v, amps));
        }
    }
}

//! What a person can tell apart: how well what was seen fits what another fault would have shown.
//!
//! Knows observations only. Outcomes near the edge between two classes are likelihoods, not
//! certainties: nobody swears to a light that is a little dim.

use tracebay_core::session::{MeterDisplay, Observation, Touch};
use tracebay_core::tools::{Dial, Glow};

/// Likelihood left for a sight or sound that does not fit: people mishear and overlook.
const SLIP: f64 = 0.02;
/// Likelihood left for a reading that does not fit: instruments are believed more.
const READING_SLIP: f64 = 0.002;

/// How likely it is to see `seen` where the car would show `shown`, relative to a perfect match.
pub fn likelihood(seen: &[Observation], shown: &[Observation]) -> f64 {
    let mut total = 1.0;
    let mut used = vec![false; shown.len()];
    for a in seen.iter().filter(|o| counts(o)) {
        let best = shown
            .iter()
            .enumerate()
            .filter(|(i, b)| !used[*i] && same_question(a, b))
            .map(|(i, b)| (i, fit(a, b)))
            .max_by(|x, y| x.1.total_cmp(&y.1));
        match best {
            Some((i, value)) => {
                used[i] = true;
                total *= value;
            }
            None => total *= SLIP,
        }
    }
    for (b, used) in shown.iter().zip(used) {
        if !used && counts(b) {
            total *= SLIP;
        }
    }
    total
}

/// Two outcomes a person could not tell apart.
pub fn alike(a: &[Observation], b: &[Observation]) -> bool {
    likelihood(a, b) > 0.5 && likelihood(b, a) > 0.5
}

/// Sorts outcomes into classes of what can be told apart, numbered from 0 in order of appearance.
pub fn classes(outcomes: &[Vec<Observation>]) -> Vec<u8> {
    let mut heads: Vec<&Vec<Observation>> = Vec::new();
    outcomes
        .iter()
        .map(|o| match heads.iter().position(|h| alike(h, o)) {
            Some(i) => i as u8,
            None => {
                heads.push(o);
                (heads.len() - 1).min(u8::MAX as usize) as u8
            }
        })
        .collect()
}

/// Whether an observation says something about the car.
fn counts(o: &Observation) -> bool {
    !matches!(
        o,
        Observation::HintAsked { .. } | Observation::Repaired { .. }
    )
}

/// Whether two observations answer the same question, so that they can be compared.
fn same_question(a: &Observation, b: &Observation) -> bool {
    use Observation::*;
    match (a, b) {
        (
            Light {
                tool: t, point: p, ..
            },
            Light {
                tool: u, point: q, ..
            },
        ) => t == u && p == q,
        (Meter { point: p, .. }, Meter { point: q, .. }) => p == q,
        (Gauge { .. }, Gauge { .. }) | (Dash(_), Dash(_)) => true,
        (Temperature { place: p, .. }, Temperature { place: q, .. })
        | (Felt { place: p, .. }, Felt { place: q, .. })
        | (NothingSeen { place: p }, NothingSeen { place: q })
        | (TooDark { place: p }, TooDark { place: q })
        | (Smoke { place: p }, Smoke { place: q }) => p == q,
        (Heard { sound: s, place: p }, Heard { sound: t, place: q }) => s == t && p == q,
        (
            Seen {
                place: p,
                finding: f,
                lamp: l,
            },
            Seen {
                place: q,
                finding: g,
                lamp: m,
            },
        ) => p == q && f == g && l == m,
        (Spark { point: p, .. }, Spark { point: q, .. }) => p == q,
        (ToolFuseBlew { tool: t }, ToolFuseBlew { tool: u }) => t == u,
        _ => false,
    }
}

fn fit(a: &Observation, b: &Observation) -> f64 {
    use Observation::*;
    match (a, b) {
        (
            Light {
                glow: g,
                percent: p,
                ..
            },
            Light {
                glow: h,
                percent: q,
                ..
            },
        ) => light(*g, *p, *h, *q),
        (Meter { display: d, .. }, Meter { display: e, .. }) => meter(d, e),
        // A gauge is read to about 2 psi.
        (Gauge { kpa: p }, Gauge { kpa: q }) => near(p - q, 14.0, 28.0, READING_SLIP),
        (Temperature { celsius: p, .. }, Temperature { celsius: q, .. }) => {
            near(p - q, 1.5, 3.0, READING_SLIP)
        }
        (Felt { touch: t, .. }, Felt { touch: u, .. }) => touch(*t, *u),
        (Dash(d), Dash(e)) => {
            let same = d.awake == e.awake
                && d.charge_lamp == e.charge_lamp
                && (d.rpm > 400) == (e.rpm > 400);
            if same { 1.0 } else { SLIP }
        }
        (Spark { strong: s, .. }, Spark { strong: t, .. }) => {
            if s == t {
                1.0
            } else {
                0.5
            }
        }
        _ => 1.0,
    }
}

/// 1 within `close`, falling in a straight line to `slip` at `far`.
fn near(difference: f64, close: f64, far: f64, slip: f64) -> f64 {
    let d = difference.abs();
    if d <= close {
        1.0
    } else if d >= far {
        slip
    } else {
        slip + (1.0 - slip) * (far - d) / (far - close)
    }
}

fn light(g: Glow, p: u8, h: Glow, q: u8) -> f64 {
    if g == h {
        return 1.0;
    }
    let steps = (g as i32 - h as i32).abs();
    // Neighbouring classes blur where the light itself hardly differs.
    let (p, q) = (f64::from(p), f64::from(q));
    let blur = (p - q).abs() <= 0.3 * p.max(q).max(2.0);
    match (steps, blur) {
        (1, true) => 0.6,
        (1, false) => 0.05,
        _ => READING_SLIP,
    }
}

fn meter(a: &MeterDisplay, b: &MeterDisplay) -> f64 {
    use MeterDisplay::*;
    match (a, b) {
        (
            Value {
                dial: d, value: x, ..
            },
            Value {
                dial: e, value: y, ..
            },
        ) if d == e => {
            let size = x.abs().max(y.abs());
            // What decides a diagnosis, not what the last digit shows: parts of one kind differ by
            // more than the instrument can tell.
            let close = match d {
                Dial::Volts => (0.04 * size).max(0.15),
                Dial::Ohms => (0.15 * size).max(0.4),
                Dial::Amps | Dial::Off => (0.1 * size).max(0.02),
            };
            near(x - y, close, 2.0 * close, READING_SLIP)
        }
        (OverRange { .. }, OverRange { .. })
        | (Blank, Blank)
        | (Nonsense { .. }, Nonsense { .. }) => 1.0,
        _ => READING_SLIP,
    }
}

fn touch(t: Touch, u: Touch) -> f64 {
    if t == u {
        return 1.0;
    }
    let pair = |a, b| (t == a && u == b) || (t == b && u == a);
    if pair(Touch::CoolAir, Touch::ColdAir)
        || pair(Touch::CoolAir, Touch::WarmAir)
        || pair(Touch::Warm, Touch::Hot)
        || pair(Touch::Warm, Touch::Still)
        || pair(Touch::NoAir, Touch::WeakAir)
    {
        0.3
    } else {
        SLIP
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tracebay_core::tools::ToolKind;

    fn lit(glow: Glow, percent: u8) -> Vec<Observation> {
        vec![Observation::Light {
            tool: ToolKind::TestLight,
            point: "K3.a".into(),
            glow,
            percent,
        }]
    }

    #[test]
    fn an_eye_tells_dark_from_bright_and_not_full_from_nearly_full() {
        // Common practice, no source: nobody sees a tenth of a volt on a test light.
        assert!(alike(&lit(Glow::Bright, 118), &lit(Glow::Bright, 96)));
        assert!(!alike(&lit(Glow::Bright, 100), &lit(Glow::Dark, 0)));
        let edge = likelihood(&lit(Glow::Bright, 51), &lit(Glow::Dim, 48));
        assert!(edge > 0.1 && edge < 1.0, "an edge is a likelihood: {edge}");
    }

    #[test]
    fn what_is_missing_speaks_as_well_as_what_is_there() {
        let click = Observation::Heard {
            sound: tracebay_core::session::Sound::RelayClick,
            place: "box".into(),
        };
        assert!(likelihood(&[], std::slice::from_ref(&click)) < 0.1);
        assert!(likelihood(std::slice::from_ref(&click), &[]) < 0.1);
        assert_eq!(
            likelihood(std::slice::from_ref(&click), std::slice::from_ref(&click)),
            1.0
        );
    }

    #[test]
    fn classes_are_numbered_as_they_appear() {
        let outcomes = [
            lit(Glow::Dark, 0),
            lit(Glow::Bright, 100),
            lit(Glow::Dark, 0),
            lit(Glow::Dim, 20),
        ];
        assert_eq!(classes(&outcomes), [0, 1, 0, 2]);
    }
}

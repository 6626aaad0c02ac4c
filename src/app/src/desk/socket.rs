//! Where the cavities of a socket lie as one looks at it, and where the blades lie as one looks
//! at the relay's underside, which is the mirror image.
//!
//! Cavities are lettered in reading order from above: a upper left, b upper right, c lower left,
//! d lower right, and on a socket for five a fifth in the middle. Common practice, no source: the
//! letters are ours, since a bare socket has none.

use tracebay_core::session::{PointInfo, PointKind};

/// Which side one looks at.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Side {
    /// Into the socket from above.
    Socket,
    /// At the blades from below.
    Underside,
}

/// One hole or blade of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// Point it stands for.
    pub point: String,
    /// Centre in a square of side 1, x to the right, y down.
    pub at: (f32, f32),
    /// Letter of the cavity.
    pub letter: char,
}

/// Letter of a cavity or blade from its point's id (`K3.a` → `a`), if it has one.
pub fn letter(point: &PointInfo) -> Option<char> {
    if !matches!(point.kind, PointKind::Cavity | PointKind::Blade) {
        return None;
    }
    let tail = point.id.rsplit(['.', ':']).next()?;
    let c = tail.chars().next()?;
    (tail.len() == 1 && c.is_ascii_lowercase()).then_some(c)
}

/// The drawing's spots for these points.
pub fn spots(points: &[&PointInfo], side: Side) -> Vec<Spot> {
    points
        .iter()
        .filter_map(|p| {
            let letter = letter(p)?;
            let (x, y) = match letter {
                'a' => (0.27, 0.25),
                'b' => (0.73, 0.25),
                'c' => (0.27, 0.75),
                'd' => (0.73, 0.75),
                _ => (0.5, 0.5),
            };
            let x = match side {
                Side::Socket => x,
                Side::Underside => 1.0 - x,
            };
            Some(Spot {
                point: p.id.clone(),
                at: (x, y),
                letter,
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(id: &str, kind: PointKind) -> PointInfo {
        PointInfo {
            id: id.into(),
            part: "K3".into(),
            place: "box".into(),
            kind,
            mark: None,
            blade: None,
        }
    }

    /// Common practice, no source: a relay turned over shows left and right exchanged, above and
    /// below as they were.
    #[test]
    fn the_underside_is_the_socket_s_mirror_image() {
        let points: Vec<_> = ["K3.a", "K3.b", "K3.c", "K3.d"]
            .map(|id| point(id, PointKind::Cavity))
            .into();
        let points: Vec<_> = points.iter().collect();
        let above = spots(&points, Side::Socket);
        let below = spots(&points, Side::Underside);
        assert_eq!(above.len(), 4);
        for (a, b) in above.iter().zip(&below) {
            assert_eq!(a.letter, b.letter);
            assert!((a.at.0 + b.at.0 - 1.0).abs() < 1e-6);
            assert_eq!(a.at.1, b.at.1);
        }
        assert!(above[0].at.0 < above[1].at.0 && above[0].at.1 < above[2].at.1);
    }

    #[test]
    fn only_cavities_and_blades_have_letters() {
        assert_eq!(letter(&point("K3.b", PointKind::Cavity)), Some('b'));
        assert_eq!(letter(&point("battery:pos", PointKind::Post)), None);
        assert_eq!(letter(&point("F2.1", PointKind::Cavity)), None);
    }
}

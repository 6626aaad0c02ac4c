//! Curves that hoses, pipes, wires and leads follow. Knows nothing of meshes.

use bevy::prelude::*;

/// Points along a smooth curve through `knots` (centripetal enough for evenly
/// spaced knots), `steps` to each span.
pub fn through(knots: &[Vec3], steps: usize) -> Vec<Vec3> {
    let n = knots.len();
    if n < 2 {
        return knots.to_vec();
    }
    let at = |i: isize| -> Vec3 {
        if i < 0 {
            knots[0] * 2.0 - knots[1]
        } else if i as usize >= n {
            knots[n - 1] * 2.0 - knots[n - 2]
        } else {
            knots[i as usize]
        }
    };
    let mut out = Vec::with_capacity((n - 1) * steps + 1);
    for i in 0..n as isize - 1 {
        let (a, b, c, d) = (at(i - 1), at(i), at(i + 1), at(i + 2));
        for s in 0..steps {
            let t = s as f32 / steps as f32;
            out.push(
                0.5 * (2.0 * b
                    + (c - a) * t
                    + (2.0 * a - 5.0 * b + 4.0 * c - d) * t * t
                    + (3.0 * b - a - 3.0 * c + d) * t * t * t),
            );
        }
    }
    out.push(knots[n - 1]);
    out
}

/// Points along straight runs whose corners are rounded by `radius`, as a pipe
/// is bent on a former.
pub fn bent(knots: &[Vec3], radius: f32, steps: usize) -> Vec<Vec3> {
    let n = knots.len();
    let mut out = vec![knots[0]];
    for i in 1..n.saturating_sub(1) {
        let (a, b, c) = (knots[i - 1], knots[i], knots[i + 1]);
        let r = radius.min(a.distance(b) * 0.45).min(b.distance(c) * 0.45);
        let p = b + (a - b).normalize_or_zero() * r;
        let q = b + (c - b).normalize_or_zero() * r;
        for s in 0..=steps {
            let t = s as f32 / steps as f32;
            out.push(p.lerp(b, t).lerp(b.lerp(q, t), t));
        }
    }
    out.push(knots[n - 1]);
    out
}

/// Points along a cable that hangs between `a` and `b` and is `slack` times as
/// long as the distance (1.0 = taut).
pub fn hanging(a: Vec3, b: Vec3, slack: f32, steps: usize) -> Vec<Vec3> {
    let d = b - a;
    let flat = Vec3::new(d.x, 0.0, d.z);
    let across = flat.length().max(1e-3);
    let length = d.length() * slack.max(1.0005);
    // A catenary y = k·cosh(x/k): k from 2k·sinh(L/2k) = sqrt(len² − rise²).
    let want = (length * length - d.y * d.y)
        .max(across * across * 1.0001)
        .sqrt();
    let mut lo = across * 0.02;
    let mut hi = across * 60.0;
    for _ in 0..48 {
        let k = (lo + hi) * 0.5;
        if 2.0 * k * (across / (2.0 * k)).min(60.0).sinh() > want {
            lo = k;
        } else {
            hi = k;
        }
    }
    let k = (lo + hi) * 0.5;
    let middle = across * 0.5 - k * (d.y / length).clamp(-0.999, 0.999).atanh();
    let y0 = k * (middle / k).cosh();
    (0..=steps)
        .map(|i| {
            let t = i as f32 / steps as f32;
            let x = t * across;
            let y = k * ((x - middle) / k).cosh() - y0;
            a + flat * t + Vec3::Y * y
        })
        .collect()
}

/// A lead from `a` to `b` that is led over what stands between: from `b` it goes the way that is
/// `free` up to the height `clear`, then across to above `a`.
pub fn led_over(a: Vec3, b: Vec3, free: Vec3, clear: f32) -> Vec<Vec3> {
    let free = free.normalize_or(Vec3::Y);
    if (a - b).normalize_or_zero().dot(free) > 0.999 {
        // Held out straight.
        return through(&[a, a.lerp(b, 0.5), b], 8);
    }
    let rise = ((clear - b.y) / free.y.max(0.25)).clamp(0.05, 0.9);
    let leave = b + free * rise;
    let top = |p: Vec3| p.with_y(p.y.max(clear));
    let over_a = top(a + Vec3::Y * 0.05);
    let leave = if free.y > 0.3 { top(leave) } else { leave };
    let across = over_a.lerp(leave, 0.5) + Vec3::Y * 0.02;
    through(&[a, over_a, across, leave, b.lerp(leave, 0.35), b], 8)
}

/// The outline of a belt round pulleys (centre, radius), listed counter-clockwise,
/// all inside the belt.
pub fn belt_path(pulleys: &[(Vec2, f32)], arc_steps: usize) -> Vec<Vec2> {
    let n = pulleys.len();
    let mut out = Vec::new();
    // Outer tangent from each pulley to the next; it touches both on the right of travel.
    let touch: Vec<f32> = (0..n)
        .map(|i| {
            let ((a, ra), (b, rb)) = (pulleys[i], pulleys[(i + 1) % n]);
            let d = b - a;
            d.y.atan2(d.x) - ((ra - rb) / d.length()).clamp(-1.0, 1.0).acos()
        })
        .collect();
    for i in 0..n {
        let (c, r) = pulleys[i];
        let start = touch[(i + n - 1) % n];
        let mut end = touch[i];
        while end < start {
            end += std::f32::consts::TAU;
        }
        for s in 0..=arc_steps {
            let a = start + (end - start) * s as f32 / arc_steps as f32;
            out.push(c + Vec2::from_angle(a) * r);
        }
        // Straight runs get a few points, so that their shading stays flat.
        let next = {
            let (c2, r2) = pulleys[(i + 1) % n];
            c2 + Vec2::from_angle(touch[i]) * r2
        };
        let here = c + Vec2::from_angle(touch[i]) * r;
        for s in 1..4 {
            out.push(here.lerp(next, s as f32 / 4.0));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hanging_cable_meets_both_ends_and_has_its_length() {
        let (a, b) = (Vec3::new(0.0, 1.0, 0.0), Vec3::new(0.8, 1.3, 0.4));
        let p = hanging(a, b, 1.3, 200);
        assert!(p[0].distance(a) < 1e-3);
        assert!(p[200].distance(b) < 5e-3, "{} {b}", p[200]);
        let length: f32 = p.windows(2).map(|w| w[0].distance(w[1])).sum();
        assert!((length - a.distance(b) * 1.3).abs() < 0.01);
        assert!(p.iter().all(|q| q.is_finite()));
    }

    #[test]
    fn a_plumb_cable_is_finite() {
        let p = hanging(Vec3::ZERO, Vec3::Y * -0.5, 1.2, 20);
        assert!(p.iter().all(|q| q.is_finite()));
    }

    /// Two equal pulleys: the open belt's length is 2·distance + 2·pi·r (plane geometry).
    #[test]
    fn belt_length_round_two_equal_pulleys() {
        let p = belt_path(&[(Vec2::ZERO, 0.05), (Vec2::new(0.3, 0.0), 0.05)], 64);
        let n = p.len();
        let length: f32 = (0..n).map(|i| p[i].distance(p[(i + 1) % n])).sum();
        assert!((length - (0.6 + std::f32::consts::TAU * 0.05)).abs() < 1e-3);
    }
}

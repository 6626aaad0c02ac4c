//! Body colours of blade fuses by rating (ISO 8820-3, from memory).
//!
//! Colour is never the only sign of a rating: the number is printed on the body
//! and a screen shows both.

use super::fuse::BladeBody;

/// Body colours used for blade fuses.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
pub enum FuseColour {
    /// Grey.
    Grey,
    /// Violet.
    Violet,
    /// Pink.
    Pink,
    /// Tan (light brown).
    Tan,
    /// Brown.
    Brown,
    /// Red.
    Red,
    /// Blue.
    Blue,
    /// Yellow.
    Yellow,
    /// Clear (natural).
    Clear,
    /// Green.
    Green,
    /// Blue-green.
    BlueGreen,
    /// Amber (orange).
    Amber,
}

/// Colour of a body by rating; `None` for a rating that is not made.
pub fn body_colour(body: BladeBody, rated_a: f64) -> Option<FuseColour> {
    use FuseColour as C;
    let small = [
        (2.0, C::Grey),
        (3.0, C::Violet),
        (4.0, C::Pink),
        (5.0, C::Tan),
        (7.5, C::Brown),
        (10.0, C::Red),
        (15.0, C::Blue),
        (20.0, C::Yellow),
        (25.0, C::Clear),
        (30.0, C::Green),
        (35.0, C::BlueGreen),
        (40.0, C::Amber),
    ];
    let maxi = [
        (20.0, C::Yellow),
        (30.0, C::Green),
        (40.0, C::Amber),
        (50.0, C::Red),
        (60.0, C::Blue),
        (70.0, C::Tan),
        (80.0, C::Clear),
    ];
    if !body.ratings_a().any(|made| made == rated_a) {
        return None;
    }
    let table: &[(f64, C)] = if body == BladeBody::Maxi {
        &maxi
    } else {
        &small
    };
    table
        .iter()
        .find(|(rating, _)| *rating == rated_a)
        .map(|(_, colour)| *colour)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fuse_made_has_a_colour() {
        for body in [BladeBody::Mini, BladeBody::Regular, BladeBody::Maxi] {
            for rated_a in body.ratings_a() {
                assert!(body_colour(body, rated_a).is_some(), "{body:?} {rated_a}");
            }
        }
        assert_eq!(body_colour(BladeBody::Mini, 11.0), None);
        assert_eq!(body_colour(BladeBody::Maxi, 10.0), None);
    }

    #[test]
    fn well_known_colours() {
        // ISO 8820-3, from memory; also common practice in every workshop.
        assert_eq!(body_colour(BladeBody::Mini, 10.0), Some(FuseColour::Red));
        assert_eq!(
            body_colour(BladeBody::Regular, 30.0),
            Some(FuseColour::Green)
        );
        assert_eq!(body_colour(BladeBody::Maxi, 60.0), Some(FuseColour::Blue));
    }
}

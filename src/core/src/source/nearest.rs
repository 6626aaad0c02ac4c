//! The nearest spelling among accepted words.

/// Longest word compared, in characters: nothing longer is a slip of the keys,
/// and the comparison's cost grows with the square of the length.
const LONGEST: usize = 64;

/// The word among `of` that `word` was most likely meant to be, for "did you
/// mean". Letters added, left out, changed or swapped with their neighbour
/// count one each; upper and lower case count as the same letter. Nothing comes
/// back when more than about a third of the letters differ. Of equally near
/// words the first is taken.
pub fn nearest<'a>(word: &str, of: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let letters = fold(word)?;
    let mut best: Option<(usize, &'a str)> = None;
    for candidate in of {
        let Some(other) = fold(candidate) else {
            continue;
        };
        let longer = letters.len().max(other.len());
        let allowed = (longer / 3).max(1);
        // A length apart by more than the allowed edits cannot be near.
        if longer - letters.len().min(other.len()) > allowed {
            continue;
        }
        let edits = distance(&letters, &other);
        // One edit of a one-letter word shares nothing with it.
        if edits <= allowed && edits < longer && best.is_none_or(|(least, _)| edits < least) {
            best = Some((edits, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// The letters to compare, or nothing for an empty or overlong word.
fn fold(word: &str) -> Option<Vec<char>> {
    let letters: Vec<char> = word
        .chars()
        .flat_map(char::to_lowercase)
        .take(LONGEST + 1)
        .collect();
    (!letters.is_empty() && letters.len() <= LONGEST).then_some(letters)
}

/// Optimal string alignment distance: each edit counts one, and a swapped pair
/// is not edited again.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = vec![0; b.len() + 1];
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let change = usize::from(a[i - 1] != b[j - 1]);
            let mut least = (last[j - 1] + change).min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(before[j - 2] + 1);
            }
            row[j] = least;
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

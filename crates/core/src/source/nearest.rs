//! "Did you mean": the nearest of the known words.

/// The known word nearest to `word`, if one is near enough to be a slip of the pen.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let mut best: Option<(usize, &'a str)> = None;
    for candidate in known {
        let distance = strsim::osa_distance(&word.to_lowercase(), &candidate.to_lowercase());
        let allowed = (word.chars().count().max(candidate.chars().count()) / 3).max(1);
        if distance <= allowed && best.is_none_or(|(d, _)| distance < d) {
            best = Some((distance, candidate));
        }
    }
    best.map(|(_, word)| word)
}

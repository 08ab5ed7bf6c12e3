//! Closed lines on paper, cut by straight lines.

use glam::DVec2;

/// What a closed line encloses on one side of the straight line through `at`: to the right of `along`, as pieces that
/// hang together. A point on the line counts as on that side. What is cut off is closed along the straight line.
///
/// # Valid for
/// A line that does not cross itself, in either turn.
pub(super) fn right_of(line: &[DVec2], at: DVec2, along: DVec2) -> Vec<Vec<DVec2>> {
    let off = |point: DVec2| along.perp_dot(point - at);
    let is_kept = |point: DVec2| off(point) <= 0.0;
    if line.iter().all(|&point| is_kept(point)) {
        return vec![line.to_vec()];
    }
    let crossing = |a: DVec2, b: DVec2| a.lerp(b, off(a) / (off(a) - off(b)));
    // Stretches on the wanted side, each from where the line comes in to where it goes out. One starts in the middle of
    // a stretch at most: what it has before the first crossing is the end of its last.
    let (mut chains, mut open): (Vec<Vec<DVec2>>, Option<Vec<DVec2>>) = (Vec::new(), None);
    let first_out = line.iter().position(|&point| !is_kept(point)).unwrap_or(0);
    let turned = line.iter().cycle().skip(first_out);
    for (&a, &b) in turned.clone().zip(turned.skip(1)).take(line.len()) {
        match (is_kept(a), is_kept(b)) {
            (false, true) => open = Some(vec![crossing(a, b), b]),
            (true, true) => open.iter_mut().for_each(|chain| chain.push(b)),
            (true, false) => {
                if let Some(mut chain) = open.take() {
                    chain.push(crossing(a, b));
                    chains.push(chain);
                }
            }
            (false, false) => {}
        }
    }
    joined(&chains, at, along)
}

/// Chains joined along the straight line: of its crossings in order, each stretch from an odd to the next lies inside.
fn joined(chains: &[Vec<DVec2>], at: DVec2, along: DVec2) -> Vec<Vec<DVec2>> {
    let place = |point: Option<&DVec2>| point.map_or(0.0, |point| (*point - at).dot(along));
    let ends = chains.iter().enumerate().flat_map(|(chain, points)| {
        [(place(points.first()), chain, true), (place(points.last()), chain, false)]
    });
    let mut ends: Vec<(f64, usize, bool)> = ends.collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    // From the end of a chain to the start of the one that goes on from it.
    let next = |chain: usize| {
        let of = ends.iter().position(|&(_, other, is_start)| other == chain && !is_start)?;
        ends.get(of ^ 1).filter(|(.., is_start)| *is_start).map(|&(_, other, _)| other)
    };
    let mut used = vec![false; chains.len()];
    let mut pieces = Vec::new();
    for start in 0..chains.len() {
        let (mut piece, mut here) = (Vec::new(), Some(start));
        while let Some(chain) = here
            && let Some(seen @ false) = used.get_mut(chain)
        {
            *seen = true;
            piece.extend(chains.get(chain).into_iter().flatten());
            here = next(chain);
        }
        if piece.len() > 2 {
            pieces.push(piece);
        }
    }
    pieces
}

/// What it encloses, more than nothing where it turns against the clock.
pub(super) fn signed_area(line: &[DVec2]) -> f64 {
    let sides = line.iter().zip(line.iter().cycle().skip(1));
    sides.map(|(a, b)| a.perp_dot(*b) / 2.0).sum()
}

/// The middle of the widest stretch of floor: its inside lies over it.
pub(super) fn on_the_floor(line: &[DVec2]) -> Option<DVec2> {
    let turn = signed_area(line).signum();
    let sides = line.iter().zip(line.iter().cycle().skip(1));
    let widest =
        sides.reduce(|a, b| if (b.1.x - b.0.x) * turn > (a.1.x - a.0.x) * turn { b } else { a });
    widest.map(|(a, b)| (*a + *b) / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(points: &[(f64, f64)]) -> Vec<DVec2> {
        points.iter().map(|&(x, y)| DVec2::new(x, y)).collect()
    }

    /// Two hollows 2 wide and 2 deep beside a ridge 2 wide and 1 high, in a box 6 wide and 3 high.
    fn twin() -> Vec<DVec2> {
        points(&[
            (0.0, 3.0),
            (0.0, 0.0),
            (2.0, 0.0),
            (2.0, 1.0),
            (4.0, 1.0),
            (4.0, 0.0),
            (6.0, 0.0),
            (6.0, 3.0),
        ])
    }

    fn below(line: &[DVec2], height: f64) -> Vec<Vec<DVec2>> {
        right_of(line, DVec2::new(0.0, height), DVec2::X)
    }

    #[test]
    fn below_the_ridge_there_are_two_pieces_and_above_it_one() {
        for (height, areas) in [(0.5, vec![1.0, 1.0]), (1.5, vec![7.0]), (9.0, vec![16.0])] {
            for mirrored in [false, true] {
                let mut line = twin();
                if mirrored {
                    line.reverse();
                }
                let mut found: Vec<f64> =
                    below(&line, height).iter().map(|piece| signed_area(piece).abs()).collect();
                found.sort_by(f64::total_cmp);
                assert_eq!(found.len(), areas.len(), "{height}");
                let near = found.iter().zip(&areas).all(|(a, b)| (a - b).abs() < 1e-12);
                assert!(near, "{height}: {found:?}");
            }
        }
        assert!(below(&twin(), -1.0).is_empty());
    }

    #[test]
    fn an_upright_line_parts_a_piece_in_two() {
        let pool = &below(&twin(), 1.5)[0];
        let at = DVec2::new(3.0, 0.0);
        for along in [DVec2::Y, -DVec2::Y] {
            let piece = right_of(pool, at, along);
            assert_eq!(piece.len(), 1);
            assert!((signed_area(&piece[0]).abs() - 3.5).abs() < 1e-12);
        }
    }

    #[test]
    fn the_floor_of_a_pool_is_its_widest_lower_side() {
        let pool = &below(&twin(), 0.5)[0];
        let floor = on_the_floor(pool).expect("a floor");
        assert!(floor.y.abs() < 1e-12 && (floor.x - 1.0).abs() % 4.0 < 1e-12, "{floor}");
    }
}

//! What convex blocks take up of the pools they hang in.

use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

use super::flood::Flooded;
use super::{DrainError, Pool};
use crate::mesh::Mesh;
use crate::surface::{Below, Surface};

/// Adds what each block takes up to the pool that its lowest corner stands in.
pub(super) fn displace(
    interior: &Surface,
    blocks: &[Mesh],
    flooded: &Flooded,
    pools: &mut [Pool],
) -> Result<(), DrainError> {
    for (number, mesh) in blocks.iter().enumerate() {
        let unsound = |_| DrainError::BlockUnsound { block: number };
        let block = Surface::new(mesh, interior.up).map_err(unsound)?;
        let outside = DrainError::BlockOutside { block: number };
        let (lowest, height) = lowest(&block).ok_or(outside)?;
        let Below::Floor(face) = interior.below(lowest) else { return Err(outside) };
        let Some((pool, level)) = flooded.pool_at(interior, face) else { continue };
        if height < level
            && let Some(pool) = pools.get_mut(pool)
        {
            let wet: f64 = (0..block.faces.len()).map(|face| block.volume_below(face, level)).sum();
            let wet = Volume::new::<cubic_meter>(wet);
            pool.displaced_most += wet;
            if wet_points(&block, level).all(|point| is_inside(interior, point)) {
                pool.displaced_least += wet;
            }
        }
    }
    Ok(())
}

fn lowest(block: &Surface) -> Option<(DVec3, f64)> {
    let corners = block.points.iter().copied().zip(block.heights.iter().copied());
    corners.min_by(|(_, one), (_, other)| one.total_cmp(other))
}

/// The corners of the block's wet part: its own that lie below the level, and where its edges cross it.
fn wet_points(block: &Surface, level: f64) -> impl Iterator<Item = DVec3> + '_ {
    let height = move |point: DVec3| block.up.dot(point) - level;
    (0..block.faces.len()).flat_map(move |face| {
        let [a, b, c] = block.corners(face);
        [(a, b), (b, c), (c, a)].into_iter().filter_map(move |(from, to)| {
            let (start, end) = (height(from), height(to));
            if start < 0.0 {
                Some(from)
            } else if end < 0.0 {
                Some(from.lerp(to, start / (start - end)))
            } else {
                None
            }
        })
    })
}

fn is_inside(interior: &Surface, point: DVec3) -> bool {
    matches!(interior.below(point), Below::Floor(_))
}

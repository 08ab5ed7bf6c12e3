//! Closed bodies for the tests: floors over a grid, and bodies of cubes.

use std::collections::{BTreeMap, BTreeSet};

use glam::{DQuat, DVec3};

use crate::mesh::Mesh;

/// A floor over a grid of `xs` by `ys`, height `floor[j][i]`, with upright walls up to a flat lid. Each cell is cut
/// from (i, j) to (i + 1, j + 1).
pub(crate) fn terrain(xs: &[f64], ys: &[f64], floor: &[Vec<f64>], lid: f64) -> Mesh {
    let (wide, deep) = (xs.len(), ys.len());
    let mut mesh = Mesh::default();
    for layer in 0..2 {
        for (j, y) in ys.iter().enumerate() {
            for (i, x) in xs.iter().enumerate() {
                let z = if layer == 0 { floor[j][i] } else { lid };
                mesh.points.push(DVec3::new(*x, *y, z));
            }
        }
    }
    let at = |layer: usize, i: usize, j: usize| {
        u32::try_from(layer * wide * deep + j * wide + i).unwrap()
    };
    for j in 0..deep - 1 {
        for i in 0..wide - 1 {
            for (layer, turned) in [(0, true), (1, false)] {
                let (a, b) = (at(layer, i, j), at(layer, i + 1, j));
                let (c, d) = (at(layer, i + 1, j + 1), at(layer, i, j + 1));
                mesh.faces.extend(if turned {
                    [[a, c, b], [a, d, c]]
                } else {
                    [[a, b, c], [a, c, d]]
                });
            }
        }
    }
    let south = (0..wide - 1).map(|i| (i, 0));
    let east = (0..deep - 1).map(|j| (wide - 1, j));
    let north = (1..wide).rev().map(|i| (i, deep - 1));
    let west = (1..deep).rev().map(|j| (0, j));
    let rim: Vec<_> = south.chain(east).chain(north).chain(west).collect();
    for (k, &(i, j)) in rim.iter().enumerate() {
        let (next_i, next_j) = rim[(k + 1) % rim.len()];
        let (a, b) = (at(0, i, j), at(0, next_i, next_j));
        let (c, d) = (at(1, next_i, next_j), at(1, i, j));
        mesh.faces.extend([[a, b, c], [a, c, d]]);
    }
    mesh
}

/// A floor of the profile `(x, z)` drawn out over the width.
pub(crate) fn trough(profile: &[(f64, f64)], width: f64, lid: f64) -> Mesh {
    let xs: Vec<f64> = profile.iter().map(|(x, _)| *x).collect();
    let row: Vec<f64> = profile.iter().map(|(_, z)| *z).collect();
    terrain(&xs, &[0.0, width], &[row.clone(), row], lid)
}

/// A box between two corners.
pub(crate) fn cuboid(low: DVec3, high: DVec3) -> Mesh {
    let row = vec![low.z; 2];
    terrain(&[low.x, high.x], &[low.y, high.y], &[row.clone(), row], high.z)
}

/// The body with a block cut out of its middle, as one mesh of two surfaces.
pub(crate) fn with_void(body: &Mesh, block: &Mesh) -> Mesh {
    let mut mesh = body.clone();
    let shift = u32::try_from(mesh.points.len()).unwrap();
    mesh.points.extend(&block.points);
    mesh.faces.extend(block.faces.iter().map(|[a, b, c]| [a + shift, c + shift, b + shift]));
    mesh
}

pub(crate) fn turned(mesh: &Mesh, turn: DQuat, shift: DVec3) -> Mesh {
    let points = mesh.points.iter().map(|point| turn * *point + shift).collect();
    Mesh { points, faces: mesh.faces.clone() }
}

/// Cubes of side 1 by the place of their lowest corner.
pub(crate) type Cubes = BTreeSet<[i32; 3]>;

pub(crate) const SIDES: [[i32; 3]; 6] =
    [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]];

pub(crate) fn step([x, y, z]: [i32; 3], [dx, dy, dz]: [i32; 3]) -> [i32; 3] {
    [x + dx, y + dy, z + dz]
}

/// The surface of a body of cubes.
pub(crate) fn surface_of(cubes: &Cubes) -> Mesh {
    let mut mesh = Mesh::default();
    let mut number = BTreeMap::new();
    for cube in cubes {
        for side in SIDES.iter().filter(|side| !cubes.contains(&step(*cube, **side))) {
            let axis = side.iter().position(|part| *part != 0).unwrap();
            let (mut one, mut other) = ([0; 3], [0; 3]);
            one[(axis + 1) % 3] = 1;
            other[(axis + 2) % 3] = 1;
            let mut start = *cube;
            if side[axis] > 0 {
                start[axis] += 1;
            } else {
                (one, other) = (other, one);
            }
            let corners =
                [start, step(start, one), step(step(start, one), other), step(start, other)];
            let [a, b, c, d] = corners.map(|corner| {
                *number.entry(corner).or_insert_with(|| {
                    mesh.points.push(DVec3::from(corner.map(f64::from)));
                    u32::try_from(mesh.points.len() - 1).unwrap()
                })
            });
            mesh.faces.extend([[a, b, c], [a, c, d]]);
        }
    }
    mesh
}

/// Adds cubes until no two touch along an edge or at a corner only, where a surface joins what oil cannot pass.
pub(crate) fn without_pinches(mut cubes: Cubes, size: i32) -> Cubes {
    loop {
        let missing = places(size + 1).find_map(|corner| pinch_at(&cubes, corner));
        match missing {
            Some(cube) => cubes.insert(cube),
            None => return cubes,
        };
    }
}

pub(crate) fn places(size: i32) -> impl Iterator<Item = [i32; 3]> {
    (0..size).flat_map(move |x| (0..size).flat_map(move |y| (0..size).map(move |z| [x, y, z])))
}

/// A cube to add among the eight around a corner, if the ones that are there do not join by their sides, or if two
/// of a square stand across from each other alone.
fn pinch_at(cubes: &Cubes, corner: [i32; 3]) -> Option<[i32; 3]> {
    let eight: Vec<_> = places(2).map(|place| step(corner, place.map(|part| part - 1))).collect();
    let there: Cubes = eight.iter().filter(|cube| cubes.contains(*cube)).copied().collect();
    let crossed = (0..3).any(|axis| {
        [0, -1].iter().any(|layer| {
            let square: Vec<_> =
                eight.iter().filter(|cube| cube[axis] == corner[axis] + layer).collect();
            let full: Vec<_> = square.iter().map(|cube| cubes.contains(*cube)).collect();
            full == [true, false, false, true] || full == [false, true, true, false]
        })
    });
    let joined = there.first().is_none_or(|start| reached(&there, *start).len() == there.len());
    let absent = eight.iter().find(|cube| !cubes.contains(*cube)).copied();
    if crossed || !joined { absent } else { None }
}

/// The cubes joined by sides with `start`.
pub(crate) fn reached(cubes: &Cubes, start: [i32; 3]) -> Cubes {
    let mut found = Cubes::from([start]);
    let mut open = vec![start];
    while let Some(cube) = open.pop() {
        for next in SIDES.map(|side| step(cube, side)) {
            if cubes.contains(&next) && found.insert(next) {
                open.push(next);
            }
        }
    }
    found
}

//! The same bits from the registers of every machine.

use super::deep_pan;
use super::rounds::ball;
use crate::level::Body;
use crate::level::plane::Plane;
use crate::level::slab::Slab;
use crate::level::sums::Held;
use crate::level::tree::Trail;
use fearless_simd::Level;
use glam::DVec3;

/// The narrowest that this program can run on, then what this machine has beyond it.
fn registers() -> Vec<Level> {
    let best = Level::new();
    #[cfg_attr(not(target_arch = "x86_64"), expect(unused_mut, reason = "one kind there"))]
    let mut all = vec![Level::baseline(), best];
    #[cfg(target_arch = "x86_64")]
    {
        use fearless_simd::Simd;
        all.extend(best.as_sse4_2().map(Simd::level));
        all.extend(best.as_avx2().map(Simd::level));
    }
    all
}

fn bits(held: Held) -> [u64; 2] {
    [held.volume.to_bits(), held.surface.to_bits()]
}

/// All that is read of a body at a plane, bit by bit.
fn told(body: &Body, plane: &Plane) -> Vec<u64> {
    let (mut trail, mut slab) = (Trail::default(), Slab::default());
    let mut told = body.reach(plane).map(f64::to_bits).to_vec();
    told.extend(bits(body.below(plane, &mut trail)));
    told.extend(
        [0.002, 0.02, 0.2].into_iter().flat_map(|limit| bits(body.about(plane, limit, &mut trail))),
    );
    slab.clear(plane);
    body.add_slab(plane, 0.7, &mut trail, &mut slab);
    told.extend([-0.5, 0.0, 0.3].into_iter().flat_map(|part| bits(slab.held(part * plane.width))));
    told
}

#[test]
fn every_machine_reads_the_same() {
    let kinds = registers();
    for mesh in [deep_pan().mesh(), &ball(0.1, 40)] {
        let body = Body::new(mesh).unwrap();
        for step in 0..200_u32 {
            let turn = f64::from(step);
            let up =
                DVec3::new(libm::sin(turn) * 0.6, libm::cos(turn * 1.7) * 0.5, 1.0).normalize();
            let height = -0.12 + 0.001 * turn;
            let width = [0.0, 1e-6, 1e-4, 3e-3][(step % 4) as usize];
            let mut plane = Plane::new(up, height, width);
            plane.registers = kinds[0];
            let first = told(&body, &plane);
            for &registers in &kinds[1..] {
                plane.registers = registers;
                assert_eq!(first, told(&body, &plane), "{registers:?} at {plane:?}");
            }
        }
    }
}

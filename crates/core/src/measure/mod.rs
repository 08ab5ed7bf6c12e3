//! The measures: a scene in, a reading or a reason why there is none out.
//! A measure never looks at a limit, a rule or another measure's result.
//!
//! One file a measure, one line here: the macro declares the module and lists what it holds, so that neither can
//! be forgotten.

mod spec;

pub use crate::reading::{Bounds, Outcome, Sample, StateValue, Unknown, Worst};
pub use spec::{ObjectKind, Spec, find};

macro_rules! measures {
    ($($module:ident,)*) => {
        $(mod $module;)*

        /// All measures, by name.
        pub const MEASURES: &[Spec] = &[$($module::SPEC,)*];
    };
}

measures! {
    baffle_area,
    baffle_lowest_opening,
    baffle_opening_area,
    drain_axis_to_fins,
    drain_beside_hole,
    drain_boss,
    drain_emptying_time,
    drain_engaged,
    drain_full_engagement,
    drain_lowest_depth,
    drain_preload,
    drain_residual,
    drain_residual_share,
    drain_ring_yield,
    drain_seat_stress,
    drain_shadow_angle,
    drain_spanner,
    drain_spanner_room,
    drain_strip_force,
    drain_taper,
    drain_thread_diameter,
    drain_to_inlet,
    drain_to_magnet,
    drain_to_rail,
    duty_strike_force,
    fin_best_spacing,
    fin_efficiency,
    fin_floor_stress,
    fin_height,
    fin_process_minimum,
    fin_root,
    fin_root_stress,
    fin_root_to_wall,
    fin_spacing,
    fin_tip,
    fin_tip_deflection,
    flange_bolt_pitch,
    flange_pitch_in_rail_lengths,
    flange_thickness,
    gasket_crushes_at,
    gasket_seats_at,
    gasket_squeeze,
    gasket_stress_at_bolt,
    gasket_stress_midway,
    ground_breakover_angle,
    ground_breakover_over_tyres,
    ground_clearance,
    heat_fins_gain,
    heat_oil_drop,
    heat_oil_side_share,
    heat_shed_bare,
    heat_shed_least,
    heat_shed_most,
    heat_shed_still,
    heat_surface_efficiency,
    heat_time_constant,
    interior_deepest,
    interior_volume,
    joint_galvanic_step,
    joint_growth,
    joint_hole_room,
    joint_preload,
    joint_proof_force,
    joint_strip_force,
    material_yield,
    neighbour_gap,
    oil_level,
    oil_litres_at_check,
    oil_litres_below_inlet,
    oil_usable_litres,
    pan_lowest_depth,
    pickup_curtain_area,
    pickup_floor_gap,
    pickup_inlet_area,
    pickup_inlet_diameter,
    pickup_inlet_velocity,
    pickup_rim_depth,
    pickup_wall_distance,
    rotating_gap,
    skid_deflection,
    skid_gap,
    skid_gap_at_rest,
    wall_floor_thickness,
    wall_least_corner,
    wall_least_draft,
    wall_process_minimum,
    wall_side_thickness,
}

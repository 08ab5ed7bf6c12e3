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
    drain_boss,
    drain_engaged,
    drain_lowest_depth,
    drain_residual,
    drain_residual_share,
    drain_thread_diameter,
    duty_strike_force,
    fin_height,
    fin_process_minimum,
    fin_root,
    fin_root_stress,
    fin_spacing,
    fin_tip,
    ground_breakover_angle,
    ground_clearance,
    interior_deepest,
    interior_volume,
    material_yield,
    oil_fill_margin,
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
    pickup_least_acceleration,
    pickup_least_tilt,
    pickup_log_least_rim_depth,
    pickup_log_longest_spell,
    pickup_log_time_uncovered,
    pickup_rim_depth,
    pickup_tilt_margin,
    pickup_wall_distance,
    rotating_gap,
    skid_gap,
    skid_gap_at_rest,
    wall_floor_thickness,
    wall_process_minimum,
    wall_side_thickness,
}

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
    air_smallest_bubble,
    air_stiffness_share,
    baffle_area,
    baffle_freeboard,
    baffle_lowest_opening,
    baffle_opening_area,
    baffle_opening_head,
    baffle_opening_over_inlet,
    baffle_opening_share,
    baffle_opening_velocity,
    drain_boss,
    drain_engaged,
    drain_lowest_depth,
    drain_residual,
    drain_residual_share,
    drain_thread_diameter,
    duty_hottest_oil,
    duty_hump_frequency,
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
    level_cold_above_rail,
    level_hot_above_rail,
    level_hot_rise,
    level_per_litre,
    level_standing_rise,
    material_yield,
    motion_damping,
    motion_first_peak,
    motion_frequency_across,
    motion_frequency_across_open,
    motion_frequency_along,
    motion_frequency_along_open,
    motion_hold_time,
    motion_refill_surplus,
    motion_short_states,
    motion_sloshing_share,
    motion_static_rise,
    oil_cold_viscosity,
    oil_expansion,
    oil_expansion_by_density,
    oil_hot_conductivity,
    oil_hot_density,
    oil_hot_heat_capacity,
    oil_hot_viscosity,
    oil_level,
    oil_litres_at_check,
    oil_litres_below_inlet,
    oil_share_below_inlet,
    oil_turnover_time,
    oil_usable_litres,
    oil_usable_share,
    oil_viscosity_at_100,
    pan_lowest_depth,
    pickup_curtain_area,
    pickup_curtain_over_inlet,
    pickup_curtain_velocity,
    pickup_floor_gap,
    pickup_froude,
    pickup_gap_over_bore,
    pickup_inlet_area,
    pickup_inlet_diameter,
    pickup_inlet_velocity,
    pickup_reynolds,
    pickup_rim_depth,
    pickup_vortex_depth,
    pickup_vortex_margin,
    pickup_wall_distance,
    pickup_wall_over_bore,
    rotating_gap,
    rotating_gap_standing,
    skid_gap,
    skid_gap_at_rest,
    suction_cold_flow,
    suction_cold_pressure,
    suction_cold_start_flow,
    suction_limit,
    suction_line_velocity,
    suction_pressure,
    wall_floor_thickness,
    wall_process_minimum,
    wall_side_thickness,
}

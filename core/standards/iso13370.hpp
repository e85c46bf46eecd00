// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/standards/outside_standard.hpp"

/// ISO 13370:2017, heat flow through floors and the ground. Formulas from memory in the naming of the 2017 text, to be
/// confirmed in the standard. Lengths m, conductivities W/(m·K), resistances m²·K/W, transmittances W/(m²·K), psi W/(m·K).
/// Every function throws OutsideStandard for values that are not finite or outside the stated range.
namespace wallfoot::iso13370 {

/// B = A/(0.5·P). P counts only edges towards outside or an unheated space. Both > 0.
double characteristic_dimension(double area_m2, double exposed_perimeter_m);

/// d_f = d_w,e + λ_g·(R_si + R_f + R_se); d_w,e the full thickness of the walls; a dense slab and thin finishes may be left
/// out of R_f, hardcore counts as soil.
double equivalent_thickness(double wall_thickness_m, double ground_conductivity, double inside_surface,
                            double floor_resistance, double outside_surface);

/// U of a slab on ground without edge insulation: d_f < B: (2λ_g/(πB + d_f))·ln(πB/d_f + 1), else λ_g/(0.457·B + d_f).
double slab_transmittance(double characteristic_dimension_m, double equivalent_thickness_m, double ground_conductivity);

/// Strip of insulation along the edge of the slab.
struct EdgeInsulation {
    double thickness_m = 0;
    double conductivity = 0;
    double width_m = 0;  ///< D: width of a horizontal strip, depth of a vertical one
    bool vertical = false;
};
/// d′ = (R_n − d_n/λ_g)·λ_g: what the strip adds to the equivalent thickness, m.
double additional_equivalent_thickness(const EdgeInsulation& edge, double ground_conductivity);
/// ψ_ge = −(λ_g/π)·[ln(D/d_f + 1) − ln(D/(d_f + d′) + 1)], for a vertical strip with 2D (annex B). Negative.
/// Not to be applied again where a section that was solved already contains the strip.
double edge_psi(const EdgeInsulation& edge, double equivalent_thickness_m, double ground_conductivity);
/// U = U_0 + 2ψ_ge/B.
double slab_transmittance_with_edge(double slab_transmittance, double edge_psi, double characteristic_dimension_m);

/// H_g = A·U + P·ψ_wf, W/K.
double ground_heat_transfer(double area_m2, double transmittance, double exposed_perimeter_m, double wall_floor_psi);

/// δ = √(3.15·10⁷·λ/(π·ρc)), m, for a year; heat capacity by volume J/(m³·K).
double periodic_depth(double ground_conductivity, double heat_capacity_J_per_m3K);

/// Heat flow through a year, θ about its mean, from memory: H_pi for a swing of the inside, H_pe for one of the outside, W/K, and
/// their phases in months. Slab on ground: H_pi = A·(λ/d_f)·√(2/((1 + δ/d_f)² + 1)), H_pe = 0.37·P·λ·ln(δ/d_f + 1).
double periodic_inside_slab(double area_m2, double ground_conductivity, double equivalent_thickness_m, double periodic_depth_m);
double periodic_outside_slab(double exposed_perimeter_m, double ground_conductivity, double equivalent_thickness_m, double periodic_depth_m);
/// With insulation along the edge: H_pe = 0.37·P·λ·[(1 − e^(−D/δ))·ln(δ/(d_f + d′) + 1) + e^(−D/δ)·ln(δ/d_f + 1)]; 2D for D where it
/// is vertical.
double periodic_outside_edge(double exposed_perimeter_m, double ground_conductivity, double equivalent_thickness_m, const EdgeInsulation& edge, double periodic_depth_m);
/// α = 1.5 − (12/2π)·arctan(d_f/(d_f + δ)): months by which the flow comes before the inside. β = 1.5 − 0.42·ln(δ/(d_f + 1)): months
/// by which it comes after the outside.
double periodic_lead(double equivalent_thickness_m, double periodic_depth_m);
double periodic_lag(double equivalent_thickness_m, double periodic_depth_m);

/// A heated basement: floor and walls below ground.
struct Basement {
    double characteristic_dimension_m = 0;   ///< B
    double depth_m = 0;                      ///< z, of the floor surface below outside ground, > 0
    double floor_equivalent_thickness_m = 0; ///< d_f
    double wall_equivalent_thickness_m = 0;  ///< d_w,b = λ·(R_si + R_w + R_se)
};
/// d_f + z/2 < B: U = (2λ/(πB + d_f + z/2))·ln(πB/(d_f + z/2) + 1), else λ/(0.457·B + d_f + z/2).
double basement_floor_transmittance(const Basement& basement, double ground_conductivity);
/// U = (2λ/(πz))·(1 + 0.5·d_f/(d_f + z))·ln(z/d_w,b + 1), with d_w,b in the place of d_f where it is the smaller.
double basement_wall_transmittance(const Basement& basement, double ground_conductivity);
/// U′ = (A·U_floor + z·P·U_wall)/(A + z·P), of everything that touches ground.
double basement_effective_transmittance(double area_m2, double exposed_perimeter_m, double depth_m, double floor_transmittance, double wall_transmittance);
/// H_pe = 0.37·P·λ·[e^(−z/δ)·ln(δ/d_f + 1) + 2·(1 − e^(−z/δ))·ln(δ/d_w,b + 1)].
double periodic_outside_basement(double exposed_perimeter_m, const Basement& basement, double ground_conductivity, double periodic_depth_m);

/// Floor over a ventilated void.
struct SuspendedFloor {
    double floor_transmittance = 0;         ///< U_f, between the room and the void, W/(m²·K)
    double characteristic_dimension_m = 0;  ///< B
    double wall_thickness_m = 0;            ///< d_w
    double ground_insulation = 0;           ///< R_g on the bottom of the void, m²·K/W
    double inside_surface = 0.17, outside_surface = 0.04;  ///< m²·K/W, of the ground of the void
    double height_m = 0;                    ///< h, of the floor above outside ground
    double wall_transmittance = 0;          ///< U_w, of the walls of the void above ground, W/(m²·K)
    double openings_m2_per_m = 0;           ///< ε, ventilation openings per metre of perimeter
    double wind_m_per_s = 0;                ///< v, at 10 m
    double wind_shield = 0.05;              ///< f_w: sheltered 0.02, average 0.05, exposed 0.10
};
/// 1/U = 1/U_f + 1/(U_g + U_x), U_x = 2hU_w/B + 1450·ε·v·f_w/B; U_g by the slab's first formula with
/// d_g = d_w + λ_g·(R_si + R_g + R_se).
double suspended_floor_transmittance(const SuspendedFloor& floor, double ground_conductivity);

}  // namespace wallfoot::iso13370

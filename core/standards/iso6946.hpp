// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/standards/direction.hpp"
#include "core/standards/outside_standard.hpp"

/// ISO 6946:2017, thermal resistance and transmittance of plane elements. Formulas and tables from memory, to be
/// confirmed in the standard. Resistances m²·K/W, thicknesses m, conductivities W/(m·K), transmittances W/(m²·K).
/// Every function throws OutsideStandard for values that are not finite or outside the stated range.
namespace wallfoot::iso6946 {

/// R_si by direction of the heat flow: up 0.10, horizontal 0.13, down 0.17 (6.8, table 7; from memory).
double inside_surface_resistance(Direction direction);
/// R_se, the same for every direction (6.8, table 7; from memory).
constexpr double outside_surface_resistance = 0.04;

/// R = d/λ of one homogeneous layer (6.7.1.1). thickness_m ≥ 0, conductivity > 0.
double layer_resistance(double thickness_m, double conductivity);
/// R_T = R_si + ΣR + R_se of plane homogeneous layers (6.7.1.2). All ≥ 0.
double total_resistance(double inside_surface, const std::vector<double>& layers, double outside_surface);
/// U = 1/R_T (6.5). total_resistance > 0.
double transmittance(double total_resistance);

/// Airspaces thicker than this are rooms, not layers (6.9; from memory).
constexpr double thickest_airspace_m = 0.3;
/// Resistance of an unventilated airspace between faces of high emissivity, linear between the lines of the table
/// (6.9.2, table 8; from memory). 0 ≤ thickness_m ≤ 0.3.
double unventilated_airspace_resistance(double thickness_m, Direction direction);

enum class Ventilation { unventilated, slightly, well };
/// By area of openings, mm² per metre of length for vertical and per m² of surface for horizontal airspaces (6.9.2 to
/// 6.9.4; from memory): up to 500 unventilated, from 1500 well ventilated.
Ventilation airspace_ventilation(double openings_mm2);
/// R_T of an element with an airspace: R_T,u and R_T,v weighted by the openings (6.9.3; from memory).
/// well_ventilated: R_T without the airspace and all that lies outside it, with R_se = the R_si of the same direction (6.9.4).
double ventilated_total_resistance(double unventilated, double well_ventilated, double openings_mm2);

/// A share of a layer, by area across the heat flow.
struct Part {
    double fraction = 0;      ///< > 0
    double conductivity = 0;  ///< W/(m·K), > 0
    bool metal = false;       ///< metal beside anything else in a layer: outside the method
};
/// A layer with parts side by side; their fractions add up to 1.
struct MixedLayer {
    double thickness_m = 0;  ///< > 0
    std::vector<Part> parts;
};
struct CombinedResistance {
    double upper = 0;           ///< R′, parallel paths through the whole element
    double lower = 0;           ///< R″, every layer evened out first
    double total = 0;           ///< R_T = (R′ + R″)/2
    double relative_error = 0;  ///< e = (R′ − R″)/(2·R_T)
};
/// Greatest R′/R″ of the combined method (6.7.2; from memory).
constexpr double combined_ratio_limit = 1.5;
/// Combined method for inhomogeneous layers (6.7.2; from memory). The upper limit takes every combination of the parts
/// of the layers, as for patterns that do not depend on each other; draw what is aligned as one layer's parts.
/// Throws OutsideStandard "combined-method-ratio" for R′/R″ > 1.5, "combined-method-metal" for metal beside another
/// material, "fractions-not-one", "combined-method-paths" for more than 10 000 combinations.
CombinedResistance combined_method(double inside_surface, const std::vector<MixedLayer>& layers, double outside_surface);

/// Ties or screws through an insulation layer.
struct Fixings {
    double conductivity = 0;            ///< W/(m·K)
    double section_area_m2 = 0;         ///< of one fixing
    double per_m2 = 0;                  ///< number per m²
    double insulation_thickness_m = 0;  ///< d_0
    double length_in_insulation_m = 0;  ///< d_1; d_0 when fully through, longer when slanted
    bool across_empty_cavity = false;   ///< then there is no correction
};
/// ΔU_f = α·λ_f·A_f·n_f/d_0·(R_1/R_T)², α = 0.8·d_1/d_0, which is 0.8 for a fixing straight through
/// (annex F.3; from memory). No correction across an empty cavity or for λ_f < 1.
double fixings_correction(const Fixings& fixings, double insulation_resistance, double total_resistance);

/// ΔU_g = ΔU″·(R_1/R_T)², ΔU″ = 0, 0.01, 0.04 for level 0, 1, 2 (annex F.2; from memory).
double air_gap_correction(int level, double insulation_resistance, double total_resistance);

/// U + ΔU; corrections that together are less than 3 % of U are left out (annex F.1; from memory).
double corrected_transmittance(double transmittance, double corrections);

}  // namespace wallfoot::iso6946

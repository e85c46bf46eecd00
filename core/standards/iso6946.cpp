// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso6946.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace wallfoot::iso6946 {

namespace {

struct AirspaceLine {
    double thickness_m, up, horizontal, down;
};
// Table 8, faces of high emissivity; from memory.
constexpr std::array<AirspaceLine, 9> airspace_table = {{{0.000, 0.00, 0.00, 0.00},
                                                         {0.005, 0.11, 0.11, 0.11},
                                                         {0.007, 0.13, 0.13, 0.13},
                                                         {0.010, 0.15, 0.15, 0.15},
                                                         {0.015, 0.16, 0.17, 0.17},
                                                         {0.025, 0.16, 0.18, 0.19},
                                                         {0.050, 0.16, 0.18, 0.21},
                                                         {0.100, 0.16, 0.18, 0.22},
                                                         {0.300, 0.16, 0.18, 0.23}}};

double by_direction(const AirspaceLine& line, Direction direction) {
    switch (direction) {
        case Direction::up: return line.up;
        case Direction::down: return line.down;
        case Direction::horizontal: break;
    }
    return line.horizontal;
}

constexpr double unventilated_to_mm2 = 500, well_ventilated_from_mm2 = 1500;

void check_layer(const MixedLayer& layer) {
    require_above_zero("thickness", layer.thickness_m);
    double sum = 0;
    for (const Part& part : layer.parts) {
        require_above_zero("fraction", part.fraction);
        require_above_zero("conductivity", part.conductivity);
        sum += part.fraction;
    }
    if (std::abs(sum - 1) > 1e-9) throw OutsideStandard("fractions-not-one", {{"sum", shown(sum)}});
    const bool metal = std::any_of(layer.parts.begin(), layer.parts.end(), [](const Part& p) { return p.metal; });
    const bool other = std::any_of(layer.parts.begin(), layer.parts.end(), [](const Part& p) { return !p.metal; });
    if (metal && other) throw OutsideStandard("combined-method-metal", {});
}

/// Σ f/R over every path from layer `next` inwards; each path carries its share and the resistance so far.
double path_conductance(const std::vector<MixedLayer>& layers, std::size_t next, double share, double resistance) {
    if (next == layers.size()) return share / resistance;
    double sum = 0;
    for (const Part& part : layers[next].parts)
        sum += path_conductance(layers, next + 1, share * part.fraction,
                                resistance + layers[next].thickness_m / part.conductivity);
    return sum;
}

}  // namespace

double inside_surface_resistance(Direction direction) {
    switch (direction) {
        case Direction::up: return 0.10;
        case Direction::down: return 0.17;
        case Direction::horizontal: break;
    }
    return 0.13;
}

double layer_resistance(double thickness_m, double conductivity) {
    require_not_below_zero("thickness", thickness_m);
    require_above_zero("conductivity", conductivity);
    return thickness_m / conductivity;
}

double total_resistance(double inside_surface, const std::vector<double>& layers, double outside_surface) {
    require_not_below_zero("resistance", inside_surface);
    require_not_below_zero("resistance", outside_surface);
    double sum = inside_surface;
    for (double layer : layers) {
        require_not_below_zero("resistance", layer);
        sum += layer;
    }
    return sum + outside_surface;
}

double transmittance(double total_resistance) {
    require_above_zero("resistance", total_resistance);
    return 1 / total_resistance;
}

double unventilated_airspace_resistance(double thickness_m, Direction direction) {
    require_within("thickness", thickness_m, 0, thickest_airspace_m);
    const auto above = std::find_if(airspace_table.begin() + 1, airspace_table.end(),
                                    [&](const AirspaceLine& line) { return thickness_m <= line.thickness_m; });
    const auto below = above - 1;
    const double share = (thickness_m - below->thickness_m) / (above->thickness_m - below->thickness_m);
    return std::lerp(by_direction(*below, direction), by_direction(*above, direction), share);
}

Ventilation airspace_ventilation(double openings_mm2) {
    require_not_below_zero("openings", openings_mm2);
    if (openings_mm2 <= unventilated_to_mm2) return Ventilation::unventilated;
    return openings_mm2 < well_ventilated_from_mm2 ? Ventilation::slightly : Ventilation::well;
}

double ventilated_total_resistance(double unventilated, double well_ventilated, double openings_mm2) {
    require_above_zero("resistance", unventilated);
    require_above_zero("resistance", well_ventilated);
    switch (airspace_ventilation(openings_mm2)) {
        case Ventilation::unventilated: return unventilated;
        case Ventilation::well: return well_ventilated;
        case Ventilation::slightly: break;
    }
    const double span = well_ventilated_from_mm2 - unventilated_to_mm2;
    return (well_ventilated_from_mm2 - openings_mm2) / span * unventilated +
           (openings_mm2 - unventilated_to_mm2) / span * well_ventilated;
}

CombinedResistance combined_method(double inside_surface, const std::vector<MixedLayer>& layers,
                                   double outside_surface) {
    require_not_below_zero("resistance", inside_surface);
    require_not_below_zero("resistance", outside_surface);
    const double films = inside_surface + outside_surface;
    double paths = 1;
    CombinedResistance result{.lower = films};
    for (const MixedLayer& layer : layers) {
        check_layer(layer);
        paths *= static_cast<double>(layer.parts.size());
        double conductivity = 0;
        for (const Part& part : layer.parts) conductivity += part.fraction * part.conductivity;
        result.lower += layer.thickness_m / conductivity;
    }
    require_above_zero("resistance", result.lower);
    if (paths > 10'000) throw OutsideStandard("combined-method-paths", {{"paths", shown(paths)}});
    result.upper = 1 / path_conductance(layers, 0, 1, films);
    if (result.upper / result.lower > combined_ratio_limit)
        throw OutsideStandard("combined-method-ratio",
                              {{"ratio", shown(result.upper / result.lower)}, {"limit", shown(combined_ratio_limit)}});
    result.total = (result.upper + result.lower) / 2;
    result.relative_error = (result.upper - result.lower) / (2 * result.total);
    return result;
}

double fixings_correction(const Fixings& fixings, double insulation_resistance, double total_resistance) {
    require_above_zero("conductivity", fixings.conductivity);
    require_not_below_zero("area", fixings.section_area_m2);
    require_not_below_zero("number", fixings.per_m2);
    require_above_zero("thickness", fixings.insulation_thickness_m);
    require_not_below_zero("length", fixings.length_in_insulation_m);
    require_above_zero("resistance", total_resistance);
    require_within("resistance", insulation_resistance, 0, total_resistance);
    if (fixings.across_empty_cavity || fixings.conductivity < 1) return 0;
    const double d0 = fixings.insulation_thickness_m;
    const double alpha = 0.8 * fixings.length_in_insulation_m / d0;
    const double share = insulation_resistance / total_resistance;
    return alpha * fixings.conductivity * fixings.section_area_m2 * fixings.per_m2 / d0 * share * share;
}

double air_gap_correction(int level, double insulation_resistance, double total_resistance) {
    require_within("level", level, 0, 2);
    require_above_zero("resistance", total_resistance);
    require_within("resistance", insulation_resistance, 0, total_resistance);
    constexpr std::array<double, 3> by_level = {0.0, 0.01, 0.04};
    const double share = insulation_resistance / total_resistance;
    return by_level[static_cast<std::size_t>(level)] * share * share;
}

double corrected_transmittance(double transmittance, double corrections) {
    require_above_zero("transmittance", transmittance);
    require_not_below_zero("correction", corrections);
    return corrections < 0.03 * transmittance ? transmittance : transmittance + corrections;
}

}  // namespace wallfoot::iso6946

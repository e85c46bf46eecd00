// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso13370.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace wallfoot::iso13370 {

using std::numbers::pi;

namespace {

double logarithmic_transmittance(double b, double d, double lambda) {
    return 2 * lambda / (pi * b + d) * std::log(pi * b / d + 1);
}

}  // namespace

double characteristic_dimension(double area_m2, double exposed_perimeter_m) {
    require_above_zero("area", area_m2);
    require_above_zero("perimeter", exposed_perimeter_m);
    return area_m2 / (0.5 * exposed_perimeter_m);
}

double equivalent_thickness(double wall_thickness_m, double ground_conductivity, double inside_surface,
                            double floor_resistance, double outside_surface) {
    require_not_below_zero("thickness", wall_thickness_m);
    require_above_zero("conductivity", ground_conductivity);
    for (double resistance : {inside_surface, floor_resistance, outside_surface})
        require_not_below_zero("resistance", resistance);
    return wall_thickness_m + ground_conductivity * (inside_surface + floor_resistance + outside_surface);
}

double slab_transmittance(double characteristic_dimension_m, double equivalent_thickness_m, double ground_conductivity) {
    require_above_zero("dimension", characteristic_dimension_m);
    require_above_zero("thickness", equivalent_thickness_m);
    require_above_zero("conductivity", ground_conductivity);
    if (equivalent_thickness_m < characteristic_dimension_m)
        return logarithmic_transmittance(characteristic_dimension_m, equivalent_thickness_m, ground_conductivity);
    return ground_conductivity / (0.457 * characteristic_dimension_m + equivalent_thickness_m);
}

double additional_equivalent_thickness(const EdgeInsulation& edge, double ground_conductivity) {
    require_above_zero("thickness", edge.thickness_m);
    require_above_zero("conductivity", edge.conductivity);
    require_above_zero("conductivity", ground_conductivity);
    if (edge.conductivity >= ground_conductivity)
        throw OutsideStandard("edge-not-insulating",
                              {{"edge", shown(edge.conductivity)}, {"ground", shown(ground_conductivity)}});
    return (edge.thickness_m / edge.conductivity - edge.thickness_m / ground_conductivity) * ground_conductivity;
}

double edge_psi(const EdgeInsulation& edge, double equivalent_thickness_m, double ground_conductivity) {
    require_above_zero("width", edge.width_m);
    require_above_zero("thickness", equivalent_thickness_m);
    const double added = additional_equivalent_thickness(edge, ground_conductivity);
    const double reach = edge.vertical ? 2 * edge.width_m : edge.width_m;
    return -ground_conductivity / pi *
           (std::log(reach / equivalent_thickness_m + 1) - std::log(reach / (equivalent_thickness_m + added) + 1));
}

double slab_transmittance_with_edge(double slab_transmittance, double edge_psi, double characteristic_dimension_m) {
    require_above_zero("transmittance", slab_transmittance);
    require_above_zero("dimension", characteristic_dimension_m);
    require_within("psi", edge_psi, -0.5 * slab_transmittance * characteristic_dimension_m, 0);
    return slab_transmittance + 2 * edge_psi / characteristic_dimension_m;
}

double ground_heat_transfer(double area_m2, double transmittance, double exposed_perimeter_m, double wall_floor_psi) {
    require_above_zero("area", area_m2);
    require_not_below_zero("transmittance", transmittance);
    require_not_below_zero("perimeter", exposed_perimeter_m);
    require_within("psi", wall_floor_psi, -100, 100);
    return area_m2 * transmittance + exposed_perimeter_m * wall_floor_psi;
}

double periodic_depth(double ground_conductivity, double heat_capacity_J_per_m3K) {
    require_above_zero("conductivity", ground_conductivity);
    require_above_zero("capacity", heat_capacity_J_per_m3K);
    constexpr double year_s = 3.15e7;  // as the standard rounds it
    return std::sqrt(year_s * ground_conductivity / (pi * heat_capacity_J_per_m3K));
}

namespace {

void require_periodic(double conductivity, double thickness, double depth) {
    require_above_zero("conductivity", conductivity);
    require_above_zero("thickness", thickness);
    require_above_zero("depth", depth);
}

constexpr double outside_swing = 0.37;  // of the flow that a swing outside drives along a metre of edge

void require_basement(const Basement& basement, double conductivity) {
    require_above_zero("dimension", basement.characteristic_dimension_m);
    require_above_zero("depth", basement.depth_m);
    require_above_zero("thickness", basement.floor_equivalent_thickness_m);
    require_above_zero("thickness", basement.wall_equivalent_thickness_m);
    require_above_zero("conductivity", conductivity);
}

}  // namespace

double periodic_inside_slab(double area_m2, double ground_conductivity, double equivalent_thickness_m, double periodic_depth_m) {
    require_above_zero("area", area_m2);
    require_periodic(ground_conductivity, equivalent_thickness_m, periodic_depth_m);
    const double ratio = 1 + periodic_depth_m / equivalent_thickness_m;
    return area_m2 * ground_conductivity / equivalent_thickness_m * std::sqrt(2 / (ratio * ratio + 1));
}

double periodic_outside_slab(double exposed_perimeter_m, double ground_conductivity, double equivalent_thickness_m, double periodic_depth_m) {
    require_not_below_zero("perimeter", exposed_perimeter_m);
    require_periodic(ground_conductivity, equivalent_thickness_m, periodic_depth_m);
    return outside_swing * exposed_perimeter_m * ground_conductivity * std::log(periodic_depth_m / equivalent_thickness_m + 1);
}

double periodic_outside_edge(double exposed_perimeter_m, double ground_conductivity, double equivalent_thickness_m, const EdgeInsulation& edge, double periodic_depth_m) {
    require_not_below_zero("perimeter", exposed_perimeter_m);
    require_periodic(ground_conductivity, equivalent_thickness_m, periodic_depth_m);
    require_above_zero("width", edge.width_m);
    const double beyond = std::exp(-(edge.vertical ? 2 : 1) * edge.width_m / periodic_depth_m);
    const double insulated = equivalent_thickness_m + additional_equivalent_thickness(edge, ground_conductivity);
    return outside_swing * exposed_perimeter_m * ground_conductivity *
           ((1 - beyond) * std::log(periodic_depth_m / insulated + 1) + beyond * std::log(periodic_depth_m / equivalent_thickness_m + 1));
}

double periodic_lead(double equivalent_thickness_m, double periodic_depth_m) {
    require_periodic(1, equivalent_thickness_m, periodic_depth_m);
    return 1.5 - 12 / (2 * pi) * std::atan(equivalent_thickness_m / (equivalent_thickness_m + periodic_depth_m));
}

double periodic_lag(double equivalent_thickness_m, double periodic_depth_m) {
    require_periodic(1, equivalent_thickness_m, periodic_depth_m);
    return 1.5 - 0.42 * std::log(periodic_depth_m / (equivalent_thickness_m + 1));
}

double basement_floor_transmittance(const Basement& basement, double ground_conductivity) {
    require_basement(basement, ground_conductivity);
    const double d = basement.floor_equivalent_thickness_m + 0.5 * basement.depth_m, b = basement.characteristic_dimension_m;
    return d < b ? logarithmic_transmittance(b, d, ground_conductivity) : ground_conductivity / (0.457 * b + d);
}

double basement_wall_transmittance(const Basement& basement, double ground_conductivity) {
    require_basement(basement, ground_conductivity);
    const double wall = basement.wall_equivalent_thickness_m, d = std::min(basement.floor_equivalent_thickness_m, wall), z = basement.depth_m;
    return 2 * ground_conductivity / (pi * z) * (1 + 0.5 * d / (d + z)) * std::log(z / wall + 1);
}

double basement_effective_transmittance(double area_m2, double exposed_perimeter_m, double depth_m, double floor_transmittance, double wall_transmittance) {
    require_above_zero("area", area_m2);
    require_not_below_zero("perimeter", exposed_perimeter_m);
    require_above_zero("depth", depth_m);
    require_not_below_zero("transmittance", floor_transmittance);
    require_not_below_zero("transmittance", wall_transmittance);
    const double wall_area = depth_m * exposed_perimeter_m;
    return (area_m2 * floor_transmittance + wall_area * wall_transmittance) / (area_m2 + wall_area);
}

double periodic_outside_basement(double exposed_perimeter_m, const Basement& basement, double ground_conductivity, double periodic_depth_m) {
    require_not_below_zero("perimeter", exposed_perimeter_m);
    require_basement(basement, ground_conductivity);
    require_above_zero("depth", periodic_depth_m);
    const double deep = std::exp(-basement.depth_m / periodic_depth_m);
    return outside_swing * exposed_perimeter_m * ground_conductivity *
           (deep * std::log(periodic_depth_m / basement.floor_equivalent_thickness_m + 1) + 2 * (1 - deep) * std::log(periodic_depth_m / basement.wall_equivalent_thickness_m + 1));
}

double suspended_floor_transmittance(const SuspendedFloor& floor, double ground_conductivity) {
    require_above_zero("transmittance", floor.floor_transmittance);
    require_above_zero("dimension", floor.characteristic_dimension_m);
    require_not_below_zero("height", floor.height_m);
    require_not_below_zero("transmittance", floor.wall_transmittance);
    require_not_below_zero("openings", floor.openings_m2_per_m);
    require_not_below_zero("wind", floor.wind_m_per_s);
    require_within("shield", floor.wind_shield, 0, 1);
    const double b = floor.characteristic_dimension_m;
    const double d = equivalent_thickness(floor.wall_thickness_m, ground_conductivity, floor.inside_surface,
                                          floor.ground_insulation, floor.outside_surface);
    require_above_zero("thickness", d);
    const double ground = logarithmic_transmittance(b, d, ground_conductivity);
    const double void_loss = 2 * floor.height_m * floor.wall_transmittance / b +
                             1450 * floor.openings_m2_per_m * floor.wind_m_per_s * floor.wind_shield / b;
    return 1 / (1 / floor.floor_transmittance + 1 / (ground + void_loss));
}

}  // namespace wallfoot::iso13370

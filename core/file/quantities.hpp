// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>

#include "core/study/study.hpp"

namespace wallfoot {

/// The junction in the whole building, as the user gives it under `building.quantities`: what psi and U are multiplied by.
/// It has no part in the result of any section.
struct Quantities {
    std::optional<double> junction;       ///< length of the junction, m
    std::map<std::string, double> areas;  ///< of each flanking element, by its id, m²
    bool operator==(const Quantities&) const = default;
};

/// Greatest length or area that may be given, m or m².
constexpr double most_quantity = 1e9;

/// Those of a study that was read; what is not given is not there.
Quantities quantities(const Study& study);
/// The ground floor of the dwelling, under `building`: its area in m² and its exposed perimeter in m. Both or neither count.
struct GroundFloor {
    double area = 0, perimeter = 0;
    /// B′ = A/(0.5·P), m (ISO 13370:2017, from memory).
    double characteristic() const { return area / (0.5 * perimeter); }
    bool operator==(const GroundFloor&) const = default;
};
/// Nothing where either is missing.
std::optional<GroundFloor> ground_floor(const Study& study);
Study set_ground_floor(Study study, const std::optional<GroundFloor>& floor);

/// Insulation along the edge of the ground floor, under `building.floor.edge_insulation`: for the floor's U by ISO 13370 only.
struct StatedFloorEdge {
    bool vertical = false;     ///< "direction": "vertical" or "horizontal"
    double width_m = 0;        ///< "width": of a level strip, or depth below ground of an upright one; mm in the file
    double thickness_m = 0;    ///< "thickness", mm in the file
    double conductivity = 0;   ///< "lambda", W/(m·K)
    bool operator==(const StatedFloorEdge&) const = default;
};
/// That of a study that was read, nothing where it states none that can be used.
std::optional<StatedFloorEdge> stated_floor_edge(const Study& study);

/// Puts them in the study, each 0 … most_quantity; other fields under `building` stay.
Study set_quantities(Study study, const Quantities& given);

}  // namespace wallfoot

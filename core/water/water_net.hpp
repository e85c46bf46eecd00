// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// A connected area of one solid capillary face that no membrane divides: one that ends inside a face leaves it whole
/// (RULES 15).
struct WaterPart {
    int face = -1, piece = -1;
    Area2 area2 = 0;  ///< doubled area, µm²
    Point inside;     ///< a grid point in or on it
    Micrometres bottom = 0, top = 0;
};

/// An edge along which two capillary parts touch.
struct WaterLink {
    int edge = -1;       ///< index into Arrangement::edges
    int a = -1, b = -1;  ///< parts on its left and right
    bool blocked = false;  ///< a membrane lies on it and counts
};

enum class WaterFrom { soil, water_level, rain, cavity_foot };

/// Where water comes from: a whole part, or one edge of it.
struct WaterSource {
    WaterFrom from = WaterFrom::soil;
    int part = -1;
    int edge = -1;         ///< -1: the whole part is wet
    bool blocked = false;  ///< a membrane lies on that edge
};

/// Parts, what touches what, and where water comes from; the graph of DESIGN decision 9.
struct WaterNet {
    std::vector<WaterPart> parts;
    std::vector<WaterLink> links;
    std::vector<WaterSource> sources;
    std::vector<int> part_of;                    ///< per triangle of the arrangement, -1 = draws no water
    std::vector<std::array<int, 3>> neighbours;  ///< per triangle: across the edge from corner i to i + 1, -1 = none
    std::vector<std::array<int, 3>> edge_of;     ///< per triangle: arranged edge from corner i to i + 1, -1 = none
    std::vector<std::array<int, 2>> sides;       ///< per arranged edge: part on its left and right, -1 = none
    std::optional<Micrometres> water_level;      ///< below it everything is reached and no membrane counts
};

/// Widest gap between two leaves that is read as a cavity, µm. Common practice, no source.
constexpr Micrometres widest_cavity = 500'000;

/// Builds the graph. The first `membranes` membranes of the section block; later ones only divide faces (lines along
/// which the smallest remedy may run). Rules, RULES 15:
/// - a membrane blocks an edge it lies on;
/// - soil is wet where `water.soil` says so; what is not stated about soil, rain and cavity foot counts as there;
/// - the water level is `water.water_level`, else with `water.standing` the highest ground level; every part that
///   reaches below it is wet, on either side of any membrane;
/// - rain wets every edge that faces an outside space, sideways or up, above ground, unless masonry or concrete faces it
///   within `widest_cavity`; soil and granular fill are no wall;
/// - cavity foot: water that runs down in a cavity stands on its floor. A floor is an edge, level within 45°, of a
///   capillary part, above which lies an air space, insulation or air of a space that is not inside; just above it that
///   filling runs, to both sides and over at most `widest_cavity`, to masonry or concrete, and behind at least one of
///   these two leaves comes outside air or soil. The sides of the leaves are not wetted by it.
WaterNet water_net(const Study& study, const Section& section, const Arrangement& arrangement, std::size_t membranes);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/arrangement/arrangement.hpp"
#include "core/arrangement/conductivities.hpp"
#include "core/arrangement/surfaces.hpp"

namespace wallfoot {

/// Heat conducting region: conductivity W/(m·K) along x and y.
struct Region {
    double kx = 0, ky = 0;
    auto operator<=>(const Region&) const = default;
};

/// A line of the model between two of its vertices, regions on both sides (-1 = not part of the body).
/// Where one side is -1, `contact` says which space it meets (-1 = adiabatic) through which resistance (0 = the surface
/// has the space's temperature).
struct ModelLine {
    int from = 0, to = 0;
    int left = -1, right = -1;
    int contact = -1;
    double resistance = 0;  ///< m²·K/W
    bool operator==(const ModelLine&) const = default;
};

/// What the solver sees of a section: lines on the grid, regions of equal conductivity, contacts with spaces.
/// Independent of how a shape was cut into pieces (RULES 7): faces of equal conductivity merged, straight-through
/// vertices dropped, canonical order.
struct Model {
    std::vector<Point> vertices;   ///< sorted
    std::vector<ModelLine> lines;  ///< sorted by (from, to), from < to
    std::vector<Region> regions;   ///< one per connected region, in order of first touching line
    std::vector<Area2> region_area2;
    int contacts = 0;              ///< number of spaces (indices 0 … contacts-1); some may touch nothing
};

/// Reduces an arrangement to a model. Conductivities and surfaces in the order their functions return them.
/// `face_region`, when given, receives the region of every face of the arrangement, -1 where nothing conducts.
Model reduce(const Arrangement& arrangement, const std::vector<FaceConductivity>& conductivities,
             const std::vector<SurfaceEdge>& surfaces, int spaces, std::vector<int>* face_region = nullptr);

}  // namespace wallfoot

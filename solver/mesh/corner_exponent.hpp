// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "solver/mesh/model.hpp"

namespace wallfoot {

/// A wedge of one conductivity around a vertex, anticlockwise from one ray to the next (directions, any length).
struct CornerSector {
    Point from, to;
    Region region;
};

/// Wedges that follow each other around a vertex: closed, or between two boundary lines of the body.
struct CornerFan {
    std::vector<CornerSector> sectors;
    bool closed = false;
    bool fixed_from = false, fixed_to = false;  ///< the boundary line has the space's temperature (no resistance)
};

/// Smallest α > 0 such that the temperature may behave like r^α at the tip of a fan. A surface resistance does not
/// matter in the limit: such a line counts as adiabatic. Two axes: each wedge is stretched to an equal conductivity, and
/// what the stretching does to r is followed along the rays; where the wedges stretch r in one sense of turning, two
/// exponents can become a complex pair, and an approximation of their real part is returned.
/// Source: separation of variables, transfer matrix per wedge (Kellogg 1974/75 for the idea, from memory).
double corner_exponent(const CornerFan& fan);

/// What the drawing does at a vertex of the model.
struct Corner {
    double alpha = 0.5;  ///< smallest exponent of its fans; 0.5 stands for every larger one, which does no harm
    int fans = 0;        ///< parts of the body that meet here without sharing a line; 1 at an ordinary vertex

    /// Heat would pass between two materials through a point only: what it amounts to is not settled by the drawing.
    bool touching() const { return fans > 1 || alpha < least_settled; }
    static constexpr double least_settled = 0.1;
};

/// All vertices of the model, in their order.
std::vector<Corner> corners_of(const Model& model);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

namespace wallfoot {

/// A chain of points along which a field has one value; the higher values lie to its left.
struct ContourLine {
    double level = 0;                           ///< in the unit of the field
    bool closed = false;                        ///< the last point joins the first
    std::vector<std::array<double, 2>> points;  ///< in the unit of the mesh points, at least 2
};

/// Six values per triangle: corners 0 1 2, then the midpoints of the edges opposite them.
using QuadraticField = std::vector<std::array<double, 6>>;

/// Contour lines of a quadratic field at the given levels, each triangle taken as four linear ones.
/// Chains go on into a neighbour only where the values of both agree on the shared edge to 1e-9 of the field's span, so
/// a stream function that jumps across a cut ends there. A value equal to a level counts as above it. Order: by level
/// as given, then by the first triangle met; depends on the input alone. Throws std::logic_error when the sizes of
/// `triangles`, `neighbours` and `field` differ.
std::vector<ContourLine> contours(const std::vector<std::array<double, 2>>& points,
                                  const std::vector<std::array<int, 3>>& triangles,
                                  const std::vector<std::array<int, 3>>& neighbours, const QuadraticField& field,
                                  const std::vector<double>& levels);

/// The step 1, 2 or 5 times a power of ten that divides `span` (> 0) into at most `most` (≥ 1) parts.
double nice_step(double span, int most);
/// Whole multiples of `step` (> 0) strictly between low and high.
std::vector<double> levels_between(double low, double high, double step);
/// Smallest and largest nodal value; {0, 0} for an empty field.
std::array<double, 2> field_span(const QuadraticField& field);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// Walks straight up and down through the triangles of an arrangement (RULES 4). The line stands an infinitesimal step to
/// the right of a grid x, so it never meets a vertex and no intersection is ever computed: exact.
class VerticalRay {
  public:
    VerticalRay(const Study& study, const Section& section, const Arrangement& arrangement);

    enum class Sense { up, down };
    /// First space met from a triangle which the line right of x passes through. Nothing where the line ends in soil, in a
    /// cutout, in unclaimed air or at the frame.
    std::optional<int> next_space(int triangle, Micrometres x, Sense sense) const;
    /// Triangle to the left of the edge between two vertices, -1 where there is none.
    int triangle_left_of(int from, int to) const;
    /// Whether the line right of x passes through the triangle.
    bool meets(int triangle, Micrometres x) const;

  private:
    struct DirectedEdge {
        int from = 0, to = 0, triangle = 0;
    };
    const Arrangement& arrangement_;
    std::vector<DirectedEdge> edges_;  ///< sorted
    std::vector<bool> soil_;           ///< per face
};

/// Lowest temperature of the outside spaces, °C; nothing when there is none. `temperatures`: of section.spaces.
std::optional<double> coldest_outside(const Section& section, const std::vector<double>& temperatures);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/arrangement/arrangement.hpp"
#include "core/standards/direction.hpp"
#include "core/study/convention.hpp"

namespace wallfoot {

enum class Purpose { heat_flow, surface_check };

/// One noded edge where solid meets the air of a space.
struct SurfaceEdge {
    int edge = 0;          ///< index into Arrangement::edges
    int space = 0;         ///< index into Section::spaces
    int solid_face = 0;    ///< face on the solid side
    int run = 0;           ///< straight run (maximal chain of collinear surface edges of the space) it belongs to
    Direction direction = Direction::horizontal;  ///< of the heat flow, RULES 4
    double resistance = 0; ///< m²·K/W, ≥ 0
};

/// All surfaces with their resistance for one purpose, RULES 4. `study` gives the order of the temperatures and the convention.
/// Spaces of kind other, and spaces that state a surface resistance, use their own for both purposes.
std::vector<SurfaceEdge> surfaces(const Study& study, const Section& section, const Arrangement& arrangement, Purpose purpose);

std::string to_string(Direction direction);

}  // namespace wallfoot

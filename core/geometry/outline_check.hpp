// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "core/geometry/point.hpp"

namespace wallfoot {

/// What makes an outline unusable, with its place. `kind` is a message code:
/// outline-too-few | outline-repeated-point | outline-spike | outline-crossing | outline-empty | hole-outside | coordinate-too-large
struct OutlineFault {
    std::string kind;
    Point at;
};

/// First fault of an outline, or nothing: at least 3 corners, no corner twice, no spike (an edge running back over the
/// one before), no crossing or touching of non-neighbouring edges, area not zero. Exact.
std::optional<OutlineFault> check_outline(const Outline& outline);
/// First fault of a hole against its outline (a hole may touch the outline, not cross it or leave it). Exact.
std::optional<OutlineFault> check_hole(const Outline& outline, const Outline& hole);

/// Twice the signed area, positive anticlockwise. Exact.
Area2 area2(const Outline& outline);

}  // namespace wallfoot

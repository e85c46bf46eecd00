// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/geometry/point.hpp"

namespace wallfoot {

/// What makes an outline unusable, with its place. `kind` is a message code:
/// outline-too-few | outline-repeated-point | outline-spike | outline-crossing | outline-empty | hole-outside | holes-meet |
/// coordinate-too-large
struct OutlineFault {
    std::string kind;
    Point at;
};

/// First fault of an outline, or nothing: at least 3 corners, no corner twice, no spike (an edge running back over the
/// one before), no crossing or touching of non-neighbouring edges, area not zero. Exact.
std::optional<OutlineFault> check_outline(const Outline& outline);
/// First fault of a hole against its outline (a hole may touch the outline, not cross it or leave it). Exact.
std::optional<OutlineFault> check_hole(const Outline& outline, const Outline& hole);

/// First hole, by its place in the list, that overlaps another one or has part of an edge in common with it; holes may
/// touch in single points. Each hole is sound by itself. Exact.
std::optional<std::pair<std::size_t, OutlineFault>> check_holes_apart(const std::vector<Outline>& holes);

/// Twice the signed area, positive anticlockwise. Exact.
Area2 area2(const Outline& outline);

}  // namespace wallfoot

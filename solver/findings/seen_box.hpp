// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// What is seen of a piece: the box around it, and how much of the box it fills.
struct SeenBox {
    Rect box;
    double filled = 0;  ///< 0 … 1
    Micrometres thickness() const { return std::min(box.width(), box.height()); }
    bool upright() const { return box.height() > box.width(); }
};

/// By piece of the section, with what carries on beyond the cut; nothing for one that is covered whole.
std::vector<std::optional<SeenBox>> seen_boxes(const Section& section, const Arrangement& arrangement);

}  // namespace wallfoot

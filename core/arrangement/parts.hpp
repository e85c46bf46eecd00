// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/study/study.hpp"

namespace wallfoot {

// Edits that make other pieces of the areas there are (see core/study/edits.hpp for what edits are).

/// Splits a piece along the straight line through a and b, without end. The largest part keeps the id; the others lie next
/// above it in the order. Refused: "edit-unknown-id", "split-misses" (the line does not part the piece).
Section split_piece(const Section& section, const std::string& id, Point a, Point b);
/// Makes one piece of several of equal filling. It is the topmost of them; the others go.
/// Refused: "edit-unknown-id", "merge-unequal" (filling or moisture condition), "merge-apart" (no common edge).
Section merge_pieces(const Section& section, const std::vector<std::string>& ids);

}  // namespace wallfoot

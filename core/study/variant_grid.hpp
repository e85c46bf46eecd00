// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// What variants are made from: every combination of what is chosen, one of each. What is left empty stays as it is.
struct GridChoices {
    std::vector<std::string> variants;                 ///< ids: what to begin from; a site fault of a starter detail is one of them
    std::vector<std::pair<std::string, std::string>> pairs;  ///< ids: what both have otherwise than the first variant, together; begun from as well
    std::vector<std::string> pieces;                   ///< ids: what block, condition and courses speak of
    std::vector<std::string> blocks;                   ///< ids of materials
    std::vector<std::optional<Condition>> conditions;  ///< nothing = by place
    std::vector<int> courses;                          ///< how many courses of the pieces become the block; empty = the whole pieces
    Micrometres course_height = 225'000;               ///< where a piece has no courses of its own
    bool from_top = true;                              ///< courses are counted from the top of the pieces, else from their foot
};

/// Most variants that one act makes: the window keeps the findings of each, some megabytes.
constexpr std::size_t most_in_grid = 60;

/// Combinations of what is chosen, before what comes out alike is left out.
std::size_t grid_combinations(const GridChoices& choices);

struct Grid {
    Study study;                    ///< with the new variants behind the old ones
    std::vector<std::string> made;  ///< names of the new ones
    std::size_t alike = 0;          ///< combinations left out: the same drawing as another variant
    std::vector<Message> apart;     ///< pairs left out, and why they cannot hold together
};

/// Makes the variants, each named by its choices. Throws InputFault: "grid-nothing-chosen" (nor pairs), "grid-too-many", "grid-needs-piece",
/// "grid-needs-block", "grid-too-few-courses", names that are nowhere, and as courses_of.
Grid make_grid(const Study& study, const GridChoices& choices);

}  // namespace wallfoot

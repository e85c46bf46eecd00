// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// What a section has otherwise than a base, in sentences with their place where there is one: pieces by id (filling,
/// moisture condition, place, outline, order), membranes, levels, spaces, the cut, what lies beyond, the water that is
/// stated. Empty for equal sections; a section that differs in nothing that is named here says "differs-else".
std::vector<Message> differences(const Study& study, const Section& base, const Section& other);

/// The same of sections of two studies. A material is the same one where its id or its shown name is, and is told once where
/// it is stated otherwise; the convention and the width of the floor count too.
std::vector<Message> differences(const Study& base_study, const Section& base, const Study& other_study, const Section& other);

/// Where differences stand on the drawing.
struct DifferenceMark {
    std::vector<std::size_t> said;      ///< indices into the sentences
    std::vector<std::vector<Point>> lines;  ///< outlines of a piece, closed; the path of a membrane or the line of a level, open
    bool closed = true;
    bool gone = false;                  ///< as the base has it: taken out, or what stood elsewhere
};

struct MarkedDifferences {
    std::vector<Message> said;
    std::vector<DifferenceMark> marks;
};

/// The same with the places, inside the cut of the base or of `other` as far as they have one.
MarkedDifferences marked_differences(const Study& base_study, const Section& base, const Study& other_study, const Section& other);

}  // namespace wallfoot

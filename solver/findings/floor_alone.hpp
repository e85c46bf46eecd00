// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/elements.hpp"
#include "solver/mesh/model.hpp"

namespace wallfoot {

/// The section of a ground floor without its wall (RULES 6), ready for the solver; space 0 is inside, 1 outside.
struct FloorAloneSection {
    Study study;      ///< materials with the conductivities found in the junction's own section
    Section section;
    Model model;
    std::vector<std::vector<int>> junction_faces;  ///< by region: faces of the junction whose conductivity it has
};

/// Floor alone in both readings, or why there is none.
struct FloorAlone {
    std::string refusal;  ///< English clause, "" = none: see `at`
    Point at;
    int floor = -1;       ///< index of the ground element it serves
    std::optional<FloorAloneSection> to_underside, to_ground;  ///< to_ground only where it differs
    Micrometres floor_level = 0, underside = 0, ground_level = 0;
    Micrometres internal_face = 0, outer_face = 0;
    Micrometres length = 0;  ///< of the floor in it: from the side of the frame to the internal face plane
    double soil = 0;      ///< W/(m·K)

    const FloorAloneSection* used(FloorReading reading) const;
    const FloorAloneSection* other(FloorReading reading) const;
};

/// Builds the second section for the ground element of an inside space. Nothing when no element is one.
/// `version` of "iso10211-floor-alone": in the first, references that the study states for lengths moved the planes of the section
/// as well. Throws Cancelled.
std::optional<FloorAlone> floor_alone(const SectionView& view, const std::vector<FoundElement>& elements, int version,
                                      const Context& context);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/floor_option.hpp"

namespace wallfoot {

/// A solved section and which faces of the junction's arrangement fill each of its regions.
struct SeasonSection {
    const Solution& solution;
    std::vector<std::vector<int>> faces;  ///< by region
    bool placed = true;  ///< the faces lie where the mesh does (a section drawn anew only takes its materials from them)
};

/// What the year is worked out from.
struct SeasonSource {
    SectionView view;
    std::vector<bool> balanced;     ///< by space: its temperature keeps its share of the difference between inside and outside
    int inside = -1, outside = -1;  ///< of the headline surface and the coldest outside space
    SeasonSection flows;            ///< resistances for heat flow
    std::optional<SeasonSection> surfaces;  ///< resistances of the headline surface, where they differ
    std::optional<SeasonSection> floor;     ///< the floor alone: contact 0 is the room, 1 the open
    std::optional<FloorByStandard> standard;
    bool others_go_along = false;   ///< version 1 of "year-wave": every inside space goes through the year with the room
};

/// Nothing where the section meets no soil, or the equations cannot be solved. Throws Cancelled.
std::optional<Seasons> seasons_of(const SeasonSource& source, const Context& context = {});

/// Faces by region, from the region of every face.
std::vector<std::vector<int>> faces_by_region(const std::vector<int>& face_region, std::size_t regions);

/// Heat capacity by volume of a material, J/(m³·K): density × heat capacity where both are stated. Else a usual value of its
/// kind, of soil that of its sort in ISO 13370 (all from memory), and `assumed` receives it in words.
double heat_capacity_of(const Study& study, const Material& material, std::vector<std::string>& assumed);

/// How it was worked out.
Derivation derive_seasons(const Study& study, const Findings& findings);

}  // namespace wallfoot

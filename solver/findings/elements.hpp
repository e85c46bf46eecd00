// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/findings.hpp"
#include "solver/findings/surface_chain.hpp"

namespace wallfoot {

/// What the element walk and the floor-alone section read of a section.
struct SectionView {
    const Study& study;
    const Section& section;
    const Arrangement& arrangement;
    const std::vector<FaceConductivity>& conductivity;
    const std::vector<SurfaceEdge>& surfaces;  ///< for the heat flow
    const std::vector<double>& temperatures;
};

/// One face met along a run, between two places on its side.
struct MetFace {
    int face = -1;
    Point from, to;
};

/// An element with what it was found from.
struct FoundElement {
    Element element;
    std::vector<MetFace> met;       ///< from warm to cold; a ground element's down to its first soil, not included
    int soil_face = -1;             ///< the soil a ground element ends in
    Point warm_end, cold_end;       ///< on the frame; a ground element has no cold end
    SurfaceChain warm, cold;        ///< surfaces followed from those ends
    bool internal_one_line = false; ///< the warm surface is one straight line (RULES 5)
    std::optional<Point> drawn_internal = {}, drawn_external = {};  ///< references as drawn, whatever the study states for its lengths
};

/// The outside space with the lowest temperature (the first of equals); -1 where there is none.
int coldest_outside_space(const Section& section, const std::vector<double>& temperatures);

/// Flanking elements met at the sides of the frame, with U, lengths and references by RULES 5. Ids: the side's name, a
/// second one on the same side "left-2"; walked from the top down and from left to right.
std::vector<FoundElement> find_elements(const SectionView& view);

/// The wall between the same two spaces that a floor on soil meets: the one with the same reference, else the only one.
const FoundElement* wall_of(const FoundElement& floor, const std::vector<FoundElement>& all);

/// Layers square to a side as the reader of a derivation needs them; equal neighbours are one layer.
std::vector<Element::Layer> layers_of(const SectionView& view, CutSide side, const std::vector<MetFace>& met);

/// Condition under which the conductivity of a face holds, and its stated source.
std::string conductivity_source(const SectionView& view, int face);

/// True for a face filled with a material of kind soil.
bool is_soil(const SectionView& view, int face);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/standards/iso13370.hpp"
#include "solver/findings/floor_option.hpp"

namespace wallfoot {

/// Insulation along the edge of a floor on soil, for the floor's U by ISO 13370.
struct FloorEdge {
    iso13370::EdgeInsulation edge;
    std::string piece = {};  ///< id of the piece that it is, "" where the study states it
    bool drawn = false;      ///< the section contains it, or one much like it: psi already has what it saves
    std::string other = {};  ///< id of the piece drawn where the study states another strip: then no psi belongs to this U
};

/// What a strip does to U of the floor (ISO 13370:2017, annex B; from memory).
struct EdgeEffect {
    double added_thickness = 0;  ///< d′, m
    double psi = 0;              ///< ψ_ge, W/(m·K), below 0
    double U = 0;                ///< W/(m²·K), with the strip
};
/// Throws OutsideStandard: a strip that does not insulate against soil, or one that would save more than half of what the floor loses.
EdgeEffect edge_effect(const FloorByStandard& floor, const iso13370::EdgeInsulation& edge);

/// What the study states, else the strip drawn that saves most: rectangular insulation along the edge that is no layer of the floor,
/// upright in or before the wall and below outside ground, or level below the floor without reaching across it; at least 0.1 m wide
/// (common practice, no source). Nothing where there is none.
std::optional<FloorEdge> floor_edge(const SectionView& view, const FoundElement& floor, const FloorAlone& alone, const FloorByStandard& by);

/// U with and without the strip, and which psi belongs to which. Cautions where it lies outside the formulas; then nothing.
std::optional<Derivation> derive_floor_edge(const SectionView& view, const Psi& psi, const FloorByStandard& floor, const FloorEdge& edge, std::vector<Message>& messages);

}  // namespace wallfoot

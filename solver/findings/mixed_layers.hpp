// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/elements.hpp"

namespace wallfoot {

/// RULES 13: a material built of parts has, in the flanking element that it is a layer of, the conductivity with which the plane
/// layers give R_T = (R′ + R″)/2 of ISO 6946 (combined method). Puts it into `conductivity` for every face of those pieces and tells
/// how. Outside the limits of the method a fault with its place, that asks to draw the parts. A piece that no flanking element
/// meets keeps the mean of its parts by area (what the method gives for a layer by itself), told as a note. `version` of "iso6946-parts".
std::vector<Derivation> resolve_mixed_layers(const SectionView& view, const std::vector<FoundElement>& elements, std::vector<FaceConductivity>& conductivity, std::vector<Message>& messages, int version);

/// Version 1 of "iso6946-parts": parts with two conductivities count by the one across, whichever way heat goes.
void take_parts_across(std::vector<FaceConductivity>& conductivity);

/// U + ΔU of an element for fixings and air gaps (ISO 6946 annex F), and how; beside psi, never in it. Cautions where a layer is not
/// of the element or the numbers lie outside the standard; then there is no corrected U.
std::optional<Derivation> correct_transmittance(const SectionView& view, Element& element, const ElementCorrections& corrections, std::vector<Message>& messages);

/// What layers that are heated by themselves pass to the outside, apart from psi: a space of kind other without a surface resistance
/// that fills a piece, warmer than outside. `inside`: the room.
std::vector<Derivation> derive_heated_layers(const SectionView& view, int inside, const std::vector<Coupling>& couplings, std::vector<Message>& messages);

/// A heated basement by ISO 13370, where the floor alone is refused for it: U of floor and wall below ground, and what L2D has more
/// than the plane elements by them. Nothing where the section is none, or does not say enough.
std::optional<Derivation> derive_basement(const SectionView& view, const std::vector<FoundElement>& elements, const std::vector<Coupling>& couplings);

}  // namespace wallfoot

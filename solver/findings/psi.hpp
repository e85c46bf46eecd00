// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/elements.hpp"
#include "solver/findings/floor_alone.hpp"

namespace wallfoot {

/// Couplings of the floor-alone section, W/(m·K); `other` where the other reading differs.
struct FloorCouplings {
    std::optional<Bracketed> used, other;
};

/// The inside space whose psi is the headline: the first on the user's own side, else the first; -1 without any.
int headline_inside(const Section& section);

/// psi = L2D − Σ U·l (− the coupling of the floor alone) for every pair of spaces and both systems of lengths
/// (ISO 10211:2017, clause on linear transmittance from 2-D calculation; from memory). Where an element lacks something
/// psi has no value and says why. By external lengths a floor on soil is the same second section with its U over the
/// extra length to the outer face plane, U_floor = L2D_alone / internal length as drawn; so too over what an internal length of
/// the study's own is more or less than the drawn one.
std::vector<Psi> psi_values(const SectionView& view, const std::vector<FoundElement>& elements, const FloorAlone* alone,
                            const FloorCouplings& floor, const std::vector<Coupling>& couplings);

/// Length of the floor in its second section, m: of the floor that psi takes off, less what psi takes off beyond that section.
/// U of the floor is L2D_alone over this. Nothing where psi has no length for it.
std::optional<double> second_section_length(const Psi& psi, const Element& floor);

}  // namespace wallfoot

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
/// extra length to the outer face plane, U_floor = L2D_alone / internal length.
std::vector<Psi> psi_values(const SectionView& view, const std::vector<FoundElement>& elements, const FloorAlone* alone,
                            const FloorCouplings& floor, const std::vector<Coupling>& couplings);

}  // namespace wallfoot

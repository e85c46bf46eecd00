// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/psi.hpp"

namespace wallfoot {

// How the numbers were worked out, so that a reader with a pocket calculator can do it again.

Derivation derive_transmittance(const SectionView& view, const Element& element);
Derivation derive_floor_alone(const SectionView& view, const FoundElement& floor, const FloorAlone& alone,
                              const FloorCouplings& couplings);
Derivation derive_psi(const SectionView& view, const Psi& psi, const Coupling& coupling);
Derivation derive_surface(const SectionView& view, const SurfaceFinding& finding, int outside);

}  // namespace wallfoot

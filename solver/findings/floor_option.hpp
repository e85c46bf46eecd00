// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/psi.hpp"

namespace wallfoot {

/// The floor of a ground-floor junction by ISO 13370 in the place of the second section: the other of the two published
/// options of ISO 10211:2017 (from memory, to be confirmed in the standard). For the floor as wide as the section takes it.
struct FloorByStandard {
    double B = 0;               ///< characteristic dimension, m: that of an endless strip as wide as the floor
    double wall_thickness = 0;  ///< m
    double resistance = 0;      ///< R_f, of all layers of the floor, m²·K/W
    double inside_surface = 0, outside_surface = 0;  ///< m²·K/W
    double soil = 0;            ///< W/(m·K)
    double equivalent_thickness = 0;  ///< d_f, m
    double U = 0;               ///< W/(m²·K)
    double length = 0;          ///< internal, m: as stated where the study does
    double section_length = 0;  ///< of the floor in the second section, m: internal, as drawn
};

/// Nothing where the formulas do not hold or a length is missing.
std::optional<FloorByStandard> floor_by_standard(const SectionView& view, const FoundElement& floor, const FloorAlone& alone);

/// psi (internal lengths) with that floor taken off: L2D − Σ U·l of the others − U_floor·l_floor.
std::optional<Bracketed> psi_by_standard(const Psi& psi, const Coupling& coupling, const FloorByStandard& floor);

Derivation derive_floor_option(const SectionView& view, const Psi& psi, const FloorByStandard& floor);

}  // namespace wallfoot

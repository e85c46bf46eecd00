// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

namespace wallfoot {

// How high water would rise in a wall that stands in damp ground, had it no damp-proof course: a sharp front between wet
// and dry, held by evaporation from the faces. No standard: formula of Hall and Hoff, from memory. An estimate and no more:
// a study of a rubble wall over three years found its moisture not to follow evaporation (UCL Open Environment 2022,
// doi 10.14324/111.444/ucloe.000046).

struct RisingDampInputs {
    double sorptivity = 1;       ///< mm/√min, > 0
    double thickness = 0;        ///< mm, > 0, of the wall
    double evaporation = 0.001;  ///< mm/min, > 0, of all evaporating faces together
    double water_content = 0.2;  ///< m³/m³, 0 < … ≤ 1, of the wet part
};

struct RisingDamp {
    double height = 0;     ///< mm above where the water comes from
    double held = 0;       ///< litres per metre of wall
    double flow = 0;       ///< litres per metre of wall and day
    double residence = 0;  ///< days, mean time of water in the wall
};

/// h = S·√(b / (2·e·θ)), held = θ·b·h, flow = e·h, residence = θ·b/e. Throws std::invalid_argument for what cannot be.
RisingDamp rising_damp(const RisingDampInputs& inputs);

struct RisingDampRange {
    RisingDamp low, high;
    RisingDampInputs low_inputs, high_inputs;
};

/// Low and high of what is typical of brick and block where nothing is stated: S 0.5 to 2 mm/√min, evaporation 0.0005 to
/// 0.002 mm/min, water content 0.2 (all from memory). `sorptivity`: as stated for the material.
RisingDampRange typical_rising_damp(double thickness_mm, std::optional<double> sorptivity = {});

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/study/study.hpp"

namespace wallfoot {

/// Whether a material draws water by itself. What the study states (`capillary`) wins; else the kind decides.
/// Common practice, no source; where practice is divided the answer is the wetter one.
bool is_capillary(const Material& material);

/// The default of a kind when nothing is stated, and the reason for it.
struct CapillaryDefault {
    bool draws = false;
    const char* reason = "";
};
CapillaryDefault capillary_default(MaterialKind kind);

/// Soil and loose fill: no membrane is built between two of them, and rain on them is no rain on a wall.
bool is_ground(MaterialKind kind);

}  // namespace wallfoot

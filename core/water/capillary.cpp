// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/water/capillary.hpp"

namespace wallfoot {

CapillaryDefault capillary_default(MaterialKind kind) {
    switch (kind) {
        case MaterialKind::masonry: return {true, "fine pores of unit and mortar"};
        case MaterialKind::concrete: return {true, "fine pores of the cement paste"};
        case MaterialKind::mortar: return {true, "fine pores"};
        case MaterialKind::render: return {true, "fine pores"};
        case MaterialKind::timber: return {true, "draws along the grain"};
        case MaterialKind::soil: return {true, "holds and lifts water"};
        case MaterialKind::granular: return {true, "its fines lift water; only fill without fines is a break, and must be stated so"};
        case MaterialKind::other: return {true, "not known, so the wetter answer"};
        case MaterialKind::insulation: return {false, "closed or coarse pores"};
        case MaterialKind::metal: return {false, "no pores"};
        case MaterialKind::airspace: return {false, "no pores"};
        case MaterialKind::membrane: return {false, "no pores"};
    }
    return {true, "not known, so the wetter answer"};
}

bool is_capillary(const Material& material) { return material.capillary.value_or(capillary_default(material.kind).draws); }

bool is_ground(MaterialKind kind) { return kind == MaterialKind::soil || kind == MaterialKind::granular; }

}  // namespace wallfoot

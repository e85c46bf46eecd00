// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/geometry/point.hpp"
#include "core/study/material.hpp"

namespace wallfoot {

/// Surface resistances by direction of the heat flow, m²·K/W, each ≥ 0.
struct SurfaceResistances {
    double up = 0, horizontal = 0, down = 0;
    Extra extra = {};
    bool operator==(const SurfaceResistances&) const = default;
};

/// Surface resistances of one purpose (heat flow, or the surface check).
struct SurfaceRule {
    SurfaceResistances inside;  ///< also for unheated spaces
    double outside = 0;         ///< m²·K/W
    std::string source;
    Extra extra;
    bool operator==(const SurfaceRule&) const = default;
};

enum class LengthSystem { internal, external };
/// How far the wall is taken out in the floor-alone section (RULES 6).
enum class FloorReading { to_underside, to_ground };

/// What each of two dwellings enters of a psi that both share.
enum class DwellingShare { half, by_side };

/// A convention of calculation, embedded in the study when it is used; data, see resources/conventions/.
struct Convention {
    std::string id, name;
    int version = 1;
    SurfaceRule heat_flow;
    std::optional<SurfaceRule> surface_check;  ///< absent: the surface check uses heat_flow
    double inside_temperature = 20, outside_temperature = 0;  ///< °C
    Micrometres floor_width = 8'000'000;       ///< b when the building does not give one
    double inside_distance = 0.5;              ///< × b, from the internal face plane
    double outside_distance = 2.5;             ///< × b, from the outer face
    double depth = 2.5;                        ///< × b, below ground
    Micrometres least_distance = 1'000'000;    ///< where no soil meets the side
    double thickness_factor = 3;               ///< × thickness of the element, where no soil meets the side
    LengthSystem lengths = LengthSystem::internal;  ///< of the headline psi
    FloorReading floor_reading = FloorReading::to_underside;
    std::optional<double> least_fRsi;          ///< limit of the convention, if it sets one
    std::map<std::string, double> least_fRsi_by_use;  ///< by the site fact `use`; wins over least_fRsi for the uses it names
    std::map<std::string, double> least_fRsi_by_zone = {}; ///< by the climate's zone; where a use names a limit as well, the higher counts
    std::optional<double> most_psi;            ///< limit of the headline psi in these lengths, W/(m·K), if it sets one
    std::optional<DwellingShare> dwelling_share = {};  ///< absent: half each
    std::vector<std::string> sources;
    Extra extra;
    bool operator==(const Convention&) const = default;
};

}  // namespace wallfoot

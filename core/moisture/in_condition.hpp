// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/moisture/classes.hpp"
#include "core/study/words.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// What a conductivity rests on.
enum class Footing { declared, converted, measured_band, not_known };
inline constexpr Words<Footing, 4> footing_words{{{Footing::declared, "declared"}, {Footing::converted, "converted"}, {Footing::measured_band, "measured-band"}, {Footing::not_known, "not-known"}}};

/// A quantity on the way to a conductivity, in the order in which it is met.
struct MoistureStep {
    std::string name;
    double value = 0;
    std::string unit, source;
    bool operator==(const MoistureStep&) const = default;
};

/// The conductivity of a material in a moisture condition, W/(m·K).
struct InCondition {
    Footing footing = Footing::not_known;
    double low = 0, central = 0, high = 0;  ///< 0 where it is not known; of a band the centre is the middle, for pictures only
    std::vector<Message> how;               ///< what it rests on, or why it is not known
    std::string formula = {};               ///< with clause; "" where it is not known
    std::vector<MoistureStep> steps = {};   ///< inputs and intermediate values; the last are the conductivities above
};

/// Declared values stand as they are. What is not declared is converted from the stated moisture of the driest value by
/// ISO 10456 (RULES 12: only where basis and moisture are stated, within the validity), to the usual moisture of the
/// condition; else it is the nearest drier declared value times the ratio band of the class; else not known. Where the
/// basis of that value is not stated, it may hold anything from no moisture to that of its condition.
InCondition conductivity_in(const Material& material, Condition condition, const std::vector<MoistureClass>& classes);

/// The moisture at which the material reaches a conductivity.
struct MoistureNeeded {
    std::optional<double> by_mass;    ///< kg/kg; needs the density where the curve goes by volume
    std::optional<double> by_volume;  ///< m³/m³
    std::optional<double> litres;     ///< per metre run, of `area`
    Footing footing = Footing::not_known;
    bool beyond = false;              ///< not even at `by_…`, the end of what the formula or curve holds for
    bool below = false;               ///< less than `by_…`, the driest the material's own values are stated for
    std::vector<Message> how;
};
/// `conductivity` W/(m·K), `area` m² of the section. Straight between the material's own values where two or more state
/// their moisture; else by ISO 10456 solved for the moisture; else by the measured curves of the class (the least moisture
/// that could suffice).
MoistureNeeded moisture_at(const Material& material, double conductivity, double area, const std::vector<MoistureClass>& classes);

}  // namespace wallfoot

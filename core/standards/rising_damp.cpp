// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/rising_damp.hpp"

#include <cmath>
#include <stdexcept>

namespace wallfoot {

RisingDamp rising_damp(const RisingDampInputs& in) {
    const bool sound = in.sorptivity > 0 && in.thickness > 0 && in.evaporation > 0 && in.water_content > 0 && in.water_content <= 1;
    if (!sound) throw std::invalid_argument("rising damp: every input must be above 0, the water content at most 1");
    RisingDamp out;
    constexpr double minutes_per_day = 24 * 60;
    out.height = in.sorptivity * std::sqrt(in.thickness / (2 * in.evaporation * in.water_content));
    out.held = in.water_content * in.thickness * out.height / 1000;  // mm² of a metre's length are 1/1000 litre
    out.flow = in.evaporation * out.height * minutes_per_day / 1000;
    out.residence = in.water_content * in.thickness / in.evaporation / minutes_per_day;
    return out;
}

RisingDampRange typical_rising_damp(double thickness_mm, std::optional<double> sorptivity) {
    RisingDampRange range;
    range.low_inputs = {sorptivity.value_or(0.5), thickness_mm, 0.002, 0.2};
    range.high_inputs = {sorptivity.value_or(2), thickness_mm, 0.0005, 0.2};
    range.low = rising_damp(range.low_inputs), range.high = rising_damp(range.high_inputs);
    return range;
}

}  // namespace wallfoot

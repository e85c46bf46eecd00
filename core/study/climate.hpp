// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/study/material.hpp"

namespace wallfoot {

/// A month of the climate; means of the month.
struct ClimateMonth {
    double outside = 0;            ///< °C
    double humidity = 0;           ///< relative, outside, > 0, ≤ 1
    std::optional<double> inside;  ///< °C; absent: the temperature of the space
    Extra extra = {};
    bool operator==(const ClimateMonth&) const = default;
};

/// What the air carries inside: an internal humidity class of ISO 13788, or a stated relative humidity.
struct IndoorAir {
    std::optional<int> humidity_class;  ///< 1 … 4
    std::optional<double> humidity;     ///< relative, > 0, ≤ 1; exactly one of the two is stated
    double margin = 0.05;               ///< added to a stated relative humidity
    Extra extra = {};
    bool operator==(const IndoorAir&) const = default;
};

/// The year as one wave, where the twelve months are not stated: θ_e = mean − amplitude·cos(2π·(m − coldest)/12).
struct YearWave {
    double outside_mean = 0;       ///< °C
    double outside_amplitude = 0;  ///< K, ≥ 0: half of what lies between the warmest and the coldest month
    double coldest_month = 1;      ///< 1 (middle of January) to 12
    double inside_amplitude = 0;   ///< K, ≥ 0, coldest in the same month
    Extra extra = {};
    bool operator==(const YearWave&) const = default;
};

/// The climate that surfaces are checked in, month by month.
struct Climate {
    std::string name, source;
    std::string zone = {};             ///< climate zone of the place, as the convention names it; "" = not known
    std::vector<ClimateMonth> months;  ///< none, or twelve from January on
    std::optional<YearWave> year = {}; ///< never beside months
    std::optional<IndoorAir> indoor;
    Extra extra;
    bool operator==(const Climate&) const = default;
};

constexpr std::size_t months_of_a_year = 12;

}  // namespace wallfoot

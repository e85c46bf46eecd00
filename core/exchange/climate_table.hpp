// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/climate.hpp"

namespace wallfoot {

/// Twelve months from a table of text: outside temperature in °C, relative humidity (in %, or as a share when none is above
/// 1), and optionally the temperature inside. Columns apart by tab, semicolon, or by comma or blanks where these do not
/// stand for decimals; a first column that only counts or names the months and a head row are passed over. As typed or
/// pasted from a spreadsheet. Throws InputFault ("climate-table-…") with the line.
std::vector<ClimateMonth> climate_from_table(const std::string& text);

/// Name, source and twelve months from hourly records in the open EPW form (comma-separated weather file: eight head lines,
/// then dry-bulb temperature in field 7 and relative humidity in field 9; from memory of its public description).
/// Humidity keeps the mean vapour pressure of the month: φ_e = mean(φ·p_sat(θ))/p_sat(mean θ), at most 1. Missing hours
/// (99.9 °C, 999 %) are left out. Throws InputFault ("climate-epw-…") for what is no such file or a month with less than
/// half of its hours.
Climate climate_from_epw(const std::string& text);

/// Reads either, by its content.
Climate climate_from_file(const std::string& path);

}  // namespace wallfoot

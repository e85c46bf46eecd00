// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/material.hpp"

namespace wallfoot {

// Materials by themselves, to be carried from study to study or into a spreadsheet.

/// Materials as a file of the general table has them: "about" and "materials". Complete but for mixes, whose parts would
/// stay behind: materials with a mix are left out.
std::string materials_json(const std::vector<Material>& materials);
/// Throws InputFault with every fault and its place.
std::vector<Material> read_materials_json(const std::string& text);

/// One row per material, axis and moisture condition, with a head (RFC 4180, UTF-8, `.` as decimal sign). No room for
/// mixes, moisture conversion, evidence and unknown fields: see csv_leaves_out.
std::string materials_csv(const std::vector<Material>& materials);
/// Names of the materials that the table does not hold whole.
std::vector<std::string> csv_leaves_out(const std::vector<Material>& materials);
/// Reads such a table; columns in any order, divided by commas, semicolons or tabs (then `,` may be the decimal sign).
/// Throws InputFault: "csv-no-head", "csv-column-unknown", "csv-row" with line and reason.
std::vector<Material> read_materials_csv(const std::string& text);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/dwelling/transfer.hpp"

namespace wallfoot {

/// A psi or chi with its sign and what its bounds leave open: "+0.132 ± 0.0005"; "open" without a value.
std::string dwelling_value_text(const RowResult& row);
/// psi·length of a row, W/K, with its sign; "open" where it is in no sum.
std::string dwelling_loss_text(const RowResult& row);
/// Where the value of a row is from, in words.
std::string dwelling_source_text(const Junction& junction);
/// What a flanking element of a study is, by the side of the section it is met at.
std::string flanking_text(const std::string& element);
/// How it stands, in words.
std::string standing_text(Standing standing);

/// A sum or result with its name, value with bounds and unit, as it is printed and shown.
struct DwellingLine {
    std::string name, value, unit;
};
/// What comes out, in order; names begin with "at least" while junctions are open.
std::vector<DwellingLine> dwelling_lines(const Dwelling& dwelling, const Balance& sums);
/// What a measure saves, in words.
std::string measure_text(const Dwelling& dwelling, const MeasureResult& measure);
/// What is to be said of the whole: open junctions, values out of date.
std::vector<std::string> dwelling_remarks(const Dwelling& dwelling, const Balance& sums);

/// The dwelling as a table for a terminal, as CSV (one line per row) and as JSON.
std::string dwelling_table(const Dwelling& dwelling, const Balance& sums);
std::string dwelling_csv(const Dwelling& dwelling, const Balance& sums);
std::string dwelling_json(const Dwelling& dwelling, const std::string& path, const Balance& sums);

/// What the check sums are, in plain words.
std::vector<std::string> transfer_checks(const TransferSheet& sheet);
/// The transfer sheet as a table for a terminal and to be copied, as CSV (divided by semicolons where the decimal sign is
/// a comma) and as JSON.
std::string transfer_text(const Dwelling& dwelling, const TransferSheet& sheet);
std::string transfer_csv(const Dwelling& dwelling, const TransferSheet& sheet);
std::string transfer_json(const Dwelling& dwelling, const TransferSheet& sheet);

}  // namespace wallfoot

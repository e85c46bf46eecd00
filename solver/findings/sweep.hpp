// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// What one parameter of a sweep changes.
enum class SweepWhat { conductivity, moisture, material, measure, temperature };

/// One parameter with the values it goes through.
struct SweepChange {
    SweepWhat what = SweepWhat::conductivity;
    std::string target;               ///< piece, measure or space, by id or name
    std::vector<double> numbers;      ///< W/(m·K), mm or °C
    std::vector<std::string> words;   ///< moisture conditions, or materials by id or name
    std::size_t count() const { return numbers.size() + words.size(); }
};

/// Every combination of variants and values, the last parameter going round fastest.
struct SweepPlan {
    std::vector<std::string> variants;  ///< by id or name; none = all of the study
    std::vector<SweepChange> changes;
};

constexpr std::size_t sweep_limit = 1'000'000;  ///< rows of one plan

/// Reads a plan (JSON). Throws InputFault with every fault, each with its pointer.
SweepPlan read_sweep_plan(const std::string& json);

/// One row before it is worked out. It depends on the study, the plan and its number only.
struct SweepRow {
    std::size_t number = 0;
    std::string variant;               ///< id
    std::vector<std::string> values;   ///< as written, one per parameter
    Study study;
    std::size_t variant_index = 0;
    std::string hash;                  ///< of the input of the solve; "" where `problem` says why there is none
    std::string problem;
};

std::size_t sweep_rows(const Study& study, const SweepPlan& plan);
/// A value that the geometry does not allow is a `problem` of its row. Throws InputFault for names that are nowhere in
/// the study's variant.
SweepRow sweep_row(const Study& study, const SweepPlan& plan, std::size_t number);

/// Names of the columns, and a row worked out, as lines of CSV without the line end.
std::string sweep_head(const SweepPlan& plan);
std::string sweep_line(const SweepRow& row, const FindingsOptions& options = {}, const Context& context = {});
/// Whether a line of an earlier run is whole and still that of the row.
bool sweep_line_holds(const std::string& line, const SweepRow& row);

}  // namespace wallfoot

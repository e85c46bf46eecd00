// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"
#include "solver/findings/parameter.hpp"

namespace wallfoot {

/// One parameter with the values it goes through.
struct SweepChange : Parameter {
    std::vector<double> numbers;      ///< in the parameter's unit
    std::vector<std::string> words;   ///< moisture conditions, or materials by id or name
    std::size_t count() const { return numbers.size() + words.size(); }
    /// The n-th value as the table writes it.
    std::string written(std::size_t n) const;
};

/// From one number to another in so many even steps, both ends with it.
std::vector<double> even_steps(double from, double to, int steps);

/// Every combination of variants and values, the last parameter going round fastest.
struct SweepPlan {
    std::vector<std::string> variants;  ///< by id or name; none = all of the study
    std::vector<SweepChange> changes;
};

constexpr std::size_t sweep_limit = 1'000'000;  ///< rows of one plan

/// Reads a plan (JSON). Throws InputFault with every fault, each with its pointer.
SweepPlan read_sweep_plan(const std::string& json);
std::string write_sweep_plan(const SweepPlan& plan);

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

/// What a row comes to.
struct SweepResult {
    std::optional<Bracketed> psi, coupling;  ///< the headline psi, and L2D of its pair of spaces (of the first pair where there is no psi)
    std::optional<double> fRsi;              ///< of the headline surface
    double estimate = 0;                     ///< of the error of fRsi
    int decimals = 0;                        ///< of fRsi
    bool converged = false;
    std::string problem;                     ///< why there is none
};
/// Never throws InputFault: what is wrong is the result's `problem`. Cancelled while it runs, it throws Cancelled.
SweepResult sweep_result(const SweepRow& row, const FindingsOptions& options = {}, const Context& context = {});

/// Names of the columns, and a row worked out, as lines of CSV without the line end.
std::string sweep_head(const SweepPlan& plan);
std::string sweep_line(const SweepRow& row, const SweepResult& result);
std::string sweep_line(const SweepRow& row, const FindingsOptions& options = {}, const Context& context = {});
/// Whether a line of an earlier run is whole and still that of the row.
bool sweep_line_holds(const std::string& line, const SweepRow& row);

/// Only conductivities, conditions and temperatures change: the same drawing in every row of a variant.
bool keeps_drawing(const SweepPlan& plan);

}  // namespace wallfoot

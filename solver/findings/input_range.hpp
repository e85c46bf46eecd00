// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// From the least to the greatest.
struct LowHigh {
    double low = 0, high = 0;
};

/// What the stated ranges of the conductivities (low, high) leave open of a variant, all else as drawn. It is no bracket.
struct InputRange {
    std::vector<std::string> materials;  ///< names of those that have a range where they stand; none: nothing is left open
    std::optional<LowHigh> psi;          ///< W/(m·K), with the brackets of both ends; nothing without a headline psi
    std::optional<LowHigh> fRsi;         ///< with the estimates of both ends; nothing without a headline surface
};

/// Puts every material that has a range to the end of it that raises, then to the one that lowers, the headline psi and the
/// fRsi; which end does so is read off the slopes at the values as stated. psi may turn within a range: the value as stated
/// always lies between the ends told. Throws InputFault, Cancelled.
InputRange input_range(const Study& study, const Variant& variant, const FindingsOptions& options = {}, const Context& context = {});

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

// One derivation as it is told anywhere: JSON, terminal, window and report have it from here.

/// `id` and `version` where it has an id, `formula`, `inputs` (name, value, unit, source) and `notes` as JSON; values with 7 significant digits.
std::string derivation_json(const Derivation& derivation);
/// A value of a derivation, with 6 significant digits.
std::string derived_value(double value);
/// Line by line: what it is of, formula, quantities in order with unit and source, notes.
std::vector<std::string> derivation_lines(const Derivation& derivation);

}  // namespace wallfoot

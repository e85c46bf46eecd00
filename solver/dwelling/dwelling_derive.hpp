// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/dwelling/balance.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// How Σ psi·l, Σ chi·n, y, H, the share of the junctions and the heat of a year come about: formula, every row and element
/// with its source, intermediate values, what the bounds leave open. What has no value has no derivation.
std::vector<Derivation> dwelling_derivations(const Dwelling& dwelling, const Balance& sums);

}  // namespace wallfoot

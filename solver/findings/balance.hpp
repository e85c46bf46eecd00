// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/study/space_balance.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// The balances of the spaces of a section, by space; nothing where a temperature is stated. Throws InputFault.
std::vector<std::optional<SpaceBalance>> balances_of(const Section& section, const std::string& pointer);

/// Temperatures of all spaces, °C, that settle the balances: for each such space u
/// Σ_j L2D_uj·l·(θ_j − θ_u) + Σ_k H_k·(θ_k − θ_u) + gains = 0. `given`: those stated; `couplings`: of every pair. What one balanced space loses to
/// another arrives there, unless that one states it as well.
/// Throws InputFault: "balance-without-exchange" for a space that exchanges heat with nothing, "balance-lengths-differ",
/// "balance-touching".
std::vector<double> balanced_temperatures(const Section& section, const std::vector<std::optional<SpaceBalance>>& balances,
                                          const std::vector<double>& given, const std::vector<Coupling>& couplings);

/// Each balance printed as an equation: with the bounds of its temperature from those of the couplings, when it is the only
/// one, and the temperature reduction factor b = (θ_i − θ_u)/(θ_i − θ_e).
std::vector<Derivation> derive_balances(const Findings& findings, const std::vector<std::optional<SpaceBalance>>& balances);

}  // namespace wallfoot

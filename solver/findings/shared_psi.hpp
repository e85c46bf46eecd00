// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/elements.hpp"

namespace wallfoot {

/// What two dwellings that meet at one junction enter of its psi, by both length systems, the convention's first. Nothing where
/// no inside space is the own dwelling's and another the neighbour's, or where a psi to the coldest outside space is missing.
/// By convention half of the whole each, or each its own side.
std::vector<SharedPsi> shared_psi(const SectionView& view, const std::vector<Psi>& psi);

Derivation derive_shared(const SectionView& view, const SharedPsi& shared);

/// "enter in each dwelling: …", in a sentence.
Message shared_message(const Section& section, const SharedPsi& shared);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "solver/findings/input_range.hpp"

namespace wallfoot {

/// One variant of a comparison, of one study or of several.
struct ComparedVariant {
    std::string file;                          ///< as given
    std::shared_ptr<const Study> study;
    std::shared_ptr<const Findings> findings;  ///< sound
    InputRange open;
};

/// Side by side: psi with bracket, what low and high conductivities leave open, the difference to `base` with both brackets,
/// fRsi, L2D, the loss of the whole by the quantities of the first study, and in words what each has otherwise than the base.
std::string comparison_text(const std::vector<ComparedVariant>& all, std::size_t base);
std::string comparison_json(const std::vector<ComparedVariant>& all, std::size_t base);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "core/context/context.hpp"
#include "core/dwelling/balance.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// What a variant of a study gives a dwelling: psi of the inside with the coldest outside space, by the dwelling's
/// lengths (overall internal ones take the internal psi), what was taken off for each flanking element, and the psi of
/// other pairs. Throws InputFault "dwelling-no-psi" with the reason, also where the drawing is at fault; Cancelled.
/// `reached`: set to false where the tolerance was not.
LastValue value_of_variant(const Study& study, const Variant& variant, const std::string& file, DwellingLengths lengths, const std::string& today, bool& reached, const Context& context = {});

struct Updated {
    Dwelling dwelling;
    StudiesNow studies;
    /// Why a row or measure kept its last value, by study_key.
    std::map<std::string, Message> troubles;
    bool reached = true;   ///< every bracket is within the tolerance
};

/// Every variant, or only those whose value is not that of the study as it is now.
enum class UpdateWhat { all, out_of_date };

/// Solves the studies that rows and measures refer to, each variant once, relative to `folder`. What cannot be solved keeps
/// its last value. `today`: YYYY-MM-DD. Throws Cancelled.
Updated update_dwelling(const Dwelling& dwelling, const std::string& folder, const std::string& today, UpdateWhat what = UpdateWhat::all, const Context& context = {});

}  // namespace wallfoot

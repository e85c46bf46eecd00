// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// The findings with psi of the other widths of the floor beside them: with the floor's own B′ where the study states area
/// and perimeter of its ground floor, with the convention's width where the study states another. The whole section is worked
/// out again with each, so that L2D and what is taken off it speak of one floor. As they are where no floor is taken off, or
/// no other width is stated. Throws Cancelled.
std::shared_ptr<const Findings> with_floor_widths(const Study& study, const Variant& variant, std::shared_ptr<const Findings> findings,
                                                  const FindingsOptions& options, const Context& context);

}  // namespace wallfoot

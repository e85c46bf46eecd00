// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// As find(), with the temperatures that the spaces state: none is found by a balance, and no other width of the floor is tried.
std::shared_ptr<const Findings> find_stated(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context);

}  // namespace wallfoot

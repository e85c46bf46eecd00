// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/context/context.hpp"
#include "core/study/study.hpp"

namespace wallfoot {

struct Findings;

/// What another program needs to build the junctions of a study again and to compare: a zip archive with, for each variant,
/// noded faces, conductivities in place, surfaces with temperature and resistance, the floor alone likewise, control points,
/// results with their bounds, drawings, and the study itself. Lengths in m. The same study gives the same bytes.
struct Pack {
    std::string bytes;
    bool converged = true;  ///< every result is within the tolerance
    std::vector<std::shared_ptr<const Findings>> findings;
};

/// Packs these variants of the study. Throws InputFault for a drawing at fault, Cancelled; tells its progress.
Pack make_pack(const Study& study, const std::vector<const Variant*>& variants, const Context& context = {});

}  // namespace wallfoot

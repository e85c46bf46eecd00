// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "solver/findings/site_faults.hpp"

namespace wallfoot {

/// One of the usual errors of drawing and reading a junction, with what it does to this one: psi and fRsi with the error less
/// those without it.
struct UsualError {
    FaultEffect effect;              ///< id, name, why it is one; what it does, where it could be run
    bool present = false;            ///< it stands in this drawing; else what it would do here
    std::string piece;               ///< id of the piece it is about, "" for none
    std::optional<Point> at;
    std::optional<Section> mended;   ///< the drawing without it, where one step mends it
    Derivation derivation = {};      ///< of its size, where it has one; `of` is "" else
};

struct UsualErrors {
    std::string variant_id, variant_name;
    std::shared_ptr<const Findings> drawn;
    std::vector<UsualError> errors;  ///< those that stand in the drawing first, each kind with the largest rise of psi first
};

/// Looks for, and tries, usual errors: masonry stated drier than its place, a sheet drawn as a thick piece, a cut nearer than the
/// convention asks, a length of one's own; and what dry values in damp places, ground of 2 m, the floor of another method and the
/// surface resistances of heat flow would do here (common practice, no source). Throws InputFault for a faulty drawing; Cancelled.
UsualErrors usual_errors(const Study& study, const Variant& variant, const FindingsOptions& options = {}, const Context& context = {});

std::string usual_errors_text(const UsualErrors& found);
std::string usual_errors_json(const std::vector<UsualErrors>& found);

}  // namespace wallfoot

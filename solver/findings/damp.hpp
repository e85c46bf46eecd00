// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// One moisture condition of a piece and what the junction does in it.
struct DampRow {
    Condition condition = Condition::dry;
    bool as_drawn = false;      ///< the piece, or a part of it, stands in it now
    double conductivity = 0;    ///< W/(m·K), across; 0 where it is not declared
    std::shared_ptr<const Findings> findings;  ///< null: not declared, and no other value stands for it
};

/// What damp costs: the junction with one piece in every moisture condition, all else as drawn.
struct DampTable {
    std::string variant_id, variant_name, piece, material;  ///< names as shown
    std::shared_ptr<const Findings> drawn;                  ///< the variant as it is
    std::vector<DampRow> rows;                              ///< from dry to saturated
};

/// `piece`: id or name. Throws InputFault: an unknown piece, one that is not filled with a material, a faulty drawing.
DampTable damp_table(const Study& study, const Variant& variant, const std::string& piece, const FindingsOptions& options = {},
                     const Context& context = {});

std::string damp_text(const std::vector<DampTable>& tables);
std::string damp_json(const std::string& study_path, const std::vector<DampTable>& tables);

}  // namespace wallfoot

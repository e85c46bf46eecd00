// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/moisture/in_condition.hpp"
#include "solver/findings/partner.hpp"

namespace wallfoot {

/// One moisture condition of a piece and what the junction does in it.
struct DampRow {
    Condition condition = Condition::dry;
    bool as_drawn = false;   ///< the piece, or a part of it, stands in it now
    InCondition value;       ///< its conductivity: declared, else a range or not known
    double conductivity = 0; ///< W/(m·K), across, as declared; 0 where it is not
    std::shared_ptr<const Findings> findings;         ///< with the declared value; null where there is none
    std::shared_ptr<const Findings> at_low, at_high;  ///< with both ends of a range; null where it is declared or not known
};

/// Another material in the place of the piece.
struct DampAlternative {
    std::string material;                          ///< name as shown
    Condition declared_for = Condition::protected_;  ///< what the paper in hand leads with: protected, else the driest declared
    std::shared_ptr<const Findings> as_declared;   ///< wherever it stands, with that value
    std::vector<DampRow> rows;                     ///< in the same place and condition
};

/// What the alternative is taken to do.
enum class Against { as_declared, in_place, in_place_at_best, in_place_at_worst };
inline constexpr Words<Against, 4> against_words{{{Against::as_declared, "as-declared"}, {Against::in_place, "in-place"}, {Against::in_place_at_best, "in-place-at-best"}, {Against::in_place_at_worst, "in-place-at-worst"}}};

/// How wet before no better: where the junction is no better than with the alternative.
struct NoBetter {
    Against against = Against::as_declared;
    double target = 0;                ///< psi of the alternative, W/(m·K)
    std::vector<EqualRoot> roots;     ///< conductivities of the piece with the same psi, ascending
    std::optional<MoistureNeeded> moisture;  ///< of the first root
};

/// What damp costs: the junction with one piece in every moisture condition, all else as drawn.
struct DampTable {
    std::string variant_id, variant_name, piece, material;  ///< names as shown
    std::shared_ptr<const Findings> drawn;                  ///< the variant as it is
    std::vector<DampRow> rows;                              ///< from dry to saturated
    std::optional<DampAlternative> alternative;
    std::vector<NoBetter> no_better;
    bool psi_rises = true;  ///< with every conductivity that was tried; not where the piece belongs to a flanking element

    /// Every solve behind the table reached its tolerance.
    bool converged() const;
};

/// `piece`: id or name. `alternative`: id or name of a material of the study, "" = none. Throws InputFault: an unknown
/// piece or material, a piece that is not filled with one, a faulty drawing.
DampTable damp_table(const Study& study, const Variant& variant, const std::string& piece, const std::string& alternative = "",
                     const FindingsOptions& options = {}, const Context& context = {});

/// psi as text, with its bracket; of a range from one end to the other; "–" where it is not known.
std::string damp_psi_text(const DampRow& row);
std::string damp_conductivity_text(const DampRow& row);
std::string damp_factor_text(const DampRow& row);
/// How the conductivity of a row was come by, from what is declared to the place; `of` is "" where it is not known.
Derivation damp_derivation(const DampRow& row, const std::string& material);
/// What is against the other: a sentence with what it rests on.
std::vector<Message> no_better_sentences(const DampTable& table, const NoBetter& found);

std::string damp_text(const std::vector<DampTable>& tables);
std::string damp_json(const std::string& study_path, const std::vector<DampTable>& tables);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// One part of the heat loss of the whole junction.
struct LossTerm {
    std::string of;          ///< id of the element; "" for the junction itself
    double coefficient = 0;  ///< U, W/(m²·K), or psi, W/(m·K)
    double quantity = 0;     ///< m² or m
    std::optional<Bracketed> bracket;  ///< of the coefficient, where it has one
};

/// What counts in the end: Σ U·A + psi·l of the elements that meet at the junction, for the areas and the length the study
/// gives (core/file/quantities.hpp).
struct HeatLoss {
    std::optional<Bracketed> value;  ///< W/K; nothing: see `missing`
    std::vector<LossTerm> terms;     ///< in the order of the elements, the junction last
    std::vector<Message> missing;    ///< what to enter, or why there is no U or psi; never zero in its place
    std::vector<Message> notes;      ///< which lengths the areas go with; elements to other spaces are not in it
};

/// H = Σ U·A + psi·l between the two spaces of the headline psi (ISO 13789:2017, direct transmission between the heated space
/// and the exterior; from memory), with U as drawn and, for a floor on soil, U = L2D of the floor alone / its internal
/// length. Areas are those of the convention's system of lengths, as psi is. The bracket is carried through exactly: the
/// floor alone stands in U·A and, with the other sign, in psi·l, and is counted once.
HeatLoss heat_loss(const Study& study, const Findings& findings);

/// The difference of two, W/K; nothing where either has no value, or where they add up other elements.
std::optional<Bracketed> loss_difference(const HeatLoss& of, const HeatLoss& from);
/// True when both have values that cannot be compared: they add up other elements.
bool adds_up_otherwise(const HeatLoss& of, const HeatLoss& from);

/// As a reader with a pocket calculator needs it: "0.276 W/(m²·K) × 40 m² (top) + 0.168 W/(m·K) × 28 m (junction)"; "" where
/// there is no value.
std::string sum_text(const HeatLoss& loss);

}  // namespace wallfoot

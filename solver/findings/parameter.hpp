// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/study/words.hpp"

namespace wallfoot {

/// What a sweep goes through, and what may be sought to make one variant as good as another.
enum class ParameterWhat {
    conductivity,           ///< of pieces, in every moisture condition, W/(m·K)
    material_conductivity,  ///< of every piece of one material
    moisture,               ///< condition of pieces
    material,               ///< that fills pieces
    measure,                ///< a named measure, mm
    extent,                 ///< of one piece towards a side, mm: how deep an edge board goes, how far an insulation reaches
    membrane,               ///< length of a membrane that goes on towards a side, mm; what it keeps dry follows
    temperature             ///< of a space, °C
};

inline constexpr Words<ParameterWhat, 8> parameter_words{{{ParameterWhat::conductivity, "conductivity"},
                                                          {ParameterWhat::material_conductivity, "conductivity-of-material"},
                                                          {ParameterWhat::moisture, "moisture"},
                                                          {ParameterWhat::material, "material"},
                                                          {ParameterWhat::measure, "measure"},
                                                          {ParameterWhat::extent, "extent"},
                                                          {ParameterWhat::membrane, "membrane"},
                                                          {ParameterWhat::temperature, "temperature"}}};

struct Parameter {
    ParameterWhat what = ParameterWhat::conductivity;
    std::vector<std::string> targets;  ///< pieces, or one measure, membrane, material or space; each by id or name
    CutSide side = CutSide::bottom;    ///< of an extent or a membrane

    /// Goes through words (moisture conditions, materials), not through numbers.
    bool takes_words() const { return what == ParameterWhat::moisture || what == ParameterWhat::material; }
    bool towards_a_side() const { return what == ParameterWhat::extent || what == ParameterWhat::membrane; }
    /// The drawing changes with it, not only what is known of it.
    bool moves_lines() const { return what == ParameterWhat::measure || towards_a_side(); }
    bool operator==(const Parameter&) const = default;
};

/// Closed range of what may be asked, in the parameter's unit.
struct ParameterRange {
    double least = 0, most = 0;
};
ParameterRange range_of(ParameterWhat what);

/// The variant's section with the parameter at a number or word; a conductivity comes as a material of its own, which is
/// added to the study. Throws InputFault: names that are nowhere ("sweep-unknown-…", "equal-unknown-material"), and what the
/// drawing does not allow.
Section with_number(Study& study, const Variant& variant, const Section& section, const Parameter& parameter, double value);
Section with_word(Study& study, const Variant& variant, const Section& section, const Parameter& parameter, const std::string& word);
/// Where it stands now: of a conductivity the one declared for the first of its pieces (in its stated condition, else the
/// first declared); nothing for words, or where none is declared.
std::optional<double> present_number(const Study& study, const Variant& variant, const Parameter& parameter);

}  // namespace wallfoot

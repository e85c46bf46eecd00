// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/names.hpp"

namespace wallfoot {

// Edits of the materials of a study. Materials belong to the study, so one edit holds for all its variants.
// A section that uses what was changed becomes a new value: what was worked out for the old one no longer fits it.

/// Closed range of a number that a material may state, in the unit of its field.
struct Limits {
    double least, most;
};
/// Between the best evacuated insulation and diamond there is room to spare on both sides. W/(m·K)
inline constexpr Limits conductivity_limits{1e-6, 1e5};
inline constexpr Limits density_limits{0.01, 30'000};  ///< kg/m³
inline constexpr Limits strength_limits{0, 10'000};    ///< N/mm²
inline constexpr Limits fractile_limits{1, 99};        ///< per cent
inline constexpr Limits moisture_limits(MoistureBy by) { return {0, by == MoistureBy::volume ? 1.0 : 20.0}; }  ///< kg/kg or m³/m³

/// Kinds whose one bare number holds in every moisture condition.
inline constexpr bool same_in_all_conditions(MaterialKind kind) {
    return kind == MaterialKind::metal || kind == MaterialKind::airspace || kind == MaterialKind::soil;
}

/// A material that conducts the same, W/(m·K), in every condition and direction: for trials.
Material plain_material(const std::string& id, double conductivity);

/// What fills pieces with the material or mixes it in, in words: one text per variant ("Base: Leaf, Foot block") and one
/// per mix. Empty: it may be removed.
std::vector<std::string> uses_of_material(const Study& study, const std::string& id);

/// Adds a material at the end. An id that is empty or taken is replaced by a free one made from the name: see
/// materials.back(). Refuses a name that is empty ("material-without-name") or taken ("material-name-taken").
Study add_material(const Study& study, Material material);
/// Adds materials from elsewhere: those that are there with the same id and content are left out, the others get a
/// distinct name and a free id where theirs is taken. `added`: how many.
Study import_materials(const Study& study, const std::vector<Material>& materials, std::size_t* added = nullptr);
/// Puts `material` in the place of the one with its id; refuses like add_material, but a name may stay as it was.
Study replace_material(const Study& study, const Material& material);
/// A copy behind the material, its name made distinct ("Dense block 2").
Study duplicate_material(const Study& study, const std::string& id);
/// Refuses ("material-in-use") with the places where it is used.
Study remove_material(const Study& study, const std::string& id);
/// Fills a piece of one variant with a material of the study or, copied into the study first, one from outside it.
/// One that is already there with the same id and content is not copied again.
Study give_material(const Study& study, std::size_t variant, const std::string& piece, Material material);

/// The study with every conductivity of a material times `factor` (inside conductivity_limits), in all conditions and
/// axes, its ranges alike: a trial, not an edit – the sections stay the very same values.
Study with_conductivity_times(const Study& study, const std::string& id, double factor);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <set>

#include "core/file/attachment.hpp"
#include "core/file/fields.hpp"
#include "core/file/quantities.hpp"
#include "core/file/study_file.hpp"

namespace wallfoot {

namespace {

/// Adds a material and what it is mixed of.
void add_used(const Study& study, const std::string& id, std::set<std::string>& used) {
    const Material* material = study.find_material(id);
    if (!material || !used.insert(id).second) return;
    for (const MixPart& part : material->mix) add_used(study, part.material, used);
}

/// The section without what only names or shows.
Section nameless(Section section) {
    for (Space& space : section.spaces) space.name.clear();
    for (Piece& piece : section.pieces) piece.name.clear();
    for (HiddenSurface& hidden : section.hidden) hidden.reason.clear();
    for (Stretch& stretch : section.stretch) stretch.name.clear();
    section.dimensions.clear();
    section.texts.clear();
    section.groups.clear();
    section.underlays.clear();
    return section;
}

}  // namespace

std::string input_hash(const Study& study, const Variant& variant) {
    std::set<std::string> used;
    for (const Piece& piece : variant.section->pieces)
        if (piece.fill == Fill::material) add_used(study, piece.filled_with, used);
    json::Array materials;  // in the order of their ids: the order in the file counts for nothing
    for (const std::string& id : used) {
        Material material = *study.find_material(id);
        material.name.clear();
        material.evidence.clear();
        materials.push_back(file::write_material(material));
    }
    json::Object object{{"section", file::write_section(nameless(*variant.section))}, {"materials", std::move(materials)}};
    if (const auto convention = study.conventions.find(study.convention); convention != study.conventions.end()) {
        Convention nameless_convention = convention->second;
        nameless_convention.name.clear();
        object["convention"] = file::write_convention(nameless_convention);
    }
    if (const auto floor = ground_floor(study)) object["characteristic_dimension"] = floor->characteristic();
    if (const auto edge = stated_floor_edge(study))
        object["floor_edge"] = json::Array{edge->vertical, edge->width_m, edge->thickness_m, edge->conductivity};
    if (study.floor_width) object["floor_width"] = file::write_length(*study.floor_width);
    if (const auto rules = study.kept.find("rule_sets"); rules != study.kept.end())
        file::put_kept(object, "rule_sets", rules->second);
    return "sha256" + sha256_of(json::print_line(object));
}

}  // namespace wallfoot

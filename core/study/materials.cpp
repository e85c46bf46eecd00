// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/materials.hpp"
#include "core/study/words.hpp"

#include <algorithm>
#include <set>

#include "core/study/edits.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void refuse_material(const std::string& code, std::map<std::string, std::string> args, const std::string& field = {}) {
    throw InputFault(Message{Severity::fault, code, std::move(args), {}, field});
}

std::size_t index_of(const Study& study, const std::string& id) {
    const Material* material = study.find_material(id);
    if (!material) refuse_material("unknown-material", {{"material", id}});
    return static_cast<std::size_t>(material - study.materials.data());
}

bool name_taken(const Study& study, const std::string& name) {
    return std::any_of(study.materials.begin(), study.materials.end(), [&](const Material& m) { return shown_name(m) == name; });
}

std::string distinct_name(const Study& study, const std::string& base) {
    std::string name = base;
    for (int n = 2; name_taken(study, name); ++n) name = base + " " + std::to_string(n);
    return name;
}

void check_name(const Study& study, const Material& material) {
    if (material.name.find_first_not_of(" \t\n") == std::string::npos) refuse_material("material-without-name", {}, "/name");
    if (name_taken(study, material.name)) refuse_material("material-name-taken", {{"material", material.name}}, "/name");
}

/// Letters and digits of the name, hyphens between; "m" where nothing is left.
std::string free_id(const Study& study, const std::string& name) {
    std::string base;
    for (const char c : name) {
        const bool upper = c >= 'A' && c <= 'Z';
        if (upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) base += upper ? static_cast<char>(c - 'A' + 'a') : c;
        else if (!base.empty() && base.back() != '-') base += '-';
    }
    while (!base.empty() && base.back() == '-') base.pop_back();
    if (base.empty()) base = "m";
    std::string id = base;
    for (int n = 2; study.find_material(id); ++n) id = base + "-" + std::to_string(n);
    return id;
}

/// The material and all that mix it in, however deep.
std::set<std::string> with_mixes_of(const Study& study, const std::string& id) {
    std::set<std::string> ids{id};
    for (bool grown = true; grown;) {
        grown = false;
        for (const Material& material : study.materials)
            for (const MixPart& part : material.mix)
                if (ids.contains(part.material)) grown = ids.insert(material.id).second || grown;
    }
    return ids;
}

}  // namespace

Material plain_material(const std::string& id, double conductivity) {
    Material material;
    material.id = id;
    for (const auto& [condition, word] : condition_words) material.lambda.by_condition[condition].value = conductivity;
    return material;
}

std::vector<std::string> uses_of_material(const Study& study, const std::string& id) {
    std::vector<std::string> uses;
    for (const Variant& variant : study.variants) {
        std::string pieces;
        for (const Piece& piece : variant.section->pieces)
            if (piece.fill == Fill::material && piece.filled_with == id)
                pieces += (pieces.empty() ? "" : ", ") + (piece.name.empty() ? piece.id : piece.name);
        if (!pieces.empty()) uses.push_back((variant.name.empty() ? variant.id : variant.name) + ": " + pieces);
    }
    for (const Material& material : study.materials)
        if (std::any_of(material.mix.begin(), material.mix.end(), [&](const MixPart& part) { return part.material == id; }))
            uses.push_back("mix " + shown_name(material));
    return uses;
}

Study add_material(const Study& study, Material material) {
    check_name(study, material);
    if (material.id.empty() || study.find_material(material.id)) material.id = free_id(study, material.name);
    Study result = study;
    result.materials.push_back(std::move(material));
    return result;
}

Study replace_material(const Study& study, const Material& material) {
    const std::size_t index = index_of(study, material.id);
    if (material.name != study.materials[index].name) check_name(study, material);
    Study result = study;
    result.materials[index] = material;
    const auto changed = with_mixes_of(study, material.id);
    for (Variant& variant : result.variants) {
        const auto& pieces = variant.section->pieces;
        if (std::any_of(pieces.begin(), pieces.end(), [&](const Piece& piece) {
                return piece.fill == Fill::material && changed.contains(piece.filled_with);
            }))
            variant.section = std::make_shared<const Section>(*variant.section);
    }
    return result;
}

Study duplicate_material(const Study& study, const std::string& id) {
    const std::size_t index = index_of(study, id);
    Material copy = study.materials[index];
    copy.name = distinct_name(study, shown_name(copy));
    copy.id = free_id(study, copy.name);
    Study result = study;
    result.materials.insert(result.materials.begin() + static_cast<std::ptrdiff_t>(index) + 1, std::move(copy));
    return result;
}

Study import_materials(const Study& study, const std::vector<Material>& materials, std::size_t* added) {
    Study result = study;
    std::size_t count = 0;
    for (Material material : materials) {
        const Material* present = result.find_material(material.id);
        if (present && *present == material) continue;
        material.name = distinct_name(result, shown_name(material));
        result = add_material(result, std::move(material));
        ++count;
    }
    if (added) *added = count;
    return result;
}

Study remove_material(const Study& study, const std::string& id) {
    const std::size_t index = index_of(study, id);
    std::string where;
    for (const std::string& use : uses_of_material(study, id)) where += (where.empty() ? "" : "; ") + use;
    if (!where.empty()) refuse_material("material-in-use", {{"material", shown_name(study.materials[index])}, {"where", where}});
    Study result = study;
    result.materials.erase(result.materials.begin() + static_cast<std::ptrdiff_t>(index));
    return result;
}

Study give_material(const Study& study, std::size_t variant, const std::string& piece, Material material) {
    const Material* present = study.find_material(material.id);
    if (present && *present == material) return with_section(study, variant, set_material(*study.variants.at(variant).section, piece, material.id));
    material.name = distinct_name(study, shown_name(material));
    const Study with = add_material(study, std::move(material));
    return with_section(with, variant, set_material(*with.variants.at(variant).section, piece, with.materials.back().id));
}

Study with_conductivity_times(const Study& study, const std::string& id, double factor) {
    Study tried = study;
    const auto scaled = [&](double value) { return std::clamp(value * factor, conductivity_limits.least, conductivity_limits.most); };
    for (Material& material : tried.materials) {
        if (material.id != id) continue;
        for (Conductivities* axis : {&material.lambda, &material.lambda_up})
            for (auto& [condition, value] : axis->by_condition) {
                value.value = scaled(value.value);
                for (auto* bound : {&value.low, &value.high})
                    if (*bound) *bound = scaled(**bound);
            }
    }
    return tried;
}

}  // namespace wallfoot

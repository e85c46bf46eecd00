// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/parameter.hpp"

#include "core/file/fields.hpp"
#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

constexpr const char* sweep_trial = "sweep trial ";

[[noreturn]] void unknown_in_sweep(const char* code, const std::string& name, const Variant& variant) {
    throw InputFault(Message{Severity::fault, code, {{"name", name}, {"variant", variant.name.empty() ? variant.id : variant.name}}, {}, {}});
}

template <class Thing>
const Thing& need_named(const std::vector<Thing>& things, const std::string& name, const char* code, const Variant& variant) {
    for (const Thing& thing : things)
        if (thing.id == name) return thing;
    if constexpr (requires(const Thing& thing) { thing.name; })
        for (const Thing& thing : things)
            if (thing.name == name) return thing;
    unknown_in_sweep(code, name, variant);
}

const Material& need_material(const Study& study, const std::string& name) {
    for (const Material& material : study.materials)
        if (material.id == name || material.name == name) return material;
    throw InputFault(Message{Severity::fault, "equal-unknown-material", {{"material", name}}, {}, {}});
}

/// A material that conducts so in every condition and is otherwise as it was: soil stays soil, and what draws water does.
Material conducting(const Material* now, const std::string& id, double value) {
    Material trial = plain_material(id, value);
    if (!now) return trial;
    Material result = *now;
    result.id = id;
    result.lambda = trial.lambda;
    result.lambda_up = {};
    result.mix.clear();
    result.temperature.reset();
    result.ageing.reset();
    return result;
}

std::string only_target(const Parameter& parameter) { return parameter.targets.empty() ? std::string() : parameter.targets.front(); }

/// Ids of the pieces a parameter speaks of.
std::vector<std::string> pieces_of(const Study& study, const Variant& variant, const Section& section, const Parameter& parameter) {
    std::vector<std::string> ids;
    if (parameter.what == ParameterWhat::material_conductivity) {
        const std::string id = need_material(study, only_target(parameter)).id;
        for (const Piece& piece : section.pieces)
            if (piece.fill == Fill::material && piece.filled_with == id) ids.push_back(piece.id);
        if (ids.empty()) unknown_in_sweep("sweep-unused-material", only_target(parameter), variant);
    } else {
        for (const std::string& name : parameter.targets) ids.push_back(need_named(section.pieces, name, "sweep-unknown-piece", variant).id);
        if (ids.empty()) unknown_in_sweep("sweep-unknown-piece", "", variant);
    }
    return ids;
}

}  // namespace

ParameterRange range_of(ParameterWhat what) {
    if (what == ParameterWhat::conductivity || what == ParameterWhat::material_conductivity) return {conductivity_limits.least, conductivity_limits.most};
    if (what == ParameterWhat::temperature) return {file::temperatures.least, file::temperatures.most};
    return {file::some_length.least, file::some_length.most};
}

Section with_number(Study& study, const Variant& variant, const Section& section, const Parameter& parameter, double value) {
    const std::string name = only_target(parameter);
    switch (parameter.what) {
        case ParameterWhat::measure: return set_stretch(section, need_named(section.stretch, name, "sweep-unknown-measure", variant).id, from_mm(value));
        case ParameterWhat::extent: return set_extent(section, need_named(section.pieces, name, "sweep-unknown-piece", variant).id, parameter.side, from_mm(value));
        case ParameterWhat::membrane: return set_membrane_length(section, need_named(section.membranes, name, "sweep-unknown-membrane", variant).id, parameter.side, from_mm(value));
        case ParameterWhat::temperature: return set_temperature(section, need_named(section.spaces, name, "sweep-unknown-space", variant).id, value);
        default: break;
    }
    Section result = section;
    for (const std::string& piece : pieces_of(study, variant, section, parameter)) {
        const Material* now = study.find_material(find_piece(result, piece)->filled_with);
        Material trial = conducting(now, sweep_trial + piece, value);
        result = set_material(result, piece, trial.id);
        std::erase_if(study.materials, [&](const Material& other) { return other.id == trial.id; });  // of a parameter before this one
        study.materials.push_back(std::move(trial));
    }
    return result;
}

Section with_word(Study& study, const Variant& variant, const Section& section, const Parameter& parameter, const std::string& word) {
    Section result = section;
    for (const std::string& piece : pieces_of(study, variant, section, parameter))
        result = parameter.what == ParameterWhat::moisture ? set_moisture(result, piece, *file::find_word(condition_words, word)) : set_material(result, piece, need_material(study, word).id);
    return result;
}

std::optional<double> present_number(const Study& study, const Variant& variant, const Parameter& parameter) {
    const Section& section = *variant.section;
    const std::string name = only_target(parameter);
    switch (parameter.what) {
        case ParameterWhat::measure: return to_mm(stretch_length(need_named(section.stretch, name, "sweep-unknown-measure", variant)));
        case ParameterWhat::extent: return to_mm(piece_extent(need_named(section.pieces, name, "sweep-unknown-piece", variant), parameter.side));
        case ParameterWhat::membrane: return to_mm(membrane_length(need_named(section.membranes, name, "sweep-unknown-membrane", variant)));
        case ParameterWhat::temperature: {
            const Space& space = need_named(section.spaces, name, "sweep-unknown-space", variant);
            if (!space.temperature && space.balance) return std::nullopt;  // found by its balance
            return space_temperature(study, space);
        }
        default: break;
    }
    if (parameter.takes_words()) return std::nullopt;
    const Piece& piece = *find_piece(section, pieces_of(study, variant, section, parameter).front());
    const Material* material = study.find_material(piece.filled_with);
    if (!material || material->lambda.by_condition.empty()) return std::nullopt;
    const auto stated = piece.moisture ? material->lambda.by_condition.find(*piece.moisture) : material->lambda.by_condition.end();
    return (stated == material->lambda.by_condition.end() ? material->lambda.by_condition.begin() : stated)->second.value;
}

}  // namespace wallfoot

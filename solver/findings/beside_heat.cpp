// SPDX-License-Identifier: GPL-3.0-or-later
#include <set>

#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/partner.hpp"

// What heat does not decide. The sentences are common practice, no source; what is declared is the study's.
namespace wallfoot {

namespace {

Message aside(std::string code, std::map<std::string, std::string> args = {}) { return {Severity::note, std::move(code), std::move(args), {}, {}}; }

void add_declared(std::vector<Message>& all, const Material& material) {
    all.push_back(aside("beside-declared", {{"material", shown_name(material)},
                                            {"strength", material.strength ? number_text(*material.strength) + " N/mm²" : "not declared"},
                                            {"frost", material.frost && !material.frost->empty() ? *material.frost : "not declared"}}));
}

}  // namespace

std::vector<Message> beside_heat(const Study& study, const Variant& variant, const Parameter& parameter, const std::string& other) {
    std::vector<Message> all;
    const Section& section = *variant.section;
    std::set<std::string> met;
    for (const Piece& piece : section.pieces) {
        bool meant = parameter.what == ParameterWhat::material_conductivity && piece.filled_with == parameter.targets.front();
        if (parameter.what != ParameterWhat::measure && parameter.what != ParameterWhat::membrane)
            for (const std::string& name : parameter.targets) meant = meant || piece.id == name || piece.name == name;
        const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
        if (meant && material && met.insert(material->id).second) add_declared(all, *material);
    }
    for (const Material& material : study.materials)
        if (!other.empty() && (material.id == other || material.name == other) && met.insert(material.id).second) add_declared(all, material);
    switch (parameter.what) {
        case ParameterWhat::measure: all.push_back(aside("beside-thickness")); break;
        case ParameterWhat::extent: all.push_back(aside("beside-extent")); break;
        case ParameterWhat::membrane: all.push_back(aside("beside-membrane")); break;
        case ParameterWhat::temperature: break;
        default: all.push_back(aside("beside-another-block")); break;
    }
    all.push_back(aside("beside-heat"));
    return all;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/study.hpp"

#include <algorithm>

#include "core/study/words.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

const Material* Study::find_material(const std::string& id) const {
    const auto found = std::find_if(materials.begin(), materials.end(), [&](const Material& m) { return m.id == id; });
    return found == materials.end() ? nullptr : &*found;
}

const Variant* Study::find_variant(const std::string& id_or_name) const {
    for (const Variant& variant : variants)
        if (variant.id == id_or_name) return &variant;
    for (const Variant& variant : variants)
        if (variant.name == id_or_name) return &variant;
    return nullptr;
}

const Convention& Study::used_convention() const {
    const auto found = conventions.find(convention);
    if (found == conventions.end())
        throw InputFault(Message{.code = "unknown-convention", .args = {{"id", convention}}, .at = {}, .pointer = "/convention"});
    return found->second;
}

Level& level_of(Section& section, LevelKind kind) {
    return kind == LevelKind::floor ? section.floor : kind == LevelKind::ground ? section.ground : section.dpc;
}

const Level& level_of(const Section& section, LevelKind kind) { return level_of(const_cast<Section&>(section), kind); }

double space_temperature(const Study& study, const Space& space) {
    if (space.temperature) return *space.temperature;
    if (space.kind == SpaceKind::inside) return study.used_convention().inside_temperature;
    if (space.kind == SpaceKind::outside) return study.used_convention().outside_temperature;
    std::optional<Point> place;
    if (!space.at.empty()) place = space.at.front();
    throw InputFault(
        Message{.code = "space-without-temperature", .args = {{"space", space.id}}, .at = place, .pointer = {}});
}

std::vector<double> ordering_temperatures(const Study& study, const Section& section) {
    std::vector<double> temperatures;
    std::optional<double> least, most;
    for (const Space& space : section.spaces) {
        const bool open = !space.temperature && space.balance;
        temperatures.push_back(open ? 0 : space_temperature(study, space));
        if (open) continue;
        least = std::min(least.value_or(temperatures.back()), temperatures.back());
        most = std::max(most.value_or(temperatures.back()), temperatures.back());
    }
    for (std::size_t i = 0; i < temperatures.size(); ++i)
        if (!section.spaces[i].temperature && section.spaces[i].balance) temperatures[i] = (least.value_or(0) + most.value_or(0)) / 2;
    return temperatures;
}

std::string to_string(MaterialKind kind) { return word_of(material_kind_words, kind); }
std::string to_string(Condition condition) { return word_of(condition_words, condition); }
std::string to_string(Basis basis) { return word_of(basis_words, basis); }
std::string to_string(SpaceKind kind) { return word_of(space_kind_words, kind); }
std::string to_string(MembraneKind kind) { return word_of(membrane_kind_words, kind); }
std::string to_string(CutSide side) { return word_of(cut_side_words, side); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/formula_versions.hpp"

#include <algorithm>

namespace wallfoot {

namespace {

std::string family_of(const std::string& id) { return id.substr(0, id.find('-')); }

bool is_family(const std::string& id) {
    return std::any_of(known_formulas().begin(), known_formulas().end(), [&](const KnownFormula& known) { return id.find('-') == std::string::npos && family_of(known.id) == id; });
}

const KnownFormula* formula_of(const std::string& id) {
    const auto known = std::find_if(known_formulas().begin(), known_formulas().end(), [&](const KnownFormula& one) { return one.id == id; });
    return known == known_formulas().end() ? nullptr : &*known;
}

}  // namespace

const std::vector<KnownFormula>& known_formulas() {
    static const std::vector<KnownFormula> all{
        {"balance-temperature"}, {"heated-layer"}, {"iso10211-criteria"}, {"iso10211-fRsi"}, 
        {"iso10211-floor-alone", 2},  // 1: references stated for lengths moved the planes of the second section
        {"iso10211-psi"}, {"iso10456-use"},
        {"iso13370-basement"}, {"iso13370-edge"}, {"iso13370-floor"},
        {"iso13788-months", 2},  // 1: every inside space takes the month's temperature of the room, a space in balance keeps that of the steady field, a wave is not judged
        {"iso6946-corrections"},
        {"iso6946-parts", 2},    // 1: of neighbours of one material built of parts only the first is a layer of the element
        {"iso6946-transmittance"}, {"shared-psi"},
        {"year-wave", 2}};       // 1: every inside space goes through the year with the room
    return all;
}

FormulaVersions FormulaVersions::recorded(std::map<std::string, int> stated) {
    FormulaVersions versions;
    versions.stated_ = std::move(stated);
    versions.others_are_first_ = true;
    return versions;
}

int FormulaVersions::of(const std::string& id) const {
    for (const std::string& name : {id, family_of(id)})
        if (const auto stated = stated_.find(name); stated != stated_.end()) return stated->second;
    const KnownFormula* known = formula_of(id);
    return known && !others_are_first_ ? known->newest : 1;
}

std::optional<Message> unknown_version(const std::string& id, int version) {
    const KnownFormula* known = formula_of(id);
    if (!known && !is_family(id)) return Message{Severity::fault, "record-formula-unknown", {{"formula", id}, {"version", std::to_string(version)}}, {}, {}};
    const int newest = known ? known->newest : 1;  // families were named when all had their first version
    if (version >= 1 && version <= newest) return std::nullopt;
    return Message{Severity::fault, "record-formula-version", {{"formula", id}, {"version", std::to_string(version)}, {"known", newest == 1 ? std::string("1") : "1 to " + std::to_string(newest)}}, {}, {}};
}

}  // namespace wallfoot

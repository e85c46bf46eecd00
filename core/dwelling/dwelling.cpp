// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/dwelling.hpp"

#include "core/file/fields.hpp"
#include "core/resources/resources.hpp"

namespace wallfoot {

namespace {

template <class Thing>
const Thing* with_id(const std::vector<Thing>& things, const std::string& id) {
    for (const Thing& thing : things)
        if (thing.id == id) return &thing;
    return nullptr;
}

}  // namespace

const Junction* Dwelling::find_junction(const std::string& id) const { return with_id(junctions, id); }
const EnvelopeElement* Dwelling::find_envelope(const std::string& id) const { return with_id(envelope, id); }

std::vector<JunctionKind> read_junction_kinds(const std::string& text) {
    file::Found found;
    json::Value value;
    std::vector<JunctionKind> kinds;
    if (json::parse(text, "", value, found.faults)) {
        const file::Where top("");
        file::Fields fields(found, value, top);
        fields.text("about");
        fields.need("kinds");
        file::Ids ids;
        fields.each("kinds", [&](const json::Value& item, const file::Where& place) {
            file::Fields parts(found, item, place);
            JunctionKind kind;
            kind.id = parts.id();
            parts.need("name");
            kind.name = parts.text("name");
            kind.usual = parts.flag("usual").value_or(false);
            kind.inner_part = parts.flag("inner_part").value_or(false);
            parts.rest();
            ids.add(found, place, kind.id);
            kinds.push_back(std::move(kind));
        });
        fields.rest();
    }
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return kinds;
}

std::vector<JunctionKind> junction_kinds() { return read_junction_kinds(resource("dwelling/junction-kinds.json")); }

std::string kind_name(const std::vector<JunctionKind>& kinds, const std::string& id) {
    const JunctionKind* kind = with_id(kinds, id);
    return kind ? kind->name : id;
}

std::string shown_name(const Junction& junction, const std::vector<JunctionKind>& kinds) {
    const std::string kind = kind_name(kinds, junction.kind);
    return junction.name.empty() ? kind : kind + ": " + junction.name;
}

std::string new_junction_id(const Dwelling& dwelling) {
    for (std::size_t number = dwelling.junctions.size() + 1;; ++number)
        if (std::string id = "j" + std::to_string(number); !dwelling.find_junction(id)) return id;
}

}  // namespace wallfoot

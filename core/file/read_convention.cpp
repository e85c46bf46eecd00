// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdexcept>

#include "core/file/fields.hpp"
#include "core/file/study_file.hpp"
#include "core/resources/resources.hpp"

namespace wallfoot {

namespace file {

namespace {

constexpr Range multiples{0.01, 100};  // × b or × thickness

SurfaceRule read_surface_rule(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    SurfaceRule rule;
    if (const auto* inside = fields.need("inside")) rule.inside = read_resistances(found, *inside, fields.at("inside"));
    rule.outside = fields.need_resistance("outside");
    rule.source = fields.text("source");
    rule.extra = fields.rest();
    return rule;
}

/// Limits of fRsi by name.
std::map<std::string, double> read_limits(Fields& fields, const char* name) {
    std::map<std::string, double> limits;
    const auto* value = fields.find(name);
    if (!value) return limits;
    const Where place = fields.at(name);
    const auto* object = value->as<json::Object>();
    if (!object) wrong_type(fields.found(), *value, place, "an object");
    else
        for (const auto& [key, item] : *object)
            if (const auto limit = read_number(fields.found(), item, Where(place, key), {0, 1})) limits[key] = *limit;
    return limits;
}

void put_limits(json::Object& object, const char* name, const std::map<std::string, double>& limits) {
    if (limits.empty()) return;
    json::Object entries;
    for (const auto& [key, limit] : limits) entries[key] = limit;
    object[name] = std::move(entries);
}

}  // namespace

SurfaceResistances read_resistances(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    SurfaceResistances by_direction;
    by_direction.up = fields.need_resistance("up");
    by_direction.horizontal = fields.need_resistance("horizontal");
    by_direction.down = fields.need_resistance("down");
    by_direction.extra = fields.rest();
    return by_direction;
}

Convention read_convention_fields(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Convention convention;
    convention.id = fields.id();
    convention.name = fields.text("name");
    convention.version = static_cast<int>(fields.need_number("version", {1, 1e6}));
    if (const auto* rule = fields.need("heat_flow")) convention.heat_flow = read_surface_rule(found, *rule, fields.at("heat_flow"));
    if (const auto* rule = fields.find("surface_check"))
        convention.surface_check = read_surface_rule(found, *rule, fields.at("surface_check"));
    convention.inside_temperature = fields.need_number("inside_temperature", temperatures);
    convention.outside_temperature = fields.need_number("outside_temperature", temperatures);
    convention.floor_width = fields.need_length("floor_width", some_length);
    convention.inside_distance = fields.need_number("inside_distance", multiples);
    convention.outside_distance = fields.need_number("outside_distance", multiples);
    convention.depth = fields.need_number("depth", multiples);
    convention.least_distance = fields.need_length("least_distance", {0, 500'000});
    convention.thickness_factor = fields.need_number("thickness_factor", {0, 100});
    convention.lengths = fields.need_word("lengths", length_system_words);
    convention.floor_reading = fields.need_word("floor_reading", floor_reading_words);
    convention.least_fRsi = fields.number("least_fRsi", {0, 1});
    convention.least_fRsi_by_use = read_limits(fields, "least_fRsi_by_use");
    convention.least_fRsi_by_zone = read_limits(fields, "least_fRsi_by_zone");
    convention.most_psi = fields.number("most_psi", {-10, 10});
    if (fields.find("dwelling_share")) convention.dwelling_share = fields.need_word("dwelling_share", dwelling_share_words);
    fields.each("sources", [&](const json::Value& item, const Where& place) {
        if (const auto source = read_text(found, item, place)) convention.sources.push_back(*source);
    });
    convention.extra = fields.rest();
    return convention;
}

json::Value write_resistances(const SurfaceResistances& by_direction) {
    json::Object object{{"up", by_direction.up}, {"horizontal", by_direction.horizontal}, {"down", by_direction.down}};
    put_extra(object, by_direction.extra);
    return object;
}

namespace {

json::Value write_surface_rule(const SurfaceRule& rule) {
    json::Object object{{"inside", write_resistances(rule.inside)}, {"outside", rule.outside}};
    put_text(object, "source", rule.source);
    put_extra(object, rule.extra);
    return object;
}

}  // namespace

json::Value write_convention(const Convention& convention) {
    json::Object object{{"id", convention.id},
                        {"version", static_cast<double>(convention.version)},
                        {"heat_flow", write_surface_rule(convention.heat_flow)},
                        {"inside_temperature", convention.inside_temperature},
                        {"outside_temperature", convention.outside_temperature},
                        {"floor_width", write_length(convention.floor_width)},
                        {"inside_distance", convention.inside_distance},
                        {"outside_distance", convention.outside_distance},
                        {"depth", convention.depth},
                        {"least_distance", write_length(convention.least_distance)},
                        {"thickness_factor", convention.thickness_factor},
                        {"lengths", word_of(length_system_words, convention.lengths)},
                        {"floor_reading", word_of(floor_reading_words, convention.floor_reading)}};
    put_text(object, "name", convention.name);
    if (convention.surface_check) object["surface_check"] = write_surface_rule(*convention.surface_check);
    if (convention.least_fRsi) object["least_fRsi"] = *convention.least_fRsi;
    put_limits(object, "least_fRsi_by_use", convention.least_fRsi_by_use);
    put_limits(object, "least_fRsi_by_zone", convention.least_fRsi_by_zone);
    if (convention.most_psi) object["most_psi"] = *convention.most_psi;
    if (convention.dwelling_share) object["dwelling_share"] = word_of(dwelling_share_words, *convention.dwelling_share);
    if (!convention.sources.empty()) {
        json::Array sources(convention.sources.begin(), convention.sources.end());
        object["sources"] = std::move(sources);
    }
    put_extra(object, convention.extra);
    return object;
}

}  // namespace file

Convention read_convention(const std::string& text, const std::string& pointer) {
    file::Found found;
    json::Value value;
    Convention convention;
    if (json::parse(text, pointer, value, found.faults))
        convention = file::read_convention_fields(found, value, file::Where(pointer));
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return convention;
}

Convention shipped_convention(const std::string& id) {
    const std::string path = "conventions/" + id + ".json";
    // An id comes from a file: it must not reach out of the folder.
    if (id.empty() || id.find_first_of("/\\") != std::string::npos || id.front() == '.')
        throw std::out_of_range("no such convention: " + id);
    return read_convention(resource(path));
}

std::vector<Convention> known_conventions(const Study& study) {
    std::vector<Convention> known;
    for (const auto& [id, convention] : study.conventions) known.push_back(convention);
    for (const std::string& path : resources_below("conventions")) {
        Convention shipped = read_convention(resource(path));
        if (!study.conventions.contains(shipped.id)) known.push_back(std::move(shipped));
    }
    return known;
}

Study with_convention(const Study& study, const std::string& id) {
    for (const Convention& known : known_conventions(study)) {
        if (known.id != id) continue;
        Study changed = study;
        changed.convention = id;
        changed.conventions[id] = known;
        return changed;
    }
    throw InputFault(Message{Severity::fault, "unknown-convention", {{"id", id}}, {}, {}});
}

}  // namespace wallfoot

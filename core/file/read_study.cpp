// SPDX-License-Identifier: GPL-3.0-or-later
#include <cerrno>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <system_error>

#include "core/file/fields.hpp"
#include "core/file/study_file.hpp"
#include "core/file/version.hpp"
#include "core/file/whole_file.hpp"
#include "core/study/site.hpp"

namespace wallfoot {

namespace {

using namespace file;

constexpr std::size_t file_limit = 200'000'000;  // bytes

[[noreturn]] void refuse(const char* code, Found::Args args, const char* pointer = "") {
    Message fault;
    fault.code = code;
    fault.args = std::move(args);
    fault.pointer = pointer;
    throw InputFault(std::move(fault));
}

/// The version is looked at first: a newer file may mean other things by the same names.
void check_version(Found& found, Fields& fields) {
    const auto* value = fields.need("wallfoot");
    if (!value) return;
    const auto* number = value->as<json::Number>();
    if (!number) return wrong_type(found, *value, fields.at("wallfoot"), "a number");
    const bool whole = std::floor(number->value) == number->value;
    if (whole && number->value > newest_version)
        refuse("newer-file", {{"needed", number->text}, {"known", std::to_string(newest_version)}}, "/wallfoot");
    if (!whole || number->value < 1)
        found.fault("unknown-version", fields.at("wallfoot"), {{"version", number->text}, {"known", std::to_string(newest_version)}});
}

Project read_project(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Project project;
    project.name = fields.text("name");
    project.plot = fields.text("plot");
    project.drawing = fields.text("drawing");
    project.revision = fields.text("revision");
    project.junction = fields.text("junction");
    project.author = fields.text("author");
    project.checker = fields.text("checker");
    project.date = fields.text("date");
    project.enquiry = fields.text("enquiry");
    project.contact = fields.text("contact");
    project.extra = fields.rest();
    return project;
}

void read_site(Found& found, const json::Value& value, const Where& where, Study& study) {
    const auto* object = value.as<json::Object>();
    if (!object) return wrong_type(found, value, where, "an object");
    for (const auto& [name, item] : *object) {
        Fields fields(found, item, Where(where, name));
        Fact fact;
        if (const auto* known = fields.need("value")) fact.value = json::print_line(*known);
        fact.source = fields.text("source");
        fact.extra = fields.rest();
        // A value that cannot be used is a fault; a fact that nobody knows is kept and told.
        if (const auto wrong = fact.value.empty() ? std::nullopt : check_site_fact(name, fact)) {
            const Where place(where, name);
            if (wrong->severity == Severity::fault) found.fault(wrong->code.c_str(), Where(place, "value"), wrong->args);
            else found.warn(wrong->code.c_str(), place, wrong->args);
        }
        study.site[name] = std::move(fact);
    }
}

void read_building(Fields& fields, Study& study) {
    const auto* value = fields.find("building");
    study.building = fields.kept_object("building");
    const auto* building = value ? value->as<json::Object>() : nullptr;
    if (!building) return;
    const Where place = fields.at("building");
    if (const auto given = building->find("quantities"); given != building->end()) check_quantities(fields.found(), given->second, Where(place, "quantities"));
    for (const char* name : {"area", "perimeter"})
        if (const auto given = building->find(name); given != building->end()) {  // once kept unread: an older file may hold anything
            const auto* size = given->second.as<json::Number>();
            if (!size || !(size->value >= ground_floor_sizes.least && size->value <= ground_floor_sizes.most)) fields.found().warn("building-size-unused", Where(place, name), {{"field", name}});
        }
    const auto floor = building->find("floor");
    if (floor == building->end()) return;
    const Where floor_place(place, "floor");
    const auto* floor_fields = floor->second.as<json::Object>();
    if (!floor_fields) return wrong_type(fields.found(), floor->second, floor_place, "an object");
    if (const auto edge = floor_fields->find("edge_insulation"); edge != floor_fields->end()) {  // once kept unread, as above
        const Where edge_place(floor_place, "edge_insulation");
        Found of_edge;
        check_floor_edge(of_edge, edge->second, edge_place);
        if (!of_edge.faults.empty()) fields.found().warn("floor-edge-unused", edge_place, {{"why", english(of_edge.faults.front())}});
    }
    const auto width = floor_fields->find("width");
    if (width != floor_fields->end())
        study.floor_width = read_length(fields.found(), width->second, Where(floor_place, "width"), some_length);
}

void read_conventions(Fields& fields, Study& study) {
    Found& found = fields.found();
    if (const auto* id = fields.need("convention")) study.convention = read_text(found, *id, fields.at("convention")).value_or("");
    const auto* value = fields.find("conventions");
    const Where place = fields.at("conventions");
    if (value && !value->as<json::Object>()) wrong_type(found, *value, place, "an object");
    if (value && value->as<json::Object>()) {
        for (const auto& [id, item] : *value->as<json::Object>()) {
            const Where where(place, id);
            study.conventions[id] = read_convention_fields(found, item, where);
            const std::string& own = study.conventions[id].id;
            if (!own.empty() && own != id) found.fault("convention-id-differs", where, {{"id", own}, {"name", id}});
        }
    }
    if (study.convention.empty() || study.conventions.contains(study.convention)) return;
    try {
        study.conventions[study.convention] = shipped_convention(study.convention);
        found.warn("convention-from-program", fields.at("convention"), {{"id", study.convention}});
    } catch (const std::out_of_range&) {
        found.fault("unknown-convention", fields.at("convention"), {{"id", study.convention}});
    }
}

/// An underlay whose file is gone shows nothing; the drawing itself needs none.
void check_underlays(Found& found, const Where& root, const Study& study) {
    const Where variants(root, "variants");
    for (std::size_t v = 0; v < study.variants.size(); ++v) {
        const Where variant(variants, v), section(variant, "section"), list(section, "underlays");
        const auto& underlays = study.variants[v].section->underlays;
        for (std::size_t i = 0; i < underlays.size(); ++i)
            if (!study.attachments.contains(underlays[i].attachment))
                found.warn("underlay-without-attachment", Where(list, i), {{"underlay", underlays[i].id}});
    }
}

void read_variants(Fields& fields, Study& study) {
    Found& found = fields.found();
    if (!fields.need("variants")) return;
    Ids ids;
    fields.each("variants", [&](const json::Value& item, const Where& place) {
        Fields parts(found, item, place);
        Variant variant;
        variant.id = parts.id();
        variant.name = parts.text("name");
        variant.note = parts.text("note");
        auto section = std::make_shared<Section>();
        if (const auto* value = parts.need("section")) *section = read_section(found, *value, parts.at("section"), study.materials);
        variant.section = std::move(section);
        variant.extra = parts.rest();
        ids.add(found, place, variant.id);
        study.variants.push_back(std::move(variant));
    });
    const auto* list = fields.find("variants")->as<json::Array>();
    if (list && list->empty()) found.fault("no-variant", fields.at("variants"));
}

Study read_fields(Found& found, const json::Value& value) {
    const Where root("");
    Fields fields(found, value, root);
    Study study;
    check_version(found, fields);
    study.title = fields.text("title");
    study.notes = fields.text("notes");
    if (const auto* project = fields.find("project")) study.project = read_project(found, *project, fields.at("project"));
    if (const auto* site = fields.find("site")) read_site(found, *site, fields.at("site"), study);
    if (const auto* climate = fields.find("climate")) study.climate = read_climate(found, *climate, fields.at("climate"));
    read_building(fields, study);
    read_conventions(fields, study);
    Ids ids;
    fields.each("materials", [&](const json::Value& item, const Where& place) {
        study.materials.push_back(read_material(found, item, place));
        ids.add(found, place, study.materials.back().id);
    });
    check_mixes(found, fields.at("materials"), study.materials);
    read_variants(fields, study);
    read_attachments(fields, study);
    check_underlays(found, root, study);
    for (const char* name : {"rule_sets", "dwelling"})
        if (auto text = fields.kept_object(name); !text.empty()) study.kept[name] = std::move(text);
    for (const char* name : {"lessons", "sweeps", "issued"})
        if (auto text = fields.kept_list(name); !text.empty()) study.kept[name] = std::move(text);
    study.extra = fields.rest();
    return study;
}

std::string in_megabytes(std::size_t bytes) { return std::to_string(bytes / 1'000'000); }

}  // namespace

ReadStudy read_study(const std::string& text) {
    if (text.size() > file_limit) refuse("file-too-large", {{"limit", in_megabytes(file_limit)}});
    Found found;
    json::Value value;
    ReadStudy read;
    if (json::parse(text, "", value, found.faults)) read.study = read_fields(found, value);
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    read.warnings = std::move(found.warnings);
    return read;
}

std::string read_whole(const std::string& path) {
    const auto unreadable = [&](const std::string& reason) { refuse("file-unreadable", {{"reason", reason}}); };
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (error) unreadable(error.message());
    if (std::filesystem::is_directory(status)) unreadable("it is a folder");
    std::ifstream in(path, std::ios::binary);
    if (!in) unreadable(std::generic_category().message(errno));
    // Read in parts with the limit in sight: a pipe or a device has no size to ask for.
    std::string text;
    std::vector<char> part(1 << 14);  // small: every page of a fresh buffer has to be cleared first
    while (in.read(part.data(), static_cast<std::streamsize>(part.size())), in.gcount() > 0) {
        text.append(part.data(), static_cast<std::size_t>(in.gcount()));
        if (text.size() > file_limit) refuse("file-too-large", {{"limit", in_megabytes(file_limit)}});
    }
    if (in.bad()) unreadable("the file could not be read to its end");
    return text;
}

ReadStudy load_study(const std::string& path) { return read_study(read_whole(path)); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/fields.hpp"
#include "core/file/study_file.hpp"
#include "core/file/version.hpp"

namespace wallfoot {

namespace {

using namespace file;

json::Value write_project(const Project& project) {
    json::Object object;
    put_text(object, "name", project.name);
    put_text(object, "plot", project.plot);
    put_text(object, "drawing", project.drawing);
    put_text(object, "revision", project.revision);
    put_text(object, "junction", project.junction);
    put_text(object, "author", project.author);
    put_text(object, "checker", project.checker);
    put_text(object, "date", project.date);
    put_text(object, "enquiry", project.enquiry);
    put_text(object, "contact", project.contact);
    put_extra(object, project.extra);
    return object;
}

json::Value write_site(const std::map<std::string, Fact>& site) {
    json::Object object;
    for (const auto& [name, fact] : site) {
        json::Object entry;
        put_kept(entry, "value", fact.value);
        put_text(entry, "source", fact.source);
        put_extra(entry, fact.extra);
        object[name] = std::move(entry);
    }
    return object;
}

/// The kept object with the floor width that holds now.
json::Object write_building(const Study& study) {
    json::Object building;
    if (!study.building.empty()) building = *json::parse(study.building).as<json::Object>();
    auto floor = building.find("floor");
    if (study.floor_width) {
        if (floor == building.end()) floor = building.emplace("floor", json::Object{}).first;
        (*floor->second.as<json::Object>())["width"] = write_length(*study.floor_width);
    } else if (floor != building.end()) {
        floor->second.as<json::Object>()->erase("width");
    }
    return building;
}

json::Value write_variant(const Variant& variant) {
    json::Object object{{"id", variant.id}, {"section", write_section(*variant.section)}};
    put_text(object, "name", variant.name);
    put_text(object, "note", variant.note);
    put_extra(object, variant.extra);
    return object;
}

}  // namespace

std::string write_study(const Study& study) {
    json::Object object{{"wallfoot", static_cast<double>(newest_version)}, {"convention", study.convention}};
    put_text(object, "title", study.title);
    put_text(object, "notes", study.notes);
    if (study.project) object["project"] = write_project(*study.project);
    json::Object conventions;
    for (const auto& [id, convention] : study.conventions) conventions[id] = write_convention(convention);
    if (!conventions.empty()) object["conventions"] = std::move(conventions);
    if (!study.site.empty()) object["site"] = write_site(study.site);
    if (study.climate) object["climate"] = write_climate(*study.climate);
    if (auto building = write_building(study); !building.empty() || !study.building.empty()) object["building"] = std::move(building);
    json::Array materials, variants;
    for (const Material& material : study.materials) materials.push_back(write_material(material));
    for (const Variant& variant : study.variants) variants.push_back(write_variant(variant));
    object["materials"] = std::move(materials);
    object["variants"] = std::move(variants);
    json::Object attachments;
    for (const auto& [hash, attachment] : study.attachments) attachments[hash] = write_attachment(*attachment);
    if (!attachments.empty()) object["attachments"] = std::move(attachments);
    for (const auto& [name, text] : study.kept) put_kept(object, name.c_str(), text);
    put_extra(object, study.extra);
    return json::print(object);
}

}  // namespace wallfoot

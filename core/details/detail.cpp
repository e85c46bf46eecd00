// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/details/detail.hpp"

#include <algorithm>
#include <cmath>

#include "core/details/maker.hpp"
#include "core/file/material_table.hpp"
#include "core/file/study_file.hpp"
#include "core/resources/resources.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

using namespace file;

[[noreturn]] void refuse(const char* code, std::map<std::string, std::string> args) {
    throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}});
}

template <class Items>
std::string ids_of(const Items& items) {
    std::string list;
    for (const auto& item : items) list += (list.empty() ? "" : ", ") + item.id;
    return list.empty() ? "none" : list;
}

template <class Items>
auto find_in(const Items& items, std::string_view id) {
    const auto found = std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.id == id; });
    return found == items.end() ? nullptr : &*found;
}

void refuse_rest(Fields& fields) {
    for (const auto& [name, text] : fields.rest()) fields.found().fault("detail-unknown-field", fields.at(name), {{"field", name}});
}

std::string need_text(Fields& fields, const char* name) {
    return fields.need(name) ? fields.text(name) : std::string();
}

void check_name(Found& found, const Where& where, std::string_view id) {
    if (!id.empty() && !is_expression_name(id)) found.fault("detail-bad-id", where, {{"id", std::string(id)}});
}

// ---- reading ---------------------------------------------------------------------------------------------------------

DetailParameter read_parameter(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    DetailParameter parameter;
    parameter.id = fields.id();
    check_name(found, fields.at("id"), parameter.id);
    parameter.name = need_text(fields, "name");
    if (fields.find("options")) {
        fields.each("options", [&](const json::Value& item, const Where& place) {
            Fields parts(found, item, place);
            parameter.options.push_back({parts.id(), need_text(parts, "name")});
            check_name(found, parts.at("id"), parameter.options.back().id);
            refuse_rest(parts);
        });
        parameter.standard_option = need_text(fields, "default");
        if (!find_in(parameter.options, parameter.standard_option))
            unknown_word(found, fields.at("default"), parameter.standard_option, ids_of(parameter.options));
    } else {
        static const std::set<std::string> units{"mm", "courses", "°C"};
        parameter.unit = need_text(fields, "unit");
        if (!units.contains(parameter.unit)) unknown_word(found, fields.at("unit"), parameter.unit, "mm, courses, °C");
        parameter.least = fields.need_number("least", any_length);
        parameter.most = fields.need_number("most", {parameter.least, any_length.most});
        parameter.standard = fields.need_number("default", {parameter.least, std::max(parameter.least, parameter.most)});
    }
    refuse_rest(fields);
    return parameter;
}

DetailSwitch read_switch(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    DetailSwitch fault{fields.id(), need_text(fields, "name"), need_text(fields, "about")};
    check_name(found, fields.at("id"), fault.id);
    refuse_rest(fields);
    return fault;
}

const json::Object* object_at(const json::Value& value, const char* name) {
    const auto* object = value.as<json::Object>();
    const auto member = object ? object->find(name) : json::Object::const_iterator{};
    return object && member != object->end() ? member->second.as<json::Object>() : nullptr;
}

/// The materials a detail may name, as the study file writes them: those a new study begins with, then the general table.
json::Object known_materials() {
    json::Object known;
    const json::Value study = json::parse(resource("studies/new.wallfoot"));
    for (const auto& item : *study.as<json::Object>()->at("materials").as<json::Array>())
        known.emplace(*item.as<json::Object>()->at("id").as<std::string>(), item);
    for (const Material& material : general_materials().materials) known.emplace(material.id, write_material(material));
    return known;
}

/// Every id under a "material" in the template, alternatives too, in order.
void mentioned(const json::Value& value, const Where& where, bool below, std::vector<std::pair<std::string, std::string>>& ids) {
    if (const auto* object = value.as<json::Object>()) {
        for (const auto& [name, member] : *object)
            mentioned(member, Where(where, name), name == "material" || (below && (name == "take" || name == "choose")), ids);
    } else if (const auto* items = value.as<json::Array>()) {
        for (std::size_t i = 0; i < items->size(); ++i) mentioned((*items)[i], Where(where, i), below, ids);
    } else if (const auto* text = value.as<std::string>(); text && below) {
        ids.emplace_back(*text, where.pointer());
    }
}

void check_values(Found& found, Fields& fields, const details::Names& names) {
    const auto* values = fields.find("values");
    if (!values) return;
    const Where place = fields.at("values");
    const auto* object = values->as<json::Object>();
    if (!object) return wrong_type(found, *values, place, "an object");
    details::Maker maker(names, found, true);
    for (const auto& [name, value] : *object) {
        const Where here(place, name);
        check_name(found, here, name);
        if (!value.as<std::string>() && !value.as<json::Number>()) wrong_type(found, value, here, "a number or an expression");
        // By its name, so that a problem is told at the value it lies in, once.
        else if (is_expression_name(name)) maker.make(json::Value(name), here, true);
    }
}

Detail read_fields(Found& found, std::shared_ptr<const json::Value> content) {
    Detail detail;
    const Where top("");
    Fields fields(found, *content, top);
    detail.id = fields.id();
    detail.name = need_text(fields, "name");
    detail.about = need_text(fields, "about");
    Ids ids;
    fields.each("parameters", [&](const json::Value& item, const Where& place) {
        detail.parameters.push_back(read_parameter(found, item, place));
        ids.add(found, place, detail.parameters.back().id);
    });
    fields.each("switches", [&](const json::Value& item, const Where& place) {
        detail.switches.push_back(read_switch(found, item, place));
        ids.add(found, place, detail.switches.back().id);
    });
    detail.content = content;
    const auto* values = object_at(*content, "values");
    const details::Names names(detail, {}, values);
    if (values)
        for (const auto& [name, value] : *values) ids.add(found, Where(fields.at("values"), name), name);
    check_values(found, fields, names);
    details::Maker maker(names, found, true);
    if (const auto* building = fields.find("building")) maker.make(*building, fields.at("building"));
    if (const auto* section = fields.need("section")) {
        Fields parts(found, *section, fields.at("section"));
        for (const char* part : {"cut", "spaces", "pieces"}) parts.need(part);
        maker.make(*section, fields.at("section"));
        std::vector<std::pair<std::string, std::string>> materials;
        mentioned(*section, fields.at("section"), false, materials);
        const json::Object known = known_materials();
        for (const auto& [id, pointer] : materials)
            if (!known.contains(id)) found.fault("detail-unknown-material", Where(pointer), {{"material", id}});
    }
    refuse_rest(fields);
    return detail;
}

// ---- settings --------------------------------------------------------------------------------------------------------

void check_number(const DetailParameter& parameter, double value) {
    if (!(value >= parameter.least && value <= parameter.most))
        refuse("detail-out-of-range", {{"name", parameter.name}, {"value", number_text(value)}, {"unit", parameter.unit},
                                       {"least", number_text(parameter.least)}, {"most", number_text(parameter.most)}});
    if (parameter.unit == "courses" && value != std::round(value))
        refuse("detail-not-whole", {{"name", parameter.name}, {"value", number_text(value)}});
}

const DetailParameter& need_parameter(const Detail& detail, const std::string& id) {
    if (const auto* parameter = detail.find_parameter(id)) return *parameter;
    refuse("detail-unknown-parameter", {{"name", id}, {"known", ids_of(detail.parameters)}});
}

const DetailSwitch& need_switch(const Detail& detail, const std::string& id) {
    if (const auto* fault = detail.find_switch(id)) return *fault;
    refuse("detail-unknown-switch", {{"name", id}, {"known", ids_of(detail.switches)}});
}

void check_option(const DetailParameter& parameter, const std::string& option) {
    if (!find_in(parameter.options, option))
        refuse("detail-unknown-option", {{"name", parameter.name}, {"value", option}, {"known", ids_of(parameter.options)}});
}

void check_settings(const Detail& detail, const DetailSettings& settings) {
    for (const auto& [id, value] : settings.numbers) check_number(need_parameter(detail, id), value);
    for (const auto& [id, option] : settings.choices) check_option(need_parameter(detail, id), option);
    for (const auto& id : settings.switches) need_switch(detail, id);
}

// ---- making ----------------------------------------------------------------------------------------------------------

std::string in_words(const char* code, std::map<std::string, std::string> args) {
    return english(Message{Severity::note, code, std::move(args), {}, {}});
}

json::Value made_part(const Detail& detail, const DetailSettings& settings, const char* name) {
    Found found;
    const Where top(""), where(top, name);
    const json::Object& content = *detail.content->as<json::Object>();
    const details::Names names(detail, settings, object_at(*detail.content, "values"));
    details::Maker maker(names, found, false);
    auto made = maker.make(content.at(name), where);
    if (auto* section = made ? made->as<json::Object>() : nullptr; section && name == std::string_view("section"))
        details::tidy_section(*section, found, where);
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return made ? std::move(*made) : json::Value(json::Object{});
}

}  // namespace

const DetailParameter* Detail::find_parameter(std::string_view id) const { return find_in(parameters, id); }
const DetailSwitch* Detail::find_switch(std::string_view id) const { return find_in(switches, id); }

Detail read_detail(const std::string& text) {
    Found found;
    auto content = std::make_shared<json::Value>();
    Detail detail;
    if (json::parse(text, "", *content, found.faults)) detail = read_fields(found, content);
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return detail;
}

StarterDetails starter_details() {
    StarterDetails all;
    std::vector<bool> overriding;
    for (const std::string& path : resources_below("details")) {
        if (!path.ends_with(".json")) continue;
        const bool own = resource_is_overridden(path);
        try {
            Detail detail = read_detail(resource(path));
            const auto same = std::find_if(all.details.begin(), all.details.end(), [&](const Detail& d) { return d.id == detail.id; });
            const auto index = static_cast<std::size_t>(same - all.details.begin());
            if (same == all.details.end()) {
                all.details.push_back(std::move(detail));
                overriding.push_back(own);
            } else if (own || !overriding[index]) {
                *same = std::move(detail);
                overriding[index] = own;
            }
        } catch (const InputFault& fault) {
            all.faults.push_back(Message{Severity::caution, "detail-damaged",
                                         {{"file", path}, {"reason", one_line(fault.faults().front(), "")}}, {}, {}});
        }
    }
    return all;
}

const Detail& StarterDetails::get(const std::string& id) const {
    if (const auto* detail = find_in(details, id)) return *detail;
    refuse("detail-unknown", {{"id", id}, {"known", ids_of(details)}});
}

void set_parameter(const Detail& detail, DetailSettings& settings, const std::string& id, const std::string& text) {
    const DetailParameter& parameter = need_parameter(detail, id);
    if (parameter.is_choice()) {
        const auto named = std::find_if(parameter.options.begin(), parameter.options.end(), [&](const auto& option) { return option.name == text; });
        const std::string& option = named == parameter.options.end() ? text : named->id;
        check_option(parameter, option);
        settings.choices[id] = option;
        return;
    }
    const Entry entry = parameter.unit == "mm" ? parse_length(text) : parse_number(text);
    if (!entry) refuse(entry.problem.c_str(), {});
    check_number(parameter, *entry.value);
    settings.numbers[id] = *entry.value;
}

void add_switch(const Detail& detail, DetailSettings& settings, const std::string& id) {
    need_switch(detail, id);
    if (std::find(settings.switches.begin(), settings.switches.end(), id) == settings.switches.end()) settings.switches.push_back(id);
}

Study make_study(const Detail& detail, const DetailSettings& settings) {
    check_settings(detail, settings);
    json::Value study = json::parse(resource("studies/new.wallfoot"));
    json::Object& fields = *study.as<json::Object>();
    fields["title"] = detail.name;
    fields["notes"] = in_words("detail-study-note", {{"about", detail.about}});
    DetailSettings plain = settings;
    plain.switches.clear();
    if (detail.content->as<json::Object>()->contains("building")) fields["building"] = made_part(detail, plain, "building");
    json::Array variants;
    variants.push_back(json::Object{{"id", "base"}, {"name", in_words("detail-as-designed", {})}, {"section", made_part(detail, plain, "section")}});
    for (const DetailSwitch& fault : detail.switches) {
        if (std::find(settings.switches.begin(), settings.switches.end(), fault.id) == settings.switches.end()) continue;
        plain.switches = {fault.id};
        variants.push_back(json::Object{{"id", fault.id}, {"name", fault.name}, {"note", fault.about}, {"section", made_part(detail, plain, "section")}});
    }
    fields["variants"] = std::move(variants);
    const json::Object known = known_materials();
    std::vector<std::pair<std::string, std::string>> ids;
    const Where top("");
    mentioned(detail.content->as<json::Object>()->at("section"), top, false, ids);
    json::Array materials;
    std::set<std::string> taken;
    for (const auto& [id, pointer] : ids)
        if (taken.insert(id).second) materials.push_back(known.at(id));
    fields["materials"] = std::move(materials);
    return read_study(json::print(study)).study;
}

}  // namespace wallfoot

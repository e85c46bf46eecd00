// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/fields.hpp"

#include <algorithm>

namespace wallfoot::file {

namespace {

constexpr std::size_t most_faults = 50;
constexpr std::size_t most_warnings = 1000;

const char* type_of(const json::Value& value) {
    static constexpr const char* names[] = {"null", "true or false", "a number", "a text", "a list", "an object"};
    return names[value.data.index()];
}

/// The nearest place on the grid inside the limit, for pointing at a coordinate that is too large.
Point clamped(double x, double y) {
    const auto inside = [](double mm) { return from_mm(std::clamp(mm, any_length.least, any_length.most)); };
    return {inside(x), inside(y)};
}

}  // namespace

std::string Where::pointer() const {
    switch (step_) {
        case Step::name: return parent_->pointer() + json::pointer_step(name_);
        case Step::index: return parent_->pointer() + json::pointer_step(std::to_string(index_));
        default: return std::string(name_);
    }
}

void Found::fault(const char* code, const Where& where, Args args, std::optional<Point> at) {
    if (faults.size() >= most_faults) return;
    faults.push_back({Severity::fault, code, std::move(args), at, where.pointer()});
}

void Found::warn(const char* code, const Where& where, Args args) {
    if (warnings.size() >= most_warnings) return;
    warnings.push_back({Severity::caution, code, std::move(args), {}, where.pointer()});
}

void wrong_type(Found& found, const json::Value& value, const Where& where, const char* expected) {
    found.fault("wrong-type", where, {{"expected", expected}, {"found", type_of(value)}});
}

void unknown_word(Found& found, const Where& where, const std::string& word, const std::string& words) {
    found.fault("unknown-word", where, {{"word", word}, {"words", words}});
}

std::optional<double> read_number(Found& found, const json::Value& value, const Where& where, Range range) {
    const auto* number = value.as<json::Number>();
    if (!number) {
        wrong_type(found, value, where, "a number");
        return std::nullopt;
    }
    if (number->value < range.least || number->value > range.most) {
        found.fault("number-out-of-range", where,
                    {{"value", number->text}, {"least", json::number_text(range.least)}, {"most", json::number_text(range.most)}});
        return std::nullopt;
    }
    return number->value == 0 ? 0.0 : number->value;
}

std::optional<double> read_resistance(Found& found, const json::Value& value, const Where& where) {
    const auto resistance = read_number(found, value, where, resistances);
    if (!resistance || *resistance == 0 || *resistance >= least_resistance) return resistance;
    found.fault("resistance-too-small", where, {{"value", json::number_text(*resistance)}, {"least", json::number_text(least_resistance)}});
    return std::nullopt;
}

std::optional<Micrometres> read_length(Found& found, const json::Value& value, const Where& where, Range range) {
    const auto mm = read_number(found, value, where, range);
    if (!mm) return std::nullopt;
    return from_mm(*mm);
}

std::optional<std::string> read_text(Found& found, const json::Value& value, const Where& where) {
    const auto* text = value.as<std::string>();
    if (text) return *text;
    wrong_type(found, value, where, "a text");
    return std::nullopt;
}

std::optional<bool> read_flag(Found& found, const json::Value& value, const Where& where) {
    const auto* flag = value.as<bool>();
    if (flag) return *flag;
    wrong_type(found, value, where, "true or false");
    return std::nullopt;
}

const json::Array* read_list(Found& found, const json::Value& value, const Where& where) {
    const auto* items = value.as<json::Array>();
    if (!items) wrong_type(found, value, where, "a list");
    return items;
}

std::optional<Point> read_point(Found& found, const json::Value& value, const Where& where) {
    const auto* items = value.as<json::Array>();
    const auto* x = items && items->size() == 2 ? (*items)[0].as<json::Number>() : nullptr;
    const auto* y = items && items->size() == 2 ? (*items)[1].as<json::Number>() : nullptr;
    if (!x || !y) {
        found.fault("point-expected", where);
        return std::nullopt;
    }
    const auto outside = [](double mm) { return mm < any_length.least || mm > any_length.most; };
    if (outside(x->value) || outside(y->value)) {
        found.fault("coordinate-too-large", where, {}, clamped(x->value, y->value));
        return std::nullopt;
    }
    return Point{from_mm(x->value), from_mm(y->value)};
}

std::optional<std::vector<Point>> read_points(Found& found, const json::Value& value, const Where& where) {
    const auto* items = read_list(found, value, where);
    if (!items) return std::nullopt;
    std::vector<Point> points;
    points.reserve(items->size());
    for (std::size_t i = 0; i < items->size(); ++i)
        if (const auto p = read_point(found, (*items)[i], Where(where, i))) points.push_back(*p);
    if (points.size() != items->size()) return std::nullopt;
    return points;
}

Fields::Fields(Found& found, const json::Value& value, const Where& where)
    : found_(found), where_(where), object_(value.as<json::Object>()) {
    if (!object_) wrong_type(found, value, where, "an object");
}

const json::Value* Fields::find(std::string_view name) {
    if (!object_) return nullptr;
    const auto member = object_->find(name);
    if (member == object_->end()) return nullptr;
    asked_.insert(name);
    return &member->second;
}

const json::Value* Fields::need(std::string_view name) {
    const auto* value = find(name);
    if (!value && object_) found_.fault("missing-field", where_, {{"field", std::string(name)}});
    return value;
}

std::string Fields::text(std::string_view name) { return optional_text(name).value_or(""); }

std::optional<std::string> Fields::optional_text(std::string_view name) {
    const auto* value = find(name);
    return value ? read_text(found_, *value, at(name)) : std::nullopt;
}

std::string Fields::id() {
    const auto* value = need("id");
    if (!value) return {};
    const auto id = read_text(found_, *value, at("id"));
    if (id && id->empty()) found_.fault("empty-id", at("id"));
    return id.value_or("");
}

std::optional<double> Fields::number(std::string_view name, Range range) {
    const auto* value = find(name);
    return value ? read_number(found_, *value, at(name), range) : std::nullopt;
}

double Fields::need_number(std::string_view name, Range range) {
    const auto* value = need(name);
    return value ? read_number(found_, *value, at(name), range).value_or(0) : 0;
}

double Fields::need_resistance(std::string_view name) {
    const auto* value = need(name);
    return value ? read_resistance(found_, *value, at(name)).value_or(0) : 0;
}

std::optional<Micrometres> Fields::length(std::string_view name, Range range) {
    const auto* value = find(name);
    return value ? read_length(found_, *value, at(name), range) : std::nullopt;
}

Micrometres Fields::need_length(std::string_view name, Range range) {
    const auto* value = need(name);
    return value ? read_length(found_, *value, at(name), range).value_or(0) : 0;
}

std::optional<bool> Fields::flag(std::string_view name) {
    const auto* value = find(name);
    return value ? read_flag(found_, *value, at(name)) : std::nullopt;
}

std::string Fields::kept_object(std::string_view name) {
    const auto* value = find(name);
    if (!value) return {};
    if (!value->as<json::Object>()) wrong_type(found_, *value, at(name), "an object");
    return json::print_line(*value);
}

std::string Fields::kept_list(std::string_view name) {
    const auto* value = find(name);
    if (!value) return {};
    if (!value->as<json::Array>()) wrong_type(found_, *value, at(name), "a list");
    return json::print_line(*value);
}

Extra Fields::rest() {
    Extra extra;
    if (!object_) return extra;
    for (const auto& [name, value] : *object_) {
        if (asked_.contains(name)) continue;
        extra[name] = json::print_line(value);
        found_.warn("unknown-field", at(name), {{"field", name}});
    }
    return extra;
}

void Ids::add(Found& found, const Where& where, const std::string& id, std::optional<Point> at) {
    if (!id.empty() && !seen_.insert(id).second) found.fault("duplicate-id", where, {{"id", id}}, at);
}

}  // namespace wallfoot::file

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/details/maker.hpp"

#include <algorithm>
#include <cmath>

#include "core/geometry/outline_check.hpp"

namespace wallfoot::details {

namespace {

constexpr std::size_t most_values_in_a_row = 100;
constexpr std::size_t most_faults = 50;

/// Fields of a section whose texts are expressions; a list hands this on to its items.
bool is_numeric_field(std::string_view name, const json::Value& value) {
    static const std::set<std::string_view> fields{"outline", "holes",  "path",  "at",     "from",        "height", "floor",    "ground",
                                                   "dpc",     "width",  "left",  "right",  "bottom",      "min",    "max",      "line",
                                                   "measure", "internal", "external", "temperature", "water_level", "area", "perimeter"};
    // "cut" is the rectangle of a section, and of an element the side it is met from.
    return fields.contains(name) || (name == "cut" && value.as<json::Array>());
}

std::string joined(const std::set<std::string, std::less<>>& names) {
    std::string list;
    for (const auto& name : names) list += (list.empty() ? "" : ", ") + name;
    return list.empty() ? "none" : list;
}

Message fault(const char* code, std::map<std::string, std::string> args, const std::string& pointer) {
    return {Severity::fault, code, std::move(args), {}, pointer};
}

Message told(const ExpressionProblem& problem, const std::string& expression, const std::string& known, const std::string& pointer) {
    switch (problem.kind) {
        case ExpressionProblem::unknown_name:
            return fault("detail-unknown-name", {{"name", problem.name}, {"expression", expression}, {"known", known}}, pointer);
        case ExpressionProblem::divides_by_zero: return fault("detail-divides-by-zero", {{"expression", expression}}, pointer);
        default: return fault("detail-expression", {{"expression", expression}, {"at", std::to_string(problem.at + 1)}}, pointer);
    }
}

Point point_of(const json::Value& value) {
    const auto* pair = value.as<json::Array>();
    if (!pair || pair->size() != 2 || !(*pair)[0].as<json::Number>() || !(*pair)[1].as<json::Number>()) return {};
    return {from_mm((*pair)[0].as<json::Number>()->value), from_mm((*pair)[1].as<json::Number>()->value)};
}

/// The list of points under `name` without those equal to the one before; null when there is none.
json::Array* without_repeats(json::Object& object, const char* name, bool closed) {
    const auto found = object.find(name);
    auto* points = found == object.end() ? nullptr : found->second.as<json::Array>();
    if (!points) return nullptr;
    const auto same = [](const json::Value& a, const json::Value& b) { return point_of(a) == point_of(b); };
    points->erase(std::unique(points->begin(), points->end(), same), points->end());
    while (closed && points->size() > 1 && same(points->front(), points->back())) points->pop_back();
    return points;
}

std::string text_of(const json::Object& object, const char* name) {
    const auto found = object.find(name);
    const auto* text = found == object.end() ? nullptr : found->second.as<std::string>();
    return text ? *text : std::string();
}

}  // namespace

// ---- names -----------------------------------------------------------------------------------------------------------

Names::Names(const Detail& detail, const DetailSettings& settings, const json::Object* values) : values_(values) {
    for (const DetailParameter& parameter : detail.parameters) {
        if (!parameter.is_choice()) {
            const auto set = settings.numbers.find(parameter.id);
            numbers_[parameter.id] = set == settings.numbers.end() ? parameter.standard : set->second;
            continue;
        }
        const auto set = settings.choices.find(parameter.id);
        const std::string& taken = set == settings.choices.end() ? parameter.standard_option : set->second;
        for (const DetailOption& option : parameter.options) {
            flags_.insert(parameter.id + "." + option.id);
            numbers_[parameter.id + "." + option.id] = option.id == taken ? 1 : 0;
        }
    }
    for (const DetailSwitch& fault : detail.switches) {
        flags_.insert(fault.id);
        numbers_[fault.id] = std::find(settings.switches.begin(), settings.switches.end(), fault.id) == settings.switches.end() ? 0 : 1;
    }
}

double Names::number(std::string_view expression) const {
    return evaluate(expression, [this](std::string_view name) { return find(name); });
}

std::optional<double> Names::find(std::string_view name) const {
    if (const auto known = numbers_.find(name); known != numbers_.end()) return known->second;
    if (!values_) return std::nullopt;
    const auto value = values_->find(name);
    if (value == values_->end()) return std::nullopt;
    if (const auto* number = value->second.as<json::Number>()) return number->value;
    const auto* text = value->second.as<std::string>();
    if (!text) return 0.0;  // told where the values are read
    if (const auto known = worked_out_.find(name); known != worked_out_.end()) return known->second;
    const std::string pointer = "/values" + json::pointer_step(name);
    if (open_.size() >= most_values_in_a_row)
        throw InputFault(fault("detail-values-too-deep", {{"name", std::string(name)}, {"limit", std::to_string(most_values_in_a_row)}}, pointer));
    if (!open_.insert(std::string(name)).second) throw InputFault(fault("detail-cycle", {{"name", std::string(name)}}, pointer));
    try {
        const double result = number(*text);
        open_.erase(std::string(name));
        worked_out_.emplace(name, result);
        return result;
    } catch (const ExpressionProblem& problem) {
        open_.erase(std::string(name));
        throw InputFault(told(problem, *text, known(), pointer));
    } catch (...) {
        open_.erase(std::string(name));
        throw;
    }
}

std::optional<bool> Names::flag(std::string_view name) const {
    if (!flags_.contains(name)) return std::nullopt;
    return numbers_.find(name)->second != 0;
}

std::string Names::known() const {
    std::set<std::string, std::less<>> all;
    for (const auto& [name, value] : numbers_) all.insert(name);
    if (values_)
        for (const auto& [name, value] : *values_) all.insert(name);
    return joined(all);
}

std::string Names::known_flags() const { return joined(flags_); }

// ---- from template to section ----------------------------------------------------------------------------------------

bool Maker::holds(const json::Value& when, const file::Where& where) {
    if (const auto* list = when.as<json::Array>()) {
        bool all = true;
        for (std::size_t i = 0; i < list->size(); ++i) all = holds((*list)[i], file::Where(where, i)) && all;
        return all;
    }
    const auto text = file::read_text(found_, when, where);
    if (!text) return false;
    const bool negated = text->starts_with("not ");
    const std::string_view name = std::string_view(*text).substr(negated ? 4 : 0);
    const auto flag = names_.flag(name);
    if (!flag) found_.fault("detail-unknown-condition", where, {{"name", std::string(name)}, {"known", names_.known_flags()}});
    return flag.value_or(false) != negated;
}

std::optional<json::Value> Maker::alternative(const json::Value& list, const file::Where& where, bool numeric) {
    const auto* items = file::read_list(found_, list, where);
    if (!items) return std::nullopt;
    std::optional<json::Value> taken;
    for (std::size_t i = 0; i < items->size(); ++i) {
        const file::Where place(where, i);
        file::Fields fields(found_, (*items)[i], place);
        const auto* when = fields.find("when");
        const auto* take = fields.need("take");
        const bool now = !when || holds(*when, fields.at("when"));
        if (take && (check_ || (now && !taken))) {
            auto made = make(*take, fields.at("take"), numeric);
            if (now && !taken) taken = std::move(made);
        }
        for (const auto& [name, text] : fields.rest()) found_.fault("detail-unknown-field", fields.at(name), {{"field", name}});
    }
    if (!taken) found_.fault("detail-no-alternative", where);
    return taken;
}

std::optional<json::Value> Maker::make_object(const json::Object& object, const file::Where& where) {
    bool wanted = true;
    if (const auto when = object.find("when"); when != object.end()) wanted = holds(when->second, file::Where(where, "when"));
    if (!wanted && !check_) return std::nullopt;
    json::Object made;
    for (const auto& [name, member] : object) {
        if (name == "when") continue;
        const file::Where place(where, name);
        if (auto value = make(member, place, is_numeric_field(name, member))) made[name] = std::move(*value);
    }
    return wanted ? std::optional<json::Value>(std::move(made)) : std::nullopt;
}

std::optional<json::Value> Maker::make_expression(const std::string& text, const file::Where& where) {
    if (text == "auto") return json::Value(text);  // how far the soil goes on beyond the cut
    if (found_.faults.size() >= most_faults) return std::nullopt;
    try {
        const double value = names_.number(text);
        if (!(std::abs(value) <= to_mm(coordinate_limit))) {
            found_.fault("detail-too-far", where, {{"expression", text}, {"value", std::isfinite(value) ? json::number_text(value) : "no number"}});
            return std::nullopt;
        }
        return file::write_length(from_mm(value));
    } catch (const ExpressionProblem& problem) {
        if (!check_ || problem.kind != ExpressionProblem::divides_by_zero)
            found_.faults.push_back(told(problem, text, names_.known(), where.pointer()));
    } catch (const InputFault& fault) {
        // One value may be used in many places; it is told once.
        const Message& first = fault.faults().front();
        if ((!check_ || first.code != "detail-divides-by-zero") &&
            std::find(found_.faults.begin(), found_.faults.end(), first) == found_.faults.end())
            found_.faults.push_back(first);
    }
    return std::nullopt;
}

std::optional<json::Value> Maker::make(const json::Value& value, const file::Where& where, bool numeric) {
    if (const auto* object = value.as<json::Object>()) {
        const auto choose = object->find("choose");
        if (choose != object->end() && object->size() == 1) return alternative(choose->second, file::Where(where, "choose"), numeric);
        return make_object(*object, where);
    }
    if (const auto* items = value.as<json::Array>()) {
        json::Array made;
        for (std::size_t i = 0; i < items->size(); ++i)
            if (auto item = make((*items)[i], file::Where(where, i), numeric)) made.push_back(std::move(*item));
        return json::Value(std::move(made));
    }
    const auto* text = value.as<std::string>();
    return numeric && text ? make_expression(*text, where) : std::optional<json::Value>(value);
}

void tidy_section(json::Object& section, file::Found& found, const file::Where& where) {
    if (auto* pieces = section["pieces"].as<json::Array>())
        std::erase_if(*pieces, [&](json::Value& item) {
            auto* piece = item.as<json::Object>();
            const auto* points = piece ? without_repeats(*piece, "outline", true) : nullptr;
            if (!points) return false;
            Outline outline;
            for (const auto& point : *points) outline.push_back(point_of(point));
            const Area2 area = outline.size() < 3 ? 0 : area2(outline);
            const std::string name = text_of(*piece, "name");
            if (area < 0) found.fault("detail-turned-over", file::Where(where, "pieces"), {{"piece", name.empty() ? text_of(*piece, "id") : name}}, outline.front());
            return area == 0;
        });
    if (auto* membranes = section["membranes"].as<json::Array>())
        std::erase_if(*membranes, [&](json::Value& item) {
            auto* membrane = item.as<json::Object>();
            const auto* points = membrane ? without_repeats(*membrane, "path", false) : nullptr;
            return points && points->size() < 2;
        });
    else section.erase("membranes");
}

}  // namespace wallfoot::details

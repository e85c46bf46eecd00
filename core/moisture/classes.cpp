// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/moisture/classes.hpp"

#include <algorithm>

#include "core/file/fields.hpp"
#include "core/resources/resources.hpp"

namespace wallfoot {

namespace {

/// The other coordinate at `value`, straight between neighbours.
std::optional<double> between(const std::vector<std::pair<double, double>>& points, double value, bool forward) {
    const auto of = [&](std::size_t i) { return forward ? points[i] : std::pair(points[i].second, points[i].first); };
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const auto [a, from] = of(i);
        const auto [b, to] = of(i + 1);
        if (value >= a && value <= b) return from + (value - a) / (b - a) * (to - from);
    }
    return std::nullopt;
}

std::optional<std::vector<double>> numbers(file::Found& found, const json::Value& value, const file::Where& place, std::size_t count, double most = 100) {
    const auto* items = file::read_list(found, value, place);
    if (!items) return std::nullopt;
    std::vector<double> all;
    for (std::size_t i = 0; i < items->size(); ++i)
        if (const auto number = file::read_number(found, (*items)[i], file::Where(place, i), {0, most})) all.push_back(*number);
    if (all.size() == count && items->size() == count) return all;
    found.fault("moisture-numbers", place, {{"count", std::to_string(count)}});
    return std::nullopt;
}

MoistureCurve read_curve(file::Found& found, const json::Value& value, const file::Where& place) {
    MoistureCurve curve;
    file::Fields fields(found, value, place);
    curve.by = fields.need_word("by", moisture_by_words);
    curve.source = fields.text("source");
    if (const auto* range = fields.find("density"))
        if (const auto two = numbers(found, *range, fields.at("density"), 2, 30'000)) curve.density = std::pair((*two)[0], (*two)[1]);
    fields.each("points", [&](const json::Value& item, const file::Where& at) {
        if (const auto pair = numbers(found, item, at, 2)) curve.points.emplace_back((*pair)[0], (*pair)[1]);
    });
    const auto rises = [](const auto& a, const auto& b) { return a.first >= b.first || a.second >= b.second; };
    if (curve.points.size() < 2 || curve.points.front() != std::pair(0.0, 1.0) || std::adjacent_find(curve.points.begin(), curve.points.end(), rises) != curve.points.end())
        found.fault("moisture-curve", place);
    fields.rest();
    return curve;
}

MoistureClass read_class(file::Found& found, const json::Value& value, const file::Where& place) {
    MoistureClass read;
    file::Fields fields(found, value, place);
    read.id = fields.id();
    read.name = fields.text("name");
    read.note = fields.text("note");
    fields.each("aggregates", [&](const json::Value& item, const file::Where& at) {
        if (const auto word = file::read_text(found, item, at)) read.aggregates.push_back(*word);
    });
    read.by = fields.need_word("by", moisture_by_words);
    if (const auto* usual = fields.need("moisture")) {
        const file::Where at = fields.at("moisture");
        file::Fields by_condition(found, *usual, at);
        for (const auto& [condition, word] : condition_words)
            if (const auto* range = by_condition.find(word))
                if (const auto three = numbers(found, *range, by_condition.at(word), 3)) {
                    read.usual[condition] = {(*three)[0], (*three)[1], (*three)[2]};
                    if (!std::is_sorted(three->begin(), three->end())) found.fault("moisture-numbers", by_condition.at(word), {{"count", "3"}});
                }
        by_condition.rest();
    }
    read.usual_source = fields.text("moisture_source");
    fields.each("curves", [&](const json::Value& item, const file::Where& at) { read.curves.push_back(read_curve(found, item, at)); });
    if (const auto* soaked = fields.find("saturated")) {
        const file::Where at = fields.at("saturated");
        file::Fields ratio(found, *soaked, at);
        read.saturated = SaturatedRatio{ratio.need_number("low", {1, 100}), ratio.need_number("high", {1, 100}), ratio.text("source")};
        if (read.saturated->low > read.saturated->high) found.fault("moisture-numbers", at, {{"count", "2"}});
        ratio.rest();
    }
    fields.rest();
    return read;
}

}  // namespace

std::optional<double> MoistureCurve::ratio(double moisture) const { return between(points, moisture, true); }
std::optional<double> MoistureCurve::moisture(double ratio) const { return between(points, ratio, false); }

std::vector<MoistureClass> read_moisture_classes(const std::string& text) {
    file::Found found;
    json::Value value;
    std::vector<MoistureClass> classes;
    if (json::parse(text, "", value, found.faults)) {
        const file::Where top("");
        file::Fields fields(found, value, top);
        fields.text("about");
        fields.need("classes");
        file::Ids ids;
        fields.each("classes", [&](const json::Value& item, const file::Where& place) {
            classes.push_back(read_class(found, item, place));
            ids.add(found, place, classes.back().id);
        });
        fields.rest();
    }
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return classes;
}

std::vector<MoistureClass> moisture_classes() { return read_moisture_classes(resource("moisture/classes.json")); }

const MoistureClass* class_of(const Material& material, const std::vector<MoistureClass>& classes) {
    if (!material.aggregate || (material.kind != MaterialKind::masonry && material.kind != MaterialKind::concrete)) return nullptr;
    for (const MoistureClass& one : classes)
        if (std::find(one.aggregates.begin(), one.aggregates.end(), *material.aggregate) != one.aggregates.end()) return &one;
    return nullptr;
}

}  // namespace wallfoot

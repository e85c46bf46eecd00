// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/quantities.hpp"

#include "core/file/fields.hpp"

namespace wallfoot {

namespace {

json::Object kept_building(const Study& study) { return study.building.empty() ? json::Object{} : *json::parse(study.building).as<json::Object>(); }

}  // namespace

namespace file {
constexpr Words<bool, 2> edge_directions{{{false, "horizontal"}, {true, "vertical"}}};
constexpr Range edge_sizes{1, 20'000};            // mm
constexpr Range edge_conductivities{0.001, 10};   // W/(m·K)
}  // namespace file

void file::check_quantities(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    fields.number("junction", {0, most_quantity});
    const auto* areas = fields.find("areas");
    if (!areas) return;
    const Where place = fields.at("areas");
    const auto* by_element = areas->as<json::Object>();
    if (!by_element) return wrong_type(found, *areas, place, "an object");
    for (const auto& [element, area] : *by_element) read_number(found, area, Where(place, element), {0, most_quantity});
}

void file::check_floor_edge(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    fields.need_word("direction", edge_directions);
    for (const char* name : {"width", "thickness"}) fields.need_length(name, edge_sizes);
    fields.need_number("lambda", edge_conductivities);
}

std::optional<StatedFloorEdge> stated_floor_edge(const Study& study) {
    const json::Object building = kept_building(study);
    const auto floor = building.find("floor");
    const auto* fields = floor == building.end() ? nullptr : floor->second.as<json::Object>();
    if (!fields) return std::nullopt;
    const auto kept = fields->find("edge_insulation");
    if (kept == fields->end()) return std::nullopt;
    file::Found found;  // once kept unread: what cannot be used was told when the study was read
    file::check_floor_edge(found, kept->second, file::Where(""));
    if (!found.faults.empty()) return std::nullopt;
    const auto* edge = kept->second.as<json::Object>();
    const auto number = [&](const char* name) { return edge->find(name)->second.as<json::Number>()->value; };
    const bool vertical = *edge->find("direction")->second.as<std::string>() == file::edge_directions.back().second;
    return StatedFloorEdge{vertical, number("width") / 1000, number("thickness") / 1000, number("lambda")};
}

Quantities quantities(const Study& study) {
    Quantities given;
    const json::Object building = kept_building(study);
    const auto kept = building.find("quantities");
    const auto* fields = kept == building.end() ? nullptr : kept->second.as<json::Object>();
    if (!fields) return given;
    const auto number = [](const json::Value& value) { return value.as<json::Number>()->value; };  // checked when it was read
    if (const auto junction = fields->find("junction"); junction != fields->end()) given.junction = number(junction->second);
    if (const auto areas = fields->find("areas"); areas != fields->end())
        for (const auto& [element, area] : *areas->second.as<json::Object>()) given.areas[element] = number(area);
    return given;
}

std::optional<GroundFloor> ground_floor(const Study& study) {
    const json::Object building = kept_building(study);
    const auto number = [&](const char* name) -> std::optional<double> {
        const auto kept = building.find(name);
        const auto* value = kept == building.end() ? nullptr : kept->second.as<json::Number>();
        if (!value || !(value->value >= file::ground_floor_sizes.least && value->value <= file::ground_floor_sizes.most)) return std::nullopt;
        return value->value;
    };
    const auto area = number("area"), perimeter = number("perimeter");
    if (!area || !perimeter) return std::nullopt;
    return GroundFloor{*area, *perimeter};
}

Study set_ground_floor(Study study, const std::optional<GroundFloor>& floor) {
    json::Object building = kept_building(study);
    building.erase("area");
    building.erase("perimeter");
    if (floor) {
        building["area"] = floor->area;
        building["perimeter"] = floor->perimeter;
    }
    study.building = building.empty() ? std::string() : json::print_line(building);
    return study;
}

Study set_quantities(Study study, const Quantities& given) {
    json::Object building = kept_building(study);
    auto kept = building.find("quantities");
    if (kept == building.end()) {
        if (given == Quantities{}) return study;
        kept = building.emplace("quantities", json::Object{}).first;
    }
    auto& fields = *kept->second.as<json::Object>();
    fields.erase("junction");
    fields.erase("areas");
    if (given.junction) fields["junction"] = *given.junction;
    json::Object areas;
    for (const auto& [element, area] : given.areas) areas[element] = area;
    if (!areas.empty()) fields["areas"] = std::move(areas);
    if (fields.empty()) building.erase(kept);
    study.building = building.empty() ? std::string() : json::print_line(building);
    return study;
}

}  // namespace wallfoot

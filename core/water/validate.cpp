// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "core/water/water_way.hpp"

namespace wallfoot {

std::vector<std::string> validate(const WaterWay& way, const Arrangement& arrangement) {
    std::vector<std::string> broken;
    if (way.parts.size() != way.net.parts.size()) return {"not every part has a state"};
    const auto reached = [&](int part) { return way.parts[part].state == WaterState::reached; };
    const auto name = [](std::size_t part) { return "part " + std::to_string(part); };
    std::vector<Area2> area(arrangement.faces.size(), 0);
    for (std::size_t p = 0; p < way.parts.size(); ++p) {
        const PartWater& part = way.parts[p];
        area[way.net.parts[p].face] += way.net.parts[p].area2;
        if (part.path.has_value() != reached(static_cast<int>(p))) broken.push_back(name(p) + " is reached without a path, or has one and is not");
        if (part.state != WaterState::no_path && part.state != WaterState::lap_not_proven && part.enclosed)
            broken.push_back(name(p) + " is reached and enclosed");
        if (!std::is_sorted(part.relies_on.begin(), part.relies_on.end())) broken.push_back(name(p) + " relies on membranes out of order");
        const bool open_lap = std::any_of(part.laps.begin(), part.laps.end(), [](const Lap& lap) { return !lap.sealed; });
        if (open_lap != (part.state == WaterState::lap_not_proven)) broken.push_back(name(p) + ": its laps disagree with its state");
        if (!part.path) continue;
        const auto& steps = part.path->steps;
        if (steps.empty() || steps.back().part != static_cast<int>(p)) {
            broken.push_back("the path to " + name(p) + " does not end there");
            continue;
        }
        if (std::none_of(way.net.sources.begin(), way.net.sources.end(), [&](const WaterSource& source) {
                return source.part == steps.front().part && !source.blocked && source.from == part.path->from;
            }))
            broken.push_back("the path to " + name(p) + " begins at no source");
        for (std::size_t k = 1; k < steps.size(); ++k)
            if (std::none_of(way.net.links.begin(), way.net.links.end(), [&](const WaterLink& link) {
                    return !link.blocked && std::minmax(link.a, link.b) == std::minmax(steps[k - 1].part, steps[k].part);
                }))
                broken.push_back("the path to " + name(p) + " crosses where nothing links");
        double length = 0;
        for (std::size_t k = 1; k < part.path->line.size(); ++k)
            length += std::hypot(static_cast<double>(part.path->line[k].x - part.path->line[k - 1].x),
                                 static_cast<double>(part.path->line[k].y - part.path->line[k - 1].y));
        if (std::abs(length - part.path->length) > 1e-6 * (1 + length)) broken.push_back("the path to " + name(p) + " is not as long as it says");
    }
    for (const WaterPart& part : way.net.parts)
        if (area[part.face] != arrangement.faces[part.face].area2) broken.push_back("the parts do not fill face " + std::to_string(part.face));
    for (const WaterLink& link : way.net.links)
        if (!link.blocked && reached(link.a) != reached(link.b)) broken.push_back("water stops at edge " + std::to_string(link.edge) + " for no reason");
    for (const WaterSource& source : way.net.sources)
        if (!source.blocked && !reached(source.part)) broken.push_back("a source does not reach " + name(source.part));
    return broken;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/surfaces.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <utility>

#include "core/arrangement/vertical_ray.hpp"

namespace wallfoot {

namespace {

/// Noding may bend a straight line by up to a grid step: vertices this near to a chord lie on it.
constexpr double straight_within_um = 1.5;

/// A surface edge turned so that the solid lies to the left of from → to.
struct Oriented {
    int edge = 0, from = 0, to = 0, space = 0, solid_face = 0;
};

std::vector<Oriented> contact_edges(const Arrangement& arrangement) {
    std::vector<Oriented> result;
    const auto face = [&](int index) { return index < 0 ? nullptr : &arrangement.faces.at(static_cast<std::size_t>(index)); };
    for (std::size_t e = 0; e < arrangement.edges.size(); ++e) {
        const ArrangedEdge& edge = arrangement.edges[e];
        const Face *left = face(edge.left), *right = face(edge.right);
        if (!left || !right) continue;  // on the frame
        const int index = static_cast<int>(e);
        if (left->kind == FaceKind::solid && right->kind == FaceKind::air && right->space >= 0)
            result.push_back({index, edge.from, edge.to, right->space, edge.left});
        else if (right->kind == FaceKind::solid && left->kind == FaceKind::air && left->space >= 0)
            result.push_back({index, edge.to, edge.from, left->space, edge.right});
    }
    return result;
}

Point vertex(const Arrangement& arrangement, int index) { return arrangement.vertices.at(static_cast<std::size_t>(index)); }

double length(Point a, Point b) { return std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)); }

double dot(Point a, Point b, Point c) {
    return static_cast<double>(b.x - a.x) * static_cast<double>(c.x - b.x) +
           static_cast<double>(b.y - a.y) * static_cast<double>(c.y - b.y);
}

/// For every contact edge the one that carries it straight on, or -1. One edge carries on at most one.
std::vector<int> straight_successors(const Arrangement& arrangement, const std::vector<Oriented>& contacts) {
    std::map<std::pair<int, int>, std::vector<int>> leaving;  // by space and vertex
    for (std::size_t k = 0; k < contacts.size(); ++k)
        leaving[{contacts[k].space, contacts[k].from}].push_back(static_cast<int>(k));
    std::vector<int> successor(contacts.size(), -1);
    std::vector<bool> taken(contacts.size(), false);
    for (std::size_t k = 0; k < contacts.size(); ++k) {
        const auto found = leaving.find({contacts[k].space, contacts[k].to});
        if (found == leaving.end()) continue;
        double least = straight_within_um;
        for (int next : found->second) {
            const auto n = static_cast<std::size_t>(next);
            const Point a = vertex(arrangement, contacts[k].from), b = vertex(arrangement, contacts[k].to);
            const Point c = vertex(arrangement, contacts[n].to);
            if (taken[n] || dot(a, b, c) <= 0) continue;
            const double off = std::abs(static_cast<double>(cross(a, b, c))) / length(a, c);
            if (off <= least && (successor[k] < 0 || off < least)) successor[k] = next, least = off;
        }
        if (successor[k] >= 0) taken[static_cast<std::size_t>(successor[k])] = true;
    }
    return successor;
}

using Run = std::vector<int>;  ///< indices into the contacts, in order

/// Cuts a chain where it leaves the straight line from its start (a finely divided curve turns a little at each vertex).
void split_into_runs(const Arrangement& arrangement, const std::vector<Oriented>& contacts, const Run& chain,
                     std::vector<Run>& runs) {
    std::optional<Point> reference;
    double least_angle = 0, greatest_angle = 0;
    for (int k : chain) {
        const Oriented& contact = contacts[static_cast<std::size_t>(k)];
        const Point end = vertex(arrangement, contact.to);
        bool fresh = !reference;
        Point start = fresh ? vertex(arrangement, contact.from)
                            : vertex(arrangement, contacts[static_cast<std::size_t>(runs.back().front())].from);
        const auto angle_to = [&](Point p) {
            const double along = static_cast<double>(reference->x - start.x) * static_cast<double>(p.x - start.x) +
                                 static_cast<double>(reference->y - start.y) * static_cast<double>(p.y - start.y);
            return std::atan2(static_cast<double>(cross(start, *reference, p)), along);
        };
        if (!fresh) {
            const double angle = angle_to(end);
            if (angle < least_angle || angle > greatest_angle) fresh = true, start = vertex(arrangement, contact.from);
        }
        if (fresh) {
            reference = end;
            least_angle = -std::numeric_limits<double>::infinity();
            greatest_angle = std::numeric_limits<double>::infinity();
            runs.emplace_back();
        }
        runs.back().push_back(k);
        const double reach = length(start, end), angle = angle_to(end);
        if (reach <= straight_within_um) continue;
        const double play = std::asin(straight_within_um / reach);
        least_angle = std::max(least_angle, angle - play);
        greatest_angle = std::min(greatest_angle, angle + play);
    }
}

std::vector<Run> straight_runs(const Arrangement& arrangement, const std::vector<Oriented>& contacts) {
    const std::vector<int> successor = straight_successors(arrangement, contacts);
    std::vector<bool> followed(contacts.size(), false), seen(contacts.size(), false);
    for (int next : successor)
        if (next >= 0) followed[static_cast<std::size_t>(next)] = true;
    std::vector<Run> runs;
    const auto follow = [&](std::size_t first) {
        Run chain;
        for (int k = static_cast<int>(first); k >= 0 && !seen[static_cast<std::size_t>(k)];
             k = successor[static_cast<std::size_t>(k)]) {
            seen[static_cast<std::size_t>(k)] = true;
            chain.push_back(k);
        }
        split_into_runs(arrangement, contacts, chain, runs);
    };
    for (std::size_t k = 0; k < contacts.size(); ++k)
        if (!followed[k]) follow(k);
    for (std::size_t k = 0; k < contacts.size(); ++k)
        if (!seen[k]) follow(k);  // a closed curve of small turns has no first edge
    return runs;
}

/// What decides directions: temperatures of the spaces and the way through the solid.
struct Thermal {
    std::vector<double> temperatures;
    std::optional<double> coldest;
    VerticalRay ray;
};

/// RULES 4.
Direction direction_of(const Arrangement& arrangement, const std::vector<Oriented>& contacts, const Run& run,
                       const Thermal& thermal) {
    const Oriented& first = contacts[static_cast<std::size_t>(run.front())];
    const Oriented& last = contacts[static_cast<std::size_t>(run.back())];
    const Point start = vertex(arrangement, first.from), end = vertex(arrangement, last.to);
    const __int128 dx = end.x - start.x, dy = end.y - start.y;
    if (3 * dx * dx <= dy * dy) return Direction::horizontal;  // within 30° of vertical: tan² 30° = 1/3
    const auto sense = dx > 0 ? VerticalRay::Sense::up : VerticalRay::Sense::down;
    const Micrometres left = std::min(start.x, end.x), middle = left + (std::max(start.x, end.x) - left) / 2;
    int triangle = -1;
    for (int k : run) {
        const Oriented& contact = contacts[static_cast<std::size_t>(k)];
        const Micrometres from = vertex(arrangement, contact.from).x, to = vertex(arrangement, contact.to).x;
        if ((from > middle) == (to > middle) || (to > from) != (dx > 0)) continue;
        triangle = thermal.ray.triangle_left_of(contact.from, contact.to);
        break;
    }
    const std::optional<int> next = thermal.ray.next_space(triangle, middle, sense);
    const std::optional<double> beyond =
        next ? std::optional(thermal.temperatures.at(static_cast<std::size_t>(*next))) : thermal.coldest;
    const double here = thermal.temperatures.at(static_cast<std::size_t>(first.space));
    if (!beyond || *beyond == here) return Direction::horizontal;
    const bool leaves_along_ray = here > *beyond;
    return leaves_along_ray == (sense == VerticalRay::Sense::up) ? Direction::up : Direction::down;
}

double by_direction(const SurfaceResistances& resistances, Direction direction) {
    switch (direction) {
        case Direction::up: return resistances.up;
        case Direction::down: return resistances.down;
        case Direction::horizontal: break;
    }
    return resistances.horizontal;
}

double resistance_of(const Space& space, const SurfaceRule& rule, Direction direction) {
    if (space.surface_resistance) return by_direction(*space.surface_resistance, direction);
    if (space.kind == SpaceKind::other)
        throw InputFault(Message{Severity::fault, "space-without-resistance", {{"space", space.id}},
                                 space.at.empty() ? std::nullopt : std::optional(space.at.front()), ""});
    return space.kind == SpaceKind::outside ? rule.outside : by_direction(rule.inside, direction);
}

}  // namespace

std::vector<SurfaceEdge> surfaces(const Study& study, const Section& section, const Arrangement& arrangement,
                                  Purpose purpose) {
    const Convention& convention = study.used_convention();
    const SurfaceRule& rule = purpose == Purpose::surface_check && convention.surface_check ? *convention.surface_check
                                                                                            : convention.heat_flow;
    Thermal thermal{ordering_temperatures(study, section), {}, VerticalRay(study, section, arrangement)};
    thermal.coldest = coldest_outside(section, thermal.temperatures);

    const std::vector<Oriented> contacts = contact_edges(arrangement);
    std::vector<SurfaceEdge> result;
    int number = 0;
    for (const Run& run : straight_runs(arrangement, contacts)) {
        const Direction direction = direction_of(arrangement, contacts, run, thermal);
        const int space = contacts[static_cast<std::size_t>(run.front())].space;
        const double resistance = resistance_of(section.spaces.at(static_cast<std::size_t>(space)), rule, direction);
        for (int k : run) {
            const Oriented& contact = contacts[static_cast<std::size_t>(k)];
            result.push_back({contact.edge, contact.space, contact.solid_face, number, direction, resistance});
        }
        ++number;
    }
    std::sort(result.begin(), result.end(), [](const SurfaceEdge& a, const SurfaceEdge& b) { return a.edge < b.edge; });
    return result;
}

std::string to_string(Direction direction) {
    switch (direction) {
        case Direction::up: return "up";
        case Direction::down: return "down";
        case Direction::horizontal: break;
    }
    return "horizontal";
}

}  // namespace wallfoot

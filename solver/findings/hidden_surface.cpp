// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/hidden_surface.hpp"

#include <algorithm>
#include <cmath>

namespace wallfoot {

namespace {

using Spot = std::array<double, 2>;  // µm

constexpr double within_um = 100;  // µm

/// The shares of the way from a to b that the straight line from p to q covers.
std::optional<std::array<double, 2>> covered(const Spot& a, const Spot& b, Point p, Point q) {
    const Spot along{b[0] - a[0], b[1] - a[1]};
    const double length2 = along[0] * along[0] + along[1] * along[1];
    const Spot line{double(q.x - p.x), double(q.y - p.y)};
    const double line_length = std::hypot(line[0], line[1]);
    if (length2 == 0 || line_length == 0) return std::nullopt;
    const auto share = [&](Point at) { return ((double(at.x) - a[0]) * along[0] + (double(at.y) - a[1]) * along[1]) / length2; };
    const double from = std::clamp(std::min(share(p), share(q)), 0.0, 1.0), to = std::clamp(std::max(share(p), share(q)), 0.0, 1.0);
    if (to <= from) return std::nullopt;
    for (const double at : {from, to}) {
        const double x = a[0] + at * along[0] - double(p.x), y = a[1] + at * along[1] - double(p.y);
        if (std::abs(x * line[1] - y * line[0]) / line_length > within_um) return std::nullopt;
    }
    return std::array<double, 2>{from, to};
}

/// What is left of 0 … 1 when these are taken out.
std::vector<std::array<double, 2>> left_of(std::vector<std::array<double, 2>> taken) {
    std::sort(taken.begin(), taken.end());
    std::vector<std::array<double, 2>> left;
    double at = 0;
    for (const auto& [from, to] : taken) {
        if (from > at) left.push_back({at, from});
        at = std::max(at, to);
    }
    if (at < 1) left.push_back({at, 1});
    return left;
}

}  // namespace

SeenParts seen_parts(const Section& section) {
    if (section.hidden.empty()) return {};
    return [hidden = section.hidden](const Spot& a, const Spot& b) {
        std::vector<std::array<double, 2>> taken;
        for (const HiddenSurface& stretch : hidden)
            for (std::size_t i = 0; i + 1 < stretch.path.size(); ++i)
                if (const auto part = covered(a, b, stretch.path[i], stretch.path[i + 1])) taken.push_back(*part);
        return left_of(std::move(taken));
    };
}

bool lies_on_surface(const HiddenSurface& hidden, const Solution& solution, int space) {
    for (const ContactEdge& edge : solution.contact_edges) {
        if (edge.contact != space) continue;
        const auto& corners = solution.triangles[static_cast<std::size_t>(edge.triangle)];
        const auto &a = solution.points[static_cast<std::size_t>(corners[(edge.corner + 1) % 3])], &b = solution.points[static_cast<std::size_t>(corners[(edge.corner + 2) % 3])];
        for (std::size_t i = 0; i + 1 < hidden.path.size(); ++i)
            if (covered(a, b, hidden.path[i], hidden.path[i + 1])) return true;
    }
    return false;
}

}  // namespace wallfoot

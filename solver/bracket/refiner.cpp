// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/refiner.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "solver/field/numbering.hpp"
#include "solver/mesh/corner_exponent.hpp"

namespace wallfoot {

namespace {

// Marking and growth as measured on wall-foot sections: Dörfler's share, and how far the mesh may grow between solves.
constexpr double doerfler_share = 0.5;
constexpr double growth_per_solve = 2.0;
constexpr double gap_order = 2.2, growth_margin = 1.05;  // the gap falls like triangles^-2.2 when marked well
constexpr double triangles_per_mark = 2.5;               // that one mark adds, with what conformity asks for
constexpr double inherited_by_quarters = 0.4;            // squared error left after both edges were halved
constexpr double inherited_by_halves = 0.6324555320336759;  // its root: only one edge was halved
constexpr double singular_exponent = 0.5;      // below it the error at a vertex falls too slowly for those two numbers
constexpr double away_from_tip = 0.1;          // of what leaves the tip's triangles, the share that stays beside them
constexpr double smallest_edge = 1e-11;        // × extent of the body; below it coordinates lose their meaning
constexpr double left_out_radius = 1e-4;       // × extent, around touching fixed temperatures

double extent(const Mesh& mesh) {
    double low_x = 1e300, low_y = 1e300, high_x = -1e300, high_y = -1e300;
    for (const auto& p : mesh.points) {
        low_x = std::min(low_x, p[0]), high_x = std::max(high_x, p[0]);
        low_y = std::min(low_y, p[1]), high_y = std::max(high_y, p[1]);
    }
    return std::max(high_x - low_x, high_y - low_y);
}

double longest_edge(const Mesh& mesh, int t) {
    return std::max({mesh.edge_length(t, 0), mesh.edge_length(t, 1), mesh.edge_length(t, 2)});
}

/// Marks the fewest triangles that hold the share of the total (Dörfler). Ties by number: the order is definite.
std::vector<char> mark(const std::vector<double>& local, const std::vector<char>& may_not, std::size_t at_most) {
    std::vector<int> order;
    double total = 0;
    for (int t = 0; t < static_cast<int>(local.size()); ++t)
        if (!may_not[t]) {
            order.push_back(t);
            total += local[t];
        }
    std::sort(order.begin(), order.end(), [&](int a, int b) { return local[a] != local[b] ? local[a] > local[b] : a < b; });
    std::vector<char> marked(local.size(), 0);
    double sum = 0;
    for (int t : order) {
        if (sum >= doerfler_share * total || local[t] == 0 || at_most == 0) break;
        sum += local[t];
        marked[t] = 1;
        --at_most;
    }
    return marked;
}

}  // namespace

Refiner::Refiner(const Model& model, const Mesh& start) : body_(extent(start)) {
    const auto flags = touching_fixed_vertices(start);
    for (std::size_t v = 0; v < flags.size(); ++v)
        if (flags[v]) touching_.push_back(start.points[v]);
    std::map<std::array<double, 2>, double> singular;
    const auto corners = corners_of(model);
    for (std::size_t v = 0; v < corners.size(); ++v)
        if (corners[v].alpha < singular_exponent)
            singular[{static_cast<double>(model.vertices[v].x), static_cast<double>(model.vertices[v].y)}] = corners[v].alpha;
    if (singular.empty()) return;
    exponent_.assign(start.points.size(), 1.0);
    for (std::size_t v = 0; v < exponent_.size(); ++v)
        if (const auto it = singular.find(start.points[v]); it != singular.end()) exponent_[v] = it->second;
}

double Refiner::alpha(const Mesh& mesh, int triangle) const {
    double least = 1;
    for (int v : mesh.triangles[triangle])
        if (v < static_cast<int>(exponent_.size())) least = std::min(least, exponent_[v]);
    return least;
}

std::vector<char> Refiner::left_out(const Mesh& mesh) const {
    std::vector<char> out(mesh.triangles.size(), 0);
    for (std::size_t t = 0; t < out.size() && !touching_.empty(); ++t)
        for (const auto& p : touching_) {
            double nearest = 1e300;
            for (int v : mesh.triangles[t]) nearest = std::min(nearest, std::hypot(mesh.points[v][0] - p[0], mesh.points[v][1] - p[1]));
            if (nearest <= left_out_radius * body_) out[t] = 1;
        }
    return out;
}

/// How the gap of a triangle is shared among its children. Beside a vertex where the field goes like r^α the gap falls
/// like size^(2α) only, and nearly all of what is left stays at the tip.
std::vector<double> Refiner::inherit(const std::vector<double>& local, const Mesh& coarse, const Mesh& fine,
                                     const std::vector<int>& parent) const {
    std::vector<int> children(coarse.triangles.size(), 0), at_tip(coarse.triangles.size(), 0);
    for (std::size_t t = 0; t < parent.size(); ++t) {
        ++children[parent[t]];
        if (!exponent_.empty() && alpha(fine, static_cast<int>(t)) < 1) ++at_tip[parent[t]];
    }
    std::vector<double> inherited(parent.size());
    for (std::size_t t = 0; t < parent.size(); ++t) {
        const int p = parent[t], n = children[p];
        inherited[t] = local[p] * (n == 1 ? 1.0 : n == 2 ? inherited_by_halves / 2 : inherited_by_quarters / n);
        if (n == 1 || at_tip[p] == 0) continue;
        const double stays = std::pow(2.0, (n == 2 ? -1 : -2) * alpha(coarse, p));
        inherited[t] = local[p] * (alpha(fine, static_cast<int>(t)) < 1 ? stays / at_tip[p]
                                                                       : away_from_tip * (1 - stays) / std::max(1, n - at_tip[p]));
    }
    return inherited;
}

bool Refiner::refine(Mesh& mesh, std::vector<double> local, double excess, int most_triangles) const {
    const std::size_t start = mesh.triangles.size();
    const double grow = std::min(growth_per_solve, std::max(1.05, growth_margin * std::pow(excess, 1 / gap_order)));
    const auto enough = static_cast<std::size_t>(grow * static_cast<double>(start));
    while (mesh.triangles.size() < enough) {
        auto barred = left_out(mesh);
        double total = 0, too_small = 0;
        for (std::size_t t = 0; t < barred.size(); ++t) {
            if (barred[t]) continue;
            total += local[t];
            if (longest_edge(mesh, static_cast<int>(t)) >= smallest_edge * body_) continue;
            too_small += local[t];
            barred[t] = 1;
        }
        if (mesh.triangles.size() == start && too_small * excess > total) return false;
        const auto room = static_cast<double>(enough - mesh.triangles.size());
        const auto marked = mark(local, barred, 1 + static_cast<std::size_t>(room / triangles_per_mark));
        if (std::none_of(marked.begin(), marked.end(), [](char m) { return m; })) break;
        std::vector<int> parent;
        Mesh finer = bisect(mesh, marked, &parent);
        local = inherit(local, mesh, finer, parent);
        mesh = std::move(finer);
        if (static_cast<int>(mesh.triangles.size()) > most_triangles) break;
    }
    return mesh.triangles.size() > start;
}

}  // namespace wallfoot

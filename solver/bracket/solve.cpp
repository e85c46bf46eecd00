// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "solver/bracket/fields.hpp"
#include "solver/bracket/solution.hpp"
#include "solver/bracket/window.hpp"
#include "solver/field/numbering.hpp"
#include "solver/mesh/mesh.hpp"

namespace wallfoot {

namespace {

// Marking and growth as measured on wall-foot sections: Dörfler's share, and how far the mesh may grow between solves.
constexpr double doerfler_share = 0.5;
constexpr double growth_per_solve = 2.0;
constexpr double gap_order = 2.2, growth_margin = 1.05;  // the gap falls like triangles^-2.2 when marked well
constexpr double triangles_per_mark = 2.5;               // that one mark adds, with what conformity asks for
constexpr double inherited_by_quarters = 0.4;  // squared error left after both edges were halved
constexpr double inherited_by_halves = 0.6324555320336759;  // its root: only one edge was halved
constexpr double smallest_edge = 1e-11;        // × extent of the body; below it coordinates lose their meaning
constexpr double left_out_radius = 1e-4;       // × extent, around touching fixed temperatures
constexpr double solver_share = 2.5e-3;        // of the last gap; the next is about a quarter of it
constexpr double coarsest_gap = 1e-3;          // W/(m·K)

double extent(const Mesh& mesh) {
    double low_x = 1e300, low_y = 1e300, high_x = -1e300, high_y = -1e300;
    for (const auto& p : mesh.points) {
        low_x = std::min(low_x, p[0]), high_x = std::max(high_x, p[0]);
        low_y = std::min(low_y, p[1]), high_y = std::max(high_y, p[1]);
    }
    return std::max(high_x - low_x, high_y - low_y);
}

/// Triangles near touching fixed temperatures, whose energy is infinite in the limit.
std::vector<char> left_out_triangles(const Mesh& mesh, const std::vector<std::array<double, 2>>& touching, double radius) {
    std::vector<char> out(mesh.triangles.size(), 0);
    for (std::size_t t = 0; t < out.size() && !touching.empty(); ++t)
        for (const auto& p : touching) {
            double nearest = 1e300;
            for (int v : mesh.triangles[t]) nearest = std::min(nearest, std::hypot(mesh.points[v][0] - p[0], mesh.points[v][1] - p[1]));
            if (nearest <= radius) out[t] = 1;
        }
    return out;
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

/// Marks and bisects, guessing how the gap falls, until the mesh has grown enough for the next solve to pay.
/// Returns false when nothing could be refined.
bool refine(Mesh& mesh, std::vector<double> local, double gap, double tolerance,
            const std::vector<std::array<double, 2>>& touching, double body, int most_triangles) {
    const std::size_t start = mesh.triangles.size();
    const double grow = std::min(growth_per_solve, std::max(1.05, growth_margin * std::pow(gap / tolerance, 1 / gap_order)));
    const auto enough = static_cast<std::size_t>(grow * static_cast<double>(start));
    while (mesh.triangles.size() < enough) {
        auto barred = left_out_triangles(mesh, touching, left_out_radius * body);
        for (std::size_t t = 0; t < barred.size(); ++t) {
            const int tt = static_cast<int>(t);
            const double longest = std::max({mesh.edge_length(tt, 0), mesh.edge_length(tt, 1), mesh.edge_length(tt, 2)});
            if (longest < smallest_edge * body) barred[t] = 1;
        }
        const auto marked = mark(local, barred, 1 + static_cast<std::size_t>(static_cast<double>(enough - mesh.triangles.size()) / triangles_per_mark));
        if (std::none_of(marked.begin(), marked.end(), [](char m) { return m; })) break;
        std::vector<int> parent;
        Mesh finer = bisect(mesh, marked, &parent);
        std::vector<int> children(mesh.triangles.size(), 0);
        for (int p : parent) ++children[p];
        std::vector<double> inherited(parent.size());
        for (std::size_t t = 0; t < parent.size(); ++t) {
            const int n = children[parent[t]];
            inherited[t] = local[parent[t]] * (n == 1 ? 1.0 : n == 2 ? inherited_by_halves / 2 : inherited_by_quarters / n);
        }
        local = std::move(inherited);
        mesh = std::move(finer);
        if (static_cast<int>(mesh.triangles.size()) > most_triangles) break;
    }
    return mesh.triangles.size() > start;
}

/// Widest bracket of the wanted couplings: √(G_ee G_ff) over the two largest gaps.
double widest(const std::vector<double>& gap, const std::vector<int>& wanted) {
    double first = 0, second = 0;
    for (int k : wanted) {
        if (gap[k] > first) second = std::exchange(first, gap[k]);
        else second = std::max(second, gap[k]);
    }
    return std::sqrt(first * second);
}

/// What one pass of the loop found, and what it still lacks.
struct Pass {
    Solution solution;
    std::vector<double> local;  // for marking
    double excess = 0;          // widest request over its tolerance; > 1 = not there yet
};

class Loop {
  public:
    Loop(const Model& model, const SolveOptions& options)
        : options_(options), begin_(std::chrono::steady_clock::now()), mesh_(start_mesh(model)), body_(extent(mesh_)) {
        const auto present = contacts_present(mesh_);
        const auto is_in = [](const std::vector<int>& list, int c) { return std::find(list.begin(), list.end(), c) != list.end(); };
        for (int c : present)
            if (options.wanted.empty() || is_in(options.wanted, c)) wanted_.push_back(c);
        surface_ = options.surface_contact >= 0 && is_in(present, options.surface_contact) &&
                   static_cast<int>(options.temperatures.size()) == mesh_.contacts;
        const auto flags = touching_fixed_vertices(mesh_);
        for (std::size_t v = 0; v < flags.size(); ++v)
            if (flags[v]) touching_.push_back(mesh_.points[v]);
        if (surface_) {
            const auto [low, high] = std::minmax_element(options.temperatures.begin(), options.temperatures.end());
            span_ = *high - *low;
            surface_ = span_ > 0 && touching_.empty();
        }
    }

    Pass pass() {
        std::optional<Window> window;
        if (surface_ && coldest_) window = open_window(mesh_, options_.surface_contact, *coldest_, options_.surface_length_mm);
        const auto present = contacts_present(mesh_);
        FieldNumbers numbers;
        auto fields = solve_fields(mesh_, numbers, errors_left(present), options_.two_threads);
        const auto left_out = left_out_triangles(mesh_, touching_, left_out_radius * body_);
        auto e = energies(mesh_, fields.temperature, fields.stream, left_out, present.empty() ? -1 : present.back());
        last_gap_ = e.gap_counted;
        std::optional<SurfaceMean> mean;
        Pass result;
        result.local = marking(e, window);
        if (window) {
            mean = mean_over(*window, mesh_, e, options_.temperatures, fields.temperature);
            merge_window(*window, e, fields.temperature, fields.stream);
            close_window(mesh_, *window);
        }
        std::vector<double> gap(mesh_.contacts);
        for (int k = 0; k < mesh_.contacts; ++k) gap[k] = touching_.empty() ? e.gap[k * mesh_.contacts + k] : e.gap_counted[k];
        result.excess = widest(gap, wanted_) / options_.tolerance;
        if (mean) result.excess = std::max(result.excess, 0.5 * mean->temperature.width() / (options_.surface_tolerance * span_));
        Solution& s = result.solution = to_solution(mesh_, fields, std::move(e));
        s.touching_fixed = !touching_.empty();
        s.surface_mean = mean;
        if (surface_) follow_coldest(s);
        s.converged = result.excess <= 1 && (mean.has_value() || !surface_);
        s.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin_).count();
        return result;
    }

    /// False when the mesh cannot or may not grow any more.
    bool refine_for(const Pass& last) {
        if (static_cast<int>(mesh_.triangles.size()) >= options_.most_triangles) return false;
        if (last.excess <= 1) return true;  // only the window was missing
        return refine(mesh_, last.local, last.excess, 1.0, touching_, body_, options_.most_triangles);
    }

    Mesh take_mesh() { return std::move(mesh_); }

  private:
    const SolveOptions& options_;
    std::chrono::steady_clock::time_point begin_;
    Mesh mesh_;
    double body_ = 0, span_ = 0;
    std::vector<int> wanted_;
    bool surface_ = false;
    std::vector<std::array<double, 2>> touching_;
    std::optional<std::array<double, 2>> coldest_;
    std::optional<double> lowest_;
    std::vector<double> last_gap_;  ///< G_kk of every load in the last pass

    /// What the linear solver may leave: a small share of the gap that the next mesh is expected to have; at the first
    /// mesh, of the gap asked for.
    std::vector<double> errors_left(const std::vector<int>& present) const {
        std::vector<double> errors;
        for (std::size_t i = 0; i + 1 < present.size(); ++i) {
            const bool known = present[i] < static_cast<int>(last_gap_.size());
            errors.push_back(solver_share * (known ? last_gap_[present[i]] : std::min(options_.tolerance, coarsest_gap)));
        }
        return errors;
    }

    /// Sum of the local gaps; with a window each quantity by its own total, so that none is left behind.
    std::vector<double> marking(const Energies& e, const std::optional<Window>& window) const {
        std::vector<double> local(mesh_.triangles.size(), 0);
        const auto add = [&](int k, double weight) {
            for (std::size_t t = 0; t < local.size(); ++t) local[t] += weight * e.local[k][t];
        };
        for (int k : wanted_) add(k, window && e.gap_counted[k] > 0 ? 1 / (e.gap_counted[k] * static_cast<double>(wanted_.size())) : 1);
        if (window && e.gap_counted[window->own] > 0) add(window->own, 1 / e.gap_counted[window->own]);
        return local;
    }

    void follow_coldest(Solution& s) {
        const auto minimum = surface_minimum(s, options_.surface_contact, options_.temperatures);
        if (!minimum) {
            surface_ = false;
            return;
        }
        s.point_change = lowest_ ? std::abs(minimum->temperature - *lowest_) : span_;
        lowest_ = minimum->temperature;
        coldest_ = on_colder_side(s, options_.surface_contact, options_.temperatures, minimum->at);
        for (const auto& edge : s.contact_edges)
            if (edge.contact == options_.surface_contact && edge.resistance > 0) return;
        surface_ = false;  // no surface resistance anywhere: the surface has the space's temperature
    }
};

}  // namespace

Solution solve(const Model& model, const SolveOptions& options, const Context& context, Mesh* last_mesh) {
    Loop loop(model, options);
    for (;;) {
        Pass pass = loop.pass();
        if (options.on_step) options.on_step(pass.solution);
        context.report(pass.solution.converged ? 1.0 : std::min(0.99, 1 / std::max(1.0, pass.excess)));
        // `!(excess >= 0)` ends the loop when a number went wrong (NaN).
        if (pass.solution.converged || !(pass.excess >= 0) || context.cancelled() || !loop.refine_for(pass)) {
            if (last_mesh) *last_mesh = loop.take_mesh();
            return std::move(pass.solution);
        }
    }
}

}  // namespace wallfoot

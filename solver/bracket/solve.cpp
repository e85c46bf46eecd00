// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <chrono>
#include <cmath>
#include <future>
#include <utility>

#include "solver/bracket/energies.hpp"
#include "solver/bracket/solution.hpp"
#include "solver/bracket/window.hpp"
#include "solver/field/numbering.hpp"
#include "solver/field/scalar_problem.hpp"
#include "solver/mesh/mesh.hpp"

namespace wallfoot {

namespace {

// Marking and growth as measured on wall-foot sections: Dörfler's share, and how far the mesh may grow between solves.
constexpr double doerfler_share = 0.5;
constexpr double growth_per_solve = 1.4;
constexpr double inherited_by_quarters = 0.4;  // squared error left after both edges were halved
constexpr double inherited_by_halves = 0.6324555320336759;  // its root: only one edge was halved
constexpr double smallest_edge = 1e-11;        // × extent of the body; below it coordinates lose their meaning
constexpr double left_out_radius = 1e-4;       // × extent, around touching fixed temperatures
constexpr int unknowns_for_two_threads = 2000;

struct Fields {
    std::vector<std::vector<Quadratic>> temperature, stream;  // by contact
    int unknowns = 0;
};

/// Contacts that meet the body at all.
std::vector<int> contacts_present(const Mesh& mesh) {
    std::vector<char> present(mesh.contacts, 0);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (mesh.neighbours[t][i] < 0 && mesh.marks[t][i] >= 0) present[mesh.kinds[mesh.marks[t][i]].contact] = 1;
    std::vector<int> list;
    for (int c = 0; c < mesh.contacts; ++c)
        if (present[c]) list.push_back(c);
    return list;
}

/// Spreads the solved loads to all contacts: the last present one is 1 − the others (temperature) and − the others
/// (stream function), exact because constants are in both spaces.
std::vector<std::vector<Quadratic>> complete(const Mesh& mesh, const std::vector<int>& present,
                                             std::vector<std::vector<Quadratic>> solved, double constant) {
    const std::size_t triangles = mesh.triangles.size();
    std::vector<std::vector<Quadratic>> all(mesh.contacts, std::vector<Quadratic>());
    auto last = std::vector<Quadratic>(triangles, Quadratic{constant, constant, constant, 0, 0, 0});
    for (std::size_t k = 0; k < solved.size(); ++k) {
        for (std::size_t t = 0; t < triangles; ++t)
            for (int i = 0; i < 6; ++i) last[t][i] -= solved[k][t][i];
        all[present[k]] = std::move(solved[k]);
    }
    if (!present.empty()) all[present.back()] = std::move(last);
    for (auto& field : all)
        if (field.empty()) field.assign(triangles, Quadratic{});
    return all;
}

Fields solve_fields(const Mesh& mesh, const std::vector<int>& present, bool two_threads) {
    const auto edges = number_edges(mesh);
    const auto order = vertex_order(mesh);
    std::vector<int> loads(present.begin(), present.empty() ? present.end() : present.end() - 1);
    Fields fields;
    int stream_unknowns = 0;
    const auto stream_work = [&] {
        const auto numbering = number_stream(mesh, edges, order);
        stream_unknowns = numbering.unknowns;
        const auto coefficients = stream_coefficients(mesh);
        return complete(mesh, present, ScalarProblem(mesh, numbering, coefficients, stream_edges(mesh)).solve(loads), 0.0);
    };
    std::future<std::vector<std::vector<Quadratic>>> stream;
    const bool threaded = two_threads && static_cast<int>(mesh.points.size()) > unknowns_for_two_threads / 4;
    if (threaded) stream = std::async(std::launch::async, stream_work);
    const auto numbering = number_temperature(mesh, edges, order);
    const auto coefficients = temperature_coefficients(mesh);
    fields.temperature = complete(mesh, present, ScalarProblem(mesh, numbering, coefficients, temperature_edges(mesh)).solve(loads), 1.0);
    fields.stream = threaded ? stream.get() : stream_work();
    fields.unknowns = numbering.unknowns + stream_unknowns;
    return fields;
}

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
std::vector<char> mark(const std::vector<double>& local, const std::vector<char>& may_not) {
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
        if (sum >= doerfler_share * total || local[t] == 0) break;
        sum += local[t];
        marked[t] = 1;
    }
    return marked;
}

/// Marks and bisects, guessing how the gap falls, until the mesh has grown enough for the next solve to pay.
/// Returns false when nothing could be refined.
bool refine(Mesh& mesh, std::vector<double> local, double gap, double tolerance,
            const std::vector<std::array<double, 2>>& touching, double body, int most_triangles) {
    const double grow = std::min(growth_per_solve, std::max(1.05, 1.1 * std::sqrt(gap / tolerance)));
    const std::size_t start = mesh.triangles.size();
    while (static_cast<double>(mesh.triangles.size()) < grow * static_cast<double>(start)) {
        auto barred = left_out_triangles(mesh, touching, left_out_radius * body);
        for (std::size_t t = 0; t < barred.size(); ++t) {
            const int tt = static_cast<int>(t);
            const double longest = std::max({mesh.edge_length(tt, 0), mesh.edge_length(tt, 1), mesh.edge_length(tt, 2)});
            if (longest < smallest_edge * body) barred[t] = 1;
        }
        const auto marked = mark(local, barred);
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

std::array<double, 6> nodal(const Quadratic& u) {
    return {u[0], u[1], u[2], 0.5 * (u[1] + u[2]) + u[3], 0.5 * (u[2] + u[0]) + u[4], 0.5 * (u[0] + u[1]) + u[5]};
}

Solution to_solution(const Mesh& mesh, const Fields& fields, Energies&& e) {
    Solution s;
    s.points = mesh.points;
    s.triangles = mesh.triangles;
    s.neighbours = mesh.neighbours;
    s.region = mesh.region;
    s.regions = mesh.regions;
    s.contacts = mesh.contacts;
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i)
            if (mesh.boundary(t, i) && mesh.marks[t][i] >= 0)
                s.contact_edges.push_back({t, i, mesh.kinds[mesh.marks[t][i]].contact, mesh.kinds[mesh.marks[t][i]].resistance});
    const auto convert = [](const std::vector<std::vector<Quadratic>>& from) {
        std::vector<std::vector<std::array<double, 6>>> to;
        for (const auto& load : from) {
            to.emplace_back();
            to.back().reserve(load.size());
            for (const auto& u : load) to.back().push_back(nodal(u));
        }
        return to;
    };
    s.temperature = convert(fields.temperature);
    s.stream = convert(fields.stream);
    s.upper_energy = std::move(e.upper);
    s.lower_energy = std::move(e.lower);
    s.gap = std::move(e.gap);
    s.unknowns = fields.unknowns;
    return s;
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
        auto fields = solve_fields(mesh_, contacts_present(mesh_), options_.two_threads);
        const auto left_out = left_out_triangles(mesh_, touching_, left_out_radius * body_);
        auto e = energies(mesh_, fields.temperature, fields.stream, left_out);
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

Solution solve(const Model& model, const SolveOptions& options, const Context& context) {
    Loop loop(model, options);
    for (;;) {
        Pass pass = loop.pass();
        if (options.on_step) options.on_step(pass.solution);
        context.report(pass.solution.converged ? 1.0 : std::min(0.99, 1 / std::max(1.0, pass.excess)));
        // `!(excess >= 0)` ends the loop when a number went wrong (NaN).
        if (pass.solution.converged || !(pass.excess >= 0) || context.cancelled() || !loop.refine_for(pass))
            return std::move(pass.solution);
    }
}

}  // namespace wallfoot

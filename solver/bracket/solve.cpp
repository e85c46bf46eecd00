// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <chrono>
#include <cmath>
#include <future>
#include <utility>

#include "solver/bracket/energies.hpp"
#include "solver/bracket/solution.hpp"
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

}  // namespace

Solution solve(const Model& model, const SolveOptions& options, const Context& context) {
    const auto begin = std::chrono::steady_clock::now();
    Mesh mesh = start_mesh(model);
    const auto present = contacts_present(mesh);
    std::vector<int> wanted;
    for (int c : present)
        if (options.wanted.empty() || std::find(options.wanted.begin(), options.wanted.end(), c) != options.wanted.end())
            wanted.push_back(c);
    const double body = extent(mesh);
    std::vector<std::array<double, 2>> touching;
    const auto flags = touching_fixed_vertices(mesh);
    for (std::size_t v = 0; v < flags.size(); ++v)
        if (flags[v]) touching.push_back(mesh.points[v]);

    for (;;) {
        const auto fields = solve_fields(mesh, present, options.two_threads);
        const auto left_out = left_out_triangles(mesh, touching, left_out_radius * body);
        auto e = energies(mesh, fields.temperature, fields.stream, wanted, left_out);
        const double width = widest(e.gap_counted, wanted);
        auto local = std::move(e.local_gap);
        Solution solution = to_solution(mesh, fields, std::move(e));
        solution.touching_fixed = !touching.empty();
        solution.converged = width <= options.tolerance;
        solution.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
        if (options.on_step) options.on_step(solution);
        context.report(width <= options.tolerance ? 1.0 : options.tolerance / width);
        // `!(width > tolerance)` also ends the loop when a number went wrong (NaN).
        if (!(width > options.tolerance) || context.cancelled() ||
            static_cast<int>(mesh.triangles.size()) >= options.most_triangles ||
            !refine(mesh, std::move(local), width, options.tolerance, touching, body, options.most_triangles))
            return solution;
    }
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/fields.hpp"

#include <future>
#include <utility>

namespace wallfoot {

namespace {

constexpr int unknowns_for_two_threads = 2000;
/// Up to here the whole matrix is factored, beyond the two levels are faster (measured).
constexpr int most_factored_whole = 700;

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

std::array<double, 6> nodal(const Quadratic& u) {
    return {u[0], u[1], u[2], 0.5 * (u[1] + u[2]) + u[3], 0.5 * (u[2] + u[0]) + u[4], 0.5 * (u[0] + u[1]) + u[5]};
}

}  // namespace

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

Fields solve_fields(const Mesh& mesh, FieldNumbers& numbers, const std::vector<double>& errors, bool two_threads, KeptFields* kept) {
    const auto present = contacts_present(mesh);
    std::vector<int> loads(present.begin(), present.empty() ? present.end() : present.end() - 1);
    std::optional<EdgeNumbers> edges;
    std::vector<int> order;
    if (!numbers.temperature) {
        edges = number_edges(mesh);
        order = vertex_order(mesh);
    }
    const auto gather = [&](Numbering& numbering) {
        const bool whole = errors.empty() || numbering.unknowns() <= most_factored_whole;
        gather_bubbles(numbering, mesh, whole ? Gather::all : Gather::slender);
    };
    Fields fields;
    const auto stream_work = [&] {
        if (!numbers.stream) gather(numbers.stream.emplace(number_stream(mesh, *edges, order)));
        const ScalarProblem problem(mesh, *numbers.stream, stream_coefficients(mesh), stream_edges(mesh));
        return complete(mesh, present, problem.solve(loads, errors, kept ? &kept->stream : nullptr), 0.0);
    };
    std::future<std::vector<std::vector<Quadratic>>> stream;
    const bool threaded = two_threads && static_cast<int>(mesh.points.size()) > unknowns_for_two_threads / 4;
    if (threaded) stream = std::async(std::launch::async, stream_work);
    if (!numbers.temperature) gather(numbers.temperature.emplace(number_temperature(mesh, *edges, order)));
    const ScalarProblem problem(mesh, *numbers.temperature, temperature_coefficients(mesh), temperature_edges(mesh));
    fields.temperature = complete(mesh, present, problem.solve(loads, errors, kept ? &kept->temperature : nullptr), 1.0);
    fields.stream = threaded ? stream.get() : stream_work();
    fields.unknowns = numbers.temperature->unknowns() + numbers.stream->unknowns();
    return fields;
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

}  // namespace wallfoot

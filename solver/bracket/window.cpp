// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/window.hpp"

#include <algorithm>
#include <cmath>

#include "solver/bracket/sensitivities.hpp"

namespace wallfoot {

namespace {

struct BoundaryEdge {
    int triangle = -1, corner = -1;
};

std::array<double, 2> start_of(const Mesh& m, BoundaryEdge e) { return m.points[m.triangles[e.triangle][(e.corner + 1) % 3]]; }
std::array<double, 2> end_of(const Mesh& m, BoundaryEdge e) { return m.points[m.triangles[e.triangle][(e.corner + 2) % 3]]; }

bool of_contact(const Mesh& m, int t, int i, int contact) {
    return m.boundary(t, i) && m.marks[t][i] >= 0 && m.kinds[m.marks[t][i]].contact == contact;
}

/// Edge of the contact that the point lies on or ends at; the nearest one, ties by number.
BoundaryEdge edge_at(const Mesh& m, int contact, const std::array<double, 2>& p) {
    BoundaryEdge best;
    double best_distance = 1e300;
    for (int t = 0; t < static_cast<int>(m.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i) {
            if (!of_contact(m, t, i, contact)) continue;
            const auto a = start_of(m, {t, i}), b = end_of(m, {t, i});
            const double dx = b[0] - a[0], dy = b[1] - a[1];
            const double f = std::clamp(((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
            const double d = std::hypot(p[0] - a[0] - f * dx, p[1] - a[1] - f * dy);
            if (d < best_distance - 1e-6) {
                best_distance = d;
                best = {t, i};
            }
        }
    return best;
}

/// The edge of the same kind that runs straight on from the end (or start) of `e`; none: triangle -1.
BoundaryEdge straight_on(const Mesh& m, BoundaryEdge e, bool forward) {
    const auto here = forward ? end_of(m, e) : start_of(m, e);
    const auto a = start_of(m, e), b = end_of(m, e);
    for (int t = 0; t < static_cast<int>(m.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i) {
            if (!m.boundary(t, i) || m.marks[t][i] != m.marks[e.triangle][e.corner] || (t == e.triangle && i == e.corner)) continue;
            const auto c = start_of(m, {t, i}), d = end_of(m, {t, i});
            if ((forward ? c : d) != here) continue;
            const double turn = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
            const double along = (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]);
            if (along > 0 && std::abs(turn) < 1e-9 * along) return {t, i};
        }
    return {};
}

}  // namespace

std::optional<Window> open_window(Mesh& mesh, int contact, const std::array<double, 2>& at, double longest_mm) {
    BoundaryEdge first = edge_at(mesh, contact, at);
    if (first.triangle < 0 || mesh.kinds[mesh.marks[first.triangle][first.corner]].resistance == 0) return std::nullopt;
    const double longest = longest_mm * 1000;
    for (int guard = 0; guard < 60 && mesh.edge_length(first.triangle, first.corner) > longest; ++guard) {
        std::vector<char> marked(mesh.triangles.size(), 0);
        marked[first.triangle] = 1;
        mesh = bisect(mesh, marked);
        first = edge_at(mesh, contact, at);
    }
    Window w;
    w.contact = contact;
    w.resistance = mesh.kinds[mesh.marks[first.triangle][first.corner]].resistance;
    w.edges = {{first.triangle, first.corner}};
    double length = mesh.edge_length(first.triangle, first.corner);
    BoundaryEdge front = first, back = first;
    for (bool grown = true; grown;) {
        grown = false;
        for (const bool forward : {true, false}) {
            const auto next = straight_on(mesh, forward ? front : back, forward);
            if (next.triangle < 0 || length + mesh.edge_length(next.triangle, next.corner) > longest) continue;
            length += mesh.edge_length(next.triangle, next.corner);
            (forward ? front : back) = next;
            w.edges.push_back({next.triangle, next.corner});
            grown = true;
        }
    }
    w.length_m = length * 1e-6;
    w.from = start_of(mesh, back);
    w.to = end_of(mesh, front);
    w.own = mesh.contacts++;
    mesh.kinds.push_back({w.own, w.resistance});
    for (const auto& [t, i] : w.edges) mesh.marks[t][i] = static_cast<int>(mesh.kinds.size()) - 1;
    return w;
}

void close_window(Mesh& mesh, const Window& window) {
    const int own = static_cast<int>(mesh.kinds.size()) - 1;
    const auto back = std::find(mesh.kinds.begin(), mesh.kinds.end(), ContactKind{window.contact, window.resistance});
    for (auto& marks : mesh.marks)
        for (int& m : marks)
            if (m == own) m = static_cast<int>(back - mesh.kinds.begin());
    mesh.kinds.pop_back();
    --mesh.contacts;
}

SurfaceMean mean_over(const Window& window, const Mesh& mesh, const Energies& e, const std::vector<double>& temperatures,
                      const std::vector<std::vector<Quadratic>>& temperature) {
    const int contacts = mesh.contacts;
    // Only differences of temperature count; the piece has the temperature of its space.
    std::vector<double> theta(contacts, 0.0);
    for (int k = 0; k < static_cast<int>(temperatures.size()); ++k) theta[k] = temperatures[k] - temperatures[window.contact];
    double flow = 0, gap = 0;
    for (int k = 0; k < contacts; ++k) {
        flow += 0.5 * (e.upper[window.own * contacts + k] + e.lower[window.own * contacts + k]) * theta[k];
        for (int l = 0; l < contacts; ++l) gap += theta[k] * e.gap[k * contacts + l] * theta[l];
    }
    const double factor = window.resistance / window.length_m;
    const double half = 0.5 * factor * std::sqrt(std::max(0.0, gap) * std::max(0.0, e.gap[window.own * contacts + window.own]));
    SurfaceMean mean;
    mean.contact = window.contact;
    mean.length_mm = window.length_m * 1000;
    mean.from = window.from;
    mean.to = window.to;
    const double middle = temperatures[window.contact] - factor * flow;
    const double round_off = 1e-11 * (std::abs(middle) + std::abs(factor * flow));
    mean.temperature = {middle, middle - half - round_off, middle + half + round_off};
    // The field's own mean over the piece, from corner values and bubbles.
    double own = 0;
    for (const auto& [t, i] : window.edges) {
        const auto &u = mesh.points[mesh.triangles[t][(i + 1) % 3]], &v = mesh.points[mesh.triangles[t][(i + 2) % 3]];
        const double share = std::hypot(v[0] - u[0], v[1] - u[1]) * 1e-6 / window.length_m;
        for (int k = 0; k < contacts; ++k) {
            const auto& f = temperature[k][t];
            own += share * theta[k] * (0.5 * (f[(i + 1) % 3] + f[(i + 2) % 3]) + 2.0 / 3 * f[3 + i]);
        }
    }
    mean.likely_error = std::abs(temperatures[window.contact] + own - middle);
    return mean;
}

void add_slopes(SurfaceMean& mean, const Window& window, const Solution& solution, const std::vector<double>& temperatures) {
    const Sensitivities by(solution);
    auto theta = temperatures;
    theta.push_back(temperatures[window.contact]);
    // T = T_space − (R/length)·flow into the piece
    const double factor = window.resistance / window.length_m;
    const auto of_flow = [&](const Slope& s) { return Slope{-factor * s.value, -factor * s.upper, -factor * s.lower}; };
    mean.by_region.clear();
    for (int r = 0; r < by.regions(); ++r)
        mean.by_region.push_back({of_flow(by.flow_along_x(window.own, theta, r)), of_flow(by.flow_along_y(window.own, theta, r))});
    mean.by_surface.clear();
    const auto& sorts = by.surfaces();
    const ContactKind around{window.contact, window.resistance}, piece{window.own, window.resistance};
    Slope own{};
    const Bracketed flow = solution.heat_flow(window.own, theta);
    for (std::size_t i = 0; i < sorts.size(); ++i) {
        const Slope slope = of_flow(by.flow_surface(window.own, theta, static_cast<int>(i)));
        if (sorts[i] == piece) own = {slope.value - flow.value / window.length_m, slope.lower - flow.upper / window.length_m,
                                      slope.upper - flow.lower / window.length_m};
        else mean.by_surface.push_back(slope);
    }
    // The piece is part of its space's surface, which may have no other of that sort.
    auto rest = sorts;
    std::erase(rest, piece);
    const auto at = std::lower_bound(rest.begin(), rest.end(), around) - rest.begin();
    if (at == std::ssize(rest) || rest[at] != around) mean.by_surface.insert(mean.by_surface.begin() + at, Slope{});
    Slope& whole = mean.by_surface[at];
    whole = {whole.value + own.value, whole.lower + own.lower, whole.upper + own.upper};
}

void merge_window(const Window& window, Energies& e, std::vector<std::vector<Quadratic>>& temperature,
                  std::vector<std::vector<Quadratic>>& stream) {
    const int n = window.own + 1, m = n - 1;
    for (auto* matrix : {&e.upper, &e.lower, &e.gap}) {
        for (int k = 0; k < n; ++k) (*matrix)[window.contact * n + k] += (*matrix)[window.own * n + k];
        for (int k = 0; k < n; ++k) (*matrix)[k * n + window.contact] += (*matrix)[k * n + window.own];
        std::vector<double> smaller(m * m);
        for (int k = 0; k < m; ++k)
            for (int l = 0; l < m; ++l) smaller[k * m + l] = (*matrix)[k * n + l];
        *matrix = std::move(smaller);
    }
    for (auto* fields : {&temperature, &stream}) {
        auto& whole = (*fields)[window.contact];
        for (std::size_t t = 0; t < whole.size(); ++t)
            for (int i = 0; i < 6; ++i) whole[t][i] += (*fields)[window.own][t][i];
        fields->pop_back();
    }
}

}  // namespace wallfoot

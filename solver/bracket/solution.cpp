// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/solution.hpp"

#include <algorithm>
#include <cmath>

namespace wallfoot {

namespace {

/// Bounds are printed outward by the round-off of the sums (RULES 9).
Bracketed widened(double middle, double half, double scale) {
    const double round_off = 1e-11 * std::max(std::abs(middle), scale);
    return {middle, middle - half - round_off, middle + half + round_off};
}

std::vector<std::array<double, 6>> combine(const std::vector<std::vector<std::array<double, 6>>>& loads, const std::vector<double>& factors) {
    std::vector<std::array<double, 6>> sum(loads.empty() ? 0 : loads[0].size(), std::array<double, 6>{});
    for (std::size_t k = 0; k < loads.size(); ++k)
        for (std::size_t t = 0; t < sum.size(); ++t)
            for (int i = 0; i < 6; ++i) sum[t][i] += factors[k] * loads[k][t][i];
    return sum;
}

struct Edge {
    std::array<double, 2> a, b;
    double length_m;
};

Edge edge_of(const Solution& s, const ContactEdge& e) {
    const auto &a = s.points[s.triangles[e.triangle][(e.corner + 1) % 3]], &b = s.points[s.triangles[e.triangle][(e.corner + 2) % 3]];
    return {a, b, std::hypot(b[0] - a[0], b[1] - a[1]) * 1e-6};
}

struct Local {
    int triangle = -1;
    std::array<double, 3> l{};  // barycentric
};

Local locate(const Solution& s, double x, double y) {
    constexpr double outside_by = -1e-9;  // points on the surface belong to the body
    Local best;
    double best_least = outside_by;
    for (int t = 0; t < static_cast<int>(s.triangles.size()); ++t) {
        const auto &a = s.points[s.triangles[t][0]], &b = s.points[s.triangles[t][1]], &c = s.points[s.triangles[t][2]];
        const double area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        const double l1 = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area;
        const double l2 = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area;
        const double least = std::min({l1, l2, 1 - l1 - l2});
        if (least < best_least || (best.triangle >= 0 && least == best_least)) continue;
        best = {t, {1 - l1 - l2, l1, l2}};
        best_least = least;
        if (least > 1e-9) break;
    }
    return best;
}

}  // namespace

Bracketed Couplings::coupling(int a, int b) const {
    const double upper = upper_energy[a * contacts + b], lower = lower_energy[a * contacts + b];
    const double half = 0.5 * std::sqrt(std::max(0.0, gap[a * contacts + a]) * std::max(0.0, gap[b * contacts + b]));
    // With n spaces: L_ef = −(K^U + K^L)/2 ± ½ √(G_ee G_ff), sharp given 0 ≤ K − K^L ≤ G.
    const double scale = std::max(std::abs(upper_energy[a * contacts + a]), std::abs(upper_energy[b * contacts + b]));
    return widened(-0.5 * (upper + lower), half, scale);
}

double Couplings::largest_coupling() const {
    double largest = 0;
    for (int a = 0; a < contacts; ++a)
        for (int b = 0; b < a; ++b) largest = std::max(largest, coupling(a, b).value);
    return largest;
}

Bracketed Couplings::heat_flow(int a, const std::vector<double>& temperatures) const {
    // Φ_a = e_aᵀ K θ; rows of K sum to zero, so only differences of temperature count.
    double middle = 0, gap_theta = 0, scale = 0;
    for (int k = 0; k < contacts; ++k) {
        const double difference = temperatures[k] - temperatures[a];
        middle += 0.5 * (upper_energy[a * contacts + k] + lower_energy[a * contacts + k]) * difference;
        scale = std::max(scale, std::abs(upper_energy[k * contacts + k] * difference));
        for (int l = 0; l < contacts; ++l) gap_theta += difference * gap[k * contacts + l] * (temperatures[l] - temperatures[a]);
    }
    return widened(middle, 0.5 * std::sqrt(std::max(0.0, gap[a * contacts + a]) * std::max(0.0, gap_theta)), scale);
}

double Solution::flow_from_temperature(int a, const std::vector<double>& temperatures) const {
    const auto t = temperatures_for(temperatures);
    double flow = 0;
    for (const auto& e : contact_edges) {
        if (e.contact != a || e.resistance == 0) continue;
        const auto& u = t[e.triangle];
        const double mean = (u[(e.corner + 1) % 3] + u[(e.corner + 2) % 3] + 4 * u[3 + e.corner]) / 6;  // Simpson: exact
        flow += (temperatures[a] - mean) / e.resistance * edge_of(*this, e).length_m;
    }
    return flow;
}

double Solution::flow_from_stream(int a, const std::vector<double>& temperatures) const {
    const auto s = stream_for(temperatures);
    double flow = 0;
    for (const auto& e : contact_edges)
        if (e.contact == a) flow -= s[e.triangle][(e.corner + 2) % 3] - s[e.triangle][(e.corner + 1) % 3];
    return flow;
}

std::vector<std::array<double, 6>> Solution::temperatures_for(const std::vector<double>& temperatures) const {
    return combine(temperature, temperatures);
}

std::vector<std::array<double, 6>> Solution::stream_for(const std::vector<double>& temperatures) const {
    return combine(stream, temperatures);
}

std::optional<double> Solution::temperature_at(double x, double y, const std::vector<double>& temperatures) const {
    const auto [t, l] = locate(*this, x, y);
    if (t < 0) return std::nullopt;
    double value = 0;
    for (int k = 0; k < contacts; ++k) {
        const auto& u = temperature[k][t];
        double at = 0;
        for (int i = 0; i < 3; ++i)
            at += l[i] * (2 * l[i] - 1) * u[i] + 4 * l[(i + 1) % 3] * l[(i + 2) % 3] * u[3 + i];
        value += temperatures[k] * at;
    }
    return value;
}

std::optional<std::array<double, 2>> Solution::flux_at(double x, double y, const std::vector<double>& temperatures) const {
    const auto [t, l] = locate(*this, x, y);
    if (t < 0) return std::nullopt;
    const auto &a = points[triangles[t][0]], &b = points[triangles[t][1]], &c = points[triangles[t][2]];
    const double twice = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    const std::array<std::array<double, 2>, 3> grad{{{(b[1] - c[1]) / twice, (c[0] - b[0]) / twice},
                                                     {(c[1] - a[1]) / twice, (a[0] - c[0]) / twice},
                                                     {(a[1] - b[1]) / twice, (b[0] - a[0]) / twice}}};
    double sx = 0, sy = 0;
    for (int k = 0; k < contacts; ++k) {
        const auto& s = stream[k][t];
        for (int i = 0; i < 3; ++i) {
            const int j = (i + 1) % 3, m = (i + 2) % 3;
            const double corner = (4 * l[i] - 1) * s[i] * temperatures[k], middle = 4 * s[3 + i] * temperatures[k];
            sx += corner * grad[i][0] + middle * (l[j] * grad[m][0] + l[m] * grad[j][0]);
            sy += corner * grad[i][1] + middle * (l[j] * grad[m][1] + l[m] * grad[j][1]);
        }
    }
    return std::array<double, 2>{sy * 1e6, -sx * 1e6};  // per µm → per m
}

std::optional<SurfaceMinimum> surface_minimum(const Solution& solution, int contact, const std::vector<double>& temperatures, const SeenParts& seen) {
    const auto t = solution.temperatures_for(temperatures), s = solution.stream_for(temperatures);
    std::optional<SurfaceMinimum> best;
    double estimate = 0;
    for (const auto& e : solution.contact_edges) {
        if (e.contact != contact) continue;
        const auto edge = edge_of(solution, e);
        const double a = t[e.triangle][(e.corner + 1) % 3], b = t[e.triangle][(e.corner + 2) % 3], m = t[e.triangle][3 + e.corner];
        const double sa = s[e.triangle][(e.corner + 1) % 3], sb = s[e.triangle][(e.corner + 2) % 3], sm = s[e.triangle][3 + e.corner];
        // Outward flow density at the ends and in the middle of the edge, W/m²
        const std::array<double, 3> q{(-3 * sa + 4 * sm - sb) / edge.length_m, (sb - sa) / edge.length_m, (sa - 4 * sm + 3 * sb) / edge.length_m};
        const std::array<double, 3> u{a, m, b};
        const auto parts = seen ? seen(edge.a, edge.b) : std::vector<std::array<double, 2>>{{0, 1}};
        if (parts.empty()) continue;
        for (int i = 0; i < 3; ++i) estimate = std::max(estimate, std::abs(u[i] - temperatures[contact] - e.resistance * q[i]));
        // Smallest value of the parabola through a, m, b on what counts of [0, 1]
        const double curve = 2 * (a + b - 2 * m), lowest = curve > 0 ? (3 * a + b - 4 * m) / (2 * curve) : -1;
        const auto value_at = [&](double r) { return r == 0 ? a : r == 1 ? b : a + r * (4 * m - 3 * a - b) + r * r * curve; };
        for (const auto& [from, to] : parts)
            for (const double at : {from, to, std::clamp(lowest, from, to)}) {
                const double value = value_at(at);
                if (!best || value < best->temperature)
                    best = SurfaceMinimum{value, {edge.a[0] + at * (edge.b[0] - edge.a[0]), edge.a[1] + at * (edge.b[1] - edge.a[1])}, 0};
            }
    }
    if (best) best->estimate = estimate;
    // Refined was the whole surface's coldest point: where that is not seen its small error says nothing of what is.
    if (best && !seen && solution.surface_mean && solution.surface_mean->contact == contact) {
        constexpr double safety = 3;  // covers every case measured when the mesh is refined for the piece as well
        best->estimate = safety * std::max(solution.surface_mean->likely_error, solution.point_change);
    }
    return best;
}

std::array<double, 2> on_colder_side(const Solution& solution, int contact, const std::vector<double>& temperatures,
                                     const std::array<double, 2>& at) {
    constexpr double same_point = 1e-3, reach = 1000, nudge = 0.5;  // µm
    struct Side {
        std::array<double, 2> direction;
        double length;
        std::array<double, 3> values;  // at the point, in the middle, at the far end
    };
    std::vector<Side> sides;
    const auto field = solution.temperatures_for(temperatures);
    double nearest = reach;
    for (const auto& e : solution.contact_edges) {
        if (e.contact != contact) continue;
        const auto edge = edge_of(solution, e);
        const auto& t = field[e.triangle];
        const double a = t[(e.corner + 1) % 3], b = t[(e.corner + 2) % 3], m = t[3 + e.corner], length = edge.length_m * 1e6;
        const std::array<double, 2> along{(edge.b[0] - edge.a[0]) / length, (edge.b[1] - edge.a[1]) / length};
        if (std::hypot(edge.a[0] - at[0], edge.a[1] - at[1]) < same_point) sides.push_back({along, length, {a, m, b}});
        else if (std::hypot(edge.b[0] - at[0], edge.b[1] - at[1]) < same_point)
            sides.push_back({{-along[0], -along[1]}, length, {b, m, a}});
        else
            continue;
        nearest = std::min(nearest, length);
    }
    const Side* coldest = nullptr;
    double lowest = 0;
    for (const auto& side : sides) {
        const double r = nearest / side.length;
        const auto& [u, m, v] = side.values;
        const double value = u + r * (4 * m - 3 * u - v) + r * r * 2 * (u + v - 2 * m);
        if (!coldest || value < lowest) coldest = &side, lowest = value;
    }
    if (!coldest) return at;
    const double step = std::min(nudge, 0.1 * nearest);
    return {at[0] + step * coldest->direction[0], at[1] + step * coldest->direction[1]};
}

}  // namespace wallfoot

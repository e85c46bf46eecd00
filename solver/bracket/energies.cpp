// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/energies.hpp"

#include <cmath>

#include "solver/bracket/integrals.hpp"

namespace wallfoot {

Energies energies(const Mesh& mesh, const std::vector<std::vector<Quadratic>>& temperature,
                  const std::vector<std::vector<Quadratic>>& stream, const std::vector<char>& left_out, int completed) {
    const int n = mesh.contacts, triangles = static_cast<int>(mesh.triangles.size());
    Energies e;
    e.upper.assign(n * n, 0);
    e.lower.assign(n * n, 0);
    e.gap.assign(n * n, 0);
    e.local.assign(n, std::vector<double>(triangles, 0));
    e.gap_counted.assign(n, 0);
    std::vector<int> solved;
    for (int k = 0; k < n; ++k)
        if (k != completed) solved.push_back(k);
    std::vector<LinearField> grad(n), flow(n), rest(n);
    std::vector<std::array<double, 3>> excess(n), out(n), misfit(n);
    std::vector<double> own(n), net(n);
    double completed_gap = 0;
    for (int t = 0; t < triangles; ++t) {
        const double area = mesh.area(t);
        const auto corners = corner_gradients(mesh, t);
        const auto& region = mesh.regions[mesh.region[t]];
        const double rx = std::sqrt(region.kx), ry = std::sqrt(region.ky);
        LinearField left{};  // what remains for the completed load
        for (int k : solved) {
            const auto g = gradient(temperature[k][t], corners), s = gradient(stream[k][t], corners);
            for (int i = 0; i < 3; ++i) {
                grad[k].x[i] = rx * g.x[i];
                grad[k].y[i] = ry * g.y[i];
                flow[k].x[i] = s.y[i] / rx;
                flow[k].y[i] = -s.x[i] / ry;
                left.x[i] -= rest[k].x[i] = grad[k].x[i] + flow[k].x[i];
                left.y[i] -= rest[k].y[i] = grad[k].y[i] + flow[k].y[i];
            }
        }
        const double w = area / 12;
        for (std::size_t a = 0; a < solved.size(); ++a)
            for (std::size_t b = a; b < solved.size(); ++b) {
                const int k = solved[a], l = solved[b];
                e.upper[k * n + l] += w * (product(grad[k].x, grad[l].x) + product(grad[k].y, grad[l].y));
                e.lower[k * n + l] -= w * (product(flow[k].x, flow[l].x) + product(flow[k].y, flow[l].y));
                const double gap = w * (product(rest[k].x, rest[l].x) + product(rest[k].y, rest[l].y));
                e.gap[k * n + l] += gap;
                if (k == l) own[k] = gap;
            }
        if (completed >= 0) own[completed] = w * (product(left.x, left.x) + product(left.y, left.y));
        for (int i = 0; i < 3; ++i) {
            if (!mesh.boundary(t, i) || mesh.marks[t][i] < 0) continue;
            const auto& kind = mesh.kinds[mesh.marks[t][i]];
            const double h = mesh.edge_length(t, i) * 1e-6, r = kind.resistance;
            std::array<double, 3> rest_of_misfit{};
            for (int k : solved) {
                const auto temp = on_edge(temperature[k][t], i), s = on_edge(stream[k][t], i);
                const double g = k == kind.contact ? 1 : 0;
                net[k] = s[1] - s[0];
                // q·n = ds/dτ is linear along the edge: end values per m
                out[k] = {(net[k] + 4 * s[2]) / h, (net[k] - 4 * s[2]) / h, 0};
                excess[k] = {temp[0] - g, temp[1] - g, temp[2]};
                misfit[k] = {excess[k][0] - r * out[k][0], excess[k][1] - r * out[k][1], excess[k][2]};
                for (int j = 0; j < 3; ++j) rest_of_misfit[j] -= misfit[k][j];
            }
            for (std::size_t a = 0; a < solved.size(); ++a)
                for (std::size_t b = a; b < solved.size(); ++b) {
                    const int k = solved[a], l = solved[b];
                    if (k == kind.contact) e.lower[k * n + l] -= net[l];
                    if (l == kind.contact) e.lower[k * n + l] -= net[k];
                    if (r == 0) continue;
                    e.upper[k * n + l] += h / r * edge_product(excess[k], excess[l]);
                    e.lower[k * n + l] -= h * r * edge_product(out[k], out[l]);
                    const double gap = h / r * edge_product(misfit[k], misfit[l]);
                    e.gap[k * n + l] += gap;
                    if (k == l) own[k] += gap;
                }
            if (completed >= 0 && r != 0) own[completed] += h / r * edge_product(rest_of_misfit, rest_of_misfit);
        }
        for (int k = 0; k < n; ++k) e.local[k][t] = own[k];
        if (completed >= 0) completed_gap += own[completed];
        if (!left_out[t])
            for (int k = 0; k < n; ++k) e.gap_counted[k] += own[k];
    }
    for (int k = 0; k < n; ++k)
        for (int l = 0; l < k; ++l)
            for (auto* m : {&e.upper, &e.lower, &e.gap}) (*m)[k * n + l] = (*m)[l * n + k];
    if (completed < 0) return e;
    for (auto* m : {&e.upper, &e.lower, &e.gap}) {
        double whole = 0;
        for (int k : solved) {
            double row = 0;
            for (int l : solved) row += (*m)[k * n + l];
            (*m)[k * n + completed] = (*m)[completed * n + k] = -row;
            whole += row;
        }
        (*m)[completed * n + completed] = whole;
    }
    e.gap[completed * n + completed] = completed_gap;  // summed itself: the whole of the rows may cancel
    return e;
}

}  // namespace wallfoot

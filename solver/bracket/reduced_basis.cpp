// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/reduced_basis.hpp"

#include <Eigen/Cholesky>
#include <cmath>

#include "solver/bracket/integrals.hpp"

namespace wallfoot {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Adds scale · f(a, b) over all pairs.
template <class F>
void add_products(MatrixXd& to, int fields, double scale, F&& f) {
    for (int a = 0; a < fields; ++a)
        for (int b = a; b < fields; ++b) {
            const double value = scale * f(a, b);
            to(a, b) += value;
            if (b != a) to(b, a) += value;
        }
}

/// The combination with sum 1 that makes cᵀ E c least. Any combination is a bound, so a poor solve only widens.
VectorXd least_with_sum_one(const MatrixXd& e) {
    const auto m = e.rows();
    VectorXd c = VectorXd::Zero(m);
    c(0) = 1;
    if (m == 1) return c;
    // c = first + Σ z_i (i-th − first)
    MatrixXd d = MatrixXd::Zero(m, m - 1);
    d.row(0).setConstant(-1);
    d.bottomRows(m - 1).setIdentity();
    const VectorXd z = (d.transpose() * e * d).ldlt().solve(-(d.transpose() * e.col(0)));
    return z.allFinite() ? VectorXd(c + d * z) : c;
}

}  // namespace

ReducedBasis::ReducedBasis(const KeptMesh& kept, const std::vector<Inputs>& at) {
    const Mesh& mesh = kept.mesh();
    contacts_ = mesh.contacts;
    present_ = contacts_present(mesh);
    snapshots_ = 1 + static_cast<int>(at.size());
    const int loads = std::max(0, static_cast<int>(present_.size()) - 1), fields = loads * snapshots_;
    std::vector<const std::vector<Quadratic>*> temperature(fields), stream(fields);
    std::vector<Fields> solved{kept.fields_for(*kept.inputs_of(kept.model()))};
    for (const auto& inputs : at) solved.push_back(kept.fields_for(inputs));
    for (int k = 0; k < loads; ++k)
        for (int i = 0; i < snapshots_; ++i) {
            temperature[k * snapshots_ + i] = &solved[i].temperature[present_[k]];
            stream[k * snapshots_ + i] = &solved[i].stream[present_[k]];
        }
    const MatrixXd none = MatrixXd::Zero(fields, fields);
    regions_.assign(mesh.regions.size(), {none, none, none, none});
    kinds_.assign(mesh.kinds.size(), {none, none});
    net_ = MatrixXd::Zero(contacts_, fields);
    std::vector<LinearField> t_grad(fields), s_grad(fields);
    std::vector<std::array<double, 3>> excess(fields), flow(fields);
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t) {
        const auto corners = corner_gradients(mesh, t);
        for (int a = 0; a < fields; ++a) {
            t_grad[a] = gradient((*temperature[a])[t], corners);
            s_grad[a] = gradient((*stream[a])[t], corners);
        }
        const double w = mesh.area(t) / 12;
        auto& region = regions_[mesh.region[t]];
        add_products(region.temperature_x, fields, w, [&](int a, int b) { return product(t_grad[a].x, t_grad[b].x); });
        add_products(region.temperature_y, fields, w, [&](int a, int b) { return product(t_grad[a].y, t_grad[b].y); });
        add_products(region.stream_x, fields, w, [&](int a, int b) { return product(s_grad[a].x, s_grad[b].x); });
        add_products(region.stream_y, fields, w, [&](int a, int b) { return product(s_grad[a].y, s_grad[b].y); });
        for (int i = 0; i < 3; ++i) {
            if (!mesh.boundary(t, i) || mesh.marks[t][i] < 0) continue;
            const int contact = mesh.kinds[mesh.marks[t][i]].contact;
            const double h = mesh.edge_length(t, i) * 1e-6;
            for (int a = 0; a < fields; ++a) {
                const auto u = on_edge((*temperature[a])[t], i), s = on_edge((*stream[a])[t], i);
                const double g = present_[a / snapshots_] == contact ? 1 : 0;
                net_(contact, a) += s[1] - s[0];
                excess[a] = {u[0] - g, u[1] - g, u[2]};
                flow[a] = {(s[1] - s[0] + 4 * s[2]) / h, (s[1] - s[0] - 4 * s[2]) / h, 0};
            }
            auto& kind = kinds_[mesh.marks[t][i]];
            add_products(kind.excess, fields, h, [&](int a, int b) { return edge_product(excess[a], excess[b]); });
            add_products(kind.flow, fields, h, [&](int a, int b) { return edge_product(flow[a], flow[b]); });
        }
    }
}

Couplings ReducedBasis::couplings(const Inputs& inputs) const {
    const int loads = std::max(0, static_cast<int>(present_.size()) - 1), m = snapshots_;
    MatrixXd upper = MatrixXd::Zero(loads * m, loads * m), lower = upper;
    for (std::size_t r = 0; r < regions_.size(); ++r) {
        const auto [kx, ky] = inputs.regions[r];
        upper += kx * regions_[r].temperature_x + ky * regions_[r].temperature_y;
        lower += 1 / ky * regions_[r].stream_x + 1 / kx * regions_[r].stream_y;
    }
    for (std::size_t q = 0; q < kinds_.size(); ++q) {
        if (inputs.resistance[q] == 0) continue;  // the surface has the space's temperature: no excess
        upper += 1 / inputs.resistance[q] * kinds_[q].excess;
        lower += inputs.resistance[q] * kinds_[q].flow;
    }
    MatrixXd c = MatrixXd::Zero(loads * m, loads), d = c;
    for (int k = 0; k < loads; ++k) {
        c.block(k * m, k, m, 1) = least_with_sum_one(upper.block(k * m, k * m, m, m));
        const VectorXd net = net_.row(present_[k]).segment(k * m, m);
        const VectorXd best = lower.block(k * m, k * m, m, m).ldlt().solve(-net);
        if (best.allFinite()) d.block(k * m, k, m, 1) = best;
        else d(k * m, k) = 1;
    }
    const MatrixXd ku = c.transpose() * upper * c;
    MatrixXd net(loads, loads);  // of load l's stream function over contact k
    for (int k = 0; k < loads; ++k) net.row(k) = net_.row(present_[k]) * d;
    const MatrixXd kl = -(d.transpose() * lower * d) - net - net.transpose();

    Couplings result;
    result.contacts = contacts_;
    const auto spread = [&](const MatrixXd& from) {
        std::vector<double> to(contacts_ * contacts_, 0.0);
        const auto at = [&](int k, int l) -> double& { return to[present_[k] * contacts_ + present_[l]]; };
        for (int k = 0; k < loads; ++k) {
            for (int l = 0; l < loads; ++l) at(k, l) = from(k, l);
            at(k, loads) = at(loads, k) = -from.row(k).sum();
        }
        if (loads > 0) at(loads, loads) = from.sum();
        return to;
    };
    result.upper_energy = spread(ku);
    result.lower_energy = spread(kl);
    result.gap = spread(ku - kl);
    return result;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "solver/bracket/fields.hpp"
#include "solver/bracket/refiner.hpp"
#include "solver/bracket/solution.hpp"
#include "solver/bracket/window.hpp"
#include "solver/mesh/mesh.hpp"

namespace wallfoot {

namespace {

constexpr double coarsest_gap = 1e-3;  // W/(m·K); the first mesh is solved for no wider one

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
        : options_(options), begin_(std::chrono::steady_clock::now()), mesh_(start_mesh(model)), refiner_(model, mesh_) {
        const auto present = contacts_present(mesh_);
        const auto is_in = [](const std::vector<int>& list, int c) { return std::find(list.begin(), list.end(), c) != list.end(); };
        for (int c : present)
            if (options.wanted.empty() || is_in(options.wanted, c)) wanted_.push_back(c);
        surface_ = options.surface_contact >= 0 && is_in(present, options.surface_contact) &&
                   static_cast<int>(options.temperatures.size()) == mesh_.contacts;
        if (surface_) {
            const auto [low, high] = std::minmax_element(options.temperatures.begin(), options.temperatures.end());
            span_ = *high - *low;
            surface_ = span_ > 0 && !refiner_.touching_fixed();
        }
    }

    Pass pass() {
        std::optional<Window> window;
        if (surface_ && coldest_) window = open_window(mesh_, options_.surface_contact, *coldest_, options_.surface_length_mm);
        const auto present = contacts_present(mesh_);
        FieldNumbers numbers;
        auto fields = solve_fields(mesh_, numbers, errors_left(present), options_.two_threads);
        const auto left_out = refiner_.left_out(mesh_);
        auto e = energies(mesh_, fields.temperature, fields.stream, left_out, present.empty() ? -1 : present.back());
        last_gap_ = e.gap_counted;
        std::optional<SurfaceMean> mean;
        Pass result;
        result.local = marking(e, window);
        if (window) {
            mean = mean_over(*window, mesh_, e, options_.temperatures, fields.temperature);
            if (options_.surface_slopes) add_slopes(*mean, *window, to_solution(mesh_, fields, Energies(e)), options_.temperatures);
            merge_window(*window, e, fields.temperature, fields.stream);
            close_window(mesh_, *window);
        }
        std::vector<double> gap(mesh_.contacts);
        for (int k = 0; k < mesh_.contacts; ++k) gap[k] = refiner_.touching_fixed() ? e.gap_counted[k] : e.gap[k * mesh_.contacts + k];
        Solution& s = result.solution = to_solution(mesh_, fields, std::move(e));
        const double asked = options_.share * s.largest_coupling();  // none: as without a share
        result.excess = widest(gap, wanted_) / (asked > 0 ? asked : options_.tolerance);
        if (mean) result.excess = std::max(result.excess, 0.5 * mean->temperature.width() / (options_.surface_tolerance * span_));
        s.touching_fixed = refiner_.touching_fixed();
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
        return refiner_.refine(mesh_, last.local, last.excess, options_.most_triangles);
    }

    Mesh take_mesh() { return std::move(mesh_); }

  private:
    const SolveOptions& options_;
    std::chrono::steady_clock::time_point begin_;
    Mesh mesh_;
    Refiner refiner_;
    double span_ = 0;
    std::vector<int> wanted_;
    bool surface_ = false;
    std::optional<std::array<double, 2>> coldest_;
    std::optional<double> lowest_;
    std::vector<double> last_gap_;  ///< G_kk of every load in the last pass

    /// What the linear solver may leave: a small share of the gap that the next mesh is expected to have; at the first
    /// mesh, of the gap asked for.
    std::vector<double> errors_left(const std::vector<int>& present) const {
        std::vector<double> errors;
        if (options_.linear_share == 0) return errors;
        for (std::size_t i = 0; i + 1 < present.size(); ++i) {
            const bool known = present[i] < static_cast<int>(last_gap_.size());
            errors.push_back(options_.linear_share * (known ? last_gap_[present[i]] : std::min(options_.tolerance, coarsest_gap)));
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

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/reuse.hpp"

#include <algorithm>

namespace wallfoot {

namespace {

/// Of one variant: the section, the floor alone by both readings, the surface check; and those of the variant before.
constexpr std::size_t most_known = 8;

bool same_model(const Model& a, const Model& b) {
    return a.vertices == b.vertices && a.lines == b.lines && a.regions == b.regions && a.contacts == b.contacts;
}

/// Whether both ask for the same, number of threads apart.
bool same_wishes(const SolveOptions& a, const SolveOptions& b) {
    return a.tolerance == b.tolerance && a.share == b.share && a.most_triangles == b.most_triangles && a.surface_contact == b.surface_contact && a.temperatures == b.temperatures &&
           a.surface_tolerance == b.surface_tolerance && a.surface_length_mm == b.surface_length_mm && a.surface_slopes == b.surface_slopes && a.linear_share == b.linear_share && a.wanted == b.wanted;
}

}  // namespace

FindingsOptions Reuse::at_rest(FindingsOptions options) {
    options.solve = [this](const Model& model, const SolveOptions& wishes, const Context& context) { return again(model, wishes, context); };
    return options;
}

FindingsOptions Reuse::quick(FindingsOptions options) {
    options.solve = [this](const Model& model, const SolveOptions& wishes, const Context& context) { return on_kept_mesh(model, wishes, context); };
    return options;
}

Solution Reuse::again(const Model& model, const SolveOptions& options, const Context& context) {
    const auto met = std::find_if(known_.begin(), known_.end(), [&](const Known& known) { return same_model(known.model, model) && same_wishes(known.options, options); });
    if (met != known_.end()) {
        ++spared_;
        known_.splice(known_.begin(), known_, met);
        return met->solution;
    }
    Solution solution = solve(model, options, context);
    if (context.cancelled()) return solution;  // cut short: of no use to another
    known_.push_front({model, options, solution});
    known_.front().options.on_step = nullptr;
    if (known_.size() > most_known) known_.pop_back();
    return solution;
}

Solution Reuse::on_kept_mesh(const Model& model, const SolveOptions& options, const Context& context) {
    for (auto kept = meshes_.begin(); kept != meshes_.end(); ++kept) {
        if (!(*kept)->inputs_of(model)) continue;
        ++spared_;
        meshes_.splice(meshes_.begin(), meshes_, kept);
        return meshes_.front()->solve_again(model);
    }
    meshes_.push_front(std::make_unique<KeptMesh>(model, options, context));
    const Solution solution = meshes_.front()->solution();
    if (context.cancelled()) meshes_.pop_front();
    else if (meshes_.size() > most_known) meshes_.pop_back();
    return solution;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/kept_mesh.hpp"

#include <algorithm>
#include <chrono>
#include <stdexcept>

namespace wallfoot {

namespace {

constexpr double solver_share = 5e-3;  // of the gap of the kept solution

}  // namespace

KeptMesh::KeptMesh(const Model& model, SolveOptions options, const Context& context) : model_(model), options_(std::move(options)) {
    options_.surface_contact = -1;
    options_.on_step = nullptr;
    solution_ = wallfoot::solve(model_, options_, context, &mesh_);
    const auto present = contacts_present(mesh_);
    for (std::size_t i = 0; i + 1 < present.size(); ++i)
        errors_.push_back(solver_share * solution_.gap[present[i] * mesh_.contacts + present[i]]);
    solve_fields(mesh_, numbers_, errors_, options_.two_threads, &kept_);
}

std::optional<Inputs> KeptMesh::inputs_of(const Model& other) const {
    if (other.vertices != model_.vertices || other.lines.size() != model_.lines.size() ||
        other.regions.size() != model_.regions.size() || other.contacts != model_.contacts)
        return std::nullopt;
    std::vector<double> resistance(mesh_.kinds.size(), -1);
    for (std::size_t i = 0; i < other.lines.size(); ++i) {
        ModelLine mine = model_.lines[i];
        const auto kind = std::find(mesh_.kinds.begin(), mesh_.kinds.end(), ContactKind{mine.contact, mine.resistance});
        mine.resistance = other.lines[i].resistance;
        if (mine != other.lines[i]) return std::nullopt;
        if (mine.contact < 0 || kind == mesh_.kinds.end()) continue;
        double& now = resistance[static_cast<std::size_t>(kind - mesh_.kinds.begin())];
        // One sort of surface may have become two, or a fixed temperature: that mesh would be numbered otherwise.
        if ((now >= 0 && now != mine.resistance) || (kind->resistance == 0) != (mine.resistance == 0)) return std::nullopt;
        now = mine.resistance;
    }
    for (std::size_t k = 0; k < resistance.size(); ++k)
        if (resistance[k] < 0) resistance[k] = mesh_.kinds[k].resistance;
    return Inputs{other.regions, resistance};
}

Mesh KeptMesh::mesh_with(const Inputs& inputs) const {
    Mesh mesh = mesh_;
    mesh.regions = inputs.regions;
    for (std::size_t k = 0; k < mesh.kinds.size(); ++k) mesh.kinds[k].resistance = inputs.resistance[k];
    return mesh;
}

Fields KeptMesh::fields_for(const Inputs& inputs) const {
    KeptFields kept = kept_;
    return solve_fields(mesh_with(inputs), numbers_, errors_, options_.two_threads, &kept);
}

Solution KeptMesh::solve_again(const Model& other) const {
    const auto begin = std::chrono::steady_clock::now();
    const auto inputs = inputs_of(other);
    if (!inputs) throw std::logic_error("the model does not fit the kept mesh");
    const Mesh mesh = mesh_with(*inputs);
    const auto fields = fields_for(*inputs);
    const auto present = contacts_present(mesh);
    Solution s = to_solution(mesh, fields, energies(mesh, fields.temperature, fields.stream, std::vector<char>(mesh.triangles.size(), 0),
                                                    present.empty() ? -1 : present.back()));
    s.touching_fixed = solution_.touching_fixed;
    s.converged = !s.touching_fixed;
    for (int a : present)
        for (int b : present)
            if (a < b && !(s.coupling(a, b).width() <= options_.tolerance)) s.converged = false;
    s.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    return s;
}

}  // namespace wallfoot

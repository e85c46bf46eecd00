// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/bracket/fields.hpp"

namespace wallfoot {

/// What may differ between models that share a mesh.
struct Inputs {
    std::vector<Region> regions;
    std::vector<double> resistance;  ///< of every sort of contact, in the order of Mesh::kinds
};

/// A section solved once, with its mesh kept: other conductivities and surface resistances of the same geometry are then
/// answered on that mesh from the old factors and fields. Their brackets are proven all the same, only not refined; at
/// rest the section is solved from its own start mesh (RULES 7).
class KeptMesh {
  public:
    /// Solves as solve() does, without the surface mean.
    KeptMesh(const Model& model, SolveOptions options, const Context& context = {});
    const Solution& solution() const { return solution_; }
    const Model& model() const { return model_; }
    const Mesh& mesh() const { return mesh_; }
    /// What the other model brings; nothing when it differs in more than conductivities and non-zero surface resistances.
    std::optional<Inputs> inputs_of(const Model& other) const;
    /// Solution of the other model on the kept mesh. Throws std::logic_error when it does not fit.
    Solution solve_again(const Model& other) const;
    /// The fields alone; the inputs must be of this mesh.
    Fields fields_for(const Inputs& inputs) const;

  private:
    Mesh mesh_with(const Inputs& inputs) const;

    Model model_;
    SolveOptions options_;
    Mesh mesh_;
    Solution solution_;
    mutable FieldNumbers numbers_;
    KeptFields kept_;
    std::vector<double> errors_;
};

}  // namespace wallfoot

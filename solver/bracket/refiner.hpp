// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "solver/mesh/mesh.hpp"

namespace wallfoot {

/// Decides where a mesh grows between two solves.
class Refiner {
  public:
    Refiner(const Model& model, const Mesh& start);
    /// Two fixed temperatures touch: the energy there is infinite in the limit.
    bool touching_fixed() const { return !touching_.empty(); }
    /// Triangles near touching fixed temperatures: their gap does not count and they are not refined.
    std::vector<char> left_out(const Mesh& mesh) const;
    /// Marks and bisects, guessing how the local gaps fall, until the mesh has grown enough for the next solve to pay.
    /// `local`: gap of each triangle; `excess`: the widest request over its tolerance. False when nothing could be
    /// refined, or what cannot be refined any more already holds more than the tolerance.
    bool refine(Mesh& mesh, std::vector<double> local, double excess, int most_triangles) const;

  private:
    double alpha(const Mesh& mesh, int triangle) const;
    std::vector<double> inherit(const std::vector<double>& local, const Mesh& coarse, const Mesh& fine, const std::vector<int>& parent) const;

    std::vector<std::array<double, 2>> touching_;
    std::vector<double> exponent_;  ///< of the vertices of the start mesh, which keep their numbers; 1 = harmless
    double body_ = 0;               ///< extent, µm
};

}  // namespace wallfoot

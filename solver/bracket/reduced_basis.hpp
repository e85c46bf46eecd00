// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/bracket/kept_mesh.hpp"

namespace wallfoot {

/// Answers a slider: the fields of a few solved variants on one mesh are combined so that both bounds are as good as
/// they can be made of them. Every combination is an admissible field, so the bracket is proven for every input, near the
/// solved variants or far from them; far from them it is wide. Costs microseconds a value.
class ReducedBasis {
  public:
    /// Solves the variants `at` (inputs of `kept`) besides the kept one.
    ReducedBasis(const KeptMesh& kept, const std::vector<Inputs>& at);
    Couplings couplings(const Inputs& inputs) const;

  private:
    /// Integrals of products of two fields, numbered load × snapshots + snapshot.
    using Products = Eigen::MatrixXd;
    struct InRegion {
        Products temperature_x, temperature_y, stream_x, stream_y;  ///< of the derivatives along x and y
    };
    struct AtContact {
        Products excess, flow;  ///< (T − g)(T − g) and q·n q·n over the surface, per m
    };

    int contacts_ = 0, snapshots_ = 0;
    std::vector<int> present_;
    std::vector<InRegion> regions_;
    std::vector<AtContact> kinds_;
    Eigen::MatrixXd net_;  ///< (contact, field): difference of the stream function along that contact
};

}  // namespace wallfoot

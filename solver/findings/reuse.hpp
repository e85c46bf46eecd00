// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <list>
#include <memory>

#include "solver/bracket/kept_mesh.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// What many variants of one section share when they are worked out one after the other. For one thread at a time, and to
/// outlive the options it gives.
///
/// At rest only what is the very same is used again: a section whose part did not change (the floor alone while the foot
/// changes, everything while a temperature changes) is not solved twice, and the answer is the same to the last bit.
/// Quickly, other conductivities are answered on a kept mesh, each with its own bracket, which is not refined: for a first
/// look, to be replaced at rest.
class Reuse {
  public:
    FindingsOptions at_rest(FindingsOptions options = {});
    FindingsOptions quick(FindingsOptions options = {});
    /// How many solves were not needed, or done on a kept mesh.
    std::size_t spared() const { return spared_; }

  private:
    struct Known {
        Model model;
        SolveOptions options;
        Solution solution;
    };
    Solution again(const Model& model, const SolveOptions& options, const Context& context);
    Solution on_kept_mesh(const Model& model, const SolveOptions& options, const Context& context);

    std::list<Known> known_;                        ///< newest first
    std::list<std::unique_ptr<KeptMesh>> meshes_;   ///< newest first
    std::size_t spared_ = 0;
};

}  // namespace wallfoot

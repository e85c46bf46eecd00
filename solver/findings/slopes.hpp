// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/findings/floor_alone.hpp"

namespace wallfoot {

/// What the slopes of one variant are read from.
struct SlopeSource {
    const std::vector<int>& face_region;   ///< region of every face of the junction, for the heat flow
    const Solution& solution;
    const std::vector<FoundElement>& elements;
    const FloorAloneSection* floor_section = nullptr;  ///< taken off for the floor, if any
    const Solution* floor_solution = nullptr;
    /// The run that has the mean surface temperature on the scale 0–1 with its slopes, and its regions by face.
    const Solution* surface_solution = nullptr;
    const std::vector<int>* surface_face_region = nullptr;
};

/// How fast the results change with every input: with the conductivity of every material in its condition (pieces of one
/// value that touch are one input) and with every surface resistance. L2D by the envelope theorem (Sensitivities), U by
/// ∂U/∂λ = U²·d/λ², ∂U/∂R = −U² (derivatives of ISO 6946:2017, 6.7.1), psi by their difference. Largest effect on the
/// headline psi first (on the first coupling where there is none).
std::vector<InputSlope> input_slopes(const SectionView& view, const Findings& findings, const SlopeSource& source);

}  // namespace wallfoot

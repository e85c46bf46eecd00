// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/study.hpp"

namespace wallfoot {

/// One layer of a build-up.
struct Layer {
    Micrometres thickness = 0;  ///< > 0
    std::string material;       ///< id; empty: left open, as the air of a cavity is
    std::string name;           ///< of the piece; empty: unnamed
    bool operator==(const Layer&) const = default;
};

/// The strips of layers laid side by side along an open chain of corners, the first against the chain, each of its
/// thickness square to every edge, mitred at the corners. To the left or the right of the chain as it runs.
/// Neighbouring strips share their corners exactly; all run anticlockwise. Empty for a chain of fewer than two different
/// corners. Throws InputFault "layer-too-thin" (a thickness not above 0), "layer-turns-back" (an edge that runs back over
/// the one before), "layer-too-thick" where a bend is too short for the thickness, so that a strip would cross itself or
/// turn over, "coordinate-too-large".
std::vector<Outline> layer_outlines(const Path& chain, bool on_left, const std::vector<Layer>& layers);

/// Adds the layers that have a material as pieces on top. Throws as layer_outlines, and "layer-without-line" where the
/// chain is no line.
Section add_layers(const Section& section, const Path& chain, bool on_left, const std::vector<Layer>& layers);

}  // namespace wallfoot

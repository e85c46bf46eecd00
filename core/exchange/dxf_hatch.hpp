// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "core/exchange/drawing.hpp"
#include "core/exchange/dxf_curves.hpp"
#include "core/exchange/dxf_pairs.hpp"

// Outlines made of several parts; not for others.
namespace wallfoot::dxf {

struct Vertex {
    Place at;
    double bulge = 0;  ///< of the part that begins here
};
using Vertices = std::vector<Vertex>;

/// A chain of straight parts and arcs.
Stroke bulged(const Vertices& vertices, bool closed, const Affine& to, double tolerance);

/// The boundaries of a HATCH; nothing where its counts and its numbers disagree.
std::optional<std::vector<Stroke>> hatch_outlines(const Entity& hatch, const Affine& to, double tolerance);

}  // namespace wallfoot::dxf

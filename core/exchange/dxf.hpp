// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

#include "core/exchange/drawing.hpp"

namespace wallfoot {

/// Most bytes of a drawing file, entities in it (those of blocks as often as they are placed), points of its lines,
/// and depth of blocks in blocks.
constexpr std::size_t dxf_byte_limit = 60'000'000, dxf_entity_limit = 200'000, dxf_point_limit = 2'000'000;
constexpr int dxf_depth_limit = 16;

/// Reads a text DXF: LINE, LWPOLYLINE, POLYLINE, ARC, CIRCLE, ELLIPSE, SPLINE, INSERT (also nested) and the boundaries
/// of HATCH. Curves are broken up to 0.1 mm when a unit is `mm_per_unit` (0: what the file says, else 1).
/// Everything else is counted in `left_out`. Heights (z) are dropped.
/// Throws InputFault, with the line: "dxf-not-text", "dxf-broken", "dxf-number", "dxf-too-large", "dxf-too-many",
/// "dxf-nested".
Drawing read_dxf(std::string_view bytes, double mm_per_unit = 0);

/// Lines in mm as text DXF of the simplest generation (R12), which every reader takes: a LINE or POLYLINE for each stroke,
/// a TEXT for each writing.
std::string dxf_text(const Drawing& drawing);
/// Lines in mm as SVG in true size, a group for each layer.
std::string svg_text(const Drawing& drawing);

}  // namespace wallfoot

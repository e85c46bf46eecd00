// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/layers.hpp"

#include <algorithm>
#include <cmath>

#include "core/geometry/outline_check.hpp"
#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

using edit::refuse;

struct Way {
    double x = 0, y = 0;
};

/// Unit vector from a to b.
Way way(Point a, Point b) {
    const double dx = static_cast<double>(b.x - a.x), dy = static_cast<double>(b.y - a.y), length = std::hypot(dx, dy);
    return {dx / length, dy / length};
}

/// The chain without corners that repeat or lie straight between their neighbours.
Path bends(const Path& chain) {
    Path result;
    for (const Point p : chain) {
        if (!result.empty() && result.back() == p) continue;
        const std::size_t n = result.size();
        if (n > 1 && cross(result[n - 2], result[n - 1], p) == 0) {
            const Way before = way(result[n - 2], result[n - 1]), next = way(result[n - 1], p);
            if (before.x * next.x + before.y * next.y < 0) refuse("layer-turns-back", {}, result[n - 1]);
            result.pop_back();
        }
        result.push_back(p);
    }
    return result;
}

/// The chain moved sideways by `off` µm (to its left when positive), each corner to where the moved edges meet.
Path moved_aside(const Path& chain, Micrometres off) {
    Path result;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const Way before = way(chain[i > 0 ? i - 1 : 0], chain[i > 0 ? i : 1]);
        const Way next = i + 1 < chain.size() ? way(chain[i], chain[i + 1]) : before;
        // Both normals have length 1 and are n(1 + cos) apart from the mitre: their sum over (1 + cos of the bend).
        const double stretch = static_cast<double>(off) / (1 + before.x * next.x + before.y * next.y);
        const double x = static_cast<double>(chain[i].x) - (before.y + next.y) * stretch, y = static_cast<double>(chain[i].y) + (before.x + next.x) * stretch;
        if (!(std::abs(x) <= static_cast<double>(coordinate_limit)) || !(std::abs(y) <= static_cast<double>(coordinate_limit))) refuse("coordinate-too-large", {}, chain[i]);
        result.push_back({std::llround(x), std::llround(y)});
    }
    return result;
}

/// Whether every edge still runs the way it did before it was moved aside.
bool same_ways(const Path& chain, const Path& moved) {
    for (std::size_t i = 1; i < chain.size(); ++i) {
        const Point a = chain[i - 1], b = chain[i], c = moved[i - 1], d = moved[i];
        if (Area2(b.x - a.x) * (d.x - c.x) + Area2(b.y - a.y) * (d.y - c.y) <= 0) return false;
    }
    return true;
}

}  // namespace

std::vector<Outline> layer_outlines(const Path& chain, bool on_left, const std::vector<Layer>& layers) {
    const Path line = bends(chain);
    if (line.size() < 2) return {};
    std::vector<Outline> result;
    Path near = line;
    Micrometres off = 0;
    for (const Layer& layer : layers) {
        if (layer.thickness <= 0) refuse("layer-too-thin", {{"layer", std::to_string(result.size() + 1)}});
        off += layer.thickness;
        if (off > coordinate_limit) refuse("coordinate-too-large", {}, line.front());
        const Path far = moved_aside(line, on_left ? off : -off);
        Outline strip = near;
        strip.insert(strip.end(), far.rbegin(), far.rend());
        if (!same_ways(line, far) || check_outline(strip))
            refuse("layer-too-thick", {{"layer", std::to_string(result.size() + 1)}, {"thickness", number_text(to_mm(layer.thickness))}}, line.front());
        if (!on_left) std::reverse(strip.begin(), strip.end());
        result.push_back(std::move(strip));
        near = far;
    }
    return result;
}

Section add_layers(const Section& section, const Path& chain, bool on_left, const std::vector<Layer>& layers) {
    const auto outlines = layer_outlines(chain, on_left, layers);
    if (outlines.empty()) refuse("layer-without-line");
    Section result = section;
    for (std::size_t i = 0; i < layers.size(); ++i) {
        if (layers[i].material.empty()) continue;
        Piece piece;
        piece.outline = outlines[i];
        piece.filled_with = layers[i].material;
        piece.name = layers[i].name;
        result = add_piece(result, std::move(piece));
    }
    return result;
}

}  // namespace wallfoot

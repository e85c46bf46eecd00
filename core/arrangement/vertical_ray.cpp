// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/vertical_ray.hpp"

#include <algorithm>
#include <tuple>

namespace wallfoot {

namespace {

bool is_soil(const Study& study, const Section& section, const Face& face) {
    if (face.kind != FaceKind::solid || face.piece < 0) return false;
    const Piece& piece = section.pieces.at(static_cast<std::size_t>(face.piece));
    const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
    return material && material->kind == MaterialKind::soil;
}

}  // namespace

VerticalRay::VerticalRay(const Study& study, const Section& section, const Arrangement& arrangement)
    : arrangement_(arrangement) {
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        const auto& corners = arrangement.triangles[t];
        for (std::size_t i = 0; i < 3; ++i)
            edges_.push_back({corners[i], corners[(i + 1) % 3], static_cast<int>(t)});
    }
    std::sort(edges_.begin(), edges_.end(), [](const DirectedEdge& a, const DirectedEdge& b) {
        return std::tie(a.from, a.to) < std::tie(b.from, b.to);
    });
    for (const Face& face : arrangement.faces) soil_.push_back(is_soil(study, section, face));
}

int VerticalRay::triangle_left_of(int from, int to) const {
    const auto found = std::lower_bound(edges_.begin(), edges_.end(), std::pair{from, to},
                                        [](const DirectedEdge& edge, const std::pair<int, int>& ends) {
                                            return std::tie(edge.from, edge.to) < std::tie(ends.first, ends.second);
                                        });
    return found != edges_.end() && found->from == from && found->to == to ? found->triangle : -1;
}

bool VerticalRay::meets(int triangle, Micrometres x) const {
    int right = 0;
    for (int corner : arrangement_.triangles.at(static_cast<std::size_t>(triangle)))
        right += arrangement_.vertices.at(static_cast<std::size_t>(corner)).x > x;
    return right == 1 || right == 2;
}

std::optional<int> VerticalRay::next_space(int triangle, Micrometres x, Sense sense) const {
    for (std::size_t steps = 0; triangle >= 0 && steps <= arrangement_.triangles.size(); ++steps) {
        const auto t = static_cast<std::size_t>(triangle);
        const auto face = static_cast<std::size_t>(arrangement_.triangle_face.at(t));
        const Face& here = arrangement_.faces.at(face);
        if (here.kind == FaceKind::air) return here.space >= 0 ? std::optional(here.space) : std::nullopt;
        if (here.kind == FaceKind::cutout || soil_[face]) return std::nullopt;
        int next = -1;
        for (std::size_t i = 0; i < 3; ++i) {
            const int a = arrangement_.triangles[t][i], b = arrangement_.triangles[t][(i + 1) % 3];
            const bool a_right = arrangement_.vertices[static_cast<std::size_t>(a)].x > x;
            const bool b_right = arrangement_.vertices[static_cast<std::size_t>(b)].x > x;
            // Anticlockwise, an edge that runs from right to left has the triangle below it.
            if (a_right != b_right && a_right == (sense == Sense::up)) next = triangle_left_of(b, a);
        }
        triangle = next;
    }
    return std::nullopt;
}

std::optional<double> coldest_outside(const Section& section, const std::vector<double>& temperatures) {
    std::optional<double> coldest;
    for (std::size_t i = 0; i < section.spaces.size(); ++i)
        if (section.spaces[i].kind == SpaceKind::outside)
            coldest = std::min(coldest.value_or(temperatures[i]), temperatures[i]);
    return coldest;
}

}  // namespace wallfoot

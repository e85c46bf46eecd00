// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/seen_box.hpp"

namespace wallfoot {

std::vector<std::optional<SeenBox>> seen_boxes(const Section& section, const Arrangement& arrangement) {
    std::vector<std::optional<SeenBox>> boxes(section.pieces.size());
    std::vector<double> area(section.pieces.size(), 0);
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        const Face& face = arrangement.faces[static_cast<std::size_t>(arrangement.triangle_face[t])];
        if (face.kind != FaceKind::solid || face.piece < 0) continue;
        const auto piece = static_cast<std::size_t>(face.piece);
        std::array<Point, 3> corners{};
        for (std::size_t i = 0; i < corners.size(); ++i) corners[i] = arrangement.vertices[static_cast<std::size_t>(arrangement.triangles[t][i])];
        area[piece] += 0.5 * static_cast<double>(cross(corners[0], corners[1], corners[2]));
        if (!boxes[piece]) boxes[piece] = SeenBox{{corners[0].x, corners[0].y, corners[0].x, corners[0].y}, 0};
        Rect& box = boxes[piece]->box;
        for (const Point p : corners) {
            box.left = std::min(box.left, p.x), box.right = std::max(box.right, p.x);
            box.bottom = std::min(box.bottom, p.y), box.top = std::max(box.top, p.y);
        }
    }
    for (std::size_t p = 0; p < boxes.size(); ++p) {
        if (!boxes[p]) continue;
        const double whole = static_cast<double>(boxes[p]->box.width()) * static_cast<double>(boxes[p]->box.height());
        if (whole > 0) boxes[p]->filled = area[p] / whole;
    }
    return boxes;
}

}  // namespace wallfoot

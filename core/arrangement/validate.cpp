// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <map>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {
namespace {

/// Face on the left of every directed triangle edge.
using Sides = std::map<std::pair<int, int>, int>;

void check_triangles(const Arrangement& a, std::vector<std::string>& broken, Sides& sides) {
    std::vector<Area2> sums(a.faces.size(), 0);
    for (std::size_t t = 0; t < a.triangles.size(); ++t) {
        const auto& c = a.triangles[t];
        const std::string name = "triangle " + std::to_string(t);
        if (std::any_of(c.begin(), c.end(), [&](int v) { return v < 0 || v >= static_cast<int>(a.vertices.size()); })) {
            broken.push_back(name + " names a vertex that is not there");
            continue;
        }
        const auto area2 = cross(a.vertices[c[0]], a.vertices[c[1]], a.vertices[c[2]]);
        if (area2 <= 0) broken.push_back(name + " does not turn anticlockwise");
        const int face = a.triangle_face[t];
        if (face < 0 || face >= static_cast<int>(a.faces.size())) {
            broken.push_back(name + " has no face");
            continue;
        }
        sums[face] += area2;
        for (int i = 0; i < 3; ++i)
            if (!sides.emplace(std::pair(c[i], c[(i + 1) % 3]), face).second) broken.push_back(name + " overlaps another");
    }
    for (std::size_t f = 0; f < a.faces.size(); ++f)
        if (sums[f] != a.faces[f].area2 || sums[f] <= 0) broken.push_back("face " + std::to_string(f) + ": area is not that of its triangles");
}

void check_edges(const Arrangement& a, std::vector<std::string>& broken, const Sides& sides) {
    const auto left_of = [&](int from, int to) {
        const auto found = sides.find({from, to});
        return found == sides.end() ? -1 : found->second;
    };
    std::map<std::pair<int, int>, int> known;
    for (std::size_t e = 0; e < a.edges.size(); ++e) {
        const ArrangedEdge& edge = a.edges[e];
        const std::string name = "edge " + std::to_string(e);
        if (edge.from >= edge.to) broken.push_back(name + " is not in order");
        if (!known.emplace(std::pair(edge.from, edge.to), static_cast<int>(e)).second) broken.push_back(name + " is there twice");
        if (edge.left != left_of(edge.from, edge.to) || edge.right != left_of(edge.to, edge.from))
            broken.push_back(name + " disagrees with the triangles beside it");
        if (edge.left == edge.right && edge.membranes.empty()) broken.push_back(name + " separates nothing");
    }
    for (const auto& [ends, face] : sides)
        if (left_of(ends.second, ends.first) != face && !known.contains(std::minmax(ends.first, ends.second)))
            broken.push_back("two faces meet without an edge at vertex " + std::to_string(ends.first));
}

}  // namespace

std::vector<std::string> validate(const Arrangement& a) {
    std::vector<std::string> broken;
    if (a.triangles.size() != a.triangle_face.size()) return {"not every triangle has a face"};
    if (a.triangles.empty()) return a.sound() ? std::vector<std::string>{"nothing, and no fault says why"} : broken;
    Sides sides;
    check_triangles(a, broken, sides);
    check_edges(a, broken, sides);
    Area2 sum = 0;
    for (const Face& face : a.faces) sum += face.area2;
    if (sum != 2 * static_cast<Area2>(a.frame.width()) * a.frame.height()) broken.push_back("the faces do not fill the frame");
    if (a.frame.left > a.cut.left || a.frame.right < a.cut.right || a.frame.bottom > a.cut.bottom || a.frame.top < a.cut.top)
        broken.push_back("the frame does not hold the cut");
    for (const Point p : a.vertices)
        if (!a.frame.contains(p)) broken.push_back("a vertex lies outside the frame");
    return broken;
}

}  // namespace wallfoot

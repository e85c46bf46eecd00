// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <map>
#include <numeric>

#include "solver/mesh/model.hpp"

namespace wallfoot {

namespace {

constexpr int no_region = -1;

int find_root(std::vector<int>& parent, int i) {
    while (parent[i] != i) i = parent[i] = parent[parent[i]];
    return i;
}

/// Joins solid faces of equal conductivity that share an edge; class index per face, -1 where nothing conducts.
std::vector<int> region_of_faces(const Arrangement& arrangement, const std::vector<FaceConductivity>& k) {
    std::vector<int> parent(arrangement.faces.size());
    std::iota(parent.begin(), parent.end(), 0);
    const auto solid = [&](int f) { return f >= 0 && arrangement.faces[f].kind == FaceKind::solid; };
    for (const auto& e : arrangement.edges)
        if (solid(e.left) && solid(e.right) && k[e.left].across == k[e.right].across && k[e.left].up == k[e.right].up)
            parent[find_root(parent, e.left)] = find_root(parent, e.right);
    std::vector<int> of(arrangement.faces.size(), no_region);
    for (std::size_t f = 0; f < of.size(); ++f)
        if (solid(static_cast<int>(f))) of[f] = find_root(parent, static_cast<int>(f));
    return of;
}

/// A line seen from one of its ends: same tuple on both sides of a straight-through vertex means the vertex can go.
struct SeenLine {
    int other, left, right, contact;
    double resistance;
};

SeenLine seen_from(const ModelLine& line, int vertex) {
    if (line.from == vertex) return {line.to, line.left, line.right, line.contact, line.resistance};
    return {line.from, line.right, line.left, line.contact, line.resistance};
}

/// True when v can be dropped: its two lines run straight on and say the same on both sides.
bool straight_through(const std::vector<Point>& p, int v, const ModelLine& one, const ModelLine& two) {
    const SeenLine a = seen_from(one, v), b = seen_from(two, v);
    if (a.left != b.right || a.right != b.left || a.contact != b.contact || a.resistance != b.resistance) return false;
    if (a.other == b.other || cross(p[a.other], p[v], p[b.other]) != 0) return false;
    const __int128 along = static_cast<__int128>(p[v].x - p[a.other].x) * (p[b.other].x - p[v].x) +
                           static_cast<__int128>(p[v].y - p[a.other].y) * (p[b.other].y - p[v].y);
    return along > 0;
}

void drop_straight_through(const std::vector<Point>& points, std::vector<ModelLine>& lines) {
    std::vector<std::vector<int>> at(points.size());
    for (int i = 0; i < static_cast<int>(lines.size()); ++i) {
        at[lines[i].from].push_back(i);
        at[lines[i].to].push_back(i);
    }
    std::vector<bool> gone(lines.size(), false);
    for (int v = 0; v < static_cast<int>(points.size()); ++v) {
        if (at[v].size() != 2) continue;
        const int keep = at[v][0], drop = at[v][1];
        if (keep == drop || !straight_through(points, v, lines[keep], lines[drop])) continue;
        const SeenLine a = seen_from(lines[keep], v), b = seen_from(lines[drop], v);
        lines[keep] = {a.other, b.other, a.right, a.left, a.contact, a.resistance};
        gone[drop] = true;
        std::replace(at[b.other].begin(), at[b.other].end(), drop, keep);
        at[v].clear();
    }
    std::vector<ModelLine> kept;
    for (std::size_t i = 0; i < lines.size(); ++i)
        if (!gone[i]) kept.push_back(lines[i]);
    lines = std::move(kept);
}

/// Sorted vertices in use, lines from the lower to the higher vertex, regions in order of first line.
/// `renumbered`: the model's number of every region.
Model canonical(const std::vector<Point>& points, std::vector<ModelLine> lines, const std::map<int, Region>& regions,
                const std::map<int, Area2>& areas, int spaces, std::map<int, int>& renumbered) {
    Model model;
    model.contacts = spaces;
    for (const auto& l : lines) {
        model.vertices.push_back(points[l.from]);
        model.vertices.push_back(points[l.to]);
    }
    std::sort(model.vertices.begin(), model.vertices.end());
    model.vertices.erase(std::unique(model.vertices.begin(), model.vertices.end()), model.vertices.end());
    const auto index = [&](int i) {
        return static_cast<int>(std::lower_bound(model.vertices.begin(), model.vertices.end(), points[i]) - model.vertices.begin());
    };
    for (auto& l : lines) {
        l.from = index(l.from);
        l.to = index(l.to);
        if (l.from > l.to) {
            std::swap(l.from, l.to);
            std::swap(l.left, l.right);
        }
    }
    std::sort(lines.begin(), lines.end(), [](const ModelLine& a, const ModelLine& b) {
        return std::pair(a.from, a.to) < std::pair(b.from, b.to);
    });
    renumbered = {{no_region, no_region}};
    for (auto& l : lines)
        for (int* side : {&l.left, &l.right}) {
            const auto [it, fresh] = renumbered.try_emplace(*side, static_cast<int>(model.regions.size()));
            if (fresh) {
                model.regions.push_back(regions.at(*side));
                model.region_area2.push_back(areas.at(*side));
            }
            *side = it->second;
        }
    model.lines = std::move(lines);
    return model;
}

}  // namespace

Model reduce(const Arrangement& arrangement, const std::vector<FaceConductivity>& conductivities,
             const std::vector<SurfaceEdge>& surfaces, int spaces, std::vector<int>* face_region) {
    const auto region = region_of_faces(arrangement, conductivities);
    std::map<int, const SurfaceEdge*> surface_on;
    for (const auto& s : surfaces) surface_on[s.edge] = &s;

    std::map<int, Region> regions;
    std::map<int, Area2> areas;
    for (std::size_t f = 0; f < region.size(); ++f)
        if (region[f] != no_region) {
            regions[region[f]] = {conductivities[f].across, conductivities[f].up};
            areas[region[f]] += arrangement.faces[f].area2;
        }

    std::vector<ModelLine> lines;
    for (int i = 0; i < static_cast<int>(arrangement.edges.size()); ++i) {
        const auto& e = arrangement.edges[i];
        const int left = e.left < 0 ? no_region : region[e.left], right = e.right < 0 ? no_region : region[e.right];
        if (left == right) continue;
        ModelLine line{e.from, e.to, left, right, -1, 0};
        if (const auto it = surface_on.find(i); it != surface_on.end()) {
            line.contact = it->second->space;
            line.resistance = it->second->resistance;
        }
        lines.push_back(line);
    }
    drop_straight_through(arrangement.vertices, lines);
    std::map<int, int> renumbered;
    Model model = canonical(arrangement.vertices, std::move(lines), regions, areas, spaces, renumbered);
    if (face_region) {
        face_region->clear();
        for (const int r : region) face_region->push_back(renumbered.at(r));
    }
    return model;
}

}  // namespace wallfoot

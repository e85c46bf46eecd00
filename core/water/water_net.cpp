// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/water/water_net.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <tuple>

#include "core/arrangement/row.hpp"
#include "core/water/capillary.hpp"

namespace wallfoot {
namespace {

class NetBuilder {
  public:
    NetBuilder(const Study& study, const Section& section, const Arrangement& arrangement, std::size_t membranes)
        : section_(section), arrangement_(arrangement), membranes_(static_cast<int>(membranes)) {
        for (const Face& face : arrangement.faces)
            material_.push_back(face.kind == FaceKind::solid && face.piece >= 0
                                    ? study.find_material(section.pieces[face.piece].filled_with)
                                    : nullptr);
    }

    WaterNet run() {
        find_neighbours();
        find_parts();
        find_level();
        find_links();
        find_sources();
        return std::move(net_);
    }

  private:
    Point vertex(int v) const { return arrangement_.vertices[v]; }
    Point from(const ArrangedEdge& edge) const { return vertex(edge.from); }
    Point to(const ArrangedEdge& edge) const { return vertex(edge.to); }
    bool draws(int face) const { return face >= 0 && material_[face] && is_capillary(*material_[face]); }
    bool is_leaf(int face) const {
        return draws(face) &&
               (material_[face]->kind == MaterialKind::masonry || material_[face]->kind == MaterialKind::concrete);
    }
    bool is_outside_air(int face) const { return is_air_of(face, SpaceKind::outside); }
    bool is_air_of(int face, SpaceKind kind) const {
        if (face < 0 || arrangement_.faces[face].kind != FaceKind::air || arrangement_.faces[face].space < 0) return false;
        return section_.spaces[arrangement_.faces[face].space].kind == kind;
    }
    /// What may fill a cavity.
    bool fills_cavity(int face) const {
        if (face < 0) return false;
        if (material_[face])
            return !draws(face) && (material_[face]->kind == MaterialKind::airspace ||
                                    material_[face]->kind == MaterialKind::insulation);
        return arrangement_.faces[face].kind == FaceKind::air && !is_air_of(face, SpaceKind::inside);
    }

    bool blocked(const ArrangedEdge& edge) const {
        return std::any_of(edge.membranes.begin(), edge.membranes.end(), [&](int m) { return m < membranes_; });
    }

    void find_neighbours() {
        const auto& triangles = arrangement_.triangles;
        std::vector<std::tuple<int, int, int, int>> half;  // ends, triangle, corner
        for (int t = 0; t < static_cast<int>(triangles.size()); ++t)
            for (int i = 0; i < 3; ++i) {
                const auto [a, b] = std::minmax(triangles[t][i], triangles[t][(i + 1) % 3]);
                half.emplace_back(a, b, t, i);
            }
        std::sort(half.begin(), half.end());
        net_.neighbours.assign(triangles.size(), {-1, -1, -1});
        net_.edge_of.assign(triangles.size(), {-1, -1, -1});
        std::size_t e = 0;
        const auto& edges = arrangement_.edges;  // sorted by their ends
        for (std::size_t k = 0; k < half.size(); ++k) {
            const auto [a, b, t, i] = half[k];
            if (k + 1 < half.size() && std::get<0>(half[k + 1]) == a && std::get<1>(half[k + 1]) == b) {
                const auto [a2, b2, t2, i2] = half[k + 1];
                net_.neighbours[t][i] = t2, net_.neighbours[t2][i2] = t;
            }
            while (e < edges.size() && std::pair(edges[e].from, edges[e].to) < std::pair(a, b)) ++e;
            if (e < edges.size() && edges[e].from == a && edges[e].to == b) net_.edge_of[t][i] = static_cast<int>(e);
        }
    }

    void find_parts() {
        const int count = static_cast<int>(arrangement_.triangles.size());
        net_.part_of.assign(count, -1);
        std::vector<int> waiting;
        std::vector<std::pair<bool, std::int64_t>> largest;  // inside the cut, doubled area
        for (int first = 0; first < count; ++first) {
            const int face = arrangement_.triangle_face[first];
            if (net_.part_of[first] >= 0 || !draws(face)) continue;
            const int part = static_cast<int>(net_.parts.size());
            net_.parts.push_back({face, arrangement_.faces[face].piece, 0, {}, coordinate_limit, -coordinate_limit});
            largest.push_back({false, 0});
            net_.part_of[first] = part;
            waiting.push_back(first);
            while (!waiting.empty()) {
                const int t = waiting.back();
                waiting.pop_back();
                take(net_.parts[part], largest[part], t);
                for (int i = 0; i < 3; ++i) {
                    const int next = net_.neighbours[t][i];
                    if (next < 0 || net_.edge_of[t][i] >= 0 || net_.part_of[next] >= 0) continue;
                    net_.part_of[next] = part;
                    waiting.push_back(next);
                }
            }
        }
    }

    void take(WaterPart& part, std::pair<bool, std::int64_t>& largest, int t) {
        const auto& [i, j, k] = arrangement_.triangles[t];
        const Point a = vertex(i), b = vertex(j), c = vertex(k);
        const std::int64_t area2 = cross(a, b, c);
        part.area2 += area2;
        part.bottom = std::min({part.bottom, a.y, b.y, c.y});
        part.top = std::max({part.top, a.y, b.y, c.y});
        const Point middle{(a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3};
        const std::pair rank(arrangement_.cut.contains(middle), area2);
        if (rank <= largest) return;
        largest = rank;
        part.inside = middle;
    }

    void find_level() {
        if (!section_.water) return;
        net_.water_level = section_.water->water_level;
        if (net_.water_level || !section_.water->standing.value_or(false)) return;
        for (const auto& y : {section_.ground.both, section_.ground.left, section_.ground.right})
            if (y) net_.water_level = std::max(net_.water_level.value_or(*y), *y);
    }

    void find_links() {
        net_.sides.assign(arrangement_.edges.size(), {-1, -1});
        for (std::size_t t = 0; t < arrangement_.triangles.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const int e = net_.edge_of[t][i];
                if (e < 0) continue;
                const bool on_left = arrangement_.triangles[t][i] == arrangement_.edges[e].from;
                net_.sides[e][on_left ? 0 : 1] = net_.part_of[t];
            }
        for (std::size_t e = 0; e < net_.sides.size(); ++e) {
            const auto [a, b] = net_.sides[e];
            if (a >= 0 && b >= 0 && a != b) net_.links.push_back({static_cast<int>(e), a, b, blocked(arrangement_.edges[e])});
        }
    }

    void find_sources() {
        const Water stated = section_.water.value_or(Water{});
        for (std::size_t p = 0; p < net_.parts.size(); ++p) {
            const WaterPart& part = net_.parts[p];
            if (net_.water_level && part.bottom < *net_.water_level)
                net_.sources.push_back({WaterFrom::water_level, static_cast<int>(p), -1, false});
            else if (stated.soil.value_or(true) && material_[part.face]->kind == MaterialKind::soil)
                net_.sources.push_back({WaterFrom::soil, static_cast<int>(p), -1, false});
        }
        for (std::size_t e = 0; e < net_.sides.size(); ++e) {
            const ArrangedEdge& edge = arrangement_.edges[e];
            for (const int side : {0, 1}) {
                const int part = net_.sides[e][side];
                if (part < 0 || net_.sides[e][1 - side] >= 0) continue;
                // Outward normal of the part: to the right of its edge when it lies on the left.
                const Point a = side == 0 ? from(edge) : to(edge), b = side == 0 ? to(edge) : from(edge);
                const int other = side == 0 ? edge.right : edge.left;
                const Micrometres nx = b.y - a.y, ny = a.x - b.x;
                if (stated.rain.value_or(true) && rained_on(a, b, nx, ny, net_.parts[part], other))
                    net_.sources.push_back({WaterFrom::rain, part, static_cast<int>(e), blocked(edge)});
                if (stated.cavity_foot.value_or(true) && is_cavity_floor(a, b, nx, ny, other))
                    net_.sources.push_back({WaterFrom::cavity_foot, part, static_cast<int>(e), blocked(edge)});
            }
        }
    }

    /// Whether a leaf stands at the end of the filling met from `start` in one direction, and how far that filling goes.
    struct Across {
        bool leaf = false, open_behind = false;
        double length = 0;  ///< µm
    };
    Across look(const std::vector<Met>& row, int start, int step) const {
        Across found;
        int i = start;
        const auto valid = [&] { return i >= 0 && i < static_cast<int>(row.size()); };
        for (; valid() && fills_cavity(row[i].face); i += step) found.length += row[i].to - row[i].from;
        found.leaf = valid() && is_leaf(row[i].face);
        while (valid() && draws(row[i].face) && material_[row[i].face]->kind != MaterialKind::soil) i += step;
        found.open_behind = valid() && (is_outside_air(row[i].face) ||
                                        (material_[row[i].face] && material_[row[i].face]->kind == MaterialKind::soil));
        return found;
    }

    static int at_x(const std::vector<Met>& row, double x) {
        for (int i = 0; i < static_cast<int>(row.size()); ++i)
            if (row[i].from <= x && x <= row[i].to) return i;
        return -1;
    }

    bool between_leaves(Point a, Point b) const {
        const auto row = row_at(arrangement_, 2 * std::max(a.y, b.y) + 1);
        const int start = at_x(row, 0.5 * static_cast<double>(a.x + b.x));
        if (start < 0 || !fills_cavity(row[start].face)) return false;
        const Across left = look(row, start, -1), right = look(row, start, 1);
        const double width = left.length + right.length - (row[start].to - row[start].from);
        return left.leaf && right.leaf && width <= static_cast<double>(widest_cavity) && (left.open_behind || right.open_behind);
    }

    bool is_cavity_floor(Point a, Point b, Micrometres nx, Micrometres ny, int above) const {
        return ny > 0 && ny >= std::abs(nx) && fills_cavity(above) && between_leaves(a, b);
    }

    bool rained_on(Point a, Point b, Micrometres nx, Micrometres ny, const WaterPart& part, int other) const {
        if (!is_outside_air(other) || is_ground(material_[part.face]->kind)) return false;
        if (ny < 0 && -ny > std::abs(nx)) return false;  // looks down
        const auto ground = level_at(section_.ground, arrangement_.cut, (a.x + b.x) / 2);
        if (ground && std::max(a.y, b.y) <= *ground) return false;
        if (nx == 0) return !between_leaves(a, b);
        Micrometres y2 = a.y + b.y;
        if (y2 % 2 == 0) y2 += 1;  // a half step off the grid; an edge 1 µm high still holds it
        const auto row = row_at(arrangement_, y2);
        const double share = (0.5 * static_cast<double>(y2) - static_cast<double>(a.y)) / static_cast<double>(b.y - a.y);
        const double x = static_cast<double>(a.x) + share * static_cast<double>(b.x - a.x);
        for (int i = 0; i < static_cast<int>(row.size()); ++i) {
            if (std::abs((nx > 0 ? row[i].from : row[i].to) - x) > 0.5 || row[i].face != other) continue;
            const Across faced = look(row, i, nx > 0 ? 1 : -1);
            return !faced.leaf || faced.length > static_cast<double>(widest_cavity);
        }
        return true;
    }

    const Section& section_;
    const Arrangement& arrangement_;
    int membranes_;
    std::vector<const Material*> material_;  ///< per face
    WaterNet net_;
};

}  // namespace

WaterNet water_net(const Study& study, const Section& section, const Arrangement& arrangement, std::size_t membranes) {
    return NetBuilder(study, section, arrangement, membranes).run();
}

}  // namespace wallfoot

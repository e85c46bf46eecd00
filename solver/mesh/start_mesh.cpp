// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "core/geometry/triangulate.hpp"
#include "solver/mesh/mesh.hpp"

namespace wallfoot {

namespace {

// Grading, chosen by measurement on wall-foot sections: h grows by `slope` per unit of distance from a vertex.
constexpr double slope = 0.8;
constexpr double longest_segment = 1.5;   // × h, else halved
constexpr double largest_cell = 1.4;      // × h, else quartered
constexpr double clearance = 0.45;        // × cell size, between a seed and any line
constexpr double most_cells = 1000;       // in the row or column that covers the body; a slender one needs no seeds between its lines

struct P {
    double x, y;
};

double distance2_to_segment(P p, P a, P b) {
    const double dx = b.x - a.x, dy = b.y - a.y;
    const double t = std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    const double ex = p.x - a.x - t * dx, ey = p.y - a.y - t * dy;
    return ex * ex + ey * ey;
}

/// Points and sub-segments fed to the triangulation.
struct Seeds {
    std::vector<MeshPoint> points;                   // µm; the model's vertices first
    std::vector<std::array<int, 2>> segments;        // along their line
    std::vector<int> line_of;                        // model line of each segment
};

class Seeder {
  public:
    explicit Seeder(const Model& model) : model_(model) {
        for (const auto& v : model.vertices) seeds_.points.push_back({static_cast<double>(v.x), static_cast<double>(v.y)});
        for (const auto& p : seeds_.points) {
            low_ = {std::min(low_.x, p.x), std::min(low_.y, p.y)};
            high_ = {std::max(high_.x, p.x), std::max(high_.y, p.y)};
        }
        size_at_vertices();
    }

    Seeds run() {
        for (int i = 0; i < static_cast<int>(model_.lines.size()); ++i)
            split_line(i, model_.lines[i].from, model_.lines[i].to, 0);
        const double width = high_.x - low_.x, height = high_.y - low_.y;
        // Square cells over the box: a row or a column of them.
        const double size = std::max(std::min(width, height), std::max(width, height) / most_cells);
        const int nx = std::max(1, static_cast<int>(std::ceil(width / size))), ny = std::max(1, static_cast<int>(std::ceil(height / size)));
        std::vector<int> all(model_.lines.size());
        for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
        for (int i = 0; i < nx; ++i)
            for (int j = 0; j < ny; ++j)
                cell({low_.x + (i + 0.5) * size, low_.y + (j + 0.5) * size}, size, all, 0);
        return std::move(seeds_);
    }

  private:
    const Model& model_;
    Seeds seeds_;
    std::vector<double> h_;  // wanted size at each vertex
    P low_{1e300, 1e300}, high_{-1e300, -1e300};

    P at(int v) const { return {seeds_.points[v].x, seeds_.points[v].y}; }

    /// At a vertex: distance to the nearest other vertex or line that does not end there, not below a floor; the floor
    /// keeps thin layers in long triangles, which suits them.
    void size_at_vertices() {
        const double floor = std::min(20'000.0, 0.04 * std::min(high_.x - low_.x, high_.y - low_.y));
        const int n = static_cast<int>(seeds_.points.size());
        h_.assign(n, 0);
        for (int v = 0; v < n; ++v) {
            double d2 = std::numeric_limits<double>::max();
            for (int w = 0; w < n; ++w)
                if (w != v) d2 = std::min(d2, std::pow(at(w).x - at(v).x, 2) + std::pow(at(w).y - at(v).y, 2));
            for (const auto& l : model_.lines)
                if (l.from != v && l.to != v) d2 = std::min(d2, distance2_to_segment(at(v), at(l.from), at(l.to)));
            h_[v] = std::max(floor, std::sqrt(d2));
        }
    }

    double h(P p) const {
        double least = std::numeric_limits<double>::max();
        for (std::size_t v = 0; v < h_.size(); ++v) {
            const double dx = p.x - seeds_.points[v].x, dy = p.y - seeds_.points[v].y;
            least = std::min(least, h_[v] + slope * std::sqrt(dx * dx + dy * dy));
        }
        return least;
    }

    void split_line(int line, int a, int b, int depth) {
        const P m{0.5 * (at(a).x + at(b).x), 0.5 * (at(a).y + at(b).y)};
        const double length = std::hypot(at(b).x - at(a).x, at(b).y - at(a).y);
        if (depth > 20 || length <= longest_segment * h(m)) {
            seeds_.segments.push_back({a, b});
            seeds_.line_of.push_back(line);
            return;
        }
        const int middle = static_cast<int>(seeds_.points.size());
        seeds_.points.push_back({m.x, m.y});
        split_line(line, a, middle, depth + 1);
        split_line(line, middle, b, depth + 1);
    }

    /// `near`: lines that come closer to this cell than its own size; only they matter to it and its children.
    void cell(P centre, double size, const std::vector<int>& near, int depth) {
        if (depth < 24 && size > largest_cell * h(centre)) {
            std::vector<int> nearer;
            for (int i : near) {
                const auto& l = model_.lines[i];
                if (distance2_to_segment(centre, at(l.from), at(l.to)) < 1.5 * size * size) nearer.push_back(i);
            }
            for (int k = 0; k < 4; ++k)
                cell({centre.x + (k & 1 ? 0.25 : -0.25) * size, centre.y + (k & 2 ? 0.25 : -0.25) * size}, 0.5 * size, nearer, depth + 1);
            return;
        }
        for (int i : near) {
            const auto& l = model_.lines[i];
            if (distance2_to_segment(centre, at(l.from), at(l.to)) < clearance * clearance * size * size) return;
        }
        if (inside_body(centre)) seeds_.points.push_back({centre.x, centre.y});
    }

    /// Region on the side of the first line met going left decides; seeds in air would only be thrown away later.
    bool inside_body(P p) const {
        double best = -std::numeric_limits<double>::max();
        int region = -1;
        for (const auto& l : model_.lines) {
            const P a = at(l.from), b = at(l.to);
            if ((a.y > p.y) == (b.y > p.y)) continue;
            const double x = a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
            if (x < p.x && x > best) {
                best = x;
                region = b.y > a.y ? l.right : l.left;
            }
        }
        return region >= 0;
    }
};

/// Mesh of the triangles whose region is known from the lines; the rest (air, outside) is left behind.
Mesh label(const Model& model, const Seeds& seeds, const Triangulation& cdt) {
    const int count = static_cast<int>(cdt.triangles.size());
    constexpr int unknown = -2;
    std::vector<int> region(count, unknown);
    // Each segment is an edge of the triangulation: find it by its lower vertex.
    std::vector<std::vector<std::pair<int, int>>> segments_at(seeds.points.size());
    for (int s = 0; s < static_cast<int>(seeds.segments.size()); ++s) {
        const auto [a, b] = std::minmax(seeds.segments[s][0], seeds.segments[s][1]);
        segments_at[a].push_back({b, s});
    }
    const auto segment_of = [&](int a, int b) {
        const auto [low, high] = std::minmax(a, b);
        for (const auto& [other, s] : segments_at[low])
            if (other == high) return s;
        return -1;
    };
    std::vector<std::array<int, 3>> line_side(count, {-1, -1, -1});  // segment on the edge
    std::vector<int> queue;
    const auto give = [&](int t, int r) {
        if (region[t] == unknown) {
            region[t] = r;
            queue.push_back(t);
        } else if (region[t] != r) {
            throw std::logic_error("mesh guard: a triangle belongs to two regions");
        }
    };
    for (int t = 0; t < count; ++t)
        for (int i = 0; i < 3; ++i) {
            if (!cdt.constrained[t][i]) continue;
            const int a = cdt.triangles[t][(i + 1) % 3], b = cdt.triangles[t][(i + 2) % 3];
            const int s = segment_of(a, b);
            if (s < 0) throw std::logic_error("mesh guard: a constraint that nobody asked for");
            line_side[t][i] = s;
            const auto& line = model.lines[seeds.line_of[s]];
            give(t, seeds.segments[s][0] == a ? line.left : line.right);
        }
    while (!queue.empty()) {
        const int t = queue.back();
        queue.pop_back();
        for (int i = 0; i < 3; ++i)
            if (line_side[t][i] < 0 && cdt.neighbours[t][i] >= 0) give(cdt.neighbours[t][i], region[t]);
    }

    Mesh mesh;
    mesh.regions = model.regions;
    mesh.contacts = model.contacts;
    std::vector<int> renumbered(count, -1), point(seeds.points.size(), -1);
    for (int t = 0; t < count; ++t)
        if (region[t] >= 0) renumbered[t] = static_cast<int>(mesh.triangles.size()), mesh.triangles.push_back({});
    for (int t = 0; t < count; ++t) {
        if (region[t] < 0) continue;
        const int m = renumbered[t];
        mesh.region.push_back(region[t]);
        mesh.neighbours.push_back({-1, -1, -1});
        mesh.marks.push_back({0, 0, 0});
        for (int i = 0; i < 3; ++i) {
            int& p = point[cdt.triangles[t][i]];
            if (p < 0) {
                p = static_cast<int>(mesh.points.size());
                mesh.points.push_back({seeds.points[cdt.triangles[t][i]].x, seeds.points[cdt.triangles[t][i]].y});
            }
            mesh.triangles[m][i] = p;
            const int n = cdt.neighbours[t][i];
            if (n >= 0 && region[n] >= 0) {
                mesh.neighbours[m][i] = renumbered[n];
                continue;
            }
            const int s = line_side[t][i];
            if (s < 0) throw std::logic_error("mesh guard: the body has an open side");
            const auto& line = model.lines[seeds.line_of[s]];
            mesh.marks[m][i] = -1;
            if (line.contact < 0) continue;
            const ContactKind kind{line.contact, line.resistance};
            const auto it = std::find(mesh.kinds.begin(), mesh.kinds.end(), kind);
            mesh.marks[m][i] = static_cast<int>(it - mesh.kinds.begin());
            if (it == mesh.kinds.end()) mesh.kinds.push_back(kind);
        }
    }
    return mesh;
}

/// Where parts of the body meet at a vertex without sharing an edge there, gives each its own: no heat passes through a
/// point, but with a common vertex the temperature would take it for a joint that fades only as fast as a logarithm.
void part_at_points(Mesh& mesh) {
    std::vector<std::array<char, 3>> seen(mesh.triangles.size(), {0, 0, 0});
    std::vector<char> taken(mesh.points.size(), 0);
    std::vector<std::pair<int, int>> fan;  // (triangle, corner) around one vertex
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
        for (int i = 0; i < 3; ++i) {
            if (seen[t][i]) continue;
            const int v = mesh.triangles[t][i];
            fan = {{t, i}};
            seen[t][i] = 1;
            for (std::size_t f = 0; f < fan.size(); ++f)
                for (int d : {1, 2}) {
                    const int n = mesh.neighbours[fan[f].first][(fan[f].second + d) % 3];
                    if (n < 0) continue;
                    const int c = static_cast<int>(std::find(mesh.triangles[n].begin(), mesh.triangles[n].end(), v) - mesh.triangles[n].begin());
                    if (seen[n][c]) continue;
                    seen[n][c] = 1;
                    fan.push_back({n, c});
                }
            if (!taken[v]) {
                taken[v] = 1;
                continue;
            }
            const int own = static_cast<int>(mesh.points.size());
            mesh.points.push_back(mesh.points[v]);
            for (const auto& [n, c] : fan) mesh.triangles[n][c] = own;
        }
}

/// A sum of positive parts, and how far round-off may have moved it: by half a unit in the last place per part.
struct Sum {
    double value = 0;
    int parts = 0;
    void add(double part) { value += part, ++parts; }
};

/// RULES 2: area of every region and length of every contact as in the model.
void guard(const Model& model, const Mesh& mesh) {
    std::vector<Sum> area(model.regions.size()), drawn(model.contacts), meshed(model.contacts);
    for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t) {
        area[mesh.region[t]].add(2 * mesh.area(t));
        for (int i = 0; i < 3; ++i)
            if (mesh.boundary(t, i) && mesh.marks[t][i] >= 0)
                meshed[mesh.kinds[mesh.marks[t][i]].contact].add(mesh.edge_length(t, i));
    }
    for (const auto& l : model.lines)
        if (l.contact >= 0)
            drawn[l.contact].add(std::hypot(static_cast<double>(model.vertices[l.to].x - model.vertices[l.from].x),
                                            static_cast<double>(model.vertices[l.to].y - model.vertices[l.from].y)));
    const auto differ = [](const Sum& a, const Sum& b) {
        const double round_off = 0.5 * std::numeric_limits<double>::epsilon() * (a.parts + b.parts);
        return !(std::abs(a.value - b.value) <= (1e-12 + round_off) * std::max(std::abs(a.value), std::abs(b.value)));
    };
    for (std::size_t r = 0; r < area.size(); ++r)
        if (differ(area[r], {static_cast<double>(model.region_area2[r]), 1})) throw std::logic_error("mesh guard: area of a region");
    for (int c = 0; c < model.contacts; ++c)
        if (differ(drawn[c], meshed[c])) throw std::logic_error("mesh guard: length of a contact");
}

}  // namespace

Mesh start_mesh(const Model& model) {
    if (model.lines.empty()) return {};
    const Seeds seeds = Seeder(model).run();
    Mesh mesh = label(model, seeds, triangulate(seeds.points, seeds.segments));
    guard(model, mesh);
    part_at_points(mesh);
    cut_holes(mesh);
    return mesh;
}

}  // namespace wallfoot

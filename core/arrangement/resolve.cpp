// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/resolve.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>

#include "core/geometry/triangulate.hpp"

namespace wallfoot {
namespace {

constexpr CutSide all_sides[] = {CutSide::left, CutSide::bottom, CutSide::right, CutSide::top};

/// A line of the noded drawing or of what lies beyond it.
struct Line {
    int from = 0, to = 0;
    std::vector<int> pieces;     ///< outlines that run along it, an odd number of times
    std::vector<int> membranes;
    bool level = false;          ///< divides `auto` pieces
};

class Resolver {
  public:
    Resolver(const Section& section, const Noded& noded, const Rect& frame);
    Arrangement run();

  private:
    struct Ray { int on_side, far; };  ///< a line from a vertex on a carried side to the frame

    void take_drawing(const Noded& noded);
    void carry_on();
    std::vector<Ray> carry_side(CutSide side);
    void sort_vertices();
    void triangulate_lines();
    void flood();
    void check_labels();
    bool reaches(int from, int to, int line) const;
    void find_topmost();
    bool joined(int t, int i) const;
    void find_faces();
    bool join_a_sliver();
    void make_faces();
    void make_edges();
    void guard(const char* what, Point at);

    int zone(int t) const { return zones_[t]; }  // 3 · (row + 1) + column + 1, 4 = inside the cut
    std::uint64_t* set(int t) { return sets_.data() + static_cast<std::size_t>(t) * words_; }
    Point corner(int t, int i) const { return out_.vertices[out_.triangles[t][i]]; }
    std::int64_t area2(int t) const { return cross(corner(t, 0), corner(t, 1), corner(t, 2)); }

    const Section& section_;
    const Labels labels_;
    Arrangement out_;
    std::vector<Line> lines_;
    Triangulation net_;
    std::vector<std::array<int, 3>> line_of_;  ///< per triangle edge, -1 = none
    std::vector<int> zones_;
    std::size_t words_ = 1;
    std::vector<std::uint64_t> sets_;  ///< pieces that cover each triangle
    std::vector<int> topmost_;
    int faces_ = 0;
};

Resolver::Resolver(const Section& section, const Noded& noded, const Rect& frame)
    : section_(section), labels_(labels_of(section)) {
    out_.cut = section.cut;
    out_.frame = frame;
    take_drawing(noded);
}

void Resolver::take_drawing(const Noded& noded) {
    out_.vertices = noded.vertices;
    lines_.reserve(noded.edges.size() * 2);
    for (const NodedEdge& edge : noded.edges) {
        Line line{edge.from, edge.to, {}, {}, false};
        for (const int label : edge.labels)
            if (label < labels_.pieces) line.pieces.push_back(label);
        for (const int label : edge.all) {
            if (label >= labels_.pieces && label < labels_.level()) line.membranes.push_back(label - labels_.pieces);
            if (label == labels_.level()) line.level = true;
        }
        lines_.push_back(std::move(line));
    }
}

/// Lines outward from every vertex on one side, and the frame between their ends (RULES 3).
std::vector<Resolver::Ray> Resolver::carry_side(CutSide side) {
    const bool upright = is_upright(side);
    const Micrometres far = place(out_.frame, side);
    std::map<int, Line> rays;  // by vertex, what the lines that end there carry on
    const auto vertices = out_.vertices;
    for (int v = 0; v < static_cast<int>(vertices.size()); ++v)
        if (on_side(out_.cut, side, vertices[v]) && out_.cut.contains(vertices[v])) rays[v].from = v;
    for (const Line& line : lines_) {
        for (const auto& [end, other] : {std::pair(line.from, line.to), std::pair(line.to, line.from)}) {
            const auto ray = rays.find(end);
            if (ray == rays.end() || on_side(out_.cut, side, vertices[other]) || !out_.cut.contains(vertices[other])) continue;
            auto& carried = ray->second.membranes;
            carried.insert(carried.end(), line.membranes.begin(), line.membranes.end());
            if (upright && line.level && vertices[end].y == vertices[other].y) ray->second.level = true;
        }
    }
    std::vector<Ray> made;
    for (auto& [v, ray] : rays) {  // vertices are sorted, so this runs along the side
        std::sort(ray.membranes.begin(), ray.membranes.end());
        ray.membranes.erase(std::unique(ray.membranes.begin(), ray.membranes.end()), ray.membranes.end());
        ray.to = static_cast<int>(out_.vertices.size());
        out_.vertices.push_back(upright ? Point{far, vertices[v].y} : Point{vertices[v].x, far});
        lines_.push_back(ray);
        if (!made.empty()) lines_.push_back({made.back().far, ray.to, {}, {}, false});
        made.push_back({v, ray.to});
    }
    return made;
}

void Resolver::carry_on() {
    std::map<CutSide, std::vector<Ray>> rays;
    for (const CutSide side : all_sides)
        if (place(out_.frame, side) != place(out_.cut, side)) rays[side] = carry_side(side);
    for (const CutSide across : {CutSide::left, CutSide::right}) {
        for (const CutSide up : {CutSide::bottom, CutSide::top}) {
            if (!rays.contains(across) || !rays.contains(up)) continue;
            const Ray& a = up == CutSide::bottom ? rays[across].front() : rays[across].back();
            const Ray& b = across == CutSide::left ? rays[up].front() : rays[up].back();
            const int corner = static_cast<int>(out_.vertices.size());
            out_.vertices.push_back({place(out_.frame, across), place(out_.frame, up)});
            lines_.push_back({a.far, corner, {}, {}, false});
            lines_.push_back({b.far, corner, {}, {}, false});
        }
    }
}

void Resolver::sort_vertices() {
    std::vector<int> order(out_.vertices.size()), place(order.size());
    std::iota(order.begin(), order.end(), 0);
    std::sort(order.begin(), order.end(), [&](int i, int j) { return out_.vertices[i] < out_.vertices[j]; });
    std::vector<Point> sorted;
    sorted.reserve(order.size());
    for (std::size_t i = 0; i < order.size(); ++i) {
        place[order[i]] = static_cast<int>(i);
        sorted.push_back(out_.vertices[order[i]]);
    }
    out_.vertices = std::move(sorted);
    for (Line& line : lines_) {
        line.from = place[line.from];
        line.to = place[line.to];
        if (line.from > line.to) std::swap(line.from, line.to);
    }
    std::sort(lines_.begin(), lines_.end(), [](const Line& s, const Line& t) { return std::pair(s.from, s.to) < std::pair(t.from, t.to); });
}

void Resolver::triangulate_lines() {
    std::vector<std::array<int, 2>> constraints;
    constraints.reserve(lines_.size());
    for (const Line& line : lines_) constraints.push_back({line.from, line.to});
    net_ = triangulate(out_.vertices, constraints);
    out_.triangles = net_.triangles;
    const int count = static_cast<int>(net_.triangles.size());
    line_of_.assign(count, {-1, -1, -1});
    zones_.resize(count);
    for (int t = 0; t < count; ++t) {
        for (int i = 0; i < 3; ++i) {
            if (!net_.constrained[t][i]) continue;
            const auto [a, b] = std::minmax(net_.triangles[t][(i + 1) % 3], net_.triangles[t][(i + 2) % 3]);
            const auto found = std::lower_bound(constraints.begin(), constraints.end(), std::array{a, b});
            line_of_[t][i] = static_cast<int>(found - constraints.begin());
        }
        const Point p = corner(t, 0), q = corner(t, 1), r = corner(t, 2);
        const auto [left, right] = std::minmax({p.x, q.x, r.x});
        const auto [bottom, top] = std::minmax({p.y, q.y, r.y});
        const int column = right <= out_.cut.left ? -1 : (left >= out_.cut.right ? 1 : 0);
        const int row = top <= out_.cut.bottom ? -1 : (bottom >= out_.cut.top ? 1 : 0);
        zones_[t] = 3 * (row + 1) + column + 1;
    }
}

/// Whether the pieces over one triangle tell those over its neighbour: everywhere inside the cut; outward from it;
/// within one strip beyond a side; from the strips at left and right into the corners (RULES 3).
bool Resolver::reaches(int from, int to, int line) const {
    const int a = zone(from), b = zone(to);
    if (a == 4 || (a == b && line < 0)) return true;
    return (a == 3 || a == 5) && (b == a - 3 || b == a + 3);
}

void Resolver::flood() {
    const int count = static_cast<int>(net_.triangles.size());
    words_ = static_cast<std::size_t>(labels_.pieces) / 64 + 1;
    sets_.assign(words_ * count, 0);
    const auto toggle = [&](int t, const Line& line) {
        for (const int piece : line.pieces) set(t)[piece / 64] ^= std::uint64_t{1} << (piece % 64);
    };
    std::vector<int> waiting;
    std::vector<char> known(count, 0);
    for (int t = 0; t < count && waiting.empty(); ++t) {
        for (int i = 0; i < 3 && waiting.empty() && zone(t) == 4; ++i) {
            const int next = net_.neighbours[t][i];
            if (next >= 0 && zone(next) == 4) continue;
            toggle(t, lines_[line_of_[t][i]]);  // outside the cut no clipped outline covers anything
            known[t] = 1;
            waiting.push_back(t);
        }
    }
    while (!waiting.empty()) {
        const int t = waiting.back();
        waiting.pop_back();
        for (int i = 0; i < 3; ++i) {
            const int next = net_.neighbours[t][i], line = line_of_[t][i];
            if (next < 0 || known[next] || !reaches(t, next, line)) continue;
            std::copy_n(set(t), words_, set(next));
            if (line >= 0 && zone(next) == 4) toggle(next, lines_[line]);
            known[next] = 1;
            waiting.push_back(next);
        }
    }
}

/// Every edge inside the cut must separate exactly the pieces whose outlines run along it.
void Resolver::check_labels() {
    std::vector<std::uint64_t> difference(words_);
    for (int t = 0; t < static_cast<int>(net_.triangles.size()); ++t) {
        if (zone(t) != 4) continue;
        for (int i = 0; i < 3; ++i) {
            const int next = net_.neighbours[t][i], line = line_of_[t][i];
            std::copy_n(set(t), words_, difference.begin());
            if (next >= 0 && zone(next) == 4)
                for (std::size_t w = 0; w < words_; ++w) difference[w] ^= set(next)[w];
            if (line >= 0)
                for (const int piece : lines_[line].pieces) difference[piece / 64] ^= std::uint64_t{1} << (piece % 64);
            if (std::any_of(difference.begin(), difference.end(), [](std::uint64_t w) { return w != 0; })) {
                guard("labels", corner(t, (i + 1) % 3));
                return;
            }
        }
    }
}

void Resolver::find_topmost() {
    topmost_.assign(net_.triangles.size(), -1);
    for (int t = 0; t < static_cast<int>(topmost_.size()); ++t)
        for (int piece = labels_.pieces - 1; piece >= 0 && topmost_[t] < 0; --piece)
            if (set(t)[piece / 64] >> (piece % 64) & 1) topmost_[t] = piece;
}

/// Whether the triangle and its neighbour belong to one face.
bool Resolver::joined(int t, int i) const {
    const int next = net_.neighbours[t][i];
    if (next < 0 || topmost_[t] != topmost_[next]) return false;
    const int line = line_of_[t][i];
    return line < 0 || !lines_[line].level || topmost_[t] < 0 || !is_auto(section_.pieces[topmost_[t]]);
}

void Resolver::find_faces() {
    const int count = static_cast<int>(net_.triangles.size());
    out_.triangle_face.assign(count, -1);
    faces_ = 0;
    std::vector<int> waiting;
    for (int first = 0; first < count; ++first) {
        if (out_.triangle_face[first] >= 0) continue;
        out_.triangle_face[first] = faces_;
        waiting.push_back(first);
        while (!waiting.empty()) {
            const int t = waiting.back();
            waiting.pop_back();
            for (int i = 0; i < 3; ++i) {
                if (!joined(t, i) || out_.triangle_face[net_.neighbours[t][i]] >= 0) continue;
                out_.triangle_face[net_.neighbours[t][i]] = faces_;
                waiting.push_back(net_.neighbours[t][i]);
            }
        }
        ++faces_;
    }
}

/// Gives the first face lower than 2 µm to the neighbour on its longest edge (RULES 2). Faces must be found anew after it.
bool Resolver::join_a_sliver() {
    struct Size {
        Area2 area2 = 0;
        Micrometres left = 4 * coordinate_limit, bottom = left, right = -left, top = -left;
        int next = -1;  ///< triangle across the longest edge
        std::int64_t longest = 0;
    };
    std::vector<Size> sizes(faces_);
    for (int t = 0; t < static_cast<int>(net_.triangles.size()); ++t) {
        Size& size = sizes[out_.triangle_face[t]];
        size.area2 += area2(t);
        for (int i = 0; i < 3; ++i) {
            const Point p = corner(t, i), a = corner(t, (i + 1) % 3), b = corner(t, (i + 2) % 3);
            size.left = std::min(size.left, p.x), size.right = std::max(size.right, p.x);
            size.bottom = std::min(size.bottom, p.y), size.top = std::max(size.top, p.y);
            const int next = net_.neighbours[t][i];
            if (next < 0 || out_.triangle_face[next] == out_.triangle_face[t]) continue;
            const std::int64_t length2 = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
            if (length2 > size.longest) size.longest = length2, size.next = next;
        }
    }
    for (int face = 0; face < faces_; ++face) {
        const Size& size = sizes[face];
        const double extent = std::hypot(static_cast<double>(size.right - size.left), static_cast<double>(size.top - size.bottom));
        if (size.next < 0 || static_cast<double>(size.area2) >= 2 * extent) continue;
        const int other = out_.triangle_face[size.next];
        for (int t = 0; t < static_cast<int>(net_.triangles.size()); ++t) {
            if (out_.triangle_face[t] != face) continue;
            topmost_[t] = topmost_[size.next];
            for (int i = 0; i < 3; ++i) {
                const int next = net_.neighbours[t][i];
                if (next >= 0 && out_.triangle_face[next] == other && line_of_[t][i] >= 0) lines_[line_of_[t][i]].level = false;
            }
        }
        return true;
    }
    return false;
}

void Resolver::make_faces() {
    out_.faces.assign(faces_, {});
    std::vector<int> largest(faces_, -1);
    const auto rank = [&](int t) { return std::pair(zone(t) == 4, area2(t)); };
    Area2 sum = 0;
    for (int t = 0; t < static_cast<int>(net_.triangles.size()); ++t) {
        const int f = out_.triangle_face[t];
        Face& face = out_.faces[f];
        face.area2 += area2(t);
        sum += area2(t);
        if (largest[f] < 0 || rank(t) > rank(largest[f])) largest[f] = t;
        face.piece = topmost_[t];
    }
    for (int f = 0; f < faces_; ++f) {
        Face& face = out_.faces[f];
        face.inside = middle(out_, largest[f]);
        if (face.piece < 0) continue;
        const Fill fill = section_.pieces[face.piece].fill;
        face.kind = fill == Fill::material ? FaceKind::solid : (fill == Fill::cutout ? FaceKind::cutout : FaceKind::air);
    }
    if (sum != 2 * static_cast<Area2>(out_.frame.width()) * out_.frame.height())
        guard("area", {out_.frame.left, out_.frame.bottom});
}

void Resolver::make_edges() {
    for (int t = 0; t < static_cast<int>(net_.triangles.size()); ++t) {
        for (int i = 0; i < 3; ++i) {
            const int next = net_.neighbours[t][i], line = line_of_[t][i];
            if (line < 0 || (next >= 0 && next < t)) continue;
            ArrangedEdge edge{net_.triangles[t][(i + 1) % 3], net_.triangles[t][(i + 2) % 3], out_.triangle_face[t],
                              next < 0 ? -1 : out_.triangle_face[next], lines_[line].membranes};
            if (edge.left == edge.right && edge.membranes.empty()) continue;
            if (edge.from > edge.to) std::swap(edge.from, edge.to), std::swap(edge.left, edge.right);
            out_.edges.push_back(std::move(edge));
        }
    }
    std::sort(out_.edges.begin(), out_.edges.end(), [](const ArrangedEdge& s, const ArrangedEdge& t) {
        return std::pair(s.from, s.to) < std::pair(t.from, t.to);
    });
}

void Resolver::guard(const char* what, Point at) {
    out_.messages.push_back({Severity::fault, "arrangement-guard", {{"what", what}}, at, ""});
}

Arrangement Resolver::run() {
    carry_on();
    sort_vertices();
    try {
        triangulate_lines();
    } catch (const std::logic_error&) {  // a crossing was missed: never answered on, always said
        out_.triangles.clear();
        guard("crossing", {out_.cut.left, out_.cut.bottom});
        return std::move(out_);
    }
    flood();
    check_labels();
    find_topmost();
    do find_faces();
    while (join_a_sliver());
    make_faces();
    make_edges();
    return std::move(out_);
}

}  // namespace

Arrangement resolve(const Section& section, const Noded& noded, const Rect& frame) {
    return Resolver(section, noded, frame).run();
}

}  // namespace wallfoot

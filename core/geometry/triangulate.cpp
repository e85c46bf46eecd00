// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geometry/triangulate.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>
#include <CGAL/assertions_behaviour.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <string>

namespace wallfoot {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<int, Kernel>;
using FaceBase = CGAL::Triangulation_face_base_with_info_2<int, Kernel, CGAL::Constrained_triangulation_face_base_2<Kernel>>;
using Structure = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
// A crossing of constraints throws; no point is ever constructed.
using Cdt = CGAL::Constrained_Delaunay_triangulation_2<Kernel, Structure, CGAL::No_constraint_intersection_requiring_constructions_tag>;
using Vertex = Cdt::Vertex_handle;

constexpr int curve_bits = 20;

/// Place along Hilbert's curve through a square of 2^bits cells a side.
std::uint64_t along_curve(std::uint32_t x, std::uint32_t y) {
    std::uint64_t place = 0;
    for (std::uint32_t s = 1u << (curve_bits - 1); s > 0; s >>= 1) {
        const std::uint32_t rx = (x & s) ? 1 : 0, ry = (y & s) ? 1 : 0;
        place += static_cast<std::uint64_t>(s) * s * ((3 * rx) ^ ry);
        if (ry == 0) {
            if (rx == 1) {
                x = (1u << curve_bits) - 1 - x;
                y = (1u << curve_bits) - 1 - y;
            }
            std::swap(x, y);
        }
    }
    return place;
}

/// Order in which points are inserted: each near the one before, so that finding its place is quick.
std::vector<int> insertion_order(const std::vector<MeshPoint>& points) {
    double left = points[0].x, right = left, bottom = points[0].y, top = bottom;
    for (const MeshPoint& p : points) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y)) throw std::logic_error("triangulate: a coordinate is not finite");
        left = std::min(left, p.x), right = std::max(right, p.x);
        bottom = std::min(bottom, p.y), top = std::max(top, p.y);
    }
    const double size = std::max({right - left, top - bottom, 1.0});
    const double scale = ((1u << curve_bits) - 1) / size;
    std::vector<std::uint64_t> place(points.size());
    for (std::size_t i = 0; i < points.size(); ++i)
        place[i] = along_curve(static_cast<std::uint32_t>((points[i].x - left) * scale),
                               static_cast<std::uint32_t>((points[i].y - bottom) * scale));
    std::vector<int> order(points.size());
    std::iota(order.begin(), order.end(), 0);
    std::sort(order.begin(), order.end(), [&](int i, int j) {
        return place[i] != place[j] ? place[i] < place[j] : i < j;
    });
    return order;
}

std::vector<Vertex> insert_points(Cdt& cdt, const std::vector<MeshPoint>& points) {
    std::vector<Vertex> vertices(points.size());
    Cdt::Face_handle hint;
    for (const int i : insertion_order(points)) {
        const std::size_t before = cdt.number_of_vertices();
        const Vertex v = cdt.insert(Kernel::Point_2(points[i].x, points[i].y), hint);
        if (cdt.number_of_vertices() == before) throw std::logic_error("triangulate: a point is given twice");
        v->info() = i;
        vertices[i] = v;
        hint = v->face();
    }
    return vertices;
}

void insert_constraints(Cdt& cdt, const std::vector<Vertex>& vertices, const std::vector<std::array<int, 2>>& constraints) {
    for (const auto& [from, to] : constraints) {
        if (from == to) throw std::logic_error("triangulate: a constraint without length");
        cdt.insert_constraint(vertices.at(from), vertices.at(to));
    }
    for (const auto& [from, to] : constraints) {
        Cdt::Face_handle face;
        int i = 0;
        if (!cdt.is_edge(vertices[from], vertices[to], face, i))
            throw std::logic_error("triangulate: a constraint passes through a point");
    }
}

/// Triangles turned so that the lowest index comes first, and sorted: the same whatever happened inside.
Triangulation read_off(const Cdt& cdt) {
    const auto lowest = [](const Cdt::Face_handle& f) {
        int k = 0;
        for (int i = 1; i < 3; ++i)
            if (f->vertex(i)->info() < f->vertex(k)->info()) k = i;
        return k;
    };
    std::vector<std::pair<std::array<int, 3>, Cdt::Face_handle>> sorted;
    sorted.reserve(cdt.number_of_faces());
    for (auto f : cdt.finite_face_handles()) {
        const int k = lowest(f);
        sorted.push_back({{f->vertex(k)->info(), f->vertex((k + 1) % 3)->info(), f->vertex((k + 2) % 3)->info()}, f});
    }
    std::sort(sorted.begin(), sorted.end(), [](const auto& s, const auto& t) { return s.first < t.first; });
    for (auto f : cdt.all_face_handles()) f->info() = -1;
    for (std::size_t t = 0; t < sorted.size(); ++t) sorted[t].second->info() = static_cast<int>(t);

    Triangulation out;
    out.triangles.reserve(sorted.size());
    out.neighbours.reserve(sorted.size());
    out.constrained.reserve(sorted.size());
    for (const auto& [corners, f] : sorted) {
        const int k = lowest(f);
        std::array<int, 3> neighbours{};
        std::array<bool, 3> constrained{};
        for (int i = 0; i < 3; ++i) {
            neighbours[i] = f->neighbor((k + i) % 3)->info();
            constrained[i] = f->is_constrained((k + i) % 3);
        }
        out.triangles.push_back(corners);
        out.neighbours.push_back(neighbours);
        out.constrained.push_back(constrained);
    }
    return out;
}

}  // namespace

Triangulation triangulate(const std::vector<MeshPoint>& points, const std::vector<std::array<int, 2>>& constraints) {
    static const auto set_once = CGAL::set_error_behaviour(CGAL::THROW_EXCEPTION);
    (void)set_once;
    if (points.empty()) return {};
    try {
        Cdt cdt;
        insert_constraints(cdt, insert_points(cdt, points), constraints);
        return cdt.dimension() == 2 ? read_off(cdt) : Triangulation{};
    } catch (const Cdt::Intersection_of_constraints_exception&) {
        throw std::logic_error("triangulate: two constraints cross");
    } catch (const CGAL::Failure_exception& failure) {
        throw std::logic_error("triangulate: " + std::string(failure.what()));
    }
}

Triangulation triangulate(const std::vector<Point>& points, const std::vector<std::array<int, 2>>& constraints) {
    std::vector<MeshPoint> exact;
    exact.reserve(points.size());
    for (const Point p : points) exact.push_back({static_cast<double>(p.x), static_cast<double>(p.y)});
    return triangulate(exact, constraints);
}

}  // namespace wallfoot

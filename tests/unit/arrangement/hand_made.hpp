// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot::test {

/// An arrangement written down by hand as a map of cells, so that what stands on arrangements is tested without
/// arrange(). `rows` from top to bottom, one character per cell; `columns_mm` and `heights_mm` (from bottom to top) the
/// grid lines. `faces`: what each character is; cells with the same character are one face. `move` bends the grid (mm
/// to mm), keeping anticlockwise cells anticlockwise.
struct HandMade {
    std::vector<std::string> rows;
    std::vector<double> columns_mm, heights_mm;
    std::map<char, Face> faces;
    std::function<std::array<double, 2>(double, double)> move = [](double x, double y) { return std::array{x, y}; };

    int face(char c) const { return static_cast<int>(std::distance(faces.begin(), faces.find(c))); }
    Arrangement make() const {
        Arrangement result;
        const int nx = static_cast<int>(columns_mm.size()), ny = static_cast<int>(heights_mm.size());
        for (double y : heights_mm)
            for (double x : columns_mm) {
                const auto [px, py] = move(x, y);
                result.vertices.push_back({from_mm(px), from_mm(py)});
            }
        result.cut = {from_mm(columns_mm.front()), from_mm(heights_mm.front()), from_mm(columns_mm.back()),
                      from_mm(heights_mm.back())};
        result.frame = result.cut;
        for (const auto& [c, face] : faces) result.faces.push_back(face);
        const auto cell = [&](int i, int j) {
            if (i < 0 || j < 0 || i >= nx - 1 || j >= ny - 1) return -1;
            return face(rows.at(static_cast<std::size_t>(ny - 2 - j)).at(static_cast<std::size_t>(i)));
        };
        for (int j = 0; j < ny; ++j)
            for (int i = 0; i < nx; ++i) {
                const int v = j * nx + i;
                if (i + 1 < nx && cell(i, j) != cell(i, j - 1))
                    result.edges.push_back({v, v + 1, cell(i, j), cell(i, j - 1), {}});
                if (j + 1 < ny && cell(i, j) != cell(i - 1, j))
                    result.edges.push_back({v, v + nx, cell(i - 1, j), cell(i, j), {}});
                if (i + 1 == nx || j + 1 == ny) continue;
                for (const std::array<int, 3>& t :
                     {std::array{v, v + 1, v + nx + 1}, std::array{v, v + nx + 1, v + nx}}) {
                    result.triangles.push_back(t);
                    result.triangle_face.push_back(cell(i, j));
                    Face& face = result.faces[static_cast<std::size_t>(cell(i, j))];
                    const auto p = [&](std::size_t k) { return result.vertices[static_cast<std::size_t>(t[k])]; };
                    face.area2 += cross(p(0), p(1), p(2));
                    face.inside = p(0);
                }
            }
        return result;
    }
};

inline Face solid(int piece) { return {FaceKind::solid, piece, -1, 0, {}}; }
inline Face air(int space) { return {FaceKind::air, -1, space, 0, {}}; }
inline Face cutout(int piece) { return {FaceKind::cutout, piece, -1, 0, {}}; }

inline Space space(const std::string& id, SpaceKind kind, double temperature) {
    Space result;
    result.id = id;
    result.kind = kind;
    result.temperature = temperature;
    return result;
}

inline Piece piece(const std::string& id, const std::string& material) {
    Piece result;
    result.id = id;
    result.filled_with = material;
    return result;
}

inline Material material(const std::string& id, MaterialKind kind, std::map<Condition, double> values,
                         bool bare = false) {
    Material result;
    result.id = id;
    result.kind = kind;
    result.lambda.bare = bare;
    for (auto [condition, value] : values) result.lambda.by_condition[condition].value = value;
    return result;
}

/// A study with a convention of the usual surface resistances (ISO 6946, ISO 13788 for the check; from memory).
inline Study study_with(std::vector<Material> materials) {
    Study study;
    Convention convention;
    convention.id = "iso";
    convention.heat_flow = {{0.10, 0.13, 0.17}, 0.04, "", {}};
    convention.surface_check = SurfaceRule{{0.25, 0.25, 0.25}, 0.04, "", {}};
    study.conventions["iso"] = convention;
    study.materials = std::move(materials);
    return study;
}

}  // namespace wallfoot::test

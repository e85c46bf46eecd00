// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/air.hpp"

#include <algorithm>

#include "core/arrangement/resolve.hpp"

namespace wallfoot {
namespace {

using Args = std::map<std::string, std::string>;

void fault(Arrangement& arrangement, const char* code, Args args, Point at) {
    arrangement.messages.push_back({Severity::fault, code, std::move(args), at, ""});
}

/// All faces that touch a point, each once.
std::vector<int> faces_at(const Arrangement& arrangement, Point p) {
    std::vector<int> faces;
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        const auto& [i, j, k] = arrangement.triangles[t];
        const auto& v = arrangement.vertices;
        if (cross(v[i], v[j], p) < 0 || cross(v[j], v[k], p) < 0 || cross(v[k], v[i], p) < 0) continue;
        if (std::find(faces.begin(), faces.end(), arrangement.triangle_face[t]) == faces.end())
            faces.push_back(arrangement.triangle_face[t]);
    }
    return faces;
}

void place_mark(const Section& section, int space, Point mark, Arrangement& arrangement) {
    const std::string& id = section.spaces[space].id;
    if (!arrangement.cut.contains(mark)) return fault(arrangement, "mark-outside-cut", {{"space", id}}, mark);
    const auto touched = faces_at(arrangement, mark);
    if (touched.size() != 1) return fault(arrangement, "mark-on-edge", {{"space", id}}, mark);
    Face& face = arrangement.faces[touched[0]];
    if (face.kind != FaceKind::air) return fault(arrangement, "mark-in-solid", {{"space", id}}, mark);
    if (face.space >= 0 && face.space != space)
        return fault(arrangement, "air-claimed-twice", {{"first", section.spaces[face.space].id}, {"second", id}}, mark);
    face.space = space;
}

int find_space(const Section& section, const std::string& id) {
    for (std::size_t i = 0; i < section.spaces.size(); ++i)
        if (section.spaces[i].id == id) return static_cast<int>(i);
    return -1;
}

}  // namespace

void claim_air(const Section& section, Arrangement& arrangement) {
    for (Face& face : arrangement.faces) {
        if (face.kind != FaceKind::air || face.piece < 0) continue;
        const Piece& piece = section.pieces[face.piece];
        face.space = find_space(section, piece.filled_with);
        if (face.space < 0) fault(arrangement, "unknown-space", {{"piece", piece.id}, {"space", piece.filled_with}}, face.inside);
    }
    std::vector<char> said(section.spaces.size(), 0);
    for (std::size_t s = 0; s < section.spaces.size(); ++s) {
        const auto before = arrangement.messages.size();
        for (const Point mark : section.spaces[s].at) place_mark(section, static_cast<int>(s), mark, arrangement);
        said[s] = arrangement.messages.size() > before;
    }
    for (const Face& face : arrangement.faces)
        if (face.kind == FaceKind::air && face.piece < 0 && face.space < 0) fault(arrangement, "air-unclaimed", {}, face.inside);
    for (std::size_t s = 0; s < section.spaces.size(); ++s) {
        const bool has_air = std::any_of(arrangement.faces.begin(), arrangement.faces.end(),
                                         [&](const Face& face) { return face.kind == FaceKind::air && face.space == static_cast<int>(s); });
        if (has_air || said[s]) continue;
        const Rect& cut = arrangement.cut;
        fault(arrangement, "space-without-air", {{"space", section.spaces[s].id}},
              {cut.left + cut.width() / 2, cut.bottom + cut.height() / 2});
    }
}

}  // namespace wallfoot

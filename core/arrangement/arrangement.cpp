// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/arrangement.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <set>

#include "core/arrangement/air.hpp"
#include "core/arrangement/reach.hpp"
#include "core/arrangement/resolve.hpp"

namespace wallfoot {
namespace {

constexpr double thin = 100;  // µm; below it a face is worth a word (RULES 2)

void add(Arrangement& arrangement, Severity severity, const char* code, std::map<std::string, std::string> args, Point at) {
    arrangement.messages.push_back({severity, code, std::move(args), at, ""});
}

/// A section that cannot be resolved at all: nothing but the reason.
Arrangement nothing(const Section& section, std::vector<Message> messages) {
    Arrangement arrangement;
    arrangement.cut = arrangement.frame = section.cut;
    arrangement.messages = std::move(messages);
    return arrangement;
}

bool too_large(Point p) { return std::abs(p.x) > coordinate_limit || std::abs(p.y) > coordinate_limit; }

/// What must hold before anything is computed.
std::vector<Message> check_limits(const Section& section) {
    std::vector<Message> faults;
    if (section.spaces.size() > most_spaces) {
        const auto& marks = section.spaces[most_spaces].at;
        faults.push_back({Severity::fault, "too-many-spaces", {{"limit", std::to_string(most_spaces)}},
                          marks.empty() ? std::nullopt : std::optional(marks.front()), ""});
    }
    const auto check = [&](Point p) {
        if (faults.empty() && too_large(p)) faults.push_back({Severity::fault, "coordinate-too-large", {}, p, ""});
    };
    const auto check_all = [&](const std::vector<Point>& points) { for (const Point p : points) check(p); };
    for (const Piece& piece : section.pieces) {
        check_all(piece.outline);
        for (const Outline& hole : piece.holes) check_all(hole);
    }
    for (const Membrane& membrane : section.membranes) check_all(membrane.path);
    for (const Space& space : section.spaces) check_all(space.at);
    for (const Level* level : {&section.ground, &section.dpc, &section.floor})
        for (const auto& y : {level->both, level->left, level->right}) check({0, y.value_or(0)});
    const Rect& cut = section.cut;
    check({cut.left, cut.bottom});
    check({cut.right, cut.top});
    if (cut.left >= cut.right || cut.bottom >= cut.top)
        faults.push_back({Severity::fault, "cut-empty", {}, Point{cut.left, cut.bottom}, ""});
    return faults;
}

/// Mean thickness of every face against RULES 2: doubled area over the length around it.
void caution_thin(Arrangement& arrangement) {
    std::vector<double> around(arrangement.faces.size(), 0);
    for (const ArrangedEdge& edge : arrangement.edges) {
        if (edge.left == edge.right) continue;
        const Point a = arrangement.vertices[edge.from], b = arrangement.vertices[edge.to];
        const double length = std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
        for (const int face : {edge.left, edge.right})
            if (face >= 0) around[face] += length;
    }
    const auto faces = arrangement.faces;
    for (std::size_t f = 0; f < faces.size(); ++f) {
        const double thickness = static_cast<double>(faces[f].area2) / around[f];
        if (thickness >= thin) continue;
        char mm[32];
        std::snprintf(mm, sizeof mm, "%.3f", thickness / um_per_mm);
        add(arrangement, Severity::caution, "thin-face", {{"thickness", mm}}, faces[f].inside);
    }
}

bool carried(const Arrangement& arrangement, CutSide side) { return place(arrangement.frame, side) != place(arrangement.cut, side); }

/// Edges that meet a carried side at a slant: beyond it they go on square to it, which the drawing may not mean.
void caution_not_square(Arrangement& arrangement) {
    const auto& v = arrangement.vertices;
    for (const CutSide side : {CutSide::left, CutSide::bottom, CutSide::right, CutSide::top}) {
        if (!carried(arrangement, side)) continue;
        std::set<int> said;
        for (const ArrangedEdge& edge : arrangement.edges) {
            if (edge.left == edge.right || edge.left < 0 || edge.right < 0) continue;
            for (const auto& [end, other] : {std::pair(edge.from, edge.to), std::pair(edge.to, edge.from)}) {
                if (!on_side(arrangement.cut, side, v[end]) || on_side(arrangement.cut, side, v[other])) continue;
                if (!arrangement.cut.contains(v[end]) || !arrangement.cut.contains(v[other])) continue;
                const bool square = is_upright(side) ? v[end].y == v[other].y : v[end].x == v[other].x;
                if (!square && said.insert(end).second)
                    add(arrangement, Severity::caution, "carried-not-square", {{"side", to_string(side)}}, v[end]);
            }
        }
    }
}

void caution_not_soil(const Study& study, const Section& section, Arrangement& arrangement) {
    if (!carried(arrangement, CutSide::bottom)) return;
    std::set<int> said;
    for (const SidePart& part : along_side(arrangement, CutSide::bottom)) {
        const Face& face = arrangement.faces[part.face];
        const Material* material = face.kind == FaceKind::solid ? study.find_material(section.pieces[face.piece].filled_with) : nullptr;
        if ((material && material->kind == MaterialKind::soil) || !said.insert(face.piece).second) continue;
        add(arrangement, Severity::caution, "carried-not-soil", {}, {part.from + (part.to - part.from) / 2, arrangement.cut.bottom});
    }
}

}  // namespace

bool Arrangement::sound() const {
    return std::none_of(messages.begin(), messages.end(), [](const Message& m) { return m.severity == Severity::fault; });
}

Arrangement arrange(const Study& study, const Section& section, const Context& context) {
    context.check();
    if (auto faults = check_limits(section); !faults.empty()) return nothing(section, std::move(faults));
    Noded noded;
    try {
        noded = node(drawn_lines(section));
    } catch (const InputFault& fault) {
        return nothing(section, fault.faults());
    }
    context.check();
    Arrangement drawn;
    if (has_automatic(section)) {
        drawn = resolve(section, noded, section.cut);
        claim_air(section, drawn);
        context.check();
    }
    std::vector<Message> faults;
    const Rect frame = reach(study, section, drawn, faults);
    Arrangement arrangement = resolve(section, noded, frame);
    arrangement.messages.insert(arrangement.messages.end(), faults.begin(), faults.end());
    if (arrangement.faces.empty()) return arrangement;
    claim_air(section, arrangement);
    caution_thin(arrangement);
    caution_not_square(arrangement);
    caution_not_soil(study, section, arrangement);
    context.check();
    return arrangement;
}

int face_at(const Arrangement& arrangement, Point p) {
    if (!arrangement.frame.contains(p)) return -1;
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        const auto& [i, j, k] = arrangement.triangles[t];
        const auto& v = arrangement.vertices;
        if (cross(v[i], v[j], p) >= 0 && cross(v[j], v[k], p) >= 0 && cross(v[k], v[i], p) >= 0)
            return arrangement.triangle_face[t];
    }
    return -1;
}

std::optional<Micrometres> level_at(const Level& level, const Rect& cut, Micrometres x) {
    if (level.both) return level.both;
    const bool at_left = x < cut.left + cut.width() / 2;
    if (level.left && level.right) return at_left ? level.left : level.right;
    return level.left ? level.left : level.right;
}

}  // namespace wallfoot

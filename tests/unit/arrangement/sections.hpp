// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <set>

#include "core/arrangement/arrangement.hpp"

// Small builders for sections in mm, and what the tests look at.
namespace wallfoot::testing {

inline Point mm(double x, double y) { return {from_mm(x), from_mm(y)}; }

inline Outline box(double left, double bottom, double right, double top) {
    return {mm(left, bottom), mm(right, bottom), mm(right, top), mm(left, top)};
}

inline Piece solid(const std::string& id, Outline outline, const std::string& material = "block") {
    Piece piece;
    piece.id = piece.name = id;
    piece.filled_with = material;
    piece.moisture = Condition::dry;
    piece.outline = std::move(outline);
    return piece;
}

inline Piece filled(const std::string& id, Fill fill, Outline outline, const std::string& with = "") {
    Piece piece = solid(id, std::move(outline), with);
    piece.fill = fill;
    piece.moisture.reset();
    return piece;
}

inline Space space(const std::string& id, SpaceKind kind, std::vector<Point> at) {
    Space s;
    s.id = id;
    s.kind = kind;
    s.at = std::move(at);
    return s;
}

inline Section section(double left, double bottom, double right, double top) {
    Section s;
    s.cut = {from_mm(left), from_mm(bottom), from_mm(right), from_mm(top)};
    return s;
}

/// A study with a block and a soil; its convention has the distances of ISO 10211:2017, table 1 (b = 8 m by default).
inline Study study() {
    Study s;
    for (const auto& [id, kind] : {std::pair("block", MaterialKind::masonry), std::pair("soil", MaterialKind::soil)}) {
        Material m;
        m.id = m.name = id;
        m.kind = kind;
        s.materials.push_back(m);
    }
    Convention c;
    c.id = "iso";
    s.conventions["iso"] = c;
    return s;
}

inline std::vector<std::string> codes(const Arrangement& a) {
    std::vector<std::string> out;
    for (const Message& m : a.messages) out.push_back(m.code);
    return out;
}

/// Doubled visible area of one piece, -1 = bare air.
inline Area2 visible2(const Arrangement& a, int piece) {
    Area2 sum = 0;
    for (const Face& f : a.faces)
        if (f.piece == piece) sum += f.area2;
    return sum;
}

inline double visible_mm2(const Arrangement& a, int piece) { return static_cast<double>(visible2(a, piece)) / 2e6; }

inline int faces_of(const Arrangement& a, int piece) {
    int n = 0;
    for (const Face& f : a.faces) n += f.piece == piece;
    return n;
}

/// Foot of a cavity wall on a strip foundation, slab on insulation on soil: 12 pieces, inside at the left.
inline Section wall_foot() {
    Section s = section(-1500, -1200, 900, 1500);
    s.beyond[CutSide::left].automatic = s.beyond[CutSide::right].automatic = s.beyond[CutSide::bottom].automatic = true;
    s.ground.both = from_mm(-150);
    s.dpc.both = 0;
    s.spaces = {space("in", SpaceKind::inside, {mm(-700, 600)}), space("out", SpaceKind::outside, {mm(700, 600)})};
    s.pieces = {solid("soil", box(-1500, -1200, 900, -150), "soil"), solid("fill", box(-1500, -400, 0, -250)),
                solid("blinding", box(-1500, -250, 0, -240)),        solid("insulation", box(-1500, -240, 0, -140)),
                solid("slab", box(-1500, -140, 0, -60)),             solid("screed", box(-1500, -60, 0, 0)),
                solid("strip", box(-150, -1000, 450, -700)),         solid("inner below", box(0, -700, 100, 0)),
                solid("inner", box(0, 0, 100, 1500)),                solid("fibre", box(100, -400, 200, 1500)),
                solid("outer", box(200, -700, 300, 1500)),           solid("plaster", box(-15, 0, 0, 1500))};
    for (Piece& piece : s.pieces) piece.moisture.reset();
    return s;
}

}  // namespace wallfoot::testing

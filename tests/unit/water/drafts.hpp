// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <gtest/gtest.h>

#include "core/water/remedy.hpp"
#include "tests/unit/arrangement/sections.hpp"

// Small sections in mm, worked out by hand, and what the tests ask of them.
namespace wallfoot::water_drafts {

using testing::box;
using testing::mm;

struct Draft {
    std::string name;
    Study study = testing::study();
    Section section = testing::section(-500, -500, 500, 1000);

    explicit Draft(std::string its_name) : name(std::move(its_name)) {
        for (const auto& [id, kind] :
             {std::pair("concrete", MaterialKind::concrete), std::pair("foam", MaterialKind::insulation),
              std::pair("still-air", MaterialKind::airspace), std::pair("hardcore", MaterialKind::granular)}) {
            Material m;
            m.id = id;
            m.kind = kind;
            study.materials.push_back(m);
        }
        water(true, false, false);
    }
    Draft& water(bool soil, bool rain, bool cavity_foot) {
        section.water = Water{};
        section.water->soil = soil, section.water->rain = rain, section.water->cavity_foot = cavity_foot;
        section.water->standing = false;
        return *this;
    }
    Draft& level(double y) {
        section.water->water_level = from_mm(y);
        return *this;
    }
    Draft& piece(const std::string& id, const std::string& material, double left, double bottom, double right, double top) {
        section.pieces.push_back(testing::solid(id, box(left, bottom, right, top), material));
        return *this;
    }
    Draft& membrane(const std::string& id, std::vector<std::array<double, 2>> path, MembraneKind kind = MembraneKind::dpc,
                    std::optional<bool> sealed = {}) {
        Membrane m;
        m.id = id;
        m.kind = kind;
        m.sealed_laps = sealed;
        for (const auto& [x, y] : path) m.path.push_back(mm(x, y));
        section.membranes.push_back(m);
        return *this;
    }
    Draft& space(const std::string& id, SpaceKind kind, double x, double y) {
        section.spaces.push_back(testing::space(id, kind, {mm(x, y)}));
        return *this;
    }
    Material& material(const std::string& id) {
        for (Material& m : study.materials)
            if (m.id == id) return m;
        throw std::logic_error("no such material");
    }
    int index(const std::string& id) const {
        for (std::size_t i = 0; i < section.pieces.size(); ++i)
            if (section.pieces[i].id == id) return static_cast<int>(i);
        throw std::logic_error("no such piece: " + id);
    }
};

struct Solved {
    Arrangement arrangement;
    WaterWay way;
};

inline Solved solve(const Draft& d) {
    Solved s{arrange(d.study, d.section), {}};
    for (const Message& m : s.arrangement.messages)
        if (m.severity == Severity::fault) ADD_FAILURE() << d.name << ": " << english(m);
    s.way = water_way(d.study, d.section, s.arrangement);
    for (const std::string& broken : validate(s.way, s.arrangement)) ADD_FAILURE() << d.name << ": " << broken;
    return s;
}

inline PieceWater of(const Draft& d, const WaterWay& way, const std::string& id) {
    for (const PieceWater& piece : way.pieces)
        if (piece.piece == d.index(id)) return piece;
    ADD_FAILURE() << d.name << ": " << id << " draws no water";
    return {};
}
inline PieceWater of(const Draft& d, const std::string& id) { return of(d, solve(d).way, id); }
inline WaterState state(const Draft& d, const std::string& id) { return of(d, id).state; }

inline std::vector<std::string> relied(const Draft& d, const std::string& id) {
    std::vector<std::string> ids;
    for (const int m : of(d, id).relies_on) ids.push_back(d.section.membranes[m].id);
    return ids;
}

/// Where the way to a piece begins.
inline WaterFrom source(const Draft& d, const std::string& id) {
    const Solved s = solve(d);
    const auto& path = s.way.parts[of(d, s.way, id).part].path;
    if (!path) ADD_FAILURE() << d.name << ": no path to " << id;
    return path ? path->from : WaterFrom::soil;
}

/// Pieces of the way to a piece, source first.
inline std::vector<std::string> way_to(const Draft& d, const std::string& id) {
    const Solved s = solve(d);
    std::vector<std::string> ids;
    const auto& path = s.way.parts[of(d, s.way, id).part].path;
    if (!path) return ids;
    for (const WaterStep& step : path->steps) {
        const std::string next = d.section.pieces[s.way.net.parts[step.part].piece].id;
        if (ids.empty() || ids.back() != next) ids.push_back(next);
    }
    return ids;
}

inline Remedy remedy(const Draft& d, const std::string& id) {
    return RemedyDrawing(d.study, d.section).smallest(d.index(id), remedy_weights());
}

inline Draft mirrored(const Draft& d) {
    Draft m = d;
    m.name += ", mirrored";
    const auto turn = [](std::vector<Point>& points) { for (Point& p : points) p.x = -p.x; };
    m.section.cut = {-d.section.cut.right, d.section.cut.bottom, -d.section.cut.left, d.section.cut.top};
    for (Piece& piece : m.section.pieces) turn(piece.outline);
    for (Membrane& membrane : m.section.membranes) turn(membrane.path);
    for (Space& space : m.section.spaces) turn(space.at);
    std::swap(m.section.ground.left, m.section.ground.right);
    std::swap(m.section.dpc.left, m.section.dpc.right);
    m.section.beyond.clear();
    for (const auto& [side, beyond] : d.section.beyond)
        m.section.beyond[side == CutSide::left ? CutSide::right : side == CutSide::right ? CutSide::left : side] = beyond;
    return m;
}

/// Two blocks on soil at -100, inside at the left, outside at the right, ground at -100.
inline Draft wall(const std::string& name) {
    Draft d(name);
    d.section.ground.both = from_mm(-100);
    return d.piece("soil", "soil", -500, -500, 500, -100)
        .piece("foot", "block", 0, -100, 100, 0)
        .piece("upper", "block", 0, 0, 100, 1000)
        .space("in", SpaceKind::inside, -250, 500)
        .space("out", SpaceKind::outside, 250, 500);
}

/// Cavity wall on soil at -200: leaves of base (-200 to -100), foot (-100 to 0) and upper, a cavity of 100 mm with lean
/// concrete in it up to `fill`.
inline Draft cavity_wall(const std::string& name, double fill, const std::string& filling = "still-air") {
    Draft d(name);
    d.section.ground.both = from_mm(-200);
    return d.piece("soil", "soil", -500, -500, 500, -200)
        .piece("cavity", filling, 100, -200, 200, 1000)
        .piece("fill", "concrete", 100, -200, 200, fill)
        .piece("base", "block", 0, -200, 100, -100)
        .piece("foot", "block", 0, -100, 100, 0)
        .piece("upper", "block", 0, 0, 100, 1000)
        .piece("outer", "block", 200, -200, 300, 1000)
        .space("in", SpaceKind::inside, -250, 500)
        .space("out", SpaceKind::outside, 400, 500);
}

/// Slab of 500 mm beside the foot, on soil.
inline Draft slab(const std::string& name) {
    Draft d = wall(name);
    return d.piece("slab", "concrete", -500, -100, 0, 0);
}

}  // namespace wallfoot::water_drafts

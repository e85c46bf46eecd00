// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/bench/junction.hpp"

#include <array>

#include "core/file/study_file.hpp"

namespace wallfoot::bench {

namespace {

struct Box {
    const char* material;
    double left, bottom, right, top;  // mm
};

constexpr std::array<Box, 18> foot_floor_and_ground = {{
    {"soil", -1500, -1500, 1500, -150},       {"footing", -200, -1050, 500, -750},   {"gravel", 300, -400, 600, -150},
    {"paving", 600, -200, 1500, -150},        {"hardcore", -1500, -500, 0, -350},    {"blinding", -1500, -350, 0, -325},
    {"concrete", -1500, -325, 0, -175},       {"board", -1500, -175, 0, -75},        {"screed", -1500, -75, -25, 0},
    {"strip", -25, -75, 0, 0},                {"dense", 0, -750, 100, -225},         {"foot", 0, -225, 100, -10},
    {"mortar", 0, -10, 100, 0},               {"concrete", 100, -750, 200, -225},    {"wool", 100, -225, 200, 1500},
    {"brick", 200, -750, 300, 0},             {"plaster", -13, 0, 0, 1500},          {"timber", -28, 0, -13, 90},
}};

constexpr std::array<Box, 3> layers = {{
    {"foil", -1500, -75.3, -25, -75},
    {"sheet", -1500, -176, 0, -175},
    {"sheet", 100, 225, 100.5, 1500},
}};

struct Value {
    const char* material;
    MaterialKind kind;
    double conductivity;  // W/(m·K)
};

constexpr std::array<Value, 20> values = {{
    {"soil", MaterialKind::soil, 1.6},        {"footing", MaterialKind::other, 2.0},  {"gravel", MaterialKind::other, 0.7},
    {"paving", MaterialKind::other, 1.3},     {"hardcore", MaterialKind::other, 1.1}, {"blinding", MaterialKind::other, 1.5},
    {"concrete", MaterialKind::other, 1.9},   {"board", MaterialKind::other, 0.027},  {"screed", MaterialKind::other, 1.2},
    {"strip", MaterialKind::other, 0.036},    {"dense", MaterialKind::other, 1.1},    {"foot", MaterialKind::other, 0.24},
    {"mortar", MaterialKind::other, 0.9},     {"wool", MaterialKind::other, 0.034},   {"brick", MaterialKind::other, 0.8},
    {"plaster", MaterialKind::other, 0.5},    {"timber", MaterialKind::other, 0.13},  {"foil", MaterialKind::other, 0.2},
    {"sheet", MaterialKind::other, 50.0},     {"light", MaterialKind::other, 0.45},
}};

Piece piece(const Box& box, std::size_t number) {
    Piece p;
    p.id = p.name = "p" + std::to_string(number);
    p.filled_with = box.material;
    p.moisture = Condition::dry;
    const auto at = [](double x, double y) { return Point{from_mm(x), from_mm(y)}; };
    p.outline = {at(box.left, box.bottom), at(box.right, box.bottom), at(box.right, box.top), at(box.left, box.top)};
    return p;
}

Space space(const char* id, SpaceKind kind, double x) {
    Space s;
    s.id = id;
    s.kind = kind;
    s.at = {{from_mm(x), from_mm(800)}};
    return s;
}

/// The courses of one leaf from 0 to 1500 mm, every second of another material.
void add_leaf(std::vector<Piece>& pieces, double left, double right, int courses, const char* one, const char* other) {
    for (int i = 0; i < courses; ++i)
        pieces.push_back(piece({i % 2 ? other : one, left, 1500.0 * i / courses, right, 1500.0 * (i + 1) / courses},
                               pieces.size()));
}

}  // namespace

Study ground_junction(int pieces, bool thin_layers) {
    Study study;
    study.title = "Ground junction of " + std::to_string(pieces) + " pieces";
    study.conventions[study.convention] = shipped_convention(study.convention);
    for (const auto& value : values) {
        Material m;
        m.id = m.name = value.material;
        m.kind = value.kind;
        m.lambda.bare = true;
        m.lambda.by_condition[Condition::dry].value = value.conductivity;
        study.materials.push_back(m);
    }
    auto section = std::make_shared<Section>();
    section->cut = {from_mm(-1500), from_mm(-1500), from_mm(1500), from_mm(1500)};
    section->beyond[CutSide::left].distance = from_mm(2500);
    section->beyond[CutSide::right].distance = from_mm(18500);
    section->beyond[CutSide::bottom].distance = from_mm(18650);
    section->ground.both = from_mm(-150);
    section->spaces = {space("in", SpaceKind::inside, -700), space("out", SpaceKind::outside, 900)};
    auto& drawn = section->pieces;
    for (const auto& box : foot_floor_and_ground) drawn.push_back(piece(box, drawn.size()));
    const int courses = pieces - static_cast<int>(drawn.size());
    add_leaf(drawn, 0, 100, courses / 2, "light", "dense");
    add_leaf(drawn, 200, 300, courses - courses / 2, "brick", "mortar");
    if (thin_layers)
        for (const auto& box : layers) drawn.push_back(piece(box, drawn.size()));
    Variant variant;
    variant.id = variant.name = "v";
    variant.section = section;
    study.variants.push_back(variant);
    return study;
}

}  // namespace wallfoot::bench

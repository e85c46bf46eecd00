// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "core/standards/iso13370.hpp"
#include "solver/findings/mixed_layers.hpp"

namespace wallfoot {

namespace {

/// The layers of the wall below ground, met on a level line from the room to the soil.
struct BuriedWall {
    double resistance = 0, thickness = 0;  ///< m²·K/W, m
};

std::optional<BuriedWall> buried_wall(const SectionView& view, Point from, Micrometres outer) {
    std::vector<double> crossings;
    const double y = double(from.y) + 0.5;  // between grid lines: through no vertex
    const auto [low, high] = std::minmax(from.x, outer);
    for (const ArrangedEdge& edge : view.arrangement.edges) {
        const Point a = view.arrangement.vertices[edge.from], b = view.arrangement.vertices[edge.to];
        if ((double(a.y) < y) == (double(b.y) < y)) continue;
        const double x = double(a.x) + (y - double(a.y)) / double(b.y - a.y) * double(b.x - a.x);
        crossings.push_back(x);
    }
    std::sort(crossings.begin(), crossings.end());
    if (outer < from.x) std::reverse(crossings.begin(), crossings.end());
    BuriedWall wall;
    bool begun = false;
    for (std::size_t i = 0; i + 1 < crossings.size(); ++i) {
        const double middle = 0.5 * (crossings[i] + crossings[i + 1]), thickness = std::abs(crossings[i + 1] - crossings[i]) * 1e-6;
        const bool beyond = outer < from.x ? middle > double(high) : middle < double(low);
        if (beyond || thickness < 1e-6) continue;
        const int face = face_at(view.arrangement, {std::llround(middle), from.y});
        if (face < 0) return std::nullopt;
        const Face& met = view.arrangement.faces[face];
        if (met.kind == FaceKind::air && !begun) continue;
        if (met.kind != FaceKind::solid) return std::nullopt;
        if (is_soil(view, face)) return begun ? std::optional(wall) : std::nullopt;
        begun = true;
        if (view.conductivity[face].across <= 0) return std::nullopt;
        wall.resistance += thickness / view.conductivity[face].across;
        wall.thickness += thickness;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Derivation> derive_basement(const SectionView& view, const std::vector<FoundElement>& elements, const std::vector<Coupling>& couplings) {
    const auto floor = std::find_if(elements.begin(), elements.end(), [&](const FoundElement& e) { return e.element.ground && view.section.spaces[e.element.warm_space].kind == SpaceKind::inside; });
    if (floor == elements.end() || floor->soil_face < 0 || floor->element.layers.empty() || !floor->element.internal_length) return std::nullopt;
    const FoundElement* wall = wall_of(*floor, elements);
    if (!wall || !wall->element.U || !wall->element.internal_length || !floor->element.internal_reference || !floor->element.external_reference) return std::nullopt;
    const Micrometres outer = floor->element.external_reference->x, floor_level = floor->warm_end.y;
    const auto ground = level_at(view.section.ground, view.arrangement.cut, outer);
    if (!ground || *ground <= floor_level) return std::nullopt;
    const Convention& convention = view.study.used_convention();
    const double soil = view.conductivity[floor->soil_face].across;
    const auto buried = buried_wall(view, {floor->element.internal_reference->x, (*ground + floor_level) / 2}, outer);
    if (!buried) return std::nullopt;
    iso13370::Basement basement{.characteristic_dimension_m = to_m(view.study.floor_width.value_or(convention.floor_width)), .depth_m = to_m(*ground - floor_level)};
    double floor_resistance = 0;
    for (const auto& layer : floor->element.layers) floor_resistance += layer.resistance;
    const auto& films = convention.heat_flow;
    Derivation derivation{.of = "heated basement by ISO 13370",
                          .formula = "U_floor = (2λ/(π·B + d_f + z/2))·ln(π·B/(d_f + z/2) + 1) for d_f + z/2 < B, else λ/(0.457·B + d_f + z/2); U_wall = (2λ/(π·z))·(1 + 0.5·d_f/(d_f + z))·ln(z/d_w + 1), d_f at most d_w; "
                                     "psi = L2D − U·l of the wall above ground − U_wall·z − U_floor·l_floor (ISO 13370:2017, ISO 10211:2017; from memory, to be confirmed in the standards)",
                          .inputs = {}, .notes = {}, .id = "iso13370-basement"};
    const auto put = [&](const char* name, double value, const char* unit, const char* source) { derivation.inputs.push_back({name, value, unit, source}); };
    try {
        const double above_ground = to_m(*wall->element.internal_length) - basement.depth_m;
        basement.floor_equivalent_thickness_m = iso13370::equivalent_thickness(buried->thickness, soil, floor->element.surface_warm, floor_resistance, films.outside);
        basement.wall_equivalent_thickness_m = soil * (films.inside.horizontal + buried->resistance + films.outside);
        const double of_floor = iso13370::basement_floor_transmittance(basement, soil), of_wall = iso13370::basement_wall_transmittance(basement, soil);
        const double length = to_m(*floor->element.internal_length);
        put("B, of a strip as wide as the floor", basement.characteristic_dimension_m, "m", "the study");
        put("z, floor below ground", basement.depth_m, "m", "levels of the study");
        put("λ, soil", soil, "W/(m·K)", "the drawing");
        put("d_w,e, wall", buried->thickness, "m", "the drawing");
        put("R_f, floor", floor_resistance, "m²K/W", "the drawing");
        put("R_w, wall in the ground", buried->resistance, "m²K/W", "the drawing");
        put("d_f", basement.floor_equivalent_thickness_m, "m", "computed");
        put("d_w", basement.wall_equivalent_thickness_m, "m", "computed");
        put("U_floor", of_floor, "W/(m²·K)", "computed");
        put("U_wall", of_wall, "W/(m²·K)", "computed");
        put("U′ of all that touches ground, per metre", iso13370::basement_effective_transmittance(length, 1, basement.depth_m, of_floor, of_wall), "W/(m²·K)", "computed");
        for (const Coupling& coupling : couplings) {
            if (coupling.a != floor->element.warm_space || coupling.b != floor->element.cold_space || !coupling.value || above_ground < 0) continue;
            put("L2D", coupling.value->value, "W/(m·K)", "the field");
            put("U of the wall above ground", *wall->element.U, "W/(m²·K)", "computed");
            put("l of the wall above ground", above_ground, "m", "the drawing");
            put("l_floor, internal", length, "m", "the drawing");
            put("psi with floor and wall by ISO 13370", coupling.value->value - *wall->element.U * above_ground - of_wall * basement.depth_m - of_floor * length, "W/(m·K)", "computed");
        }
    } catch (const OutsideStandard&) {
        return std::nullopt;
    }
    derivation.notes.push_back("Only where the energy calculation takes floor and wall below ground by ISO 13370 as well. The wall above ground is taken as built as where the cut meets it.");
    return derivation;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/floor_alone.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace wallfoot {

namespace {

constexpr Micrometres level_tolerance = 1000;       // 1 mm: one floor level
constexpr Micrometres least_floor_run = 300'000;    // a flat stretch at another level is a floor, a narrower one a skirting
constexpr Micrometres floor_level_range = 1'000'000;  // … unless it is higher than a step can be: a shelf, a ceiling
constexpr Micrometres least_ground_run = 100'000;   // a flat stretch of ground; shorter ones belong to the wall's foot

struct Refusal {
    std::string why;
    Point at;
};

/// Everything the second section is drawn from.
struct Plan {
    Rect frame;
    Micrometres inner = 0, far = 0;  ///< sides of the frame below the room and in the open
    Micrometres internal_face = 0, outer_face = 0;
    Micrometres floor_level = 0, underside = 0;
    Path ground;                     ///< surface of the ground from the far side to the outer face plane
    Micrometres ground_level() const { return ground.back().y; }
};

double slope_degrees(const StraightLine& line) {
    return std::atan2(std::abs(double(line.to.y - line.from.y)), std::abs(double(line.to.x - line.from.x))) * 180 / std::numbers::pi;
}

/// The ground as drawn, from the far side to the outer face plane; the foot of the wall that stands out beyond that
/// plane belongs to the wall, and the last stretch of ground runs straight on below it.
Path ground_surface(const SurfaceChain& from_far, Micrometres outer_face, Micrometres floor_level, bool inside_left) {
    const auto in_open = [&](Point p) { return inside_left ? p.x > outer_face : p.x < outer_face; };
    Path path;
    std::size_t kept = 0;
    Path so_far;
    StraightLine last{};
    for (const auto& line : from_far.lines) {
        if (!in_open(line.from)) break;
        so_far.push_back(line.from);
        const bool flat = slope_degrees(line) <= 30 && line.from.y <= floor_level && line.to.y <= floor_level &&
                          std::abs(line.to.x - line.from.x) >= least_ground_run;
        if (!flat) continue;
        kept = so_far.size();
        last = line;
    }
    if (kept == 0) return {};
    path.assign(so_far.begin(), so_far.begin() + std::ptrdiff_t(kept));
    const double share = double(outer_face - last.from.x) / double(last.to.x - last.from.x);
    path.push_back({outer_face, last.from.y + std::llround(share * double(last.to.y - last.from.y))});
    return path;
}

/// Air that is neither the room's nor the open's below the floor, between the frame and the internal face plane.
std::optional<Point> air_below(const SectionView& view, const Plan& plan) {
    const auto [low, high] = std::minmax(plan.inner, plan.internal_face);
    for (std::size_t t = 0; t < view.arrangement.triangles.size(); ++t) {
        if (view.arrangement.faces[view.arrangement.triangle_face[t]].kind != FaceKind::air) continue;
        Micrometres x = 0, y = 0;
        for (int corner : view.arrangement.triangles[t]) {
            x += view.arrangement.vertices[corner].x;
            y += view.arrangement.vertices[corner].y;
        }
        if (x > 3 * low && x < 3 * high && y < 3 * plan.floor_level) return Point{x / 3, y / 3};
    }
    return std::nullopt;
}

/// A place where the floor of the room lies at another level.
std::optional<Point> other_level(const SurfaceChain& surface, Micrometres floor_level) {
    for (const auto& line : surface.lines) {
        const Micrometres off = std::max(std::abs(line.from.y - floor_level), std::abs(line.to.y - floor_level));
        if (slope_degrees(line) <= 30 && off > level_tolerance && off <= floor_level_range &&
            std::abs(line.to.x - line.from.x) >= least_floor_run)
            return line.to;
    }
    return std::nullopt;
}

/// The planes of wall and floor as drawn; what the study states for lengths serves where the drawing gives none.
struct Planes {
    std::optional<Point> internal, external;
};

Planes planes_of(const FoundElement& floor, int version) {
    const Element& element = floor.element;
    if (version == 1) return {element.internal_reference, element.external_reference};
    return {floor.drawn_internal ? floor.drawn_internal : element.internal_reference, floor.drawn_external ? floor.drawn_external : element.external_reference};
}

std::variant<Plan, Refusal> plan_of(const SectionView& view, const FoundElement& floor,
                                    const std::vector<FoundElement>& elements, int version) {
    const auto& element = floor.element;
    Plan plan{.frame = view.arrangement.frame, .ground = {}};
    if (element.side != CutSide::left && element.side != CutSide::right)
        return Refusal{"the floor does not reach the left or right side of the drawing", floor.warm_end};
    const auto [internal, external] = planes_of(floor, version);
    if (!internal) return Refusal{"there is no internal face plane", floor.warm_end};
    if (!external) return Refusal{"there is no outer face plane", *internal};
    for (const auto& other : elements)
        if (&other != &floor && other.element.ground && view.section.spaces[other.element.warm_space].kind == SpaceKind::inside)
            return Refusal{"there is more than one floor on soil", other.warm_end};
    const bool inside_left = element.side == CutSide::left;
    plan.inner = inside_left ? plan.frame.left : plan.frame.right;
    plan.far = inside_left ? plan.frame.right : plan.frame.left;
    plan.internal_face = internal->x;
    plan.outer_face = external->x;
    plan.floor_level = floor.warm_end.y;
    plan.underside = floor.met.back().to.y;
    if (std::abs(internal->y - plan.floor_level) > level_tolerance)
        return Refusal{"there are two floor levels", *internal};
    if (const auto step = other_level(floor.warm, plan.floor_level)) return Refusal{"there are two floor levels", *step};
    const bool in_order = inside_left ? plan.inner < plan.internal_face && plan.internal_face < plan.outer_face && plan.outer_face < plan.far
                                      : plan.inner > plan.internal_face && plan.internal_face > plan.outer_face && plan.outer_face > plan.far;
    if (!in_order) return Refusal{"the outer face plane does not lie between the internal face plane and the open ground", *external};
    const FoundElement* wall = wall_of(floor, elements);
    if (!wall || wall->cold.empty() || wall->cold.end().x != plan.far)
        return Refusal{"the surface of the outside ground does not lead from the wall to the side of the drawing", *external};
    plan.ground = ground_surface(reversed(wall->cold), plan.outer_face, plan.floor_level, inside_left);
    if (plan.ground.empty()) return Refusal{"no outside ground at or below the floor surface is drawn", *external};
    if (plan.floor_level < plan.ground_level()) return Refusal{"the floor lies below the outside ground, as in a basement", *internal};
    if (const auto air = air_below(view, plan)) return Refusal{"there is air below the floor", *air};
    return plan;
}

Outline rectangle(Micrometres xa, Micrometres xb, Micrometres bottom, Micrometres top) {
    const auto [left, right] = std::minmax(xa, xb);
    return {{left, bottom}, {right, bottom}, {right, top}, {left, top}};
}

void drop_repeated(Outline& outline) {
    outline.erase(std::unique(outline.begin(), outline.end()), outline.end());
    while (outline.size() > 1 && outline.front() == outline.back()) outline.pop_back();
}

Piece filled(std::string id, Fill fill, std::string with, Outline outline) {
    drop_repeated(outline);
    return {.id = std::move(id), .name = {}, .fill = fill, .filled_with = std::move(with), .moisture = Condition::dry,
            .outline = std::move(outline), .holes = {}, .courses = {}, .extra = {}};
}

Material synthetic(std::string id, MaterialKind kind, const FaceConductivity& conductivity) {
    Material material;
    material.id = std::move(id);
    material.kind = kind;
    material.lambda.bare = material.lambda_up.bare = true;
    material.lambda.by_condition[Condition::dry].value = conductivity.across;
    if (conductivity.up != conductivity.across) material.lambda_up.by_condition[Condition::dry].value = conductivity.up;
    return material;
}

const char* const soil_id = "soil";
std::string layer_id(std::size_t met) { return "layer-" + std::to_string(met + 1); }

/// The face of the junction that a piece of the floor alone stands for.
int junction_face(const FoundElement& floor, const std::string& piece) {
    for (std::size_t i = 0; i < floor.met.size(); ++i)
        if (piece == layer_id(i)) return floor.met[i].face;
    return floor.soil_face;
}

/// Soil up to the underside of the floor below the room, up to the ground in the open.
Outline soil_outline(const Plan& plan, FloorReading reading) {
    const Micrometres ground = plan.ground_level();
    Outline soil{{plan.inner, plan.frame.bottom}, {plan.far, plan.frame.bottom}};
    soil.insert(soil.end(), plan.ground.begin(), plan.ground.end());
    if (reading == FloorReading::to_ground) soil.push_back({plan.internal_face, ground});
    soil.push_back({reading == FloorReading::to_ground ? plan.internal_face : plan.outer_face, plan.underside});
    soil.push_back({plan.inner, plan.underside});
    return soil;
}

FloorAloneSection draw(const SectionView& view, const Plan& plan, const FoundElement& floor, FloorReading reading) {
    FloorAloneSection alone;
    alone.study.convention = view.study.convention;
    alone.study.conventions = view.study.conventions;
    alone.study.floor_width = view.study.floor_width;
    alone.section.cut = plan.frame;
    for (const int space : {floor.element.warm_space, floor.element.cold_space}) {
        Space copy = view.section.spaces[space];
        copy.at.clear();
        copy.balance.reset();
        copy.temperature = view.temperatures[space];
        alone.section.spaces.push_back(copy);
    }
    auto& pieces = alone.section.pieces;
    alone.study.materials.push_back(synthetic(soil_id, MaterialKind::soil, view.conductivity[floor.soil_face]));
    pieces.push_back(filled(soil_id, Fill::material, soil_id, soil_outline(plan, reading)));
    for (std::size_t i = 0; i < floor.met.size(); ++i) {
        const auto& met = floor.met[i];
        if (met.from.y == met.to.y) continue;
        const std::string id = layer_id(i);
        alone.study.materials.push_back(synthetic(id, MaterialKind::other, view.conductivity[met.face]));
        pieces.push_back(filled(id, Fill::material, id, rectangle(plan.inner, plan.internal_face, met.to.y, met.from.y)));
    }
    const Micrometres top = plan.frame.top;
    pieces.push_back(filled("room", Fill::space, alone.section.spaces[0].id,
                            rectangle(plan.inner, plan.internal_face, plan.floor_level, top)));
    Outline open(plan.ground.rbegin(), plan.ground.rend());
    open.push_back({plan.far, top});
    open.push_back({plan.outer_face, top});
    pieces.push_back(filled("open", Fill::space, alone.section.spaces[1].id, open));
    const Micrometres down_to = reading == FloorReading::to_ground ? plan.ground_level()
                                                                   : std::min(plan.underside, plan.ground_level());
    pieces.push_back(filled("wall", Fill::cutout, "", rectangle(plan.internal_face, plan.outer_face, down_to, top)));
    return alone;
}

/// Arranges the section and makes the solver's model of it; the first fault found, if any.
std::optional<Message> make_model(const FoundElement& floor, FloorAloneSection& alone, const Context& context) {
    const auto arrangement = arrange(alone.study, alone.section, context);
    std::vector<Message> messages = arrangement.messages;
    const auto conductivity = conductivities(alone.study, alone.section, arrangement, messages);
    for (const auto& message : messages)
        if (message.severity == Severity::fault) return message;
    const auto contacts = surfaces(alone.study, alone.section, arrangement, Purpose::heat_flow);
    std::vector<int> region;
    alone.model = reduce(arrangement, conductivity, contacts, 2, &region);
    alone.junction_faces.assign(alone.model.regions.size(), {});
    for (std::size_t f = 0; f < region.size(); ++f)
        if (region[f] >= 0)
            alone.junction_faces[region[f]].push_back(junction_face(floor, alone.section.pieces[arrangement.faces[f].piece].id));
    return std::nullopt;
}

}  // namespace

const FloorAloneSection* FloorAlone::used(FloorReading reading) const {
    const auto& wanted = reading == FloorReading::to_ground && to_ground ? to_ground : to_underside;
    return wanted ? &*wanted : nullptr;
}

const FloorAloneSection* FloorAlone::other(FloorReading reading) const {
    if (!to_ground) return nullptr;
    return reading == FloorReading::to_ground ? &*to_underside : &*to_ground;
}

std::optional<FloorAlone> floor_alone(const SectionView& view, const std::vector<FoundElement>& elements, int version,
                                      const Context& context) {
    FloorAlone alone;
    for (std::size_t i = 0; i < elements.size() && alone.floor < 0; ++i)
        if (elements[i].element.ground && view.section.spaces[elements[i].element.warm_space].kind == SpaceKind::inside)
            alone.floor = int(i);
    if (alone.floor < 0) return std::nullopt;
    const auto& floor = elements[alone.floor];
    const auto planned = plan_of(view, floor, elements, version);
    if (const auto* refusal = std::get_if<Refusal>(&planned)) {
        alone.refusal = refusal->why;
        alone.at = refusal->at;
        return alone;
    }
    const auto& plan = std::get<Plan>(planned);
    alone.floor_level = plan.floor_level;
    alone.underside = plan.underside;
    alone.ground_level = plan.ground_level();
    alone.internal_face = plan.internal_face;
    alone.outer_face = plan.outer_face;
    alone.length = std::abs(plan.internal_face - plan.inner);
    alone.soil = view.conductivity[floor.soil_face].across;
    alone.at = {plan.internal_face, plan.floor_level};
    alone.to_underside = draw(view, plan, floor, FloorReading::to_underside);
    if (plan.underside < plan.ground_level()) alone.to_ground = draw(view, plan, floor, FloorReading::to_ground);
    for (auto* reading : {&alone.to_underside, &alone.to_ground}) {
        if (!*reading) continue;
        if (const auto fault = make_model(floor, **reading, context)) alone.refusal = "the floor alone cannot be drawn: " + english(*fault);
    }
    return alone;
}

}  // namespace wallfoot

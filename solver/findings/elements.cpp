// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/elements.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/standards/iso6946.hpp"
#include "solver/findings/fractiles.hpp"

namespace wallfoot {

namespace {

bool upright(CutSide side) { return side == CutSide::left || side == CutSide::right; }

bool on_side(const Rect& frame, CutSide side, Point p) {
    switch (side) {
        case CutSide::left: return p.x == frame.left;
        case CutSide::right: return p.x == frame.right;
        case CutSide::bottom: return p.y == frame.bottom;
        case CutSide::top: return p.y == frame.top;
    }
    return false;
}

/// Place along a side: downwards on the left and right, to the right on top and bottom.
Micrometres along(const Rect& frame, CutSide side, Point p) {
    return upright(side) ? frame.top - p.y : p.x - frame.left;
}

/// A stretch of a side with one filling. `space` ≥ 0 for air, `solid` for material; neither: cutout.
struct Run {
    bool solid = false;
    int space = -1;
    std::vector<MetFace> met;
    std::vector<int> vertices;  ///< all on the run, in order
};

struct SideEdge {
    int from, to, face;
};

std::vector<Run> runs_of(const Arrangement& arrangement, CutSide side) {
    std::vector<SideEdge> edges;
    for (const auto& edge : arrangement.edges) {
        if ((edge.left < 0) == (edge.right < 0)) continue;
        const Point a = arrangement.vertices[edge.from], b = arrangement.vertices[edge.to];
        if (!on_side(arrangement.frame, side, a) || !on_side(arrangement.frame, side, b)) continue;
        SideEdge found{edge.from, edge.to, edge.left < 0 ? edge.right : edge.left};
        if (along(arrangement.frame, side, a) > along(arrangement.frame, side, b)) std::swap(found.from, found.to);
        edges.push_back(found);
    }
    std::sort(edges.begin(), edges.end(), [&](const SideEdge& a, const SideEdge& b) {
        return along(arrangement.frame, side, arrangement.vertices[a.from]) <
               along(arrangement.frame, side, arrangement.vertices[b.from]);
    });
    std::vector<Run> runs;
    for (const auto& edge : edges) {
        const Face& face = arrangement.faces[edge.face];
        const bool solid = face.kind == FaceKind::solid;
        const int space = face.kind == FaceKind::air ? face.space : -1;
        if (runs.empty() || runs.back().solid != solid || runs.back().space != space) {
            runs.push_back({solid, space, {}, {edge.from}});
        }
        auto& run = runs.back();
        const Point from = arrangement.vertices[edge.from], to = arrangement.vertices[edge.to];
        if (!run.met.empty() && run.met.back().face == edge.face)
            run.met.back().to = to;
        else
            run.met.push_back({edge.face, from, to});
        run.vertices.push_back(edge.to);
    }
    return runs;
}

bool same_conductivity(const SectionView& view, int a, int b) {
    return a >= 0 && b >= 0 && view.arrangement.faces[a].kind == FaceKind::solid &&
           view.arrangement.faces[b].kind == FaceKind::solid && view.conductivity[a].across == view.conductivity[b].across &&
           view.conductivity[a].up == view.conductivity[b].up;
}

/// Layers are square to the side when every line between different things that ends on the run is.
bool square(const SectionView& view, CutSide side, const std::vector<int>& run_vertices) {
    constexpr double slope_of_snapping = 1e-4;  // what rounding to the grid may bend
    const std::set<int> on_run(run_vertices.begin(), run_vertices.end());
    for (const auto& edge : view.arrangement.edges) {
        if (!on_run.contains(edge.from) && !on_run.contains(edge.to)) continue;
        const Point a = view.arrangement.vertices[edge.from], b = view.arrangement.vertices[edge.to];
        if (on_side(view.arrangement.frame, side, a) && on_side(view.arrangement.frame, side, b)) continue;
        if (edge.left < 0 || edge.right < 0 || same_conductivity(view, edge.left, edge.right)) continue;
        const double dx = std::abs(double(b.x - a.x)), dy = std::abs(double(b.y - a.y));
        if (upright(side) ? dy > slope_of_snapping * dx : dx > slope_of_snapping * dy) return false;
    }
    return true;
}

/// Surface resistance where a run meets the air of a space: of the surface edge that ends there.
std::optional<double> surface_at(const SectionView& view, int vertex, int space, int solid_face) {
    for (const auto& surface : view.surfaces) {
        const auto& edge = view.arrangement.edges[surface.edge];
        if (surface.space == space && surface.solid_face == solid_face && (edge.from == vertex || edge.to == vertex))
            return surface.resistance;
    }
    return std::nullopt;
}

void work_out_transmittance(const SectionView& view, FoundElement& found, const Run& run) {
    auto& element = found.element;
    const bool turned = found.warm_end != view.arrangement.vertices[run.vertices.front()];
    const int warm_vertex = turned ? run.vertices.back() : run.vertices.front();
    const int cold_vertex = turned ? run.vertices.front() : run.vertices.back();
    element.layers = layers_of(view, element.side, found.met);
    const auto warm = surface_at(view, warm_vertex, element.warm_space, found.met.front().face);
    element.surface_warm = warm.value_or(0);
    if (element.ground) return;
    const auto cold = surface_at(view, cold_vertex, element.cold_space, found.met.back().face);
    element.surface_cold = cold.value_or(0);
    if (!warm || !cold || !square(view, element.side, run.vertices)) {
        element.reason = "element-not-square";
        return;
    }
    std::vector<double> resistances;
    for (const auto& layer : element.layers) resistances.push_back(layer.resistance);
    const double total = iso6946::total_resistance(element.surface_warm, resistances, element.surface_cold);
    if (total > 0) element.U = iso6946::transmittance(total);
}

FoundElement between_spaces(const SectionView& view, CutSide side, const Run& run, int before, int after) {
    FoundElement found;
    found.element.side = side;
    found.met = run.met;
    const bool swap = view.temperatures[after] > view.temperatures[before] ||
                      (view.temperatures[after] == view.temperatures[before] && after < before);
    found.element.warm_space = swap ? after : before;
    found.element.cold_space = swap ? before : after;
    int warm = run.vertices.front(), cold = run.vertices.back();
    if (swap) {
        std::swap(warm, cold);
        std::reverse(found.met.begin(), found.met.end());
        for (auto& met : found.met) std::swap(met.from, met.to);
    }
    found.warm_end = view.arrangement.vertices[warm];
    found.cold_end = view.arrangement.vertices[cold];
    found.warm = walk_surface(view.arrangement, view.surfaces, found.element.warm_space, warm);
    found.cold = walk_surface(view.arrangement, view.surfaces, found.element.cold_space, cold);
    return found;
}

std::optional<FoundElement> into_ground(const SectionView& view, CutSide side, const Run& run, int space) {
    const int outside = coldest_outside_space(view.section, view.temperatures);
    if (outside < 0 || space == outside || view.section.spaces[space].kind == SpaceKind::outside) return std::nullopt;
    const auto soil = std::find_if(run.met.begin(), run.met.end(), [&](const MetFace& m) { return is_soil(view, m.face); });
    if (soil == run.met.end()) return std::nullopt;
    FoundElement found;
    found.element.side = side;
    found.element.ground = true;
    found.element.warm_space = space;
    found.element.cold_space = outside;
    found.met.assign(run.met.begin(), soil);
    if (found.met.empty()) found.met.push_back({soil->face, soil->from, soil->from});  // bare soil: no layer
    found.soil_face = soil->face;
    found.warm_end = view.arrangement.vertices[run.vertices.front()];
    found.warm = walk_surface(view.arrangement, view.surfaces, space, run.vertices.front());
    return found;
}

std::vector<FoundElement> elements_of_side(const SectionView& view, CutSide side) {
    std::vector<FoundElement> found;
    const auto runs = runs_of(view.arrangement, side);
    for (std::size_t i = 0; i < runs.size(); ++i) {
        if (!runs[i].solid || i == 0 || runs[i - 1].space < 0) continue;
        std::optional<FoundElement> element;
        if (i + 1 == runs.size()) {
            if (upright(side)) element = into_ground(view, side, runs[i], runs[i - 1].space);
        } else if (runs[i + 1].space >= 0 && runs[i + 1].space != runs[i - 1].space) {
            element = between_spaces(view, side, runs[i], runs[i - 1].space, runs[i + 1].space);
        }
        if (!element) continue;
        work_out_transmittance(view, *element, runs[i]);
        element->element.id = to_string(side);
        if (!found.empty()) element->element.id.append("-").append(std::to_string(found.size() + 1));
        found.push_back(std::move(*element));
    }
    return found;
}

Micrometres distance_from_side(const Rect& frame, CutSide side, Point p) {
    switch (side) {
        case CutSide::left: return p.x - frame.left;
        case CutSide::right: return frame.right - p.x;
        case CutSide::bottom: return p.y - frame.bottom;
        case CutSide::top: return frame.top - p.y;
    }
    return 0;
}

struct Measured {
    std::optional<Micrometres> length;
    std::optional<Point> reference;
    bool one_line = false;
};

Measured measure(const Rect& frame, CutSide side, const SurfaceChain& chain) {
    if (chain.empty()) return {};
    const auto reference = reference_of(last_line(chain), last_line(reversed(chain)));
    Measured measured{.length = std::nullopt, .reference = reference.at, .one_line = reference.one_line};
    if (reference.one_line) {
        measured.length = distance_from_side(frame, side, chain.end());
        const bool ends_at_cutout = chain.end().x != frame.left && chain.end().x != frame.right &&
                                    chain.end().y != frame.bottom && chain.end().y != frame.top;
        if (ends_at_cutout) measured.reference = chain.end();
    }
    if (reference.at) measured.length = distance_from_side(frame, side, *reference.at);
    if (measured.length && *measured.length < 0) measured = {};
    return measured;
}

void measure_lengths(const SectionView& view, std::vector<FoundElement>& all) {
    const Rect& frame = view.arrangement.frame;
    for (auto& found : all) {
        auto& element = found.element;
        const auto internal = measure(frame, element.side, found.warm);
        element.internal_length = internal.length;
        element.internal_reference = internal.reference;
        found.internal_one_line = internal.one_line;
        if (element.ground) continue;
        const auto external = measure(frame, element.side, found.cold);
        element.external_length = external.length;
        element.external_reference = external.reference;
    }
}

/// The same straight surface reaching another side of the frame is one element, counted once (RULES 5). Where it is
/// built otherwise at the other side, no place says where one ends and the other begins.
void count_once(std::vector<FoundElement>& all) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (!all[i].internal_one_line) continue;
        for (std::size_t j = i + 1; j < all.size(); ++j) {
            auto &first = all[i].element, &second = all[j].element;
            if (!all[j].internal_one_line || first.warm_space != second.warm_space) continue;
            if (all[i].warm.end() != all[j].warm_end) continue;
            const bool same = first.cold_space == second.cold_space && first.ground == second.ground &&
                              (first.ground || (first.U && second.U && std::abs(*first.U - *second.U) <= 1e-9 * *first.U));
            if (same) {
                all.erase(all.begin() + std::ptrdiff_t(j));
            } else {
                first.internal_length.reset(), first.external_length.reset();
                second.internal_length.reset(), second.external_length.reset();
            }
            break;
        }
    }
}

/// A floor on soil has no cold surface of its own: outside lengths run to the outer face plane of the wall it meets.
void floors_to_outer_face(const Rect& frame, std::vector<FoundElement>& all) {
    for (auto& floor : all) {
        if (!floor.element.ground || floor.element.external_reference) continue;
        const FoundElement* wall = wall_of(floor, all);
        if (!wall || !wall->element.external_reference) continue;
        floor.element.external_reference = wall->element.external_reference;
        floor.element.external_length = distance_from_side(frame, floor.element.side, *wall->element.external_reference);
    }
}

void apply_overrides(const SectionView& view, std::vector<FoundElement>& all) {
    std::set<const FoundElement*> taken;
    const Rect& frame = view.arrangement.frame;
    for (const auto& user : view.section.elements) {
        FoundElement* match = nullptr;
        for (auto& found : all)
            if (found.element.side == user.cut && found.element.id == user.id && !taken.contains(&found)) match = &found;
        for (auto& found : all)
            if (!match && found.element.side == user.cut && !taken.contains(&found)) match = &found;
        if (!match) continue;
        taken.insert(match);
        auto& element = match->element;
        if (!user.id.empty()) element.id = user.id;
        if (user.internal) {
            element.internal_reference = user.internal;
            element.internal_length = distance_from_side(frame, element.side, *user.internal);
        }
        if (user.external) {
            element.external_reference = user.external;
            element.external_length = distance_from_side(frame, element.side, *user.external);
        }
    }
}

}  // namespace

std::string conductivity_source(const SectionView& view, int face) {
    const Face& f = view.arrangement.faces[face];
    if (f.kind != FaceKind::solid || f.piece < 0) return {};
    const auto& conductivity = view.conductivity[face];
    std::string text = to_string(conductivity.used);
    if (conductivity.undeclared) text += ", as " + to_string(conductivity.asked) + " is not declared";
    const Material* material = view.study.find_material(view.section.pieces[f.piece].filled_with);
    std::string source, fractile;
    if (material) {
        const auto declared = material->lambda.by_condition.find(conductivity.used);
        if (declared != material->lambda.by_condition.end()) {
            source = declared->second.source;
            fractile = fractile_words(declared->second);
        }
        if (material->kind == MaterialKind::airspace && material->lambda.by_condition.empty())
            return "airspace, resistance by ISO 6946";
    }
    if (!conductivity.parts.empty()) return "of its parts, " + text;
    if (conductivity.factor != 1) text += " × " + shown(conductivity.factor) + " for temperature and age (ISO 10456)";
    if (!fractile.empty()) text += ", " + fractile;
    return text + "; " + (source.empty() ? "no source stated" : source);
}

bool is_soil(const SectionView& view, int face) {
    const Face& f = view.arrangement.faces[face];
    if (f.kind != FaceKind::solid || f.piece < 0) return false;
    const Material* material = view.study.find_material(view.section.pieces[f.piece].filled_with);
    return material && material->kind == MaterialKind::soil;
}

const FoundElement* wall_of(const FoundElement& floor, const std::vector<FoundElement>& all) {
    const FoundElement* only = nullptr;
    int walls = 0;
    for (const auto& wall : all) {
        if (wall.element.ground || wall.element.warm_space != floor.element.warm_space ||
            wall.element.cold_space != floor.element.cold_space)
            continue;
        if (wall.element.internal_reference && wall.element.internal_reference == floor.element.internal_reference)
            return &wall;
        only = &wall;
        ++walls;
    }
    return walls == 1 ? only : nullptr;
}

int coldest_outside_space(const Section& section, const std::vector<double>& temperatures) {
    int coldest = -1;
    for (std::size_t i = 0; i < section.spaces.size(); ++i)
        if (section.spaces[i].kind == SpaceKind::outside && (coldest < 0 || temperatures[i] < temperatures[coldest]))
            coldest = int(i);
    return coldest;
}

std::vector<Element::Layer> layers_of(const SectionView& view, CutSide side, const std::vector<MetFace>& met) {
    std::vector<Element::Layer> layers;
    for (const auto& m : met) {
        const auto& face = view.arrangement.faces[m.face];
        const double thickness = to_m(std::abs(m.to.x - m.from.x) + std::abs(m.to.y - m.from.y));
        const auto& conductivity = view.conductivity[m.face];
        const double value = upright(side) ? conductivity.up : conductivity.across;
        if (thickness <= 0 || value <= 0) continue;
        std::string name;
        if (face.piece >= 0) {
            const auto& id = view.section.pieces[face.piece].filled_with;
            const Material* material = view.study.find_material(id);
            name = material && !material->name.empty() ? material->name : id;
        }
        const std::string source = conductivity_source(view, m.face);
        if (!layers.empty() && layers.back().name == name && layers.back().conductivity == value && layers.back().source == source)
            layers.back().thickness_m += thickness;
        else
            layers.push_back({name, thickness, value, 0, source, m.face});
    }
    for (auto& layer : layers) layer.resistance = iso6946::layer_resistance(layer.thickness_m, layer.conductivity);
    return layers;
}

std::vector<FoundElement> find_elements(const SectionView& view) {
    std::vector<FoundElement> all;
    for (const auto side : {CutSide::top, CutSide::left, CutSide::right, CutSide::bottom})
        for (auto& element : elements_of_side(view, side)) all.push_back(std::move(element));
    measure_lengths(view, all);
    count_once(all);
    std::vector<FoundElement> drawn = all;
    floors_to_outer_face(view.arrangement.frame, drawn);
    for (std::size_t i = 0; i < all.size(); ++i) {
        all[i].drawn_internal = drawn[i].element.internal_reference;
        all[i].drawn_external = drawn[i].element.external_reference;
    }
    apply_overrides(view, all);
    floors_to_outer_face(view.arrangement.frame, all);
    for (auto& found : all)
        if (found.element.reason.empty() && !found.element.internal_length && !found.element.external_length)
            found.element.reason = "element-no-reference";
    return all;
}

}  // namespace wallfoot

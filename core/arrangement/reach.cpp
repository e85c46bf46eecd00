// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/reach.hpp"

#include <algorithm>
#include <cmath>

#include "core/arrangement/resolve.hpp"

namespace wallfoot {
namespace {

/// The solid (or cut out) run between inside and outside: its two planes in x.
struct Wall {
    Micrometres internal = 0, outer = 0;
};

class Reach {
  public:
    Reach(const Study& study, const Section& section, const Arrangement& drawn)
        : section_(section), drawn_(drawn), convention_(study.used_convention()), study_(study) {
        width_ = static_cast<double>(study.floor_width.value_or(convention_.floor_width));
        find_spaces();
        find_wall();
    }
    Micrometres target(CutSide side) const;

  private:
    void find_spaces();
    void find_wall();
    bool wall_on(CutSide side);
    bool wall_from_surfaces();
    double temperature(const Space& space) const;
    bool is_soil(int face) const;
    bool is_inside(int face) const { return drawn_.faces[face].kind == FaceKind::air && is_in_[drawn_.faces[face].space + 1]; }
    bool is_outside(int face) const { return drawn_.faces[face].kind == FaceKind::air && drawn_.faces[face].space == outside_ && outside_ >= 0; }
    bool meets_soil(CutSide side) const;
    bool is_inside_side(CutSide side) const;
    Micrometres ground() const;
    Micrometres without_soil(CutSide side) const;
    Micrometres thickness(CutSide side) const;
    Micrometres last_feature(CutSide side) const;
    Micrometres times_width(double factor) const { return std::llround(factor * width_); }

    const Section& section_;
    const Arrangement& drawn_;
    const Convention& convention_;
    const Study& study_;
    double width_ = 0;              ///< b, µm
    std::vector<char> is_in_;       ///< by space + 1: inside, or unheated where there is no inside
    int outside_ = -1;              ///< the coldest outside space
    std::optional<Wall> wall_;
};

double Reach::temperature(const Space& space) const {
    return space.temperature.value_or(convention_.outside_temperature);
}

void Reach::find_spaces() {
    const auto& spaces = section_.spaces;
    const bool any_inside = std::any_of(spaces.begin(), spaces.end(), [](const Space& s) { return s.kind == SpaceKind::inside; });
    is_in_.assign(spaces.size() + 1, 0);
    for (std::size_t s = 0; s < spaces.size(); ++s) {
        is_in_[s + 1] = spaces[s].kind == (any_inside ? SpaceKind::inside : SpaceKind::unheated);
        if (spaces[s].kind != SpaceKind::outside) continue;
        if (outside_ < 0 || temperature(spaces[s]) < temperature(spaces[outside_])) outside_ = static_cast<int>(s);
    }
}

/// The first run on this side of the cut with inside air at one end and outside air at the other.
bool Reach::wall_on(CutSide side) {
    const auto parts = along_side(drawn_, side);
    int last_air = -1;
    for (int i = 0; i < static_cast<int>(parts.size()); ++i) {
        if (drawn_.faces[parts[i].face].kind != FaceKind::air) continue;
        if (last_air >= 0 && i > last_air + 1) {
            const int a = parts[last_air].face, b = parts[i].face;
            if (is_inside(a) && is_outside(b)) wall_ = Wall{parts[last_air].to, parts[i].from};
            if (is_outside(a) && is_inside(b)) wall_ = Wall{parts[i].from, parts[last_air].to};
            if (wall_) return true;
        }
        last_air = i;
    }
    return false;
}

/// Where no cut shows the wall: the outermost surfaces of the two spaces within 30° of upright.
bool Reach::wall_from_surfaces() {
    std::vector<Micrometres> in, out;
    for (const ArrangedEdge& edge : drawn_.edges) {
        if (edge.left < 0 || edge.right < 0) continue;
        const Point a = drawn_.vertices[edge.from], b = drawn_.vertices[edge.to];
        if (std::abs(b.x - a.x) * std::sqrt(3.0) > std::abs(b.y - a.y)) continue;
        for (const auto& [air, solid] : {std::pair(edge.left, edge.right), std::pair(edge.right, edge.left)}) {
            if (drawn_.faces[solid].kind == FaceKind::air) continue;
            auto* list = is_inside(air) ? &in : (is_outside(air) ? &out : nullptr);
            if (list) list->insert(list->end(), {a.x, b.x});
        }
    }
    if (in.empty() || out.empty()) return false;
    const auto [in_least, in_most] = std::minmax_element(in.begin(), in.end());
    const auto [out_least, out_most] = std::minmax_element(out.begin(), out.end());
    wall_ = *in_most + *in_least <= *out_most + *out_least ? Wall{*in_most, *out_most} : Wall{*in_least, *out_least};
    return true;
}

void Reach::find_wall() { (void)(wall_on(CutSide::top) || wall_on(CutSide::bottom) || wall_from_surfaces()); }

bool Reach::is_soil(int face) const {
    const Face& f = drawn_.faces[face];
    if (f.kind != FaceKind::solid) return false;
    const Material* material = study_.find_material(section_.pieces[f.piece].filled_with);
    return material && material->kind == MaterialKind::soil;
}

bool Reach::meets_soil(CutSide side) const {
    const auto parts = along_side(drawn_, side);
    return std::any_of(parts.begin(), parts.end(), [&](const SidePart& part) { return is_soil(part.face); });
}

/// Whether the floor lies on this side: the first air above the soil is inside or unheated, or the inside lies further up
/// (a floor over a void that counts as outside air).
bool Reach::is_inside_side(CutSide side) const {
    const auto parts = along_side(drawn_, side);
    std::size_t above = 0;
    for (std::size_t i = 0; i < parts.size(); ++i)
        if (is_soil(parts[i].face)) above = i + 1;
    bool first = true;
    for (std::size_t i = above; i < parts.size(); ++i) {
        const Face& face = drawn_.faces[parts[i].face];
        if (face.kind != FaceKind::air || face.space < 0) continue;
        const SpaceKind kind = section_.spaces[face.space].kind;
        if (kind == SpaceKind::inside || (first && kind == SpaceKind::unheated)) return true;
        first = false;
    }
    return false;
}

Micrometres Reach::ground() const {
    const CutSide outside = is_inside_side(CutSide::right) ? CutSide::left : CutSide::right;
    if (const auto y = level_at(section_.ground, drawn_.cut, place(drawn_.cut, outside))) return *y;
    for (const CutSide side : {outside, outside == CutSide::left ? CutSide::right : CutSide::left}) {
        std::optional<Micrometres> top;
        for (const SidePart& part : along_side(drawn_, side))
            if (is_soil(part.face)) top = part.to;
        if (top) return *top;
    }
    return drawn_.cut.bottom;
}

/// Thickness of the element that leaves through this side: its run between inside and outside, else the longest run of solid.
Micrometres Reach::thickness(CutSide side) const {
    Micrometres longest = 0, from = 0;
    bool open = false;
    for (const SidePart& part : along_side(drawn_, side)) {
        const bool solid = drawn_.faces[part.face].kind == FaceKind::solid;
        if (solid && !open) from = part.from;
        open = solid;
        if (solid) longest = std::max(longest, part.to - from);
    }
    return longest;
}

/// Outermost place towards the side where the drawing still changes: a vertex inside the cut that is not straight through.
Micrometres Reach::last_feature(CutSide side) const {
    const int count = static_cast<int>(drawn_.vertices.size());
    std::vector<std::vector<Point>> ends(count);
    for (const ArrangedEdge& edge : drawn_.edges) {
        if (edge.left == edge.right) continue;  // a membrane takes no part in the heat flow
        ends[edge.from].push_back(drawn_.vertices[edge.to]);
        ends[edge.to].push_back(drawn_.vertices[edge.from]);
    }
    const Rect& cut = drawn_.cut;
    const int outward = side == CutSide::right || side == CutSide::top ? 1 : -1;
    std::optional<Micrometres> last;
    for (int v = 0; v < count; ++v) {
        const Point p = drawn_.vertices[v];
        if (p.x <= cut.left || p.x >= cut.right || p.y <= cut.bottom || p.y >= cut.top || ends[v].empty()) continue;
        if (ends[v].size() == 2 && cross(ends[v][0], p, ends[v][1]) == 0) continue;
        const Micrometres at = is_upright(side) ? p.x : p.y;
        if (!last || outward * (at - *last) > 0) last = at;
    }
    if (last) return *last;
    return outward > 0 ? (is_upright(side) ? cut.left : cut.bottom) : (is_upright(side) ? cut.right : cut.top);
}

Micrometres Reach::without_soil(CutSide side) const {
    const Micrometres away = std::max(convention_.least_distance, static_cast<Micrometres>(std::llround(
                                                                      convention_.thickness_factor * static_cast<double>(thickness(side)))));
    const int outward = side == CutSide::right || side == CutSide::top ? 1 : -1;
    return last_feature(side) + outward * away;
}

/// Target plane of an `auto` side, before "never nearer than drawn".
Micrometres Reach::target(CutSide side) const {
    if (!meets_soil(side) || side == CutSide::top) return without_soil(side);
    if (side == CutSide::bottom) return ground() - times_width(convention_.depth);
    const int outward = side == CutSide::right ? 1 : -1;
    const bool inside = is_inside_side(side);
    // Without a wall to measure from, from the cut: rather too far than too near.
    const Micrometres plane = wall_ ? (inside ? wall_->internal : wall_->outer) : place(drawn_.cut, side);
    return plane + outward * times_width(inside ? convention_.inside_distance : convention_.outside_distance);
}

Micrometres& set_place(Rect& rect, CutSide side) {
    switch (side) {
        case CutSide::left: return rect.left;
        case CutSide::bottom: return rect.bottom;
        case CutSide::right: return rect.right;
        case CutSide::top: break;
    }
    return rect.top;
}

}  // namespace

bool has_automatic(const Section& section) {
    return std::any_of(section.beyond.begin(), section.beyond.end(), [](const auto& b) { return b.second.automatic; });
}

Rect reach(const Study& study, const Section& section, const Arrangement& drawn, std::vector<Message>& messages) {
    std::optional<Reach> automatic;
    if (has_automatic(section)) {
        try {
            automatic.emplace(study, section, drawn);
        } catch (const InputFault& fault) {  // no convention
            messages.insert(messages.end(), fault.faults().begin(), fault.faults().end());
        }
    }
    Rect frame = section.cut;
    for (const auto& [side, beyond] : section.beyond) {
        const int outward = side == CutSide::right || side == CutSide::top ? 1 : -1;
        const Micrometres from = place(section.cut, side);
        // Distances are capped first, so that nothing can run over.
        Micrometres far = from + outward * std::clamp(beyond.distance, Micrometres{0}, 3 * coordinate_limit);
        if (beyond.automatic) far = automatic ? automatic->target(side) : from;
        if (outward * (far - from) < 0) far = from;
        if (std::abs(far) > coordinate_limit) {
            const Rect& cut = section.cut;
            const Point at = is_upright(side) ? Point{from, cut.bottom + cut.height() / 2} : Point{cut.left + cut.width() / 2, from};
            messages.push_back({Severity::fault, "beyond-too-far", {{"side", to_string(side)}}, at, ""});
            far = outward * coordinate_limit;
        }
        set_place(frame, side) = far;
    }
    return frame;
}

}  // namespace wallfoot

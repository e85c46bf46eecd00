// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/exchange/dxf.hpp"
#include "core/exchange/dxf_curves.hpp"
#include "core/exchange/dxf_hatch.hpp"
#include "core/exchange/dxf_pairs.hpp"

namespace wallfoot {

namespace dxf {

namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double curve_tolerance = 0.1;  // mm

struct Block {
    Place base;
    std::vector<Entity> entities;
};

/// mm of the unit that $INSUNITS names (group code reference of the format); 0: none, or one for maps and stars.
double mm_of_unit(int code) {
    switch (code) {
        case 1: return 25.4;
        case 2: return 304.8;
        case 4: return 1;
        case 5: return 10;
        case 6: return 1000;
        case 8: return 25.4e-6;
        case 9: return 0.0254;
        case 10: return 914.4;
        case 13: return 0.001;
        case 14: return 100;
        default: return 0;
    }
}

/// How the plane of an entity lies in the drawing: the same, seen from behind, or neither.
enum class Plane { same, behind, tilted };
Plane plane_of(const Entity& entity) {
    const double x = entity.number(210, 0), y = entity.number(220, 0), z = entity.number(230, 1);
    if (std::abs(x) > 1e-9 || std::abs(y) > 1e-9 || z == 0) return Plane::tilted;
    return z > 0 ? Plane::same : Plane::behind;
}

class Reader {
  public:
    Reader(std::string_view bytes, double mm_per_unit) : pairs_(pairs_of(bytes)), asked_(mm_per_unit) {}

    Drawing read() {
        divide();
        const double mm = asked_ > 0 ? asked_ : drawing_.mm_per_unit > 0 ? drawing_.mm_per_unit : 1;
        tolerance_ = curve_tolerance / mm;
        for (const Entity& entity : entities_) take(entity, {}, -1, 0);
        return std::move(drawing_);
    }

  private:
    // ---- the parts of the file ----------------------------------------------------------------------------------

    void divide() {
        std::string_view section;
        std::vector<Entity> all;
        for (std::size_t i = 0; i < pairs_.size();) {
            if (pairs_[i].code != 0) refuse("dxf-broken", pairs_[i].line);
            std::size_t end = i + 1;
            while (end < pairs_.size() && pairs_[end].code != 0) ++end;
            all.push_back({&pairs_[i], pairs_.data() + end});
            i = end;
        }
        Block* block = nullptr;
        for (const Entity& entity : all) {
            const std::string_view kind = entity.kind();
            if (kind == "SECTION") {
                const Pair* name = entity.find(2);
                section = name ? name->value : std::string_view();
                if (section == "HEADER") read_header(entity);
            } else if (kind == "ENDSEC" || kind == "EOF") {
                section = {};
                block = nullptr;
            } else if (section == "TABLES" && kind == "LAYER") {
                read_layer(entity);
            } else if (section == "BLOCKS" && kind == "BLOCK") {
                const Pair* name = entity.find(2);
                block = &blocks_[name ? name->value : std::string_view()];
                block->base = entity.point(10);
            } else if (section == "BLOCKS" && kind == "ENDBLK") {
                block = nullptr;
            } else if (section == "BLOCKS" && block) {
                add_to(block->entities, entity);
            } else if (section == "ENTITIES") {
                add_to(entities_, entity);
            }
        }
    }

    /// What follows a POLYLINE or an INSERT up to its SEQEND belongs to it; of a POLYLINE their pairs lie one behind the other.
    void add_to(std::vector<Entity>& list, const Entity& entity) {
        const std::string_view kind = entity.kind();
        const bool part = kind == "VERTEX" || kind == "SEQEND" || kind == "ATTRIB";
        // The texts of a placed block have codes of their own that must not be taken for those of its place.
        if (part && !list.empty() && list.back().kind() == "INSERT") {
            if (kind == "ATTRIB") leave_out("ATTRIB");
            return;
        }
        if (part && !list.empty() && list.back().last == entity.first) list.back().last = entity.last;
        else list.push_back(entity);
    }

    void read_header(const Entity& header) {
        for (const Pair* pair = header.begin(); pair + 1 < header.end(); ++pair)
            if (pair->code == 9 && pair->value == "$INSUNITS") drawing_.mm_per_unit = mm_of_unit(whole_of(pair[1]));
    }

    void read_layer(const Entity& entity) {
        const Pair* name = entity.find(2);
        const bool frozen = entity.whole(70, 0) & 1, off = entity.whole(62, 7) < 0;
        if (name) drawing_.layers[static_cast<std::size_t>(layer_of(name->value))].shown = !frozen && !off;
    }

    int layer_of(std::string_view name) {
        const auto [found, is_new] = layer_index_.try_emplace(name, static_cast<int>(drawing_.layers.size()));
        if (is_new) drawing_.layers.push_back({text_of(name), true});
        return found->second;
    }

    // ---- entities -------------------------------------------------------------------------------------------------

    void leave_out(const std::string& what) { ++drawing_.left_out[what]; }

    /// `to` takes the entity to the drawing; `layer` is that of the block's place (−1: none), used for layer 0.
    void take(const Entity& entity, const Affine& to, int layer, int depth) {
        if (++taken_ > dxf_entity_limit) refuse("dxf-too-many", entity.line(), {{"limit", std::to_string(dxf_entity_limit)}});
        const std::string kind = text_of(entity.kind().substr(0, 40));
        if (entity.whole(67, 0) == 1) return leave_out("on paper layouts");
        if (entity.whole(60, 0) == 1) return leave_out(kind + ", invisible");
        const Pair* name = entity.find(8);
        const std::string_view own = name ? name->value : std::string_view("0");
        const int on = own == "0" && layer >= 0 ? layer : layer_of(own);
        if (kind == "INSERT") return insert(entity, to, on, depth);
        const Plane plane = plane_of(entity);
        const bool in_own_plane = kind != "LINE" && kind != "SPLINE" && kind != "ELLIPSE";
        if (in_own_plane && plane == Plane::tilted) return leave_out(kind + ", tilted");
        const Affine shown = in_own_plane && plane == Plane::behind ? to.after({-1, 0, 0, 1, 0, 0}) : to;
        if (kind == "HATCH") {
            auto outlines = hatch_outlines(entity, shown, tolerance_);
            if (!outlines || outlines->empty()) return leave_out(kind);
            for (Stroke& stroke : *outlines) add(std::move(stroke), on, entity);
            return;
        }
        auto stroke = stroke_of(entity, kind, shown, plane);
        if (stroke) add(std::move(*stroke), on, entity);
        else leave_out(kind);
    }

    void add(Stroke stroke, int layer, const Entity& entity) {
        points_ += stroke.points.size();
        if (points_ > dxf_point_limit) refuse("dxf-too-many", entity.line(), {{"limit", std::to_string(dxf_point_limit)}});
        if (stroke.points.size() < 2) return leave_out(text_of(entity.kind()) + ", without length");
        stroke.layer = layer;
        drawing_.strokes.push_back(std::move(stroke));
    }

    std::optional<Stroke> stroke_of(const Entity& entity, const std::string& kind, const Affine& to, Plane plane) {
        if (kind == "LINE") return Stroke{{to(entity.point(10)), to(entity.point(11))}};
        if (kind == "LWPOLYLINE") return polyline(entity, to);
        if (kind == "POLYLINE") return old_polyline(entity, to);
        if (kind == "CIRCLE" || kind == "ARC") {
            const double r = entity.number(40, 0);
            Arc arc{entity.point(10), {r, 0}, {0, r}, 0, 2 * std::numbers::pi};
            if (kind == "ARC") {
                arc.from = entity.number(50, 0) * degree;
                arc.to = entity.number(51, 360) * degree;
                if (std::abs(arc.from) > 1e3 || std::abs(arc.to) > 1e3) return std::nullopt;  // no angle, and long to unwind
                while (arc.to <= arc.from) arc.to += 2 * std::numbers::pi;
            }
            return r > 0 ? std::optional(arc_stroke(arc, to, kind == "CIRCLE")) : std::nullopt;
        }
        if (kind == "ELLIPSE") {
            if (plane == Plane::tilted) return std::nullopt;
            const Place major = entity.point(11);
            const double ratio = entity.number(40, 1) * (plane == Plane::behind ? -1 : 1);
            Arc arc{entity.point(10), major, {-major.y * ratio, major.x * ratio}, entity.number(41, 0), entity.number(42, 2 * std::numbers::pi)};
            if (std::abs(arc.from) > 1e3 || std::abs(arc.to) > 1e3) return std::nullopt;
            while (arc.to <= arc.from) arc.to += 2 * std::numbers::pi;
            return std::hypot(major.x, major.y) > 0 ? std::optional(arc_stroke(arc, to, arc.to - arc.from > 2 * std::numbers::pi - 1e-9)) : std::nullopt;
        }
        if (kind == "SPLINE") return spline(entity, to);
        return std::nullopt;
    }

    Stroke arc_stroke(const Arc& arc, const Affine& to, bool closed) const {
        Stroke stroke;
        if (!closed) stroke.points.push_back(to(arc.at(arc.from)));
        arc.append(stroke.points, to, tolerance_);
        stroke.closed = closed;
        return stroke;
    }

    Stroke polyline(const Entity& entity, const Affine& to) const {
        Vertices vertices;
        for (const Pair& pair : entity) {
            if (pair.code == 10) vertices.push_back({{number_of(pair), 0}, 0});
            else if (pair.code == 20 && !vertices.empty()) vertices.back().at.y = number_of(pair);
            else if (pair.code == 42 && !vertices.empty()) vertices.back().bulge = number_of(pair);
        }
        return bulged(vertices, entity.whole(70, 0) & 1, to, tolerance_);
    }

    /// POLYLINE with its VERTEX entities behind it.
    std::optional<Stroke> old_polyline(const Entity& entity, const Affine& to) const {
        constexpr int mesh = 16 | 64, frame_of_a_curve = 16;
        const Pair* end_of_head = std::find_if(entity.begin(), entity.end(), [](const Pair& pair) { return pair.code == 0; });
        const int flags = Entity{entity.first, end_of_head}.whole(70, 0);
        if (flags & mesh) return std::nullopt;
        Vertices vertices;
        for (const Pair* pair = end_of_head; pair < entity.end();) {
            const Pair* next = std::find_if(pair + 1, entity.end(), [](const Pair& p) { return p.code == 0; });
            const Entity vertex{pair, next};
            if (vertex.kind() == "VERTEX" && !(vertex.whole(70, 0) & frame_of_a_curve)) vertices.push_back({vertex.point(10), vertex.number(42, 0)});
            pair = next;
        }
        return bulged(vertices, flags & 1, to, tolerance_);
    }

    std::optional<Stroke> spline(const Entity& entity, const Affine& to) const {
        Spline spline;
        spline.degree = entity.whole(71, 3);
        spline.knots = entity.all(40);
        spline.weights = entity.all(41);
        const auto x = entity.all(10), y = entity.all(20);
        for (std::size_t i = 0; i < std::min(x.size(), y.size()); ++i) spline.control.push_back({x[i], y[i]});
        if (!spline.sound()) return std::nullopt;
        Stroke stroke{{to(spline.at(spline.begin()))}};
        spline.append(stroke.points, to, tolerance_);
        return stroke;
    }

    void insert(const Entity& entity, const Affine& to, int layer, int depth) {
        const Pair* name = entity.find(2);
        const auto block = blocks_.find(name ? name->value : std::string_view());
        if (block == blocks_.end()) return leave_out("INSERT of a block that is not there");
        if (depth >= dxf_depth_limit) refuse("dxf-nested", entity.line(), {{"block", text_of(block->first.substr(0, 80))}, {"limit", std::to_string(dxf_depth_limit)}});
        const Plane plane = plane_of(entity);
        if (plane == Plane::tilted) return leave_out("INSERT, tilted");
        const Affine seen = plane == Plane::behind ? to.after({-1, 0, 0, 1, 0, 0}) : to;
        const double sx = entity.number(41, 1), sy = entity.number(42, 1), angle = entity.number(50, 0) * degree;
        const double c = std::cos(angle), s = std::sin(angle);
        const Place at = entity.point(10);
        const int columns = std::max(1, entity.whole(70, 1)), rows = std::max(1, entity.whole(71, 1));
        const double across = entity.number(44, 0), up = entity.number(45, 0);
        for (int row = 0; row < rows; ++row)
            for (int column = 0; column < columns; ++column) {
                const Affine turn{c, s, -s, c, at.x, at.y};
                const Affine scale{sx, 0, 0, sy, column * across - sx * block->second.base.x, row * up - sy * block->second.base.y};
                for (const Entity& part : block->second.entities) take(part, seen.after(turn).after(scale), layer, depth + 1);
                // An empty block takes time too.
                if (++taken_ > dxf_entity_limit) refuse("dxf-too-many", entity.line(), {{"limit", std::to_string(dxf_entity_limit)}});
            }
        for (const Pair& pair : entity)
            if (pair.code == 0 && pair.value == "ATTRIB") leave_out("ATTRIB");
    }

    std::vector<Pair> pairs_;
    double asked_, tolerance_ = curve_tolerance;
    Drawing drawing_;
    std::map<std::string_view, int> layer_index_;
    std::map<std::string_view, Block> blocks_;
    std::vector<Entity> entities_;
    std::size_t taken_ = 0, points_ = 0;
};

}  // namespace

}  // namespace dxf

Drawing read_dxf(std::string_view bytes, double mm_per_unit) { return dxf::Reader(bytes, mm_per_unit).read(); }

}  // namespace wallfoot

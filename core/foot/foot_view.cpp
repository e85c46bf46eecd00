// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/foot/foot_view.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include "core/water/capillary.hpp"

namespace wallfoot {

namespace {

bool is_level(Point a, Point b) { return std::abs(b.y - a.y) < std::abs(b.x - a.x); }

/// Membranes that a damp-proof course may be made of.
bool may_be_dpc(MembraneKind kind) { return kind != MembraneKind::tanking && kind != MembraneKind::tray; }

/// A membrane further than this from the level stated is another one.
constexpr Micrometres level_reach = 150 * um_per_mm;

bool overlap(double a1, double a2, double b1, double b2) { return std::min(a2, b2) - std::max(a1, b1) > 1; }

}  // namespace

FootView::FootView(const Study& its_study, const Section& its_section, const Arrangement& its_arrangement, const WaterWay& its_way)
    : study(its_study), section(its_section), arrangement(its_arrangement), way(its_way) {
    for (const Face& face : arrangement.faces)
        material_.push_back(face.kind == FaceKind::solid && face.piece >= 0
                                ? study.find_material(section.pieces[static_cast<std::size_t>(face.piece)].filled_with)
                                : nullptr);
    for (const Piece& piece : section.pieces) {
        const Material* of = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
        const auto [left, right] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point a, Point b) { return a.x < b.x; });
        leaf_piece_.push_back(of && of->kind == MaterialKind::masonry && right->x - left->x <= widest_leaf);
    }
    for (const Point p : arrangement.vertices)
        if (arrangement.cut.contains(p)) heights_.push_back(p.y);
    std::sort(heights_.begin(), heights_.end());
    heights_.erase(std::unique(heights_.begin(), heights_.end()), heights_.end());
    for (const int toward : {1, -1}) find_side(toward);
}

bool FootView::is_soil(int face) const { return material(face) && is_ground(material(face)->kind); }

bool FootView::is_air_of(int face, SpaceKind kind) const {
    if (face < 0) return false;
    const Face& of = arrangement.faces[static_cast<std::size_t>(face)];
    return of.kind == FaceKind::air && of.space >= 0 && section.spaces[static_cast<std::size_t>(of.space)].kind == kind;
}

bool FootView::fills_cavity(int face) const {
    if (face < 0) return false;
    if (const Material* of = material(face)) return of->kind == MaterialKind::airspace || of->kind == MaterialKind::insulation;
    return arrangement.faces[static_cast<std::size_t>(face)].kind == FaceKind::air && !is_air_of(face, SpaceKind::inside);
}

bool FootView::is_leaf(int face) const {
    return face >= 0 && arrangement.faces[static_cast<std::size_t>(face)].kind == FaceKind::solid &&
           leaf_piece_[static_cast<std::size_t>(arrangement.faces[static_cast<std::size_t>(face)].piece)];
}

/// Where air straight above the ground ends below y: the top of what lies there, if there is soil or fill in it.
std::optional<Micrometres> FootView::ground_below(Micrometres x2, Micrometres y) const {
    const auto column = column_at(arrangement, x2);
    std::optional<Micrometres> top;
    for (auto met = column.rbegin(); met != column.rend(); ++met) {
        if (met->from >= static_cast<double>(y)) continue;  // a drip or a rail above the face is no ground
        if (!top && is_air_of(met->face, SpaceKind::outside)) continue;
        if (!top) top = static_cast<Micrometres>(std::llround(met->to));
        if (is_soil(met->face)) return top;
    }
    return std::nullopt;
}

void FootView::find_side(int toward) {
    // The steep face to outside air that begins lowest, with ground before it.
    FootSide side;
    side.toward = toward;
    std::optional<Micrometres> lowest, drawn;
    for (const ArrangedEdge& edge : arrangement.edges) {
        const Point a = vertex(edge.from), b = vertex(edge.to);
        if (is_level(a, b) || !arrangement.cut.contains(a) || !arrangement.cut.contains(b)) continue;
        const int right = b.y > a.y ? edge.right : edge.left, left = b.y > a.y ? edge.left : edge.right;
        const int air = toward > 0 ? right : left, solid = toward > 0 ? left : right;
        if (!is_air_of(air, SpaceKind::outside) || !material(solid) || is_soil(solid)) continue;
        const Micrometres bottom = std::min(a.y, b.y), x = toward > 0 ? std::max(a.x, b.x) : std::min(a.x, b.x);
        if (lowest && bottom >= *lowest) continue;
        const auto top = ground_below(2 * x + toward, std::max(a.y, b.y));
        if (!top) continue;
        lowest = bottom, drawn = top, side.face = x;
    }
    if (!drawn) return;
    side.stated = level_at(section.ground, arrangement.cut, side.face);
    side.ground = std::max(side.stated.value_or(*drawn), *drawn);
    find_leaves(side);
    sides_.push_back(std::move(side));
}

/// Runs of masonry in a row, from outside to inside; ends at the air inside.
std::vector<FootView::RowLeaf> FootView::leaves_in_row(Micrometres y2, int toward) const {
    auto row = row_at(arrangement, y2);
    if (toward > 0) std::reverse(row.begin(), row.end());
    std::vector<RowLeaf> leaves;
    bool open = false;
    for (const Met& met : row) {
        if (is_air_of(met.face, SpaceKind::inside)) break;
        const bool leaf = is_leaf(met.face);
        if (leaf && !open) leaves.push_back({met.from, met.to, {}});
        if (leaf) {
            leaves.back().from = std::min(leaves.back().from, met.from), leaves.back().to = std::max(leaves.back().to, met.to);
            leaves.back().faces.push_back(met.face);
        }
        open = leaf;
    }
    return leaves;
}

void FootView::find_leaves(FootSide& side) const {
    const auto level = level_at(section.dpc, arrangement.cut, side.face);
    const Micrometres about = level.value_or(side.ground + 150 * um_per_mm);
    // The rows just above and just below; a leaf may end at the damp-proof course.
    std::vector<Micrometres> rows;
    const auto above = std::upper_bound(heights_.begin(), heights_.end(), about);
    if (above != heights_.end() && above != heights_.begin()) rows.push_back(*std::prev(above) + *above);
    const auto at = std::lower_bound(heights_.begin(), heights_.end(), about);
    if (at != heights_.end() && at != heights_.begin()) rows.push_back(*std::prev(at) + *at);
    for (const Micrometres y2 : rows)
        for (const RowLeaf& found : leaves_in_row(y2, side.toward)) {
            const auto same = std::find_if(side.leaves.begin(), side.leaves.end(), [&](const WallLeaf& leaf) { return overlap(leaf.from, leaf.to, found.from, found.to); });
            WallLeaf& leaf = same == side.leaves.end() ? side.leaves.emplace_back(WallLeaf{found.from, found.to, {}, false, {}, {}}) : *same;
            for (const int face : found.faces) leaf.pieces.push_back(arrangement.faces[static_cast<std::size_t>(face)].piece);
            std::sort(leaf.pieces.begin(), leaf.pieces.end());
            leaf.pieces.erase(std::unique(leaf.pieces.begin(), leaf.pieces.end()), leaf.pieces.end());
        }
    std::sort(side.leaves.begin(), side.leaves.end(), [&](const WallLeaf& a, const WallLeaf& b) { return side.toward > 0 ? a.from > b.from : a.from < b.from; });
    for (WallLeaf& leaf : side.leaves) find_dpc(side, leaf);
}

void FootView::find_dpc(const FootSide& side, WallLeaf& leaf) const {
    const auto level = level_at(section.dpc, arrangement.cut, static_cast<Micrometres>(std::llround((leaf.from + leaf.to) / 2)));
    leaf.dpc = level;
    std::map<Micrometres, std::vector<int>> drawn;  // by height
    for (const ArrangedEdge& edge : arrangement.edges) {
        const Point a = vertex(edge.from), b = vertex(edge.to);
        const double left = static_cast<double>(std::min(a.x, b.x)), right = static_cast<double>(std::max(a.x, b.x));
        if (!is_level(a, b) || !overlap(left, right, leaf.from, leaf.to) || (!is_leaf(edge.left) && !is_leaf(edge.right))) continue;
        for (const int m : edge.membranes)
            if (may_be_dpc(section.membranes[static_cast<std::size_t>(m)].kind)) drawn[std::min(a.y, b.y)].push_back(m);
    }
    // The one nearest to the stated level, else the lowest above the ground, else the highest below it.
    const auto farness = [&](Micrometres y) {
        if (level) return static_cast<double>(std::abs(y - *level));
        const double above = static_cast<double>(y - side.ground);
        return above >= 0 ? above : 1e12 - above;
    };
    for (const auto& [y, membranes] : drawn)
        if ((!level || std::abs(y - *level) <= level_reach) && (!leaf.dpc_drawn || farness(y) < farness(*leaf.dpc))) leaf.dpc = y, leaf.dpc_drawn = true;
    if (!leaf.dpc_drawn) return;
    leaf.membranes = drawn[*leaf.dpc];
    std::sort(leaf.membranes.begin(), leaf.membranes.end());
    leaf.membranes.erase(std::unique(leaf.membranes.begin(), leaf.membranes.end()), leaf.membranes.end());
}

const std::vector<ZonePiece>& FootView::zones(const FootSide& side, Micrometres above, Micrometres below) const {
    const auto [at, is_new] = zones_.try_emplace({side.toward, above, below});
    if (is_new) at->second = find_zones(side, above, below);
    return at->second;
}

std::vector<ZonePiece> FootView::find_zones(const FootSide& side, Micrometres above, Micrometres below) const {
    std::vector<Micrometres> bounds = heights_;
    for (const Micrometres y : {side.ground + above, side.ground, side.ground - below})
        if (y > arrangement.cut.bottom && y < arrangement.cut.top) bounds.push_back(y);
    for (const WallLeaf& leaf : side.leaves)
        if (leaf.dpc) bounds.push_back(*leaf.dpc);
    std::sort(bounds.begin(), bounds.end());
    bounds.erase(std::unique(bounds.begin(), bounds.end()), bounds.end());
    std::map<std::pair<int, FootZone>, ZonePiece> found;
    for (std::size_t i = 1; i < bounds.size(); ++i) {
        const Micrometres y2 = bounds[i - 1] + bounds[i];
        const auto row = leaves_in_row(y2, side.toward);
        for (std::size_t order = 0; order < row.size(); ++order) {
            const RowLeaf& run = row[order];
            FootZone zone = y2 > 2 * (side.ground + above) ? FootZone::outer_above : y2 < 2 * (side.ground - below) ? FootZone::outer_below : FootZone::outer_band;
            if (order > 0) {
                auto dpc = level_at(section.dpc, arrangement.cut, static_cast<Micrometres>((run.from + run.to) / 2));
                for (const WallLeaf& leaf : side.leaves)
                    if (overlap(leaf.from, leaf.to, run.from, run.to) && leaf.dpc) dpc = leaf.dpc;
                zone = dpc && y2 > 2 * *dpc ? FootZone::inner_above : FootZone::inner_below;
            }
            for (const int face : run.faces) {
                const int piece = arrangement.faces[static_cast<std::size_t>(face)].piece;
                const Point at{static_cast<Micrometres>(std::llround((run.from + run.to) / 2)), y2 / 2};
                ZonePiece& here = found.try_emplace({piece, zone}, ZonePiece{piece, zone, at, false}).first->second;
                for (std::size_t p = 0; p < way.parts.size(); ++p)
                    if (way.net.parts[p].face == face && way.parts[p].state == WaterState::reached) here.reached = true;
            }
        }
    }
    std::vector<ZonePiece> zones;
    for (auto& [key, piece] : found) zones.push_back(piece);
    return zones;
}

}  // namespace wallfoot

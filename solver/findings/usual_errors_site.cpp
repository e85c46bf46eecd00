// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/usual_errors_search.hpp"

#include <algorithm>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "solver/findings/numbers.hpp"

// What is forgotten in the drawing, or goes wrong on the site.
namespace wallfoot {

namespace {

constexpr Micrometres beside = 1000;             // from an edge to what lies at its other side
constexpr Micrometres strip_width = 25'000, widest_strip = 60'000, thick_plaster = 60'000;
constexpr Micrometres droppings_height = 150'000;
constexpr Micrometres least_leaf = 50'000;         // thinner is plaster, render or a board (common practice, no source)
constexpr Micrometres least_fill = 30'000, widest_fill = 400'000;
constexpr Micrometres thin_screed = 20'000, thick_screed = 150'000;
constexpr double conducting = 0.3;               // W/(m·K): a screed or slab, no board
constexpr double heated_celsius = 28;

bool is_insulation(const Material* material) { return material && material->kind == MaterialKind::insulation; }
bool is_of_blocks(const Material* material) { return material && (material->kind == MaterialKind::masonry || material->kind == MaterialKind::concrete); }

Piece rectangle_of(const std::string& material, std::optional<Condition> moisture, Point a, Point b) {
    return {.id = {}, .name = {}, .fill = Fill::material, .filled_with = material, .moisture = moisture, .outline = rectangle_outline(a, b), .holes = {}, .courses = {}, .extra = {}};
}

}  // namespace

/// Insulation between the top layers of a floor and the wall: what it does where it is, or that it is not there.
void ErrorSearch::edge_strip() {
    const Element* floor = ground_floor_element();
    if (!floor || !floor->internal_reference || floor->layers.size() < 2 || floor->layers.front().face < 0) return;
    const bool left = floor->side == CutSide::left;
    Point corner = *floor->internal_reference;
    const Micrometres thickness = std::llround(floor->layers.front().thickness_m * 1e6);
    const auto inwards = [&](Micrometres by) { return left ? corner.x - by : corner.x + by; };
    const Micrometres middle = corner.y - thickness / 2;
    const Piece* at_edge = piece_at({inwards(beside), middle});
    if (!at_edge || !material_of(*at_edge)) return;
    const auto edge = static_cast<std::size_t>(at_edge - section_.pieces.data());
    if (!seen_[edge]) return;
    // Behind plaster, which ends on the floor, the layers go on to the wall.
    const Micrometres side = left ? seen_[edge]->box.right : seen_[edge]->box.left, further = left ? side - corner.x : corner.x - side;
    if (further > 0 && further <= thick_plaster) corner.x = side;
    if (is_insulation(material_of(*at_edge))) {
        if (!seen_[edge]->upright() || seen_[edge]->thickness() > widest_strip) return;
        const Piece* next = piece_at({inwards(seen_[edge]->box.width() + beside), middle});
        if (!next || !material_of(*next) || is_insulation(material_of(*next))) return;
        UsualError& error = add("error-strip-forgotten", {{"piece", shown_name(*at_edge)}}, false);
        error.piece = at_edge->id;
        error.at = corner;
        const Section touching_wall = add_piece(section_, rectangle_of(next->filled_with, next->moisture, {inwards(seen_[edge]->box.width()), corner.y - thickness}, corner));
        if (const auto found = tried(touching_wall)) take_change(error, {tried_section, *found}, {as_drawn, *drawn_});
        return;
    }
    // The top layer touches the wall. Only over insulation is that a strip forgotten: a slab may bear on the wall.
    const Face& below = drawn_->arrangement.faces[static_cast<std::size_t>(std::max(0, floor->layers[1].face))];
    if (floor->layers[1].face < 0 || below.piece < 0 || floor->layers.front().conductivity < conducting || conductivity_at({inwards(beside), middle}) < conducting) return;
    const Piece& insulation = section_.pieces[static_cast<std::size_t>(below.piece)];
    const Piece* wall = piece_at({inwards(-beside), middle});
    if (!is_insulation(material_of(insulation)) || !wall || wall == at_edge || !material_of(*wall) || is_insulation(material_of(*wall))) return;
    UsualError& error = add("error-no-strip", {{"piece", shown_name(*at_edge)}, {"strip", fixed(to_mm(strip_width), 0)}}, true);
    error.piece = at_edge->id;
    error.at = corner;
    Section mended = add_piece(section_, rectangle_of(insulation.filled_with, insulation.moisture, {inwards(strip_width), corner.y - thickness}, corner));
    if (const auto found = tried(mended)) {
        take_change(error, {as_drawn, *drawn_}, {mended_section, *found});
        error.mended = std::move(mended);
    }
}

/// Mortar on the foot of a filled cavity: the lowest part of an upright insulation between two leaves, as conducting as what it stands on.
void ErrorSearch::mortar_droppings() {
    for (std::size_t p = 0; p < section_.pieces.size(); ++p) {
        const Piece& piece = section_.pieces[p];
        if (!is_insulation(material_of(piece)) || !seen_[p] || !seen_[p]->upright()) continue;
        const Rect& box = seen_[p]->box;
        if (box.bottom <= drawn_->arrangement.frame.bottom) continue;  // it goes on below the drawing
        if (box.width() < least_fill || box.width() > widest_fill || box.height() < 3 * droppings_height) continue;
        const Micrometres x = box.left + box.width() / 2, y = box.bottom + droppings_height / 2;
        const Piece *foot = piece_at({x, box.bottom - beside}), *one = piece_at({box.left - beside, y}), *other = piece_at({box.right + beside, y});
        const auto leaf = [&](const Piece* of) {
            if (!of || !is_of_blocks(material_of(*of))) return false;
            const auto& seen = seen_[static_cast<std::size_t>(of - section_.pieces.data())];
            return seen && seen->box.width() >= least_leaf;
        };
        if (!leaf(one) || !leaf(other)) continue;
        if (foot && is_insulation(material_of(*foot))) continue;  // the fill goes on below: nothing to lie on
        const Piece* like = foot && is_of_blocks(material_of(*foot)) ? foot : one;
        UsualError& error = add("error-mortar-droppings", {{"piece", shown_name(piece)}, {"height", fixed(to_mm(droppings_height), 0)}}, false);
        error.piece = piece.id;
        error.at = Point{x, box.bottom};
        const Section bridged = add_piece(section_, rectangle_of(like->filled_with, like->moisture, {box.left, box.bottom}, {box.right, box.bottom + droppings_height}));
        if (const auto found = tried(bridged)) take_change(error, {tried_section, *found}, {as_drawn, *drawn_});
        return;  // the lowest course of one cavity says it
    }
}

/// A screed that is heated loses more than psi says, which knows the room's temperature only.
void ErrorSearch::heated_screed() {
    const Element* floor = ground_floor_element();
    if (!floor || floor->layers.size() < 2 || floor->layers.front().face < 0 || drawn_->heat_flow.empty()) return;
    const auto& layer = floor->layers.front();
    const Micrometres thickness = std::llround(layer.thickness_m * 1e6);
    const int piece = drawn_->arrangement.faces[static_cast<std::size_t>(layer.face)].piece;
    if (piece < 0 || thickness < thin_screed || thickness > thick_screed || layer.conductivity < conducting) return;
    const Piece& screed = section_.pieces[static_cast<std::size_t>(piece)];
    const auto outside = static_cast<std::size_t>(floor->cold_space);
    Section heated = section_;
    Space space{.id = "heated", .kind = SpaceKind::other, .at = {}, .temperature = heated_celsius, .balance = {}, .surface_resistance = SurfaceResistances{}, .side = {}, .name = {}, .extra = {}};
    while (find_space(heated, space.id)) space.id += "-2";
    heated.spaces.push_back(space);
    heated = set_fill(heated, screed.id, Fill::space, space.id);
    const auto found = tried(heated);
    if (!found || found->heat_flow.size() <= outside) return;
    const double more = drawn_->heat_flow[outside].value - found->heat_flow[outside].value;  // what reaches outside is below 0
    UsualError& error = add("error-heated-screed", {{"piece", shown_name(screed)}, {"temperature", fixed(heated_celsius, 0)}, {"more", fixed(more, 2)}}, false);
    error.piece = screed.id;
    error.at = drawn_->arrangement.faces[static_cast<std::size_t>(layer.face)].inside;
}

}  // namespace wallfoot

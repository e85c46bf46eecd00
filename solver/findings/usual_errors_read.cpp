// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/usual_errors_search.hpp"

#include <algorithm>
#include <cmath>

#include "core/file/quantities.hpp"
#include "core/standards/iso13370.hpp"
#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/psi.hpp"

// What others would make of the junction: errors of reading and of passing on.
namespace wallfoot {

namespace {

constexpr Micrometres small_ground = 2'000'000;  // a block of soil that looks large and is not
constexpr double other_U = 0.01;                 // W/(m²·K), by which the U of an energy calculation differs
constexpr double usual_length_m = 4;             // of a wall, where the study states none
constexpr double sheet_resistance = 0.03;        // m²·K/W, that is given to a membrane

/// An intermediate value of a derivation, by its name.
std::optional<double> input_of(const Findings& findings, const std::string& id, const std::string& name) {
    for (const Derivation& derivation : findings.derivations)
        if (derivation.id == id)
            for (const auto& input : derivation.inputs)
                if (input.name == name) return input.value;
    return std::nullopt;
}

}  // namespace

void ErrorSearch::dry_values() {
    Section dry = section_;
    bool any = false;
    for (std::size_t p = 0; p < section_.pieces.size(); ++p) {
        const Material* material = section_.pieces[p].fill == Fill::material ? study_.find_material(section_.pieces[p].filled_with) : nullptr;
        if (!material || material->kind != MaterialKind::masonry || wettest(p) < Condition::below_dpc) continue;
        dry = set_moisture(dry, section_.pieces[p].id, Condition::dry);
        any = true;
    }
    const auto found = any ? tried(dry) : nullptr;
    if (found) take_change(add("error-dry-values", {}, false), {tried_section, *found}, {as_drawn, *drawn_});
}

void ErrorSearch::little_ground() {
    Section little = section_;
    bool any = false;
    for (const CutSide side : {CutSide::left, CutSide::bottom, CutSide::right}) {
        const auto beyond = section_.beyond.find(side);
        if (beyond == section_.beyond.end() || !beyond->second.automatic) continue;
        // The floor keeps its width: its U is taken off for that one.
        if (std::any_of(drawn_->elements.begin(), drawn_->elements.end(), [&](const auto& element) { return element.ground && element.id == to_string(side); })) continue;
        little = set_beyond(little, side, Beyond{false, small_ground});
        any = true;
    }
    const auto found = any ? tried(little) : nullptr;
    if (found) take_change(add("error-little-ground", {{"metres", fixed(to_m(small_ground), 0)}}, false), {tried_section, *found}, {as_drawn, *drawn_});
}

void ErrorSearch::other_floor() {
    const Psi* psi = drawn_->headline_psi();
    if (!psi || !psi->value || !psi->by_iso13370) return;
    take_psi(add("error-other-floor", {}, false), {"psi with the floor by ISO 13370", *psi->by_iso13370, as_drawn}, {"psi with the floor alone by a second section", *psi->value, as_drawn});
}

void ErrorSearch::other_resistance() {
    const SurfaceFinding* checked = drawn_->headline_surface();
    if (!checked || !checked->fRsi || checked->purpose != Purpose::surface_check) return;
    for (const SurfaceFinding& surface : drawn_->surface) {
        if (surface.space != checked->space || surface.purpose != Purpose::heat_flow || !surface.fRsi) continue;
        take_factor(add("error-other-resistance", {}, false), surface, "this section, with the surface resistances of heat flow", *checked, "this section, with those of the surface check");
        return;
    }
}

/// Corrections for fixings and gaps belong to the plane element; taken off with U they are lost from the sum.
void ErrorSearch::corrections_in_psi() {
    double sum = 0;
    std::string elements;
    std::vector<Derivation::Input> inputs;
    for (const auto& [element, length] : taken_off()) {
        if (!element->corrected_U || *element->corrected_U <= *element->U) continue;
        inputs.push_back({"l, " + element->id, length, "m", "drawing"});
        inputs.push_back({"ΔU, " + element->id, *element->corrected_U - *element->U, "W/(m²·K)", "corrections for fixings and gaps"});
        sum += length * (*element->corrected_U - *element->U);
        elements += (elements.empty() ? "" : ", ") + element->id;
    }
    if (sum > 0) take_psi(add("error-corrections-in-psi", {{"elements", elements}}, false), -sum, "Δpsi = −Σ l·ΔU", std::move(inputs));
}

/// Of the longest plane element: what a U of the energy calculation does that is not the one taken off.
void ErrorSearch::other_transmittance() {
    const auto all = taken_off();
    const auto longest = std::max_element(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
    if (longest == all.end()) return;
    UsualError& error = add("error-other-U", {{"element", longest->first->id}, {"U", fixed(*longest->first->U, 3)}, {"more", fixed(other_U, 2)}, {"length", fixed(longest->second, 3)}}, false);
    error.at = longest->first->internal_reference;
    take_psi(error, longest->second * other_U, "Δpsi = l·ΔU", {{"l, " + longest->first->id, longest->second, "m", "drawing"}, {"ΔU", other_U, "W/(m²·K)", "tried"}});
}

/// psi is per metre: the heat of a whole wall typed in its place.
void ErrorSearch::per_length() {
    const Psi* psi = drawn_->headline_psi();
    if (!psi || !psi->value || (psi->value->lower <= 0 && psi->value->upper >= 0)) return;
    const auto stated = quantities(study_).junction;
    const double length = stated && *stated > 0 ? *stated : usual_length_m;
    if (length == 1) return;
    const double more = length - 1, one = more * psi->value->lower, other = more * psi->value->upper;
    take_psi(add("error-per-length", {{"metres", shown(length)}}, false), Bracketed{more * psi->value->value, std::min(one, other), std::max(one, other)}, "Δpsi = (l − 1 m)/(1 m)·psi",
             {{"l", length, "m", stated ? "building.quantities" : "usual length"}, {"psi", psi->value->value, "W/(m·K)", as_drawn}});
}

/// Internal lengths run from the floor surface and to the internal face plane: other ends count a stretch twice, in U·A and not in psi.
void ErrorSearch::other_lengths() {
    const Psi* psi = drawn_->headline_psi();
    if (!psi || !psi->value || psi->lengths != LengthSystem::internal) return;
    const auto y = [&](const char* name) { return input_of(*drawn_, "iso10211-floor-alone", name); };
    const auto floor = y("floor surface, y"), ground = y("outside ground at the outer face plane, y"), inner = y("internal face plane, x"), outer = y("outer face plane, x");
    const auto walls = taken_off();
    const Element* element = ground_floor_element();
    if (!floor || !ground || !inner || !outer || walls.empty() || !element || !element->internal_length || *element->internal_length <= 0) return;
    const auto wall = std::max_element(walls.begin(), walls.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
    if (const double more = *floor - *ground; more > 0) {
        UsualError& error = add("error-wall-from-ground", {{"element", wall->first->id}, {"more", fixed(more, 3)}}, false);
        error.at = wall->first->internal_reference;
        take_psi(error, -more * *wall->first->U, "Δpsi = −Δl·U", {{"Δl", more, "m", "drawing"}, {"U, " + wall->first->id, *wall->first->U, "W/(m²·K)", "layers"}});
    }
    for (const TakenOff& off : psi->taken_off) {
        if (!off.floor_alone) continue;
        const auto length = second_section_length(*psi, *element);
        if (!length || off.element != element->id) continue;
        const double more = *length + std::abs(*outer - *inner) - to_m(*element->internal_length);  // a study may state that length already
        if (more <= 0) continue;
        UsualError& error = add("error-floor-to-outer-face", {{"element", off.element}, {"more", fixed(more, 3)}}, false);
        error.at = element->internal_reference;
        const Bracketed& alone = *off.floor_alone;
        const double share = more / *length;
        take_psi(error, Bracketed{-share * alone.value, -share * alone.upper, -share * alone.lower}, "Δpsi = −Δl·L2D,a/l",
                 {{"Δl", more, "m", "drawing"}, {"L2D,a, " + off.element, alone.value, "W/(m·K)", "computed"}, {"L2D,a, lower bound", alone.lower, "W/(m·K)", "computed"},
                  {"L2D,a, upper bound", alone.upper, "W/(m·K)", "computed"}, {"l, " + off.element, *length, "m", "drawing"}});
    }
}

/// A membrane that is given a resistance makes the floor of the energy calculation better, and psi with it worse.
void ErrorSearch::membrane_resistance() {
    const auto U = input_of(*drawn_, "iso13370-floor", "U_floor"), d = input_of(*drawn_, "iso13370-floor", "d_f"), B = input_of(*drawn_, "iso13370-floor", "B, of a strip as wide as the floor"),
               soil = input_of(*drawn_, "iso13370-floor", "λ, soil"), length = input_of(*drawn_, "iso13370-floor", "l_floor, internal");
    if (section_.membranes.empty() || !U || !d || !B || !soil || !length) return;
    try {
        const double with = iso13370::slab_transmittance(*B, *d + *soil * sheet_resistance, *soil);
        UsualError& error = add("error-membrane-resistance", {{"R", fixed(sheet_resistance, 2)}, {"U", fixed(*U, 4)}, {"with", fixed(with, 4)}}, false);
        error.at = section_.membranes.front().path.front();
        take_psi(error, (*U - with) * *length, "Δpsi = (U − U with the sheet)·l", {{"U", *U, "W/(m²·K)", "ISO 13370"}, {"U with the sheet", with, "W/(m²·K)", "ISO 13370"}, {"l", *length, "m", "drawing"}});
    } catch (const OutsideStandard&) {
    }
}

/// An unheated space taken for outside: its air is that of the coldest outside space.
void ErrorSearch::unheated_as_outside() {
    int outside = -1;
    for (std::size_t i = 0; i < section_.spaces.size(); ++i)
        if (section_.spaces[i].kind == SpaceKind::outside && (outside < 0 || drawn_->temperatures[i] < drawn_->temperatures[static_cast<std::size_t>(outside)])) outside = static_cast<int>(i);
    if (outside < 0) return;
    const std::string open = section_.spaces[static_cast<std::size_t>(outside)].id;
    for (const Space& space : section_.spaces) {
        if (space.kind != SpaceKind::unheated) continue;
        Section merged = section_;
        for (Piece& piece : merged.pieces)
            if (piece.fill == Fill::space && piece.filled_with == space.id) piece.filled_with = open;
        for (Space& of : merged.spaces)
            if (of.id == open) {
                of.at.insert(of.at.end(), space.at.begin(), space.at.end());
                of.single_mark = of.single_mark && of.at.size() < 2;
            }
        std::erase_if(merged.spaces, [&](const Space& of) { return of.id == space.id; });
        UsualError& error = add("error-unheated-as-outside", {{"space", shown_name(section_, space)}}, false);
        if (!space.at.empty()) error.at = space.at.front();
        if (const auto found = tried(merged)) take_change(error, {tried_section, *found}, {as_drawn, *drawn_});
    }
}

}  // namespace wallfoot

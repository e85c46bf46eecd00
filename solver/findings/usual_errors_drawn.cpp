// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/usual_errors_search.hpp"

#include <algorithm>
#include <cmath>

#include "core/standards/outside_standard.hpp"
#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "solver/findings/criteria.hpp"
#include "solver/findings/numbers.hpp"

// Errors of what is drawn and stated.
namespace wallfoot {

namespace {

/// What conductivities of a kind are like, W/(m·K) (common practice, no source).
struct UsualLambda {
    double least, most;
    bool holds(double value) const { return value >= least && value <= most; }
};
UsualLambda usual_lambda(MaterialKind kind) {
    switch (kind) {
        case MaterialKind::masonry:
        case MaterialKind::concrete: return {0.04, 4};
        case MaterialKind::mortar: return {0.08, 4};
        case MaterialKind::render: return {0.03, 4};
        case MaterialKind::insulation: return {0.002, 0.3};
        case MaterialKind::timber: return {0.04, 0.6};
        case MaterialKind::metal: return {5, 450};
        case MaterialKind::soil:
        case MaterialKind::granular: return {0.05, 6};
        case MaterialKind::airspace:
        case MaterialKind::membrane:
        case MaterialKind::other: break;
    }
    return {0.002, 450};
}

constexpr Micrometres thick_part = 5'000'000;   // no leaf, slab or layer is thicker; soil is
constexpr Micrometres small_drawing = 100'000;  // a whole junction is larger
constexpr double warmer_by = 3;                 // K, of one outside space than another

}  // namespace

void ErrorSearch::stated_drier() {
    for (std::size_t p = 0; p < section_.pieces.size(); ++p) {
        const Piece& piece = section_.pieces[p];
        // Insulation and finishes are often kept dry by what lies around them; it is blocks that are read with a dry value.
        const Material* material = piece.fill == Fill::material ? study_.find_material(piece.filled_with) : nullptr;
        if (!material || material->kind != MaterialKind::masonry || !piece.moisture || *piece.moisture >= Condition::below_ground) continue;
        const Section by_place = set_moisture(section_, piece.id, {});
        const auto found = tried(by_place);
        if (!found) continue;
        const Condition there = wettest_in(*found, p);
        if (there <= *piece.moisture) continue;
        UsualError& error = add("error-stated-drier", {{"piece", shown_name(piece)}, {"stated", word_of(condition_words, *piece.moisture)}, {"place", word_of(condition_words, there)}}, true);
        take_change(error, {as_drawn, *drawn_}, {mended_section, *found});
        error.piece = piece.id;
        error.at = piece.outline.front();
        error.mended = by_place;
    }
}

void ErrorSearch::drawn_sheets() {
    for (const Piece& piece : section_.pieces) {
        const Material* material = piece.fill == Fill::material ? study_.find_material(piece.filled_with) : nullptr;
        if (!material || material->kind != MaterialKind::membrane) continue;
        UsualError& error = add("error-sheet-as-piece", {{"piece", shown_name(piece)}}, true);
        error.piece = piece.id;
        error.at = piece.outline.front();
        const std::string below = filling_below(piece);
        if (below.empty()) continue;
        if (const auto found = tried(set_material(section_, piece.id, below))) take_change(error, {as_drawn, *drawn_}, {mended_section, *found});
    }
}

void ErrorSearch::near_cuts() {
    if (!drawn_->criteria) return;
    for (const CutDistance& cut : drawn_->criteria->cuts) {
        if (cut.present >= cut.needed) continue;
        UsualError& error = add("error-cut-near", {{"side", to_string(cut.side)}, {"needed", fixed(to_m(cut.needed), 2)}, {"present", fixed(to_m(cut.present), 2)}}, true);
        const Section further = set_beyond(section_, cut.side, Beyond{true, 0});
        if (const auto found = tried(further)) {
            take_change(error, {as_drawn, *drawn_}, {mended_section, *found});
            error.mended = further;
        }
    }
}

void ErrorSearch::own_lengths() {
    for (const ElementOverride& element : section_.elements) {
        if (!element.internal && !element.external) continue;
        UsualError& error = add("error-own-length", {{"element", element.id}}, true);
        Section usual = section_;  // its name, fixings and gaps stay
        for (const LengthSystem lengths : {LengthSystem::internal, LengthSystem::external}) usual = set_element_reference(usual, element.id, element.cut, lengths, {});
        error.at = element.internal ? element.internal : element.external;
        if (const auto found = tried(usual)) {
            take_change(error, {as_drawn, *drawn_}, {mended_section, *found});
            error.mended = usual;
        }
    }
}

/// A conductivity that no material of its kind has: a slip of the unit or of the point.
void ErrorSearch::odd_conductivities() {
    std::vector<std::string> told;
    for (std::size_t f = 0; f < drawn_->arrangement.faces.size(); ++f) {
        const Face& face = drawn_->arrangement.faces[f];
        if (face.kind != FaceKind::solid || face.piece < 0) continue;
        const Piece& piece = section_.pieces[static_cast<std::size_t>(face.piece)];
        const Material* material = material_of(piece);
        if (!material || std::find(told.begin(), told.end(), material->id) != told.end()) continue;
        const UsualLambda usual = usual_lambda(material->kind);
        const double value = drawn_->conductivity[f].across, up = drawn_->conductivity[f].up;
        const double odd = usual.holds(value) ? up : value;
        if (usual.holds(odd)) continue;
        told.push_back(material->id);
        constexpr double thousand = 1000;
        const bool mixed = !material->mix.empty();  // its value comes from its parts: no slip of its own
        const double factor = mixed ? 1 : usual.holds(odd / thousand) ? 1 / thousand : usual.holds(odd * thousand) ? thousand : 1;
        std::map<std::string, std::string> args{{"material", shown_name(*material)}, {"value", shown(odd)}, {"least", shown(usual.least)}, {"most", shown(usual.most)}, {"right", shown(odd * factor)}};
        UsualError& error = add(factor == 1 ? "error-lambda-unusual" : "error-lambda-thousandfold", std::move(args), true);
        error.piece = piece.id;
        error.at = face.inside;
        if (factor == 1) continue;
        Study scaled = study_;
        for (Material& of : scaled.materials)
            if (of.id == material->id)
                for (Conductivities* declared : {&of.lambda, &of.lambda_up})
                    for (auto& [condition, lambda] : declared->by_condition)
                        if (!usual.holds(lambda.value) && usual.holds(lambda.value * factor)) lambda.value *= factor, lambda.low.reset(), lambda.high.reset();
        if (const auto found = tried(scaled, section_)) take_change(error, {as_drawn, *drawn_}, {mended_section, *found});
    }
}

void ErrorSearch::odd_lengths() {
    const Rect& cut = section_.cut;
    if (std::max(cut.width(), cut.height()) < small_drawing) {
        UsualError& error = add("error-drawing-small", {{"width", fixed(to_mm(cut.width()), 1)}, {"height", fixed(to_mm(cut.height()), 1)}}, true);
        error.at = Point{cut.left, cut.bottom};
    }
    for (std::size_t p = 0; p < section_.pieces.size(); ++p) {
        const Material* material = material_of(section_.pieces[p]);
        if (!material || material->kind == MaterialKind::soil || material->kind == MaterialKind::granular || !seen_[p] || seen_[p]->thickness() < thick_part) continue;
        UsualError& error = add("error-length-unusual", {{"piece", shown_name(section_.pieces[p])}, {"metres", fixed(to_m(seen_[p]->thickness()), 1)}}, true);
        error.piece = section_.pieces[p].id;
        error.at = section_.pieces[p].outline.front();
    }
}

/// Two outside spaces of which one is warmer: as a rule that is a garage, a void or a roof space.
void ErrorSearch::warmer_outside() {
    double coldest = 1e9;
    for (std::size_t i = 0; i < section_.spaces.size(); ++i)
        if (section_.spaces[i].kind == SpaceKind::outside) coldest = std::min(coldest, drawn_->temperatures[i]);
    for (std::size_t i = 0; i < section_.spaces.size(); ++i) {
        const Space& space = section_.spaces[i];
        if (space.kind != SpaceKind::outside || drawn_->temperatures[i] < coldest + warmer_by) continue;
        UsualError& error = add("error-outside-warmer", {{"space", shown_name(section_, space)}, {"warm", fixed(drawn_->temperatures[i], 1)}, {"cold", fixed(coldest, 1)}}, true);
        if (!space.at.empty()) error.at = space.at.front();
        Section mended = set_space_kind(set_temperature(section_, space.id, drawn_->temperatures[i]), space.id, SpaceKind::unheated);
        if (const auto found = tried(mended)) {
            take_change(error, {as_drawn, *drawn_}, {mended_section, *found});
            error.mended = std::move(mended);
        }
    }
}

}  // namespace wallfoot

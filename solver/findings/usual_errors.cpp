// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/usual_errors_search.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/text/refuse_faults.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

/// Bytes that begin a character.
std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string error_words(const std::string& code, std::map<std::string, std::string> args = {}) { return english(Message{Severity::note, code, std::move(args), {}, {}}); }

}  // namespace

UsualErrors ErrorSearch::all() {
    FindingsOptions asked = options_;
    asked.criteria = true;
    drawn_ = find(study_, variant_, asked, context_);
    refuse_faults(drawn_->messages);
    seen_ = seen_boxes(section_, drawn_->arrangement);
    stated_drier(), drawn_sheets(), near_cuts(), own_lengths(), odd_conductivities(), odd_lengths(), warmer_outside();
    dry_values(), little_ground(), other_floor(), other_resistance(), corrections_in_psi(), other_transmittance(), per_length(), other_lengths(), membrane_resistance(), unheated_as_outside();
    edge_strip(), mortar_droppings(), heated_screed();
    std::stable_sort(errors_.begin(), errors_.end(), [](const UsualError& a, const UsualError& b) {
        if (a.present != b.present) return a.present;
        const auto size = [](const UsualError& of) { return of.effect.psi ? std::abs(of.effect.psi->value) : 0.0; };
        return size(a) > size(b);
    });
    return {variant_.id, variant_.name.empty() ? variant_.id : variant_.name, drawn_, std::move(errors_)};
}

std::shared_ptr<const Findings> ErrorSearch::tried(const Study& study, const Section& section) const {
    context_.check();
    Variant variant = variant_;
    variant.section = std::make_shared<const Section>(section);
    try {
        auto found = find(study, variant, options_, context_);
        return found->has_fault() ? nullptr : found;
    } catch (const InputFault&) {
        return nullptr;
    }
}

void ErrorSearch::take_change(FaultEffect& effect, const Findings& with, const Findings& without) {
    const Psi *a = without.headline_psi(), *b = with.headline_psi();
    if (a && b && a->value && b->value) effect.psi = difference(*b->value, *a->value);
    const SurfaceFinding *warm = without.headline_surface(), *cold = with.headline_surface();
    if (warm && cold && warm->fRsi && cold->fRsi) {
        effect.factor = *cold->fRsi - *warm->fRsi;
        effect.factor_open = warm->estimate + cold->estimate;
    }
}

void ErrorSearch::take_psi(FaultEffect& effect, double by) {
    constexpr double last_digit = 5e-5;  // exact but for the digits it is told with
    effect.psi = Bracketed{by, by - last_digit, by + last_digit};
}

UsualError& ErrorSearch::add(const std::string& code, std::map<std::string, std::string> args, bool present) {
    UsualError error;
    const std::string id = code.substr(std::string("error-").size());
    error.effect.id = id;
    error.effect.name = error_words(code, args);
    error.effect.about = error_words("error-why-" + id, std::move(args));
    error.present = present;
    errors_.push_back(std::move(error));
    return errors_.back();
}

Condition ErrorSearch::wettest_in(const Findings& findings, std::size_t piece) {
    Condition wet = Condition::dry;
    for (std::size_t f = 0; f < findings.arrangement.faces.size(); ++f)
        if (const Face& face = findings.arrangement.faces[f]; face.kind == FaceKind::solid && face.piece >= 0 && static_cast<std::size_t>(face.piece) == piece)
            wet = std::max(wet, findings.conductivity[f].asked);
    return wet;
}

const Piece* ErrorSearch::piece_at(Point p) const {
    const int face = face_at(drawn_->arrangement, p);
    if (face < 0) return nullptr;
    const Face& met = drawn_->arrangement.faces[static_cast<std::size_t>(face)];
    return met.kind == FaceKind::solid && met.piece >= 0 ? &section_.pieces[static_cast<std::size_t>(met.piece)] : nullptr;
}

double ErrorSearch::conductivity_at(Point p) const {
    const int face = face_at(drawn_->arrangement, p);
    return face < 0 ? 0 : drawn_->conductivity[static_cast<std::size_t>(face)].across;
}

/// What fills the piece that is seen 1 mm below the middle of its box; "" for none.
std::string ErrorSearch::filling_below(const Piece& of) const {
    const auto& seen = seen_[static_cast<std::size_t>(&of - section_.pieces.data())];
    const Piece* below = seen ? piece_at({seen->box.left + seen->box.width() / 2, seen->box.bottom - um_per_mm}) : nullptr;
    return below && below->fill == Fill::material ? below->filled_with : std::string();
}

const Element* ErrorSearch::ground_floor_element() const {
    for (const Element& element : drawn_->elements)
        if (element.ground && section_.spaces[static_cast<std::size_t>(element.warm_space)].kind == SpaceKind::inside && (element.side == CutSide::left || element.side == CutSide::right)) return &element;
    return nullptr;
}

std::vector<std::pair<const Element*, double>> ErrorSearch::taken_off() const {
    std::vector<std::pair<const Element*, double>> all;
    const Psi* psi = drawn_->headline_psi();
    if (!psi || !psi->value) return all;
    for (const Element& element : drawn_->elements) {
        const auto& length = psi->lengths == LengthSystem::internal ? element.internal_length : element.external_length;
        const bool pair = (element.warm_space == psi->a && element.cold_space == psi->b) || (element.warm_space == psi->b && element.cold_space == psi->a);
        if (!element.ground && element.U && length && pair) all.emplace_back(&element, to_m(*length));
    }
    return all;
}

UsualErrors usual_errors(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) { return ErrorSearch(study, variant, options, context).all(); }

std::string usual_errors_text(const UsualErrors& found) {
    std::string text = found.variant_name + "\n";
    std::size_t width = 60;
    for (const UsualError& error : found.errors) width = std::max(width, characters(error.effect.name) + 2);
    for (const bool present : {true, false}) {
        text += std::string("\n  ") + padded(present ? "in this drawing" : "what others would do here", width) + padded("psi W/(m·K)", 24) + "fRsi\n";
        bool any = false;
        for (const UsualError& error : found.errors) {
            if (error.present != present) continue;
            any = true;
            text += "  " + padded(error.effect.name, width) + padded(psi_change(error.effect), 24) + factor_change(error.effect) + "\n      " + error.effect.about + "\n";
            for (const std::string& note : notes_of(error.effect)) text += "      " + note + "\n";
        }
        if (!any) text += "  none\n";
    }
    return text;
}

std::string usual_errors_json(const std::vector<UsualErrors>& found) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const UsualErrors& variant : found) {
        nlohmann::ordered_json errors = nlohmann::ordered_json::array();
        for (const UsualError& error : variant.errors) {
            nlohmann::ordered_json told{{"error", error.effect.id}, {"name", error.effect.name}, {"why", error.effect.about}, {"in_drawing", error.present}, {"one_step_mends", error.mended.has_value()}};
            if (!error.piece.empty()) told["piece"] = error.piece;
            if (error.at) told["at"] = {to_mm(error.at->x), to_mm(error.at->y)};
            if (error.effect.psi) told["psi"] = {{"value", error.effect.psi->value}, {"lower", error.effect.psi->lower}, {"upper", error.effect.psi->upper}};
            if (error.effect.factor) told["fRsi"] = {{"value", *error.effect.factor}, {"open", error.effect.factor_open}};
            if (error.effect.mixed()) told["opposite"] = true;
            errors.push_back(std::move(told));
        }
        list.push_back({{"variant", variant.variant_id}, {"errors", std::move(errors)}});
    }
    return nlohmann::ordered_json{{"usual_errors", std::move(list)}}.dump(2) + "\n";
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/usual_errors_search.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/text/refuse_faults.hpp"
#include "solver/findings/derivation_print.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

/// Bytes that begin a character.
std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

constexpr const char* of_two_values = "Δ = value with the error − value without it; lower bound of Δ = lower bound with it − upper bound without it, upper bound the other way round (differences of intervals, by definition)";

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

void ErrorSearch::begin_derivation(UsualError& error, const char* formula) {
    if (!error.derivation.of.empty()) return;
    error.derivation.of = "usual error: " + error.effect.name;
    error.derivation.formula = formula;
}

void ErrorSearch::take_change(UsualError& error, const Tried& with, const Tried& without) {
    const Psi *a = without.findings.headline_psi(), *b = with.findings.headline_psi();
    if (a && b && a->value && b->value) take_psi(error, {"psi with the error", *b->value, with.section}, {"psi without it", *a->value, without.section});
    const SurfaceFinding *warm = without.findings.headline_surface(), *cold = with.findings.headline_surface();
    if (warm && cold && warm->fRsi && cold->fRsi) take_factor(error, *cold, with.section, *warm, without.section);
}

void ErrorSearch::take_psi(UsualError& error, const ToldPsi& with, const ToldPsi& without) {
    error.effect.psi = difference(with.value, without.value);
    begin_derivation(error, of_two_values);
    for (const ToldPsi& told : {with, without, ToldPsi{"Δpsi", *error.effect.psi, "computed"}}) {
        error.derivation.inputs.push_back({told.name, told.value.value, "W/(m·K)", told.source});
        error.derivation.inputs.push_back({std::string(told.name) + ", lower bound", told.value.lower, "W/(m·K)", told.source});
        error.derivation.inputs.push_back({std::string(told.name) + ", upper bound", told.value.upper, "W/(m·K)", told.source});
    }
    error.derivation.notes.push_back("Δpsi is told as \"" + psi_change(error.effect) + "\": with the digits that its bounds support.");
}

void ErrorSearch::take_psi(UsualError& error, double by, const char* formula, std::vector<Derivation::Input> inputs) {
    constexpr double last_digit = 5e-5;  // exact but for the digits it is told with
    take_psi(error, Bracketed{by, by - last_digit, by + last_digit}, formula, std::move(inputs));
}

void ErrorSearch::take_psi(UsualError& error, const Bracketed& by, const char* formula, std::vector<Derivation::Input> inputs) {
    error.effect.psi = by;
    begin_derivation(error, formula);
    error.derivation.inputs = std::move(inputs);
    error.derivation.inputs.push_back({"Δpsi", by.value, "W/(m·K)", "computed"});
}

void ErrorSearch::take_factor(UsualError& error, const SurfaceFinding& with, const char* section_with, const SurfaceFinding& without, const char* section_without) {
    error.effect.factor = *with.fRsi - *without.fRsi;
    error.effect.factor_open = with.estimate + without.estimate;
    begin_derivation(error, of_two_values);
    error.derivation.inputs.push_back({"fRsi with the error", *with.fRsi, "", section_with});
    error.derivation.inputs.push_back({"its estimated error", with.estimate, "", section_with});
    error.derivation.inputs.push_back({"fRsi without it", *without.fRsi, "", section_without});
    error.derivation.inputs.push_back({"its estimated error", without.estimate, "", section_without});
    error.derivation.inputs.push_back({"ΔfRsi", *error.effect.factor, "", "computed"});
    error.derivation.inputs.push_back({"what both errors leave open of it", error.effect.factor_open, "", "computed"});
    error.derivation.notes.push_back("ΔfRsi is told as \"" + factor_change(error.effect) + "\"; the errors of fRsi are estimates, no bounds.");
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
            if (!error.derivation.of.empty()) told["derivation"] = nlohmann::ordered_json::parse(derivation_json(error.derivation));
            errors.push_back(std::move(told));
        }
        list.push_back({{"variant", variant.variant_id}, {"errors", std::move(errors)}});
    }
    return nlohmann::ordered_json{{"usual_errors", std::move(list)}}.dump(2) + "\n";
}

}  // namespace wallfoot

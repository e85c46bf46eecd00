// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/usual_errors.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/criteria.hpp"
#include "solver/findings/derivation_print.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

constexpr Micrometres small_ground = 2'000'000;  // a block of soil that looks large and is not

constexpr const char *section_as_drawn = "this section as drawn", *mended_section = "this section without the error, worked out again", *tried_section = "this section with the error, worked out again";

std::string error_words(const std::string& code, std::map<std::string, std::string> args = {}) { return english(Message{Severity::note, code, std::move(args), {}, {}}); }

class ErrorSearch {
  public:
    ErrorSearch(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context)
        : study_(study), variant_(variant), section_(*variant.section), options_(options), context_(context) {}

    UsualErrors all() {
        FindingsOptions asked = options_;
        asked.criteria = true;
        drawn_ = find(study_, variant_, asked, context_);
        refuse_faults(drawn_->messages);
        stated_drier();
        drawn_sheets();
        near_cuts();
        own_lengths();
        dry_values();
        little_ground();
        other_floor();
        other_resistance();
        std::stable_sort(errors_.begin(), errors_.end(), [](const UsualError& a, const UsualError& b) {
            if (a.present != b.present) return a.present;
            const auto size = [](const UsualError& of) { return of.effect.psi ? std::abs(of.effect.psi->value) : 0.0; };
            return size(a) > size(b);
        });
        return {variant_.id, variant_.name.empty() ? variant_.id : variant_.name, drawn_, std::move(errors_)};
    }

  private:
    /// Null where the section cannot be solved: then the error has no size.
    std::shared_ptr<const Findings> tried(const Section& section) const {
        Variant variant = variant_;
        variant.section = std::make_shared<const Section>(section);
        try {
            auto found = find(study_, variant, options_, context_);
            return found->has_fault() ? nullptr : found;
        } catch (const InputFault&) {
            return nullptr;
        }
    }

    /// One of the two sections that an error is told by: what it is, and what came out.
    struct Tried {
        const char* section;
        const Findings& findings;
    };

    /// What the error does: `with` it less `without` it, and how that was worked out.
    static void take_change(UsualError& error, const Tried& with, const Tried& without) {
        FaultEffect& effect = error.effect;
        const Psi *a = without.findings.headline_psi(), *b = with.findings.headline_psi();
        if (a && b && a->value && b->value) take_psi(error, {"psi with the error", *b->value, with.section}, {"psi without it", *a->value, without.section});
        const SurfaceFinding *warm = without.findings.headline_surface(), *cold = with.findings.headline_surface();
        if (warm && cold && warm->fRsi && cold->fRsi) {
            effect.factor = *cold->fRsi - *warm->fRsi;
            effect.factor_open = warm->estimate + cold->estimate;
            derive_factor(error, *cold, with.section, *warm, without.section);
        }
    }

    struct ToldPsi {
        const char* name;
        Bracketed value;
        const char* source;
    };

    static void begin_derivation(UsualError& error) {
        if (!error.derivation.of.empty()) return;
        error.derivation.of = "usual error: " + error.effect.name;
        error.derivation.formula = "Δ = value with the error − value without it; lower bound of Δ = lower bound with it − upper bound without it, upper bound the other way round (differences of intervals, by definition)";
    }

    static void take_psi(UsualError& error, const ToldPsi& with, const ToldPsi& without) {
        error.effect.psi = difference(with.value, without.value);
        begin_derivation(error);
        for (const ToldPsi& told : {with, without, ToldPsi{"Δpsi", *error.effect.psi, "computed"}}) {
            error.derivation.inputs.push_back({told.name, told.value.value, "W/(m·K)", told.source});
            error.derivation.inputs.push_back({std::string(told.name) + ", lower bound", told.value.lower, "W/(m·K)", told.source});
            error.derivation.inputs.push_back({std::string(told.name) + ", upper bound", told.value.upper, "W/(m·K)", told.source});
        }
        error.derivation.notes.push_back("Δpsi is told as \"" + psi_change(error.effect) + "\": with the digits that its bounds support.");
    }

    static void derive_factor(UsualError& error, const SurfaceFinding& with, const char* section_with, const SurfaceFinding& without, const char* section_without) {
        begin_derivation(error);
        error.derivation.inputs.push_back({"fRsi with the error", *with.fRsi, "", section_with});
        error.derivation.inputs.push_back({"its estimated error", with.estimate, "", section_with});
        error.derivation.inputs.push_back({"fRsi without it", *without.fRsi, "", section_without});
        error.derivation.inputs.push_back({"its estimated error", without.estimate, "", section_without});
        error.derivation.inputs.push_back({"ΔfRsi", *error.effect.factor, "", "computed"});
        error.derivation.inputs.push_back({"what both errors leave open of it", error.effect.factor_open, "", "computed"});
        error.derivation.notes.push_back("ΔfRsi is told as \"" + factor_change(error.effect) + "\"; the errors of fRsi are estimates, no bounds.");
    }

    UsualError& add(const std::string& code, std::map<std::string, std::string> args, bool present) {
        UsualError error;
        const std::string id = code.substr(std::string("error-").size());
        error.effect.id = id;
        error.effect.name = error_words(code, args);
        error.effect.about = error_words("error-why-" + id, std::move(args));
        error.present = present;
        errors_.push_back(std::move(error));
        return errors_.back();
    }

    /// The wettest condition that is asked of a piece.
    static Condition wettest(const Findings& findings, std::size_t piece) {
        Condition wet = Condition::dry;
        for (std::size_t f = 0; f < findings.arrangement.faces.size(); ++f)
            if (const Face& face = findings.arrangement.faces[f]; face.kind == FaceKind::solid && face.piece >= 0 && static_cast<std::size_t>(face.piece) == piece)
                wet = std::max(wet, findings.conductivity[f].asked);
        return wet;
    }

    void stated_drier() {
        for (std::size_t p = 0; p < section_.pieces.size(); ++p) {
            const Piece& piece = section_.pieces[p];
            // Insulation and finishes are often kept dry by what lies around them; it is blocks that are read with a dry value.
            const Material* material = piece.fill == Fill::material ? study_.find_material(piece.filled_with) : nullptr;
            if (!material || material->kind != MaterialKind::masonry || !piece.moisture || *piece.moisture >= Condition::below_ground) continue;
            const Section by_place = set_moisture(section_, piece.id, {});
            const auto found = tried(by_place);
            if (!found) continue;
            const Condition there = wettest(*found, p);
            if (there <= *piece.moisture) continue;
            UsualError& error = add("error-stated-drier", {{"piece", shown_name(piece)}, {"stated", word_of(condition_words, *piece.moisture)}, {"place", word_of(condition_words, there)}}, true);
            take_change(error, {section_as_drawn, *drawn_}, {mended_section, *found});
            error.piece = piece.id;
            error.at = piece.outline.front();
            error.mended = by_place;
        }
    }

    /// A sheet has no thickness that counts; drawn thick it is insulation. Tried with what lies below in its place.
    void drawn_sheets() {
        for (const Piece& piece : section_.pieces) {
            const Material* material = piece.fill == Fill::material ? study_.find_material(piece.filled_with) : nullptr;
            if (!material || material->kind != MaterialKind::membrane) continue;
            UsualError& error = add("error-sheet-as-piece", {{"piece", shown_name(piece)}}, true);
            error.piece = piece.id;
            error.at = piece.outline.front();
            const std::string below = filling_below(piece);
            if (below.empty()) continue;
            if (const auto found = tried(set_material(section_, piece.id, below))) take_change(error, {section_as_drawn, *drawn_}, {mended_section, *found});
        }
    }

    /// What fills the piece that is seen 1 mm below the middle of its box; "" for none.
    std::string filling_below(const Piece& of) const {
        const auto by_x = [](Point a, Point b) { return a.x < b.x; };
        const auto by_y = [](Point a, Point b) { return a.y < b.y; };
        const auto [left, right] = std::minmax_element(of.outline.begin(), of.outline.end(), by_x);
        const Point below{left->x + (right->x - left->x) / 2, std::min_element(of.outline.begin(), of.outline.end(), by_y)->y - 1000};
        for (auto piece = section_.pieces.rbegin(); piece != section_.pieces.rend(); ++piece)
            if (piece->id != of.id && piece->fill == Fill::material && holds(piece->outline, below)) return piece->filled_with;
        return {};
    }

    static bool holds(const Outline& outline, Point p) {
        bool inside = false;
        for (std::size_t i = 0, k = outline.size() - 1; i < outline.size(); k = i++) {
            const Point a = outline[i], b = outline[k];
            if ((a.y > p.y) != (b.y > p.y) && static_cast<double>(p.x) < static_cast<double>(b.x - a.x) * static_cast<double>(p.y - a.y) / static_cast<double>(b.y - a.y) + static_cast<double>(a.x)) inside = !inside;
        }
        return inside;
    }

    void near_cuts() {
        if (!drawn_->criteria) return;
        for (const CutDistance& cut : drawn_->criteria->cuts) {
            if (cut.present >= cut.needed) continue;
            UsualError& error = add("error-cut-near", {{"side", to_string(cut.side)}, {"needed", fixed(to_m(cut.needed), 2)}, {"present", fixed(to_m(cut.present), 2)}}, true);
            const Section further = set_beyond(section_, cut.side, Beyond{true, 0});
            if (const auto found = tried(further)) {
                take_change(error, {section_as_drawn, *drawn_}, {mended_section, *found});
                error.mended = further;
            }
        }
    }

    void own_lengths() {
        for (const ElementOverride& element : section_.elements) {
            if (!element.internal && !element.external) continue;
            UsualError& error = add("error-own-length", {{"element", element.id}}, true);
            Section usual = section_;
            std::erase_if(usual.elements, [&](const ElementOverride& of) { return of.id == element.id && of.cut == element.cut; });
            error.at = element.internal ? element.internal : element.external;
            if (const auto found = tried(usual)) {
                take_change(error, {section_as_drawn, *drawn_}, {mended_section, *found});
                error.mended = usual;
            }
        }
    }

    void dry_values() {
        Section dry = section_;
        bool any = false;
        for (std::size_t p = 0; p < section_.pieces.size(); ++p) {
            const Material* material = section_.pieces[p].fill == Fill::material ? study_.find_material(section_.pieces[p].filled_with) : nullptr;
            if (!material || material->kind != MaterialKind::masonry || wettest(*drawn_, p) < Condition::below_dpc) continue;
            dry = set_moisture(dry, section_.pieces[p].id, Condition::dry);
            any = true;
        }
        const auto found = any ? tried(dry) : nullptr;
        if (found) take_change(add("error-dry-values", {}, false), {tried_section, *found}, {section_as_drawn, *drawn_});
    }

    void little_ground() {
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
        if (found) take_change(add("error-little-ground", {{"metres", fixed(to_m(small_ground), 0)}}, false), {tried_section, *found}, {section_as_drawn, *drawn_});
    }

    void other_floor() {
        const Psi* psi = drawn_->headline_psi();
        if (!psi || !psi->value || !psi->by_iso13370) return;
        take_psi(add("error-other-floor", {}, false), {"psi with the floor by ISO 13370", *psi->by_iso13370, section_as_drawn}, {"psi with the floor alone by a second section", *psi->value, section_as_drawn});
    }

    void other_resistance() {
        const SurfaceFinding* checked = drawn_->headline_surface();
        if (!checked || !checked->fRsi || checked->purpose != Purpose::surface_check) return;
        for (const SurfaceFinding& surface : drawn_->surface) {
            if (surface.space != checked->space || surface.purpose != Purpose::heat_flow || !surface.fRsi) continue;
            UsualError& error = add("error-other-resistance", {}, false);
            error.effect.factor = *surface.fRsi - *checked->fRsi;
            error.effect.factor_open = surface.estimate + checked->estimate;
            derive_factor(error, surface, "this section, with the surface resistances of heat flow", *checked, "this section, with those of the surface check");
            return;
        }
    }

    const Study& study_;
    const Variant& variant_;
    const Section& section_;
    const FindingsOptions& options_;
    const Context& context_;
    std::shared_ptr<const Findings> drawn_;
    std::vector<UsualError> errors_;
};

}  // namespace

UsualErrors usual_errors(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) { return ErrorSearch(study, variant, options, context).all(); }

std::string usual_errors_text(const UsualErrors& found) {
    std::string text = found.variant_name + "\n";
    for (const bool present : {true, false}) {
        text += std::string("\n  ") + padded(present ? "in this drawing" : "what others would do here", 60) + padded("psi W/(m·K)", 24) + "fRsi\n";
        bool any = false;
        for (const UsualError& error : found.errors) {
            if (error.present != present) continue;
            any = true;
            text += "  " + padded(error.effect.name, 60) + padded(psi_change(error.effect), 24) + factor_change(error.effect) + "\n      " + error.effect.about + "\n";
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

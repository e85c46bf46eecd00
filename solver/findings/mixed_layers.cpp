// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/mixed_layers.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "core/standards/iso6946.hpp"
#include "core/study/materials.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

constexpr const char* from_parts = "its parts";
constexpr const char* from_drawing = "the drawing";

int piece_of(const SectionView& view, int face) { return face < 0 ? -1 : view.arrangement.faces[face].piece; }

/// An element's layers with those built of parts as parts.
struct MixedStack {
    std::vector<iso6946::MixedLayer> layers;
    double plain = 0;        ///< Σ R of films and plain layers
    double mixed_lower = 0;  ///< Σ R of the others, each evened out
    std::set<int> pieces;
};

/// Heat crosses an element of the left or right side along the height.
bool along_height(const Element& element) { return element.side == CutSide::left || element.side == CutSide::right; }

double value_in(const MixedShare& share, const Element& element) { return along_height(element) ? share.up : share.conductivity; }

MixedStack stack_of(const SectionView& view, const FoundElement& found, const std::vector<FaceConductivity>& conductivity, int version) {
    const Element& element = found.element;
    MixedStack stack{.layers = {}, .plain = element.surface_warm + element.surface_cold, .pieces = {}};
    for (const auto& layer : element.layers) {
        iso6946::MixedLayer mixed{.thickness_m = layer.thickness_m, .parts = {}};
        if (layer.face >= 0)
            for (const MixedShare& share : conductivity[layer.face].parts) {
                const Material* material = view.study.find_material(share.material);
                mixed.parts.push_back({share.fraction, value_in(share, element), material && material->kind == MaterialKind::metal});
            }
        if (mixed.parts.empty()) {
            mixed.parts.push_back({1, layer.conductivity});
            stack.plain += layer.resistance;
        } else {
            stack.mixed_lower += layer.resistance;
            stack.pieces.insert(piece_of(view, layer.face));
        }
        stack.layers.push_back(std::move(mixed));
    }
    if (version > 1 && !stack.pieces.empty())  // neighbours of one material are one layer, each a piece of its own
        for (const MetFace& met : found.met)
            if (!conductivity[met.face].parts.empty()) stack.pieces.insert(piece_of(view, met.face));
    return stack;
}

void put_parts(Derivation& derivation, const SectionView& view, const Element& element, const std::vector<FaceConductivity>& conductivity) {
    for (const auto& layer : element.layers) {
        derivation.inputs.push_back({"d, " + layer.name, layer.thickness_m, "m", from_drawing});
        const bool mixed = layer.face >= 0 && !conductivity[layer.face].parts.empty();
        if (!mixed) derivation.inputs.push_back({"λ, " + layer.name, layer.conductivity, "W/(m·K)", layer.source});
        if (!mixed) continue;
        for (const MixedShare& share : conductivity[layer.face].parts) {
            const Material* material = view.study.find_material(share.material);
            const std::string name = material ? shown_name(*material) : share.material;
            derivation.inputs.push_back({"share of " + name, share.fraction, "", from_parts});
            derivation.inputs.push_back({"λ, " + name, value_in(share, element), "W/(m·K)", from_parts});
        }
    }
}

Derivation derive_mixed(const SectionView& view, const Element& element, const std::vector<FaceConductivity>& conductivity, const iso6946::CombinedResistance& combined) {
    Derivation derivation{.of = "layers built of parts, " + element.id,
                          .formula = "1/R′ = Σ f/R of every way through the element, R″ = Σ d/(Σ f·λ) with both films, R_T = (R′ + R″)/2, e = (R′ − R″)/(2·R_T) (ISO 6946:2017, 6.7.2, from memory); "
                                     "the layer takes the λ with which the plane layers give R_T",
                          .inputs = {}, .notes = {}, .id = "iso6946-parts"};
    derivation.inputs.push_back({"R_s, warm side", element.surface_warm, "m²K/W", "the convention"});
    put_parts(derivation, view, element, conductivity);
    derivation.inputs.push_back({"R_s, cold side", element.surface_cold, "m²K/W", "the convention"});
    derivation.inputs.push_back({"R′", combined.upper, "m²K/W", "computed"});
    derivation.inputs.push_back({"R″", combined.lower, "m²K/W", "computed"});
    derivation.inputs.push_back({"R_T", combined.total, "m²K/W", "computed"});
    derivation.inputs.push_back({"e", combined.relative_error, "", "computed"});
    return derivation;
}

const ElementFixings* missing_layer(const Element& element, const SectionView& view, const ElementCorrections& corrections) {
    for (const ElementFixings& fixings : corrections.fixings)
        if (std::none_of(element.layers.begin(), element.layers.end(), [&](const Element::Layer& layer) {
                const int piece = piece_of(view, layer.face);
                return piece >= 0 && view.section.pieces[piece].id == fixings.layer;
            }))
            return &fixings;
    return nullptr;
}

const Element::Layer* layer_of_piece(const Element& element, const SectionView& view, const std::string& id) {
    for (const auto& layer : element.layers)
        if (const int piece = piece_of(view, layer.face); piece >= 0 && view.section.pieces[piece].id == id) return &layer;
    return nullptr;
}

}  // namespace

void take_parts_across(std::vector<FaceConductivity>& conductivity) {
    for (FaceConductivity& face : conductivity) {
        if (face.parts.empty()) continue;
        face.up = face.across;
        for (MixedShare& share : face.parts) share.up = share.conductivity;
    }
}

std::vector<Derivation> resolve_mixed_layers(const SectionView& view, const std::vector<FoundElement>& elements, std::vector<FaceConductivity>& conductivity, std::vector<Message>& messages, int version) {
    std::vector<Derivation> derivations;
    std::vector<std::set<int>> derived;  // pieces of each derivation
    std::vector<bool> along;             // … of an element that heat crosses along the height
    std::map<int, double> factor;  // by piece: λ of the field over the mean by area
    const std::vector<FaceConductivity> by_area = conductivity;
    for (const FoundElement& found : elements) {
        const Element& element = found.element;
        if (element.ground || !element.U) continue;
        const MixedStack stack = stack_of(view, found, by_area, version);
        if (stack.pieces.empty()) continue;
        const Point at = view.arrangement.faces[found.met.front().face].inside;
        try {
            const auto combined = iso6946::combined_method(element.surface_warm, stack.layers, element.surface_cold);
            const double share = stack.mixed_lower / (combined.total - stack.plain);
            for (const int piece : stack.pieces) {
                const auto [known, first] = factor.emplace(piece, share);
                constexpr double alike = 1e-3;
                if (!first && std::abs(known->second / share - 1) > alike) messages.push_back({Severity::caution, "mix-two-elements", {{"piece", view.section.pieces[piece].id}, {"element", element.id}}, at, {}});
            }
            derivations.push_back(derive_mixed(view, element, by_area, combined));
            derived.push_back(stack.pieces);
            along.push_back(along_height(element));
        } catch (const OutsideStandard& outside) {
            messages.push_back({Severity::fault, outside.code(), outside.args(), at, {}});
            return {};
        }
    }
    for (std::size_t f = 0; f < conductivity.size(); ++f) {
        if (conductivity[f].parts.empty()) continue;
        const int piece = view.arrangement.faces[f].piece;
        const auto known = factor.find(piece);
        if (known == factor.end()) {
            const bool said = std::any_of(messages.begin(), messages.end(), [&](const Message& m) { return m.code == "mix-by-area" && m.args.at("piece") == view.section.pieces[piece].id; });
            if (!said) messages.push_back({Severity::note, "mix-by-area", {{"piece", view.section.pieces[piece].id}, {"lambda", fixed(by_area[f].across, 3)}}, view.arrangement.faces[f].inside, {}});
            continue;
        }
        conductivity[f].across *= known->second;
        conductivity[f].up *= known->second;
        conductivity[f].low *= known->second;
        conductivity[f].high *= known->second;
        for (std::size_t d = 0; d < derivations.size(); ++d) {
            Derivation& derivation = derivations[d];
            if (!derived[d].contains(piece)) continue;
            const std::string name = "λ of the layer \"" + view.section.pieces[piece].id + "\"";
            const bool put = std::any_of(derivation.inputs.begin(), derivation.inputs.end(), [&](const auto& input) { return input.name == name; });
            if (!put) derivation.inputs.push_back({name, along[d] ? conductivity[f].up : conductivity[f].across, "W/(m·K)", "computed"});
        }
    }
    return derivations;
}

std::optional<Derivation> correct_transmittance(const SectionView& view, Element& element, const ElementCorrections& corrections, std::vector<Message>& messages) {
    const auto caution = [&](std::string code, std::map<std::string, std::string> args) {
        messages.push_back({Severity::caution, std::move(code), std::move(args), {}, {}});
        return std::nullopt;
    };
    if (!element.U) return caution("correction-without-U", {{"element", element.id}});
    if (const auto* missing = missing_layer(element, view, corrections)) return caution("correction-no-layer", {{"element", element.id}, {"layer", missing->layer}});
    Derivation derivation{.of = "corrected U " + element.id,
                          .formula = "U_c = U + ΔU, ΔU_f = 0.8·(d_1/d_0)·λ_f·A_f·n_f/d_0·(R_1/R_T)², ΔU_g = ΔU″·(R_1/R_T)², ΔU″ 0, 0.01, 0.04 W/(m²·K) for level 0, 1, 2; "
                                     "together below 3 % of U left out (ISO 6946:2017, annex F; from memory)",
                          .inputs = {}, .notes = {"Beside psi and not in it: enter the corrected U for the plane element in the energy calculation."}, .id = "iso6946-corrections"};
    const auto put = [&](const std::string& name, double value, const char* unit, const char* source) { derivation.inputs.push_back({name, value, unit, source}); };
    const double total = 1 / *element.U;
    put("U", *element.U, "W/(m²·K)", "computed");
    put("R_T", total, "m²K/W", "computed");
    double sum = 0;
    try {
        for (const ElementFixings& fixings : corrections.fixings) {
            const auto& layer = *layer_of_piece(element, view, fixings.layer);
            const double length = fixings.length ? to_m(*fixings.length) : layer.thickness_m;
            const double more = iso6946::fixings_correction({fixings.conductivity, fixings.area_mm2 * 1e-6, fixings.per_m2, layer.thickness_m, length, fixings.empty_cavity}, layer.resistance, total);
            put("λ_f, fixings in " + layer.name, fixings.conductivity, "W/(m·K)", "the study");
            put("A_f of one", fixings.area_mm2, "mm²", "the study");
            put("n_f", fixings.per_m2, "1/m²", "the study");
            put("d_0", layer.thickness_m, "m", from_drawing);
            put("d_1", length, "m", fixings.length ? "the study" : from_drawing);
            put("R_1", layer.resistance, "m²K/W", "computed");
            put("ΔU_f", more, "W/(m²·K)", "computed");
            if (fixings.empty_cavity) derivation.notes.push_back("Fixings across an empty cavity ask for no correction.");
            sum += more;
        }
        if (corrections.air_gap_level) {
            const auto* layer = layer_of_piece(element, view, corrections.air_gap_layer);
            if (!layer) return caution("correction-no-layer", {{"element", element.id}, {"layer", corrections.air_gap_layer}});
            const double more = iso6946::air_gap_correction(*corrections.air_gap_level, layer->resistance, total);
            put("level of air gaps in " + layer->name, *corrections.air_gap_level, "", "the study");
            put("R_1", layer->resistance, "m²K/W", "computed");
            put("ΔU_g", more, "W/(m²·K)", "computed");
            sum += more;
        }
        element.corrected_U = iso6946::corrected_transmittance(*element.U, sum);
    } catch (const OutsideStandard& outside) {
        return caution(outside.code(), outside.args());
    }
    put("ΔU", sum, "W/(m²·K)", "computed");
    put("U_c", *element.corrected_U, "W/(m²·K)", "computed");
    return derivation;
}

}  // namespace wallfoot

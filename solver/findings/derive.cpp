// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/derive.hpp"

#include <algorithm>

namespace wallfoot {

namespace {

constexpr const char* as_drawn = "the drawing";
constexpr const char* computed = "computed";

std::string pair_name(const SectionView& view, int a, int b) {
    return view.section.spaces[a].id + "–" + view.section.spaces[b].id;
}

std::string lengths_name(LengthSystem lengths) { return lengths == LengthSystem::internal ? "internal" : "external"; }

void add_layers(Derivation& derivation, const std::vector<Element::Layer>& layers) {
    for (const auto& layer : layers) {
        derivation.inputs.push_back({"d, " + layer.name, layer.thickness_m, "m", as_drawn});
        derivation.inputs.push_back({"λ, " + layer.name, layer.conductivity, "W/(m·K)", layer.source});
        derivation.inputs.push_back({"R = d/λ, " + layer.name, layer.resistance, "m²K/W", computed});
    }
}

std::string surface_source(const SectionView& view, int space) {
    if (view.section.spaces[space].surface_resistance) return "stated for the space " + view.section.spaces[space].id;
    const auto& rule = view.study.used_convention().heat_flow;
    return rule.source.empty() ? "convention " + view.study.convention : rule.source;
}

void add_bracket(Derivation& derivation, const std::string& name, const Bracketed& value, const std::string& source) {
    derivation.inputs.push_back({name, value.value, "W/(m·K)", source});
    derivation.inputs.push_back({name + ", lower bound", value.lower, "W/(m·K)", source});
    derivation.inputs.push_back({name + ", upper bound", value.upper, "W/(m·K)", source});
}

}  // namespace

Derivation derive_transmittance(const SectionView& view, const Element& element) {
    Derivation derivation{.of = "U " + element.id,
                          .formula = "U = 1/R_T, R_T = R_s,warm + Σ d/λ + R_s,cold (ISO 6946:2017, 6.5 and 6.7.1)",
                          .inputs = {},
                          .notes = {}, .id = "iso6946-transmittance"};
    derivation.inputs.push_back({"R_s, warm side (" + view.section.spaces[element.warm_space].id + ")", element.surface_warm,
                                 "m²K/W", surface_source(view, element.warm_space)});
    add_layers(derivation, element.layers);
    derivation.inputs.push_back({"R_s, cold side (" + view.section.spaces[element.cold_space].id + ")", element.surface_cold,
                                 "m²K/W", surface_source(view, element.cold_space)});
    if (element.U) {
        derivation.inputs.push_back({"R_T", 1 / *element.U, "m²K/W", computed});
        derivation.inputs.push_back({"U", *element.U, "W/(m²·K)", computed});
    }
    derivation.notes.push_back("U of the section as drawn, without corrections for ties, fixings and air gaps: those belong "
                               "to the plane element in the energy calculation, not into psi.");
    return derivation;
}

Derivation derive_floor_alone(const SectionView& view, const FoundElement& floor, const FloorAlone& alone,
                              const FloorCouplings& couplings) {
    const auto& convention = view.study.used_convention();
    const bool to_ground = convention.floor_reading == FloorReading::to_ground && alone.to_ground;
    const std::string underside = "wall taken out to the underside of the floor", ground = "wall taken out to ground level only";
    Derivation derivation{
        .of = "floor alone " + floor.element.id,
        .formula = "L2D of a second section: the floor without its wall (ISO 10211:2017, linear transmittance of a "
                   "wall/floor junction with the floor's coupling from a second calculation)",
        .inputs = {},
        .notes = {}, .id = "iso10211-floor-alone"};
    derivation.inputs.push_back({"floor surface, y", to_m(alone.floor_level), "m", as_drawn});
    derivation.inputs.push_back({"underside of the floor layers, y", to_m(alone.underside), "m", as_drawn});
    derivation.inputs.push_back({"outside ground at the outer face plane, y", to_m(alone.ground_level), "m", as_drawn});
    derivation.inputs.push_back({"internal face plane, x", to_m(alone.internal_face), "m", as_drawn});
    derivation.inputs.push_back({"outer face plane, x", to_m(alone.outer_face), "m", as_drawn});
    derivation.inputs.push_back({"R_s, floor surface", floor.element.surface_warm, "m²K/W",
                                 surface_source(view, floor.element.warm_space)});
    add_layers(derivation, floor.element.layers);
    derivation.inputs.push_back({"λ, soil", alone.soil, "W/(m·K)", conductivity_source(view, floor.soil_face)});
    const std::string used = to_ground ? ground : underside;
    if (couplings.used) add_bracket(derivation, "L2D of the floor alone", *couplings.used, "second section, " + used);
    if (couplings.other)
        add_bracket(derivation, "L2D by the other reading", *couplings.other, "second section, " + (to_ground ? underside : ground));
    derivation.notes.push_back("Reading used: " + used + (to_ground ? ", soil against the edge of the floor below it." : "."));
    if (!alone.to_ground) derivation.notes.push_back("Both readings are the same section here.");
    derivation.notes.push_back("Floor layers run straight to the internal face plane; the faces of the cut are adiabatic; "
                               "everything else below ground is soil; ground surface and extent as in the junction.");
    return derivation;
}

Derivation derive_psi(const SectionView& view, const Psi& psi, const Coupling& coupling) {
    Derivation derivation{.of = "psi " + pair_name(view, psi.a, psi.b) + ", " + lengths_name(psi.lengths),
                          .formula = "psi = L2D − Σ U·l − L2D of the floor alone (ISO 10211:2017, linear thermal "
                                     "transmittance from a two-dimensional calculation)",
                          .inputs = {},
                          .notes = {}, .id = "iso10211-psi"};
    if (coupling.value) add_bracket(derivation, "L2D", *coupling.value, "this section, both fields");
    for (const auto& off : psi.taken_off) {
        if (off.floor_alone) add_bracket(derivation, "L2D of the floor alone, " + off.element, *off.floor_alone, "second section");
        if (off.U) derivation.inputs.push_back({"U, " + off.element, *off.U, "W/(m²·K)",
                                                off.method == "second section" ? "second section" : "derivation U " + off.element});
        if (off.length_m) derivation.inputs.push_back({"l, " + off.element, *off.length_m, "m", as_drawn});
        if (off.U && off.length_m)
            derivation.inputs.push_back({"U·l, " + off.element, *off.U * *off.length_m, "W/(m·K)", computed});
    }
    if (psi.value) add_bracket(derivation, "psi", *psi.value, computed);
    if (psi.other_reading) add_bracket(derivation, "psi by the other reading of the floor", *psi.other_reading, computed);
    const auto floor = std::find_if(psi.taken_off.begin(), psi.taken_off.end(), [](const TakenOff& off) { return off.floor_alone.has_value(); });
    const bool has_floor = floor != psi.taken_off.end();
    const bool beyond = has_floor && std::any_of(psi.taken_off.begin(), psi.taken_off.end(), [&](const TakenOff& off) { return off.element == floor->element && off.U; });
    if (has_floor && psi.lengths == LengthSystem::external)
        derivation.notes.push_back("External lengths: the floor's share is the same second section, and over the extra length to "
                                   "the outer face plane U = L2D of the floor alone / internal floor length as drawn.");
    else if (beyond)
        derivation.notes.push_back("The study states the internal length of the floor: what it is more or less than the drawn one is "
                                   "taken off with U = L2D of the floor alone / internal floor length as drawn.");
    if (has_floor)
        derivation.notes.push_back("The energy calculation must take the floor's own transmittance as L2D of the floor alone / "
                                   "internal floor length as drawn; a floor from ISO 13370 gives another psi.");
    derivation.notes.push_back("The bounds are those of the section as drawn; what the inputs leave open is not in them.");
    return derivation;
}

Derivation derive_surface(const SectionView& view, const SurfaceFinding& finding, int outside) {
    const auto& space = view.section.spaces[finding.space];
    const bool check = finding.purpose == Purpose::surface_check;
    Derivation derivation{.of = std::string("fRsi ") + space.id + (check ? ", surface check" : ", heat flow"),
                          .formula = "fRsi = (θ_si − θ_e)/(θ_i − θ_e) (ISO 10211:2017, ISO 13788:2012)",
                          .inputs = {},
                          .notes = {}, .id = "iso10211-fRsi"};
    const auto& convention = view.study.used_convention();
    const auto& rule = check && convention.surface_check ? *convention.surface_check : convention.heat_flow;
    const std::string source = rule.source.empty() ? "convention " + convention.id : rule.source;
    if (!space.surface_resistance) {
        derivation.inputs.push_back({"R_si, heat flow upwards", rule.inside.up, "m²K/W", source});
        derivation.inputs.push_back({"R_si, heat flow horizontal", rule.inside.horizontal, "m²K/W", source});
        derivation.inputs.push_back({"R_si, heat flow downwards", rule.inside.down, "m²K/W", source});
    }
    derivation.inputs.push_back({"θ_si, lowest", finding.lowest, "°C", "temperature field"});
    derivation.inputs.push_back({"θ_i, " + space.id, view.temperatures[finding.space], "°C", "the study"});
    if (outside >= 0)
        derivation.inputs.push_back({"θ_e, " + view.section.spaces[outside].id, view.temperatures[outside], "°C", "the study"});
    for (std::size_t i = 0; i < finding.weights.size(); ++i)
        derivation.inputs.push_back({"g, " + view.section.spaces[i].id, finding.weights[i], "", "temperature field with this space alone at 1"});
    if (!finding.weights.empty()) derivation.notes.push_back("More than two spaces: θ_si = Σ g·θ, and the weighting factors g add up to 1.");
    if (finding.fRsi) {
        derivation.inputs.push_back({"fRsi", *finding.fRsi, "", computed});
        derivation.inputs.push_back({"estimate of the error of fRsi", finding.estimate, "", "computed fields, not a bound"});
    }
    if (finding.whole) {
        derivation.inputs.push_back({"θ_si, lowest of the whole surface", finding.whole->lowest, "°C", "temperature field"});
        if (finding.whole->fRsi) derivation.inputs.push_back({"fRsi with what is hidden", *finding.whole->fRsi, "", computed});
        for (const HiddenSurface& hidden : view.section.hidden) derivation.notes.push_back("Left out, as not seen: " + hidden.id + " – " + hidden.reason + ".");
    }
    if (finding.mean) {
        derivation.inputs.push_back({"length of the piece for the mean", finding.mean_length_mm / 1000, "m", "the mesh"});
        derivation.inputs.push_back({"fRsi of the mean, lower bound", finding.mean->lower, "", computed});
        derivation.inputs.push_back({"fRsi of the mean, upper bound", finding.mean->upper, "", computed});
    }
    derivation.notes.push_back("The estimate is not a proven bound: a temperature at a point has none by this method.");
    return derivation;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/floor_option.hpp"

#include <algorithm>

#include "core/standards/iso13370.hpp"

namespace wallfoot {

std::optional<FloorByStandard> floor_by_standard(const SectionView& view, const FoundElement& floor, const FloorAlone& alone) {
    if (!alone.refusal.empty() || !floor.element.internal_length || floor.element.layers.empty()) return std::nullopt;
    const Convention& convention = view.study.used_convention();
    FloorByStandard by;
    by.B = to_m(view.study.floor_width.value_or(convention.floor_width));
    by.wall_thickness = to_m(std::abs(alone.outer_face - alone.internal_face));
    for (const auto& layer : floor.element.layers) by.resistance += layer.resistance;
    by.inside_surface = floor.element.surface_warm;
    by.outside_surface = convention.heat_flow.outside;
    by.soil = alone.soil;
    by.length = to_m(*floor.element.internal_length);
    by.section_length = to_m(alone.length);
    try {
        by.equivalent_thickness = iso13370::equivalent_thickness(by.wall_thickness, by.soil, by.inside_surface, by.resistance, by.outside_surface);
        by.U = iso13370::slab_transmittance(by.B, by.equivalent_thickness, by.soil);
    } catch (const OutsideStandard&) {
        return std::nullopt;
    }
    return by;
}

std::optional<Bracketed> psi_by_standard(const Psi& psi, const Coupling& coupling, const FloorByStandard& floor) {
    if (!psi.value || !coupling.value || psi.lengths != LengthSystem::internal) return std::nullopt;
    const auto alone = std::find_if(psi.taken_off.begin(), psi.taken_off.end(), [](const TakenOff& off) { return off.floor_alone.has_value(); });
    if (alone == psi.taken_off.end()) return std::nullopt;
    double taken = floor.U * floor.length;
    for (const TakenOff& off : psi.taken_off)
        if (off.element != alone->element && off.U && off.length_m) taken += *off.U * *off.length_m;
    return Bracketed{coupling.value->value - taken, coupling.value->lower - taken, coupling.value->upper - taken};
}

Derivation derive_floor_option(const SectionView& view, const Psi& psi, const FloorByStandard& floor) {
    const std::string pair = view.section.spaces[psi.a].id + "–" + view.section.spaces[psi.b].id;
    Derivation derivation{.of = "psi " + pair + ", floor by ISO 13370",
                          .formula = "psi = L2D − Σ U·l − U_floor·l_floor; d_f = d_w + λ·(R_si + R_f + R_se); U_floor = (2λ/(π·B + d_f))·ln(π·B/d_f + 1) for d_f < B, else "
                                     "λ/(0.457·B + d_f) (ISO 10211:2017, the floor by ISO 13370:2017; from memory, to be confirmed in the standards)",
                          .inputs = {}, .notes = {}, .id = "iso13370-floor"};
    const auto put = [&](const char* name, double value, const char* unit, const char* source) { derivation.inputs.push_back({name, value, unit, source}); };
    put("B, of a strip as wide as the floor", floor.B, "m", "the study");
    put("d_w, wall", floor.wall_thickness, "m", "the drawing");
    put("R_f, all layers of the floor", floor.resistance, "m²K/W", "derivation of the floor alone");
    put("R_si", floor.inside_surface, "m²K/W", "convention");
    put("R_se", floor.outside_surface, "m²K/W", "convention");
    put("λ, soil", floor.soil, "W/(m·K)", "the drawing");
    put("d_f", floor.equivalent_thickness, "m", "computed");
    put("U_floor", floor.U, "W/(m²·K)", "computed");
    put("l_floor, internal", floor.length, "m", "the drawing");
    if (psi.by_iso13370) {
        put("psi with this floor", psi.by_iso13370->value, "W/(m·K)", "computed");
        put("its lower bound", psi.by_iso13370->lower, "W/(m·K)", "computed");
        put("its upper bound", psi.by_iso13370->upper, "W/(m·K)", "computed");
        if (psi.value) put("more than with the second section", psi.by_iso13370->value - psi.value->value, "W/(m·K)", "computed");
    }
    derivation.notes.push_back("The two options of the standard differ for every floor: enter this psi only with the floor's U by ISO 13370, and the other only with the floor of the second section.");
    return derivation;
}

}  // namespace wallfoot

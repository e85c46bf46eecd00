// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/shared_psi.hpp"

#include "core/study/names.hpp"

namespace wallfoot {

namespace {

/// The inside space of a dwelling; -1 where there is none, or more than one: then nobody knows which of them to add.
int space_of(const Section& section, const char* side) {
    int found = -1;
    for (std::size_t i = 0; i < section.spaces.size(); ++i) {
        if (section.spaces[i].kind != SpaceKind::inside || section.spaces[i].side != side) continue;
        if (found >= 0) return -1;
        found = static_cast<int>(i);
    }
    return found;
}

const Psi* psi_between(const std::vector<Psi>& psi, int inside, int outside, LengthSystem lengths) {
    for (const Psi& of : psi)
        if (((of.a == inside && of.b == outside) || (of.a == outside && of.b == inside)) && of.lengths == lengths) return &of;
    return nullptr;
}

Bracketed halved(const Bracketed& value) { return {value.value / 2, value.lower / 2, value.upper / 2}; }

const char* words_of(LengthSystem lengths) { return lengths == LengthSystem::internal ? "internal" : "external"; }

}  // namespace

std::vector<SharedPsi> shared_psi(const SectionView& view, const std::vector<Psi>& psi) {
    const int own = space_of(view.section, "own"), neighbour = space_of(view.section, "neighbour"), outside = coldest_outside_space(view.section, view.temperatures);
    std::vector<SharedPsi> all;
    if (own < 0 || neighbour < 0 || outside < 0) return all;
    const Convention& convention = view.study.used_convention();
    const LengthSystem other = convention.lengths == LengthSystem::internal ? LengthSystem::external : LengthSystem::internal;
    for (const LengthSystem lengths : {convention.lengths, other}) {
        const Psi *one = psi_between(psi, own, outside, lengths), *two = psi_between(psi, neighbour, outside, lengths);
        if (!one || !two || !one->value || !two->value) continue;
        SharedPsi shared{.lengths = lengths, .share = convention.dwelling_share.value_or(DwellingShare::half), .total = {}, .sides = {}};
        shared.total = {one->value->value + two->value->value, one->value->lower + two->value->lower, one->value->upper + two->value->upper};
        const bool half = shared.share == DwellingShare::half;
        shared.sides[0] = {own, *one->value, half ? halved(shared.total) : *one->value};
        shared.sides[1] = {neighbour, *two->value, half ? halved(shared.total) : *two->value};
        all.push_back(shared);
    }
    return all;
}

Derivation derive_shared(const SectionView& view, const SharedPsi& shared) {
    const bool half = shared.share == DwellingShare::half;
    Derivation derivation{.of = std::string("psi of both dwellings, ") + words_of(shared.lengths),
                          .formula = half ? "psi of the whole = psi of the own side + psi of the neighbour's side; each dwelling enters half of it (common practice, no source)"
                                          : "psi of the whole = psi of the own side + psi of the neighbour's side; each dwelling enters its own side (common practice, no source)",
                          .inputs = {},
                          .notes = {}, .id = "shared-psi"};
    const auto put = [&](const std::string& name, const Bracketed& value) {
        derivation.inputs.push_back({name, value.value, "W/(m·K)", "computed"});
        derivation.inputs.push_back({name + ", lower bound", value.lower, "W/(m·K)", "computed"});
        derivation.inputs.push_back({name + ", upper bound", value.upper, "W/(m·K)", "computed"});
    };
    for (const auto& side : shared.sides) put("psi, side of " + shown_name(view.section, view.section.spaces[static_cast<std::size_t>(side.space)]), side.psi);
    put("psi of the whole", shared.total);
    for (const auto& side : shared.sides) put("to enter, " + shown_name(view.section, view.section.spaces[static_cast<std::size_t>(side.space)]), side.enter);
    const Convention& convention = view.study.used_convention();
    derivation.notes.push_back(convention.dwelling_share ? "How it is shared is data of the convention " + convention.id + "."
                                                         : "The convention " + convention.id + " does not say how it is shared: half each.");
    derivation.notes.push_back("psi of a side is that between the dwelling and the coldest outside space; what passes between the dwellings is in neither.");
    return derivation;
}

Message shared_message(const Section& section, const SharedPsi& shared) {
    const auto name = [&](int side) { return shown_name(section, section.spaces[static_cast<std::size_t>(shared.sides[static_cast<std::size_t>(side)].space)]); };
    return {Severity::note,
            shared.share == DwellingShare::half ? "shared-half" : "shared-by-side",
            {{"lengths", words_of(shared.lengths)}, {"total", with_bracket(shared.total)}, {"own", name(0)}, {"neighbour", name(1)},
             {"enter", with_bracket(shared.sides[0].enter)}, {"other", with_bracket(shared.sides[1].enter)}},
            {}, {}};
}

}  // namespace wallfoot

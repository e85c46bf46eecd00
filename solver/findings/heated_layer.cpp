// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "solver/findings/mixed_layers.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

bool is_heated_layer(const Section& section, const Space& space) {
    const auto& r = space.surface_resistance;
    if (space.kind != SpaceKind::other || !r || r->up != 0 || r->horizontal != 0 || r->down != 0) return false;
    return std::any_of(section.pieces.begin(), section.pieces.end(), [&](const Piece& piece) { return piece.fill == Fill::space && piece.filled_with == space.id; });
}

}  // namespace

std::vector<Derivation> derive_heated_layers(const SectionView& view, int inside, const std::vector<Coupling>& couplings, std::vector<Message>& messages) {
    std::vector<Derivation> all;
    const int outside = coldest_outside_space(view.section, view.temperatures);
    for (std::size_t i = 0; i < view.section.spaces.size(); ++i) {
        const Space& space = view.section.spaces[i];
        if (outside < 0 || inside < 0 || !is_heated_layer(view.section, space)) continue;
        const double own = view.temperatures[i], open = view.temperatures[outside], room = view.temperatures[inside];
        for (const Coupling& coupling : couplings) {
            const bool pair = (coupling.a == int(i) && coupling.b == outside) || (coupling.b == int(i) && coupling.a == outside);
            if (!pair || !coupling.value || own <= open) continue;
            const std::string name = space.name.empty() ? space.id : space.name;
            Derivation derivation{.of = "heated layer " + name,
                                  .formula = "Φ = L2D·(θ_layer − θ_e), more than at the temperature of the room: L2D·(θ_layer − θ_i)",
                                  .inputs = {}, .notes = {"Apart from psi, which belongs to the room alone: enter this coupling with the temperature of the layer."}, .id = "heated-layer"};
            derivation.inputs = {{"L2D, layer to outside", coupling.value->value, "W/(m·K)", "the field"}, {"θ_layer", own, "°C", "the study"},
                                 {"θ_i", room, "°C", "the study"}, {"θ_e", open, "°C", "the study"},
                                 {"Φ", coupling.value->value * (own - open), "W/m", "computed"}, {"more than at the room's temperature", coupling.value->value * (own - room), "W/m", "computed"}};
            all.push_back(std::move(derivation));
            messages.push_back({Severity::note, "heated-layer", {{"layer", name}, {"coupling", fixed(coupling.value->value, 4)}, {"more", fixed(coupling.value->value * (own - room), 2)}, {"temperature", fixed(own, 1)}}, {}, {}});
        }
    }
    return all;
}

}  // namespace wallfoot

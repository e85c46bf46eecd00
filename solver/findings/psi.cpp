// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/psi.hpp"

namespace wallfoot {

namespace {

/// L2D less a closed value and `share` times the coupling of the floor alone: the widths add.
Bracketed less(const Bracketed& L2D, double closed, const Bracketed& alone, double share) {
    return {L2D.value - closed - share * alone.value, L2D.lower - closed - share * alone.upper,
            L2D.upper - closed - share * alone.lower};
}

struct Terms {
    double closed = 0;          ///< Σ U·l
    bool floor = false;         ///< the floor alone is taken off too
    double floor_share = 1;     ///< the floor's length over that of its second section
};

/// Why a ground element cannot be taken off, "" when it can.
std::string ground_reason(const SectionView& view, const FoundElement& found, bool is_floor_alone, const FloorAlone* alone) {
    if (view.section.spaces[found.element.warm_space].kind == SpaceKind::unheated) return "void-over-soil";
    if (!is_floor_alone || !alone || !alone->refusal.empty()) return "floor-alone-refused";
    return {};
}

/// L2D of the second section, which has the floor as long as it is drawn. What the lengths of psi have beyond that is taken off with
/// U = L2D/length of the section: to the outer face plane by external lengths, and what the study states otherwise.
void take_off_floor(const FoundElement& found, const FloorAlone& alone, const FloorCouplings& floor, Psi& psi, Terms& terms) {
    const auto& element = found.element;
    const bool internal = psi.lengths == LengthSystem::internal;
    terms.floor = true;
    psi.taken_off.push_back({element.id, std::nullopt, std::nullopt, floor.used, "second section"});
    if (!floor.used) return;
    const auto& length = internal ? element.internal_length : element.external_length;
    if (internal && (!length || *length == alone.length)) return;
    if (!length || *length <= 0 || alone.length <= 0) {
        psi.reason = "element-no-reference";
        return;
    }
    const double drawn = to_m(alone.length), extra = to_m(*length - alone.length);
    terms.floor_share = 1 + extra / drawn;
    psi.taken_off.push_back({element.id, floor.used->value / drawn, extra, std::nullopt, "U times length"});
}

void take_off(const SectionView& view, const FoundElement& found, bool is_floor_alone, const FloorAlone* alone,
              const FloorCouplings& floor, Psi& psi, Terms& terms) {
    const auto& element = found.element;
    if (element.ground) {
        if (const auto reason = ground_reason(view, found, is_floor_alone, alone); !reason.empty())
            psi.reason = reason;
        else
            take_off_floor(found, *alone, floor, psi, terms);
        return;
    }
    const auto& length = psi.lengths == LengthSystem::internal ? element.internal_length : element.external_length;
    TakenOff off{element.id, element.U, std::nullopt, std::nullopt, "U times length"};
    if (length) off.length_m = to_m(*length);
    if (!element.U)
        psi.reason = element.reason;
    else if (!length)
        psi.reason = "element-no-reference";
    else
        terms.closed += *element.U * *off.length_m;
    psi.taken_off.push_back(off);
}

bool same_pair(const Psi& psi, int a, int b) { return (psi.a == a && psi.b == b) || (psi.a == b && psi.b == a); }

}  // namespace

int headline_inside(const Section& section) {
    int first = -1;
    for (std::size_t i = 0; i < section.spaces.size(); ++i) {
        if (section.spaces[i].kind != SpaceKind::inside) continue;
        if (section.spaces[i].side == "own") return int(i);
        if (first < 0) first = int(i);
    }
    return first;
}

std::optional<double> second_section_length(const Psi& psi, const Element& floor) {
    const auto& length = psi.lengths == LengthSystem::internal ? floor.internal_length : floor.external_length;
    if (!length) return std::nullopt;
    double drawn = to_m(*length);
    for (const TakenOff& off : psi.taken_off)
        if (off.element == floor.id && !off.floor_alone && off.length_m) drawn -= *off.length_m;
    return drawn > 0 ? std::optional(drawn) : std::nullopt;
}

std::vector<Psi> psi_values(const SectionView& view, const std::vector<FoundElement>& elements, const FloorAlone* alone,
                            const FloorCouplings& floor, const std::vector<Coupling>& couplings) {
    const int inside = headline_inside(view.section), outside = coldest_outside_space(view.section, view.temperatures);
    const auto headline_lengths = view.study.used_convention().lengths;
    std::vector<Psi> all;
    for (const auto& coupling : couplings) {
        const auto kind = [&](int space) { return view.section.spaces[space].kind; };
        if (kind(coupling.a) == SpaceKind::outside && kind(coupling.b) == SpaceKind::outside) continue;
        for (const auto lengths : {LengthSystem::internal, LengthSystem::external}) {
            Psi psi{.a = coupling.a, .b = coupling.b, .lengths = lengths, .value = {}, .reason = coupling.reason,
                    .taken_off = {}, .by_iso13370 = {}, .other_reading = {}};
            Terms terms;
            for (std::size_t i = 0; i < elements.size(); ++i)
                if (same_pair(psi, elements[i].element.warm_space, elements[i].element.cold_space))
                    take_off(view, elements[i], alone && alone->floor == int(i), alone, floor, psi, terms);
            const Bracketed nothing;
            if (psi.reason.empty() && coupling.value && (!terms.floor || floor.used)) {
                psi.value = less(*coupling.value, terms.closed, terms.floor ? *floor.used : nothing, terms.floor_share);
                if (terms.floor && floor.other)
                    psi.other_reading = less(*coupling.value, terms.closed, *floor.other, terms.floor_share);
            }
            psi.headline = same_pair(psi, inside, outside) && lengths == headline_lengths;
            all.push_back(std::move(psi));
        }
    }
    return all;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/criteria.hpp"

#include <algorithm>

#include "solver/findings/findings.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

bool Criteria::cuts_far_enough() const {
    return std::all_of(cuts.begin(), cuts.end(), [](const CutDistance& cut) { return cut.present >= cut.needed; });
}

bool Criteria::met() const {
    return flow_change() <= most_flow_change && fRsi_change().value_or(0) <= most_fRsi_change && balance <= most_balance && cuts_far_enough();
}

Derivation derive_criteria(const Findings& findings) {
    const Criteria& criteria = *findings.criteria;
    Derivation derivation{.of = "criteria of ISO 10211",
                          .formula = "twice the elements: Σ|Φ| changes by at most 1 %, fRsi by at most 0.005; |ΣΦ|/(½·Σ|Φ|) at most 1e-4; cut planes at "
                                     "their distances (ISO 10211:2017; from memory, to be confirmed in the standard)",
                          .inputs = {}, .notes = {}, .id = "iso10211-criteria"};
    const auto put = [&](const std::string& name, double value, const std::string& unit, const std::string& source) { derivation.inputs.push_back({name, value, unit, source}); };
    put("elements", double(criteria.coarse.elements), "", "mesh");
    put("elements, at least twice as many", double(criteria.fine.elements), "", "mesh");
    put("change of Σ|Φ|", 100 * criteria.flow_change(), "%", "at most 1");
    if (const auto change = criteria.fRsi_change()) put("change of fRsi", *change, "", "at most 0.005");
    put("balance |ΣΦ|/(½·Σ|Φ|)", criteria.balance, "", "at most 1e-4");
    for (const CutDistance& cut : criteria.cuts) {
        put(to_string(cut.side) + " cut: distance asked beyond the drawing", to_m(cut.needed), "m", "the convention");
        put(to_string(cut.side) + " cut: distance taken", to_m(cut.present), "m", "the drawing");
        if (cut.present < cut.needed)
            derivation.notes.push_back("The " + to_string(cut.side) + " cut is nearer than the convention asks: sound only where it is a plane of symmetry.");
    }
    derivation.notes.push_back(criteria.met() ? "All criteria are met." : "Not all criteria are met.");
    if (const Psi* psi = findings.headline_psi(); psi && psi->value)
        derivation.notes.push_back("Beyond the standard: the psi of the section as drawn is proven to lie between " + fixed(psi->value->lower, 5) + " and " +
                                   fixed(psi->value->upper, 5) + " W/(m·K), whatever the mesh; that says nothing of how well conductivities, soil and moisture are known.");
    return derivation;
}

}  // namespace wallfoot

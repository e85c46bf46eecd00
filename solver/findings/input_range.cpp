// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/input_range.hpp"

#include <algorithm>
#include <functional>
#include <map>

#include "core/study/names.hpp"
#include "core/text/refuse_faults.hpp"

namespace wallfoot {

namespace {

using Slopes = std::map<std::string, double>;  // by id of material

/// Materials that have a range in the place and condition in which they stand.
std::vector<std::string> ranged(const Findings& findings) {
    std::vector<std::string> ids;
    for (std::size_t f = 0; f < findings.arrangement.faces.size(); ++f) {
        const Face& face = findings.arrangement.faces[f];
        const FaceConductivity& value = findings.conductivity[f];
        if (face.kind != FaceKind::solid || face.piece < 0 || value.low >= value.high) continue;
        const std::string& id = findings.section->pieces[static_cast<std::size_t>(face.piece)].filled_with;
        if (std::find(ids.begin(), ids.end(), id) == ids.end()) ids.push_back(id);
    }
    return ids;
}

/// Slopes summed over the pieces of each material.
Slopes slopes_of(const Findings& findings, const std::function<std::optional<Slope>(const InputSlope&)>& of) {
    Slopes by_material;
    for (const InputSlope& input : findings.slopes) {
        if (input.pieces.empty()) continue;
        if (const auto slope = of(input)) by_material[findings.section->pieces[static_cast<std::size_t>(input.pieces.front())].filled_with] += slope->value;
    }
    return by_material;
}

/// The study with each of the materials at one end of its range: the one that raises what the slopes are of, or the other.
Study at_ends(Study study, const std::vector<std::string>& ids, const Slopes& slopes, bool raise) {
    for (Material& material : study.materials) {
        if (std::find(ids.begin(), ids.end(), material.id) == ids.end()) continue;
        const auto slope = slopes.find(material.id);
        const bool high = ((slope == slopes.end() ? 0 : slope->second) >= 0) == raise;
        for (Conductivities* axis : {&material.lambda, &material.lambda_up})
            for (auto& [condition, value] : axis->by_condition) value.value = high ? value.high.value_or(value.value) : value.low.value_or(value.value);
    }
    return study;
}

void widen(std::optional<LowHigh>& range, double low, double high) { range = range ? LowHigh{std::min(range->low, low), std::max(range->high, high)} : LowHigh{low, high}; }

void add_psi(InputRange& range, const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    if (psi && psi->value) widen(range.psi, psi->value->lower, psi->value->upper);
}

void add_factor(InputRange& range, const Findings& findings) {
    const SurfaceFinding* surface = findings.headline_surface();
    if (surface && surface->fRsi) widen(range.fRsi, *surface->fRsi - surface->estimate, *surface->fRsi + surface->estimate);
}

}  // namespace

InputRange input_range(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
    FindingsOptions with_slopes = options;
    with_slopes.slopes = true;
    const auto stated = find(study, variant, with_slopes, context);
    refuse_faults(stated->messages);
    context.check();  // a solve that was cut short is no end
    InputRange range;
    add_psi(range, *stated);
    add_factor(range, *stated);
    const auto ids = ranged(*stated);
    for (const auto& id : ids) range.materials.push_back(shown_name(*study.find_material(id)));
    if (ids.empty()) return range;
    const auto solved_at = [&](const Slopes& slopes, bool raise) {
        context.check();
        return find(at_ends(study, ids, slopes, raise), variant, options, context);
    };
    const Psi* psi = stated->headline_psi();
    if (psi && psi->value) {
        const auto index = static_cast<std::size_t>(psi - stated->psi.data());
        const auto slopes = slopes_of(*stated, [&](const InputSlope& input) { return input.psi[index]; });
        for (const bool raise : {true, false}) add_psi(range, *solved_at(slopes, raise));
    }
    if (range.fRsi) {
        const auto slopes = slopes_of(*stated, [](const InputSlope& input) { return input.surface; });
        for (const bool raise : {true, false}) add_factor(range, *solved_at(slopes, raise));
    }
    context.check();
    return range;
}

}  // namespace wallfoot

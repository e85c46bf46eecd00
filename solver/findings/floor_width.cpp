// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/floor_width.hpp"

#include <algorithm>
#include <cmath>

#include "core/file/quantities.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/psi.hpp"

namespace wallfoot {

namespace {

const Psi* floor_psi(const Findings& findings) {
    const Psi* headline = findings.headline_psi();
    if (!headline || !headline->value) return nullptr;
    for (const Psi& psi : findings.psi) {
        const bool floor = std::any_of(psi.taken_off.begin(), psi.taken_off.end(), [](const TakenOff& off) { return off.floor_alone.has_value(); });
        if (psi.a == headline->a && psi.b == headline->b && psi.lengths == LengthSystem::internal && psi.value && floor) return &psi;
    }
    return nullptr;
}

/// Whether the floor inside reaches as far as the convention asks of this width: a side that is drawn or stated keeps its own.
bool follows(const Findings& findings, const Psi& psi, double width_m, double share) {
    constexpr double closely = 1e-3;  // m
    return std::any_of(findings.elements.begin(), findings.elements.end(), [&](const Element& element) {
        const auto drawn = element.ground ? second_section_length(psi, element) : std::nullopt;
        return drawn && std::abs(*drawn - share * width_m) <= closely;
    });
}

std::string width_words(double width_m) { return fixed(width_m, 3) + " m"; }

/// The derivations of the other floor, under names that tell them apart, after where its width comes from.
void add_derivations(Findings& findings, const Findings& other, const FloorWidthPsi& at, const Study& study) {
    const std::string name = at.own ? "floor with its own B′ " + width_words(at.width) : "floor as wide as the convention's " + width_words(at.width);
    for (Derivation derivation : other.derivations) {
        if (!derivation.of.starts_with("psi ") || (!derivation.of.ends_with(", internal") && !derivation.of.ends_with(", floor by ISO 13370"))) continue;
        derivation.of += ", " + name;
        std::vector<Derivation::Input> first;
        if (const auto floor = ground_floor(study); at.own && floor && std::abs(floor->characteristic() - at.width) < 1e-6) {
            derivation.formula = "B′ = A/(0.5·P) (ISO 13370:2017, characteristic dimension; from memory); " + derivation.formula;
            first = {{"A, ground floor", floor->area, "m²", "the study"}, {"P, exposed perimeter", floor->perimeter, "m", "the study"}};
        }
        first.push_back({"width of the floor, b", at.width, "m", at.own ? "the study" : "convention " + study.convention});
        derivation.inputs.insert(derivation.inputs.begin(), first.begin(), first.end());
        derivation.notes.insert(derivation.notes.begin(), "The section and its floor alone are worked out again with this width, as far out and down as the convention then asks.");
        findings.derivations.push_back(std::move(derivation));
    }
}

FloorWidthPsi with_width(Findings& findings, const Study& study, const Variant& variant, double width, bool own, const FindingsOptions& options, const Context& context) {
    FloorWidthPsi at{.width = width, .own = own, .second_section = {}, .by_iso13370 = {}};
    Study other = study;
    other.floor_width = std::llround(width * 1e6);
    FindingsOptions asked;
    asked.formulas = options.formulas;
    asked.tolerance = options.tolerance;
    asked.share = options.share;
    std::shared_ptr<const Findings> found;
    try {
        found = find(other, variant, asked, context);
    } catch (const InputFault&) {
        // A floor of that width cannot be laid there: the first answer stands, and says so.
    }
    const Psi* psi = !found || found->has_fault() ? nullptr : floor_psi(*found);
    if (!psi || !follows(*found, *psi, width, study.used_convention().inside_distance)) {
        at.reason = "floor-width-not-followed";
        findings.messages.push_back({Severity::note, at.reason, {{"width", width_words(width)}}, {}, {}});
        return at;
    }
    at.second_section = psi->value;
    at.by_iso13370 = psi->by_iso13370;
    add_derivations(findings, *found, at, study);
    return at;
}

}  // namespace

std::shared_ptr<const Findings> with_floor_widths(const Study& study, const Variant& variant, std::shared_ptr<const Findings> findings,
                                                  const FindingsOptions& options, const Context& context) {
    if (findings->has_fault() || !floor_psi(*findings)) return findings;
    constexpr double same = 1e-3;  // m
    const double convention = to_m(study.used_convention().floor_width), used = to_m(study.floor_width.value_or(study.used_convention().floor_width));
    std::vector<std::pair<double, bool>> others;  // width, whether it is the study's own
    if (const auto floor = ground_floor(study); floor && std::abs(floor->characteristic() - used) > same) others.emplace_back(floor->characteristic(), true);
    if (std::abs(convention - used) > same) others.emplace_back(convention, false);
    if (others.empty()) return findings;
    auto told = std::make_shared<Findings>(*findings);
    try {
        for (const auto& [width, own] : others) told->floor_widths.push_back(with_width(*told, study, variant, width, own, options, context));
    } catch (const Cancelled&) {
        return findings;  // what is there already is a whole answer
    }
    return told;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/heat_loss.hpp"

#include <algorithm>

#include "core/file/quantities.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/psi.hpp"

namespace wallfoot {

namespace {

Message loss_note(const char* code, std::map<std::string, std::string> args = {}) { return {Severity::note, code, std::move(args), {}, {}}; }

bool between(const Element& element, const Psi& psi) {
    return (element.warm_space == psi.a && element.cold_space == psi.b) || (element.warm_space == psi.b && element.cold_space == psi.a);
}

const Bracketed* floor_of(const Psi& psi) {
    for (const TakenOff& off : psi.taken_off)
        if (off.floor_alone) return &*off.floor_alone;
    return nullptr;
}

}  // namespace

HeatLoss heat_loss(const Study& study, const Findings& findings) {
    HeatLoss loss;
    const Psi* psi = findings.headline_psi();
    if (!psi || !psi->value) {
        loss.missing.push_back(loss_note("loss-no-psi", {{"reason", psi ? why_missing(findings, psi->a, psi->b, psi->lengths, psi->reason) : std::string("–")}}));
        return loss;
    }
    // The areas that the study gives go with the lengths of its own convention.
    if (psi->lengths != study.used_convention().lengths) {
        loss.missing.push_back(loss_note("loss-other-lengths", {{"lengths", word_of(length_system_words, psi->lengths)}, {"own", word_of(length_system_words, study.used_convention().lengths)}}));
        return loss;
    }
    std::string to_enter, elsewhere;
    const auto list = [](std::string& names, const std::string& name) { names += (names.empty() ? "" : ", ") + name; };
    const Quantities given = quantities(study);
    const std::optional<double> length = given.junction;
    if (!length) loss.missing.push_back(loss_note("loss-needs-length"));
    const Bracketed* alone = floor_of(*psi);
    double planes = 0, alone_counts = 0;  // Σ U·A, and how many times the floor alone stands in the sum
    for (const Element& element : findings.elements) {
        if (!between(element, *psi)) {
            list(elsewhere, element.id);
            continue;
        }
        const auto area = given.areas.find(element.id);
        if (area == given.areas.end()) {
            list(to_enter, element.id);
            continue;
        }
        LossTerm term{.of = element.id, .coefficient = 0, .quantity = area->second, .bracket = {}};
        const auto drawn = element.ground && alone ? second_section_length(*psi, element) : std::nullopt;
        const auto& whole = psi->lengths == LengthSystem::internal ? element.internal_length : element.external_length;
        if (drawn) {
            term.coefficient = alone->value / *drawn;
            term.bracket = Bracketed{alone->value / *drawn, alone->lower / *drawn, alone->upper / *drawn};
            alone_counts += (area->second - length.value_or(0) * to_m(*whole)) / *drawn;
        } else if (element.U) {
            term.coefficient = *element.U;
        } else {
            loss.missing.push_back(loss_note("loss-no-transmittance", {{"element", element.id}}));
            continue;
        }
        planes += term.coefficient * term.quantity;
        loss.terms.push_back(term);
    }
    if (!to_enter.empty()) loss.missing.push_back(loss_note("loss-needs-areas", {{"elements", to_enter}}));
    loss.notes.push_back(loss_note("loss-lengths", {{"lengths", word_of(length_system_words, psi->lengths)}}));
    if (!elsewhere.empty()) loss.notes.push_back(loss_note("loss-elsewhere", {{"elements", elsewhere}}));
    const auto coupling = std::find_if(findings.couplings.begin(), findings.couplings.end(), [&](const Coupling& c) { return c.a == psi->a && c.b == psi->b; });
    if (!loss.missing.empty() || coupling == findings.couplings.end() || !coupling->value) return loss;
    loss.terms.push_back({.of = "", .coefficient = psi->value->value, .quantity = *length, .bracket = psi->value});
    const double value = planes + psi->value->value * *length;
    double lower = value - *length * (coupling->value->value - coupling->value->lower), upper = value + *length * (coupling->value->upper - coupling->value->value);
    if (alone) {
        const double below = alone->value - alone->lower, above = alone->upper - alone->value;
        lower -= alone_counts > 0 ? alone_counts * below : -alone_counts * above;
        upper += alone_counts > 0 ? alone_counts * above : -alone_counts * below;
    }
    loss.value = Bracketed{value, lower, upper};
    return loss;
}

bool adds_up_otherwise(const HeatLoss& of, const HeatLoss& from) {
    const auto same = [](const LossTerm& a, const LossTerm& b) { return a.of == b.of; };
    return of.value && from.value && !std::is_permutation(of.terms.begin(), of.terms.end(), from.terms.begin(), from.terms.end(), same);
}

std::optional<Bracketed> loss_difference(const HeatLoss& of, const HeatLoss& from) {
    return of.value && from.value && !adds_up_otherwise(of, from) ? std::optional(difference(*of.value, *from.value)) : std::nullopt;
}

std::string sum_text(const HeatLoss& loss) {
    if (!loss.value) return {};
    std::string text;
    for (const LossTerm& term : loss.terms) {
        constexpr int least = 3, most = 5;  // decimals
        const double half = term.bracket ? term.bracket->width() / 2 : 0;
        const int decimals = std::clamp(supported_decimals(half), least, term.bracket ? most : 4);
        const bool junction = term.of.empty();
        text += (text.empty() ? "" : " + ") + fixed(term.coefficient, decimals) + (junction ? " W/(m·K) × " : " W/(m²·K) × ") + number_text(term.quantity) + (junction ? " m (junction)" : " m² (" + term.of + ")");
    }
    return text;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/partner.hpp"

namespace wallfoot {

namespace {

const char* measure_name(Measure measure) { return measure == Measure::psi ? "psi" : "fRsi"; }

/// A value of the parameter with its unit.
std::string with_unit(const Parameter& parameter, double value) { return goes_by_ratio(parameter) ? fixed(value, 3) + " W/(m·K)" : fixed(value, 1) + (parameter.what == ParameterWhat::temperature ? " °C" : " mm"); }

std::string one_measure_text(const Parameter& parameter, const EqualAnswer& answer, const EqualBy& by) {
    const std::string name = measure_name(by.measure);
    const auto of = [&](const EqualSample& sample) { return by.measure == Measure::psi ? sample.psi : sample.fRsi; };
    std::string text = "  to reach: " + name + " " + fixed(by.target, 4) + "\n";
    for (const auto& [from, to] : by.lost)
        text += "    changes sides between " + with_unit(parameter, from) + " and " + with_unit(parameter, to) + ", where the drawing does not allow a value\n";
    if (by.alike_throughout) return text + "    the very same at every value tried: it does not depend on it\n";
    if (by.undecided) return text + "    undecided: at some values the brackets of both overlap, and none is surely equal; ask for a closer tolerance\n";
    if (by.roots.empty()) {
        const EqualSample *first = nullptr, *last = nullptr;
        std::size_t with_value = 0;
        for (const EqualSample& sample : answer.tried)
            if (of(sample)) last = &sample, first = first ? first : &sample, ++with_value;
        text += "    never equal";
        if (first) text += ": from " + with_unit(parameter, first->at) + " to " + with_unit(parameter, last->at) + " " + name + " goes from " + fixed(*of(*first), 4) + " to " + fixed(*of(*last), 4) + "; between two of the " + std::to_string(with_value) + " values tried it could touch it unseen";
        text += "\n";
    }
    for (const auto& root : by.roots) {
        if (root.leap) text += "    passed at once at about " + with_unit(parameter, root.value) + ": no value gives equality\n";
        else text += "    equal at about " + with_unit(parameter, root.value) + ", some " + with_unit(parameter, root.lower) + " to " + with_unit(parameter, root.upper) + " by what the brackets leave open\n";
    }
    if (by.roots.size() > 1) text += "    more than one: " + name + " does not go one way only here\n";
    return text;
}

}  // namespace

std::string equal_text(const Parameter& parameter, const EqualAnswer& answer) {
    std::string text;
    for (const EqualBy& by : answer.by) text += one_measure_text(parameter, answer, by);
    const bool open = std::any_of(answer.by.begin(), answer.by.end(), [](const EqualBy& by) { return by.undecided; });
    if (answer.as_good.empty() && !open) text += "  not reachable: nowhere in the range tried is it as good\n";
    for (const EqualRange& range : answer.as_good) text += "  as good from " + with_unit(parameter, range.from) + " to " + with_unit(parameter, range.to) + "\n";
    std::size_t refused = 0;
    for (const EqualSample& sample : answer.tried) refused += !sample.problem.empty();
    if (refused > 0)
        for (const EqualSample& sample : answer.tried)
            if (!sample.problem.empty()) {
                text += "  " + std::to_string(refused) + " of " + std::to_string(answer.tried.size()) + " values the drawing does not allow, the first at " + with_unit(parameter, sample.at) + ": " + sample.problem + "\n";
                break;
            }
    return text;
}

namespace {

std::string shown_psi(const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    return psi && psi->value ? with_bracket(*psi->value) : "–";
}

std::string shown_factor(const Findings& findings) {
    const SurfaceFinding* surface = findings.headline_surface();
    return surface && surface->fRsi ? fixed(*surface->fRsi, factor_decimals(*surface)) : "–";
}

}  // namespace

std::string equal_courses_text(const EqualCourses& found) {
    const auto both = [](const Findings& findings) { return "psi " + shown_psi(findings) + ", fRsi " + shown_factor(findings) + "\n"; };
    // The answer first, then what it rests on.
    std::string text = "  ";
    if (found.equal_at && *found.equal_at == 0) text += "as good as it stands, without any course of it";
    else if (found.equal_at) text += "as good from " + std::to_string(*found.equal_at) + (*found.equal_at == 1 ? " course on" : " courses on");
    else text += found.undecided ? "undecided: what is left open of both overlaps" : "not reached with these courses";
    text += "\n  to reach:";
    if (found.psi) text += " psi " + with_bracket(*found.psi);
    if (found.fRsi) text += std::string(found.psi ? "," : "") + " fRsi " + fixed(found.fRsi->value, 3);
    text += "\n  as it is: " + both(*found.before);
    std::size_t n = 0;
    for (const auto& step : found.steps) text += "  " + std::to_string(++n) + "  " + padded(step.piece + ", " + number_text(to_mm(step.bottom)) + " to " + number_text(to_mm(step.top)) + " mm", 52) + both(*step.findings);
    return text;
}

}  // namespace wallfoot

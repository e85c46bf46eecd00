// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/arrangement/conductivities.hpp"
#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/parameter.hpp"
#include "solver/lesson/lesson_answer.hpp"

namespace wallfoot {

namespace {

constexpr std::array<double, months_of_a_year> days{31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
constexpr double heating_limit = 15;            // °C, mean of the month: common practice, no source
constexpr double assumed_kelvin_hours = 72'000;  // where no climate is stated: common practice, no source
/// A litre of water from 15 to 100 °C, nothing lost: 4.19 kJ/(kg·K), from memory.
constexpr double kettle_kwh = 1.0 * 4.19 * 85 / 3600;

Message plain(const char* code, std::map<std::string, std::string> args) { return {Severity::note, code, std::move(args), {}, {}}; }

const Piece& tried_piece(const Section& section, const std::string& name) {
    for (const bool by_id : {true, false})
        for (const Piece& piece : section.pieces)
            if (piece.fill == Fill::material && (by_id ? piece.id : piece.name) == name) return piece;
    throw InputFault(Message{Severity::fault, "lesson-unknown-piece", {{"piece", name}, {"step", ""}}, {}, {}});
}

std::string spoken_condition(Condition condition) {
    std::string words = to_string(condition);
    std::replace(words.begin(), words.end(), '-', ' ');
    return words;
}

/// The month, counted from 0, as a wave of the year says it.
ClimateMonth month_of_wave(const YearWave& year, std::size_t m, double inside) {
    const double cosine = std::cos(2 * std::numbers::pi / static_cast<double>(months_of_a_year) * (static_cast<double>(m) + 1 - year.coldest_month));
    ClimateMonth month;
    month.outside = year.outside_mean - year.outside_amplitude * cosine;
    month.inside = inside - year.inside_amplitude * cosine;
    return month;
}

/// The conductivity that holds in the piece now: of its first face.
double present(const Findings& shown, const Piece& piece) {
    for (std::size_t f = 0; f < shown.arrangement.faces.size() && f < shown.conductivity.size(); ++f) {
        const int of = shown.arrangement.faces[f].piece;
        if (of >= 0 && shown.section->pieces[static_cast<std::size_t>(of)].id == piece.id) return shown.conductivity[f].across;
    }
    return 0;
}

}  // namespace

EverydayLoss everyday_loss(const Study& study, const Findings& findings, double coefficient) {
    EverydayLoss loss;
    double inside = 20;
    if (const Psi* psi = findings.headline_psi(); psi && psi->a >= 0 && static_cast<std::size_t>(psi->a) < findings.temperatures.size()) inside = findings.temperatures[static_cast<std::size_t>(psi->a)];
    const bool by_month = study.climate && study.climate->months.size() == months_of_a_year;
    if (by_month || (study.climate && study.climate->year)) {
        for (std::size_t m = 0; m < months_of_a_year; ++m) {
            const ClimateMonth month = by_month ? study.climate->months[m] : month_of_wave(*study.climate->year, m, inside);
            if (month.outside < heating_limit) loss.kelvin_hours += days[m] * 24 * std::max(0.0, month.inside.value_or(inside) - month.outside);
        }
        loss.how.push_back(plain("lesson-degree-hours", {{"hours", fixed(significant(loss.kelvin_hours, 3), 0)}, {"climate", study.climate->name}, {"limit", fixed(heating_limit, 0)}}));
    } else {
        loss.kelvin_hours = assumed_kelvin_hours;
        loss.how.push_back(plain("lesson-degree-hours-assumed", {{"hours", fixed(assumed_kelvin_hours, 0)}}));
    }
    loss.kwh = coefficient * loss.kelvin_hours / 1000;
    loss.kettles = loss.kwh / kettle_kwh;
    loss.how.push_back(plain("lesson-kettle", {{"kwh", fixed(kettle_kwh, 2)}}));
    return loss;
}

namespace {

/// Place of the first figure, as a power of ten: 1 for 36, -1 for 0.36.
int first_place(double value) { return static_cast<int>(std::floor(std::log10(std::abs(value)) + 1e-9)); }

/// Figures that a bracket supports, the last one not smaller than its half width: 1 or 2.
int supported_figures(const Bracketed& of) {
    const double half = of.width() / 2;
    return half > 0 ? std::clamp(first_place(of.value) - static_cast<int>(std::ceil(std::log10(half) - 1e-9)) + 1, 1, 2) : 2;
}

/// kWh and kettles of a coefficient in a sentence, with the figures its bracket supports, two at most; nothing where it may be zero
/// or comes to less than a hundredth of a kWh.
std::optional<Message> everyday_message(const char* code, const EverydayLoss& loss, const Bracketed& of, bool sign, std::map<std::string, std::string> args) {
    if (!(of.lower > 0 || of.upper < 0) || !(std::abs(loss.kwh) >= 0.005) || !std::isfinite(loss.kwh) || !std::isfinite(of.width())) return {};
    const int figures = supported_figures(of);
    const auto said = [&](double value, int most) {
        const double rounded = significant(value, figures);
        return (sign && rounded > 0 ? "+" : "") + fixed(sign ? rounded : std::abs(rounded), std::clamp(figures - 1 - first_place(rounded), 0, most));
    };
    args["kwh"] = said(loss.kwh, 2);
    args["kettles"] = said(loss.kettles, std::abs(loss.kettles) < 1 ? 1 : 0);
    return plain(code, std::move(args));
}

}  // namespace

std::vector<Message> everyday_says(const Study& study, const std::vector<const Findings*>& of) {
    std::vector<Message> says, hours, kettle;
    const auto psi_of = [](const Findings* findings) {
        const Psi* psi = findings ? findings->headline_psi() : nullptr;
        return psi && psi->value ? &*psi->value : nullptr;
    };
    const bool several = std::count_if(of.begin(), of.end(), psi_of) > 1;
    for (const Findings* findings : of) {
        const Bracketed* psi = psi_of(findings);
        if (!psi) continue;
        const EverydayLoss loss = everyday_loss(study, *findings, psi->value);
        const auto told = everyday_message(loss.kwh < 0 ? "lesson-everyday-less" : "lesson-everyday", loss, *psi, false,
                                           {{"of", (several ? findings->variant_name + ": " : std::string()) + psi_name(*findings, *findings->headline_psi())}, {"value", fixed(psi->value, std::min(3, supported_decimals(psi->width() / 2)))}});
        if (!told) continue;
        says.push_back(*told);
        hours.push_back(loss.how.front());
        hours.back().args["variant"] = findings->variant_name;
        kettle = {loss.how.back()};
    }
    // Inside temperatures may differ between variants, and the degree-hours with them.
    const bool alike = std::all_of(hours.begin(), hours.end(), [&](const Message& one) { return one.args.at("hours") == hours.front().args.at("hours"); });
    if (alike && !hours.empty()) hours.resize(1);
    for (Message& one : hours) {
        if (alike) one.args.erase("variant");
        else one.code = "lesson-degree-hours-of";
        says.push_back(one);
    }
    says.insert(says.end(), kettle.begin(), kettle.end());
    return says;
}

std::optional<Message> everyday_difference(const Study& study, const Findings& findings, const LessonAnswer& answer) {
    const auto difference = answer.number ? answer.number : answer.cost;
    if (!difference) return {};
    return everyday_message("lesson-everyday-difference", everyday_loss(study, findings, difference->value), *difference, true, {});
}

void say_everyday_difference(const Study& study, const Findings& findings, LessonAnswer& answer) {
    const auto told = everyday_difference(study, findings, answer);
    if (!told) return;
    const auto of = std::find_if(answer.says.begin(), answer.says.end(), [](const Message& message) { return message.code == "lesson-answer-change" || message.code == "lesson-fault-psi"; });
    answer.says.insert(of == answer.says.end() ? of : of + 1, *told);
}

TrialRange trial_range(const Study& study, const Findings& shown, const LessonTrial& trial) {
    const Piece& piece = tried_piece(*shown.section, trial.piece);
    const Material* material = study.find_material(piece.filled_with);
    TrialRange range;
    range.piece = shown_name(piece);
    range.material = material ? shown_name(*material) : piece.filled_with;
    range.now = present(shown, piece);
    std::map<Condition, Conductivity> declared;
    if (material) declared = material->lambda.by_condition, range.factor = use_factor(*material);
    Condition driest = Condition::dry, wettest = Condition::dry;
    for (const auto& [condition, value] : declared) {
        range.conditions.push_back(condition);
        const double low = range.factor * std::min(value.value, value.low.value_or(value.value)), high = range.factor * std::max(value.value, value.high.value_or(value.value));
        if (range.conditions.size() == 1 || low < range.least) range.least = low, driest = condition;
        if (range.conditions.size() == 1 || high > range.most) range.most = high, wettest = condition;
    }
    const bool enough = trial.what == TrialWhat::moisture ? range.conditions.size() >= 2 : range.most > range.least;
    if (!enough) throw InputFault(Message{Severity::fault, "lesson-trial-one-value", {{"material", range.material}}, {}, {}});
    if (trial.what == TrialWhat::moisture) {
        const auto end = [&](Condition last, bool wet) {
            const bool outermost = last == (wet ? Condition::saturated : Condition::dry);
            return plain(outermost ? (wet ? "lesson-stop-wettest" : "lesson-stop-driest") : (wet ? "lesson-stop-wetter" : "lesson-stop-drier"), {{"material", range.material}, {"condition", spoken_condition(last)}});
        };
        range.at_least = end(range.conditions.front(), false);
        range.at_most = end(range.conditions.back(), true);
    } else {
        range.at_least = plain("lesson-stop-lowest", {{"material", range.material}, {"value", fixed(range.least, 3)}, {"condition", spoken_condition(driest)}});
        range.at_most = plain("lesson-stop-highest", {{"material", range.material}, {"value", fixed(range.most, 3)}, {"condition", spoken_condition(wettest)}});
    }
    range.now = std::clamp(range.now, range.least, range.most);
    return range;
}

Study trial_study(const Study& study, std::size_t variant, const LessonTrial& trial, const TrialRange& range, double at) {
    Study tried = study;
    const Variant& of = study.variants.at(variant);
    const Parameter parameter{trial.what == TrialWhat::moisture ? ParameterWhat::moisture : ParameterWhat::conductivity, {tried_piece(*of.section, trial.piece).id}};
    Section section;
    if (trial.what == TrialWhat::moisture) {
        const auto index = static_cast<std::size_t>(std::clamp(std::lround(at), 0L, static_cast<long>(range.conditions.size()) - 1));
        section = with_word(tried, of, *of.section, parameter, to_string(range.conditions.at(index)));
    } else {
        section = with_number(tried, of, *of.section, parameter, std::clamp(at, range.least, range.most));
    }
    tried.variants[variant].section = std::make_shared<const Section>(std::move(section));
    return tried;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/study/names.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/season_work.hpp"

namespace wallfoot {

namespace {

using SeasonJson = nlohmann::ordered_json;

std::string season_say(const char* code, std::map<std::string, std::string> args = {}) { return english(Message{Severity::note, code, std::move(args), {}, {}}); }

std::string swing_words(const Swing& swing, const char* unit, int decimals) {
    if (!(swing.error > 0)) return fixed(swing.size, decimals) + " " + unit;
    decimals = std::min(decimals, supported_decimals(swing.error));
    return fixed(swing.size, decimals) + " ± " + estimate_beside(swing.size, swing.error, decimals) + " " + unit;
}

std::string months_words(double months) { return fixed(months, 1); }

SeasonJson swing_json(const Swing& swing) {
    SeasonJson json{{"size", significant(swing.size, 6)}, {"months", rounded(swing.months, 3)}};
    if (swing.error > 0) json["error"] = significant(swing.error, 2);
    return json;
}

std::string space_of(const Findings& findings, int space) { return shown_name(*findings.section, findings.section->spaces[space]); }

std::string assumed_words(const Seasons& seasons) {
    std::string list;
    for (const std::string& one : seasons.assumed) list += (list.empty() ? "" : ", ") + one;
    return list;
}

/// Month of the year of an angle: 0 is the middle of January.
std::string nearest_month(double months) { return month_name(static_cast<std::size_t>(std::lround(months)) % months_of_a_year); }

void add_floor_rows(const SeasonFloor& floor, std::vector<SeasonRow>& rows) {
    const auto row = [&](const char* what, const Swing& solved, const Swing& standard, const char* value) {
        rows.push_back({season_say(what), season_say(value, {{"solved", swing_words(solved, "W/(m·K)", 4)}, {"months", months_words(solved.months)}, {"standard", fixed(standard.size, 4)},
                                                            {"standard_months", months_words(standard.months)}, {"difference", fixed(100 * (standard.size / solved.size - 1), 0)}})});
    };
    if (floor.solved_outside.size > 0) row("season-floor-outside", floor.solved_outside, floor.by_standard_outside, "season-floor-outside-value");
    if (floor.solved_inside.size > 0) row("season-floor-inside", floor.solved_inside, floor.by_standard_inside, "season-floor-inside-value");
}

}  // namespace

std::vector<SeasonRow> season_rows(const Findings& findings) {
    std::vector<SeasonRow> rows;
    if (!findings.seasons) return rows;
    const Seasons& seasons = *findings.seasons;
    if (seasons.outside)
        rows.push_back({season_say("season-climate"), season_say("season-climate-value", {{"mean", fixed(seasons.outside->mean, 1)}, {"swing", fixed(std::abs(seasons.outside->wave), 1)}, {"inside", fixed(std::abs(seasons.inside->wave), 1)}, {"off", fixed(seasons.outside->most_off, 1)}})});
    else
        rows.push_back({season_say("season-climate"), season_say("season-no-climate")});
    for (const SeasonFlow& flow : seasons.flows) {
        if (findings.section->spaces[flow.space].kind != SpaceKind::inside) continue;  // what a void passes on is in the JSON
        const std::string name = space_of(findings, flow.space);
        rows.push_back({season_say("season-by-outside", {{"space", name}}), season_say("season-lags-outside", {{"swing", swing_words(flow.by_outside, "W/(m·K)", 4)}, {"months", months_words(flow.by_outside.months)}})});
        rows.push_back({season_say("season-by-inside", {{"space", name}}), season_say("season-leads-inside", {{"swing", swing_words(flow.by_inside, "W/(m·K)", 4)}, {"months", months_words(flow.by_inside.months)}})});
        if (flow.mean && flow.in_year)
            rows.push_back({season_say("season-flow", {{"space", name}}), season_say("season-flow-value", {{"mean", fixed(*flow.mean, 2)}, {"swing", swing_words(*flow.in_year, "W/m", 2)}, {"month", nearest_month(flow.in_year->months)}})});
    }
    if (const auto& surface = seasons.surface) {
        const int decimals = std::min(2, supported_decimals(surface->error));
        rows.push_back({season_say("season-surface", {{"space", space_of(findings, surface->space)}}),
                        season_say("season-surface-value", {{"lowest", fixed(surface->lowest, decimals)}, {"error", estimate_beside(surface->lowest, surface->error, decimals)}, {"month", month_name(surface->month)}, {"swing", fixed(surface->swing.size, 2)}, {"months", months_words(surface->swing.months)},
                                                            {"steady", fixed(*std::min_element(surface->steady_by_month.begin(), surface->steady_by_month.end()), 2)}})});
    }
    if (seasons.floor) add_floor_rows(*seasons.floor, rows);
    for (const SurfaceVerdict& verdict : seasons.checks)
        rows.push_back({season_say(verdict.demand == SurfaceDemand::mould ? "season-mould" : "season-condensation"), verdict_text(verdict.verdict) + ": " + english(verdict.message)});
    if (!seasons.assumed.empty()) rows.push_back({season_say("season-assumed"), season_say("season-assumed-value", {{"list", assumed_words(seasons)}})});
    return rows;
}

std::string season_json(const Findings& findings) {
    SeasonJson json = SeasonJson::object();
    if (!findings.seasons) return json.dump();
    const Seasons& seasons = *findings.seasons;
    const auto& spaces = findings.section->spaces;
    const auto year_json = [](const YearOf& year) { return SeasonJson{{"mean", rounded(year.mean, 3)}, {"amplitude", rounded(std::abs(year.wave), 3)}, {"months_depart_by", rounded(year.most_off, 3)}}; };
    if (seasons.outside) json["outside"] = year_json(*seasons.outside);
    if (seasons.inside) json["inside"] = year_json(*seasons.inside);
    json["flows"] = SeasonJson::array();
    for (const SeasonFlow& flow : seasons.flows) {
        SeasonJson one{{"space", spaces[flow.space].id}, {"by_outside", swing_json(flow.by_outside)}, {"by_inside", swing_json(flow.by_inside)}};
        if (flow.mean) one["mean"] = significant(*flow.mean, 6);
        if (flow.in_year) one["in_year"] = swing_json(*flow.in_year);
        json["flows"].push_back(std::move(one));
    }
    if (const auto& surface = seasons.surface) {
        json["surface"] = {{"space", spaces[surface->space].id}, {"lowest", rounded(surface->lowest, 3)}, {"month", surface->month + 1}, {"error", significant(surface->error, 2)}, {"at", {rounded(surface->at[0] / 1000, 2), rounded(surface->at[1] / 1000, 2)}}, {"swing", swing_json(surface->swing)}};
        for (std::size_t m = 0; m < months_of_a_year; ++m) {
            json["surface"]["by_month"].push_back(rounded(surface->by_month[m], 3));
            json["surface"]["steady_by_month"].push_back(rounded(surface->steady_by_month[m], 3));
        }
    }
    if (const auto& floor = seasons.floor)
        json["floor"] = {{"solved", {{"by_outside", swing_json(floor->solved_outside)}, {"by_inside", swing_json(floor->solved_inside)}}},
                         {"iso13370", {{"by_outside", swing_json(floor->by_standard_outside)}, {"by_inside", swing_json(floor->by_standard_inside)}}}};
    json["checks"] = SeasonJson::array();
    for (const SurfaceVerdict& verdict : seasons.checks) {
        SeasonJson one{{"against", verdict.demand == SurfaceDemand::mould ? "mould" : "condensation"}, {"verdict", verdict_text(verdict.verdict)}};
        if (verdict.month) one["month"] = *verdict.month + 1;
        if (verdict.asked) one["asked"] = significant(*verdict.asked, 4);
        if (verdict.margin_K) one["margin"] = rounded(*verdict.margin_K, 2);
        one["text"] = english(verdict.message);
        json["checks"].push_back(std::move(one));
    }
    json["assumed_heat_capacity"] = seasons.assumed;
    json["elements"] = seasons.elements;
    return json.dump(-1, ' ', false, SeasonJson::error_handler_t::replace);
}

Derivation derive_seasons(const Study& study, const Findings& findings) {
    const Seasons& seasons = *findings.seasons;
    Derivation derivation{.of = "heat flow through the year",
                          .formula = "T = Re(Θ·e^(iωt)), ω = 2π/year: −∇·(λ∇Θ) + iωρc·Θ = 0, surfaces (θ − T)/R; quadratic elements on the mesh of the steady field, no edge longer than 0.8 of √(2λ/(ωρc))",
                          .inputs = {}, .notes = {}, .id = "year-wave"};
    const auto put = [&](const std::string& name, double value, const char* unit, const std::string& source) { derivation.inputs.push_back({name, value, unit, source}); };
    const std::string climate = !study.climate ? "" : study.climate->source.empty() ? "climate of the study" : study.climate->source;
    if (seasons.outside) {
        put("θ_e, mean of the year", seasons.outside->mean, "°C", climate);
        put("θ_e, first wave of the months", std::abs(seasons.outside->wave), "K", climate);
        put("θ_i, mean of the year", seasons.inside->mean, "°C", climate);
        put("θ_i, first wave of the months", std::abs(seasons.inside->wave), "K", climate);
    }
    for (const SeasonFlow& flow : seasons.flows) {
        put("swing of " + space_of(findings, flow.space) + " by outside", flow.by_outside.size, "W/(m·K)", "the field");
        put("… after the coldest outside", flow.by_outside.months, "months", "the field");
        put("swing of " + space_of(findings, flow.space) + " by inside", flow.by_inside.size, "W/(m·K)", "the field");
        put("… before the warmest inside", flow.by_inside.months, "months", "the field");
    }
    if (const auto& floor = seasons.floor) {
        put("λ, soil", floor->soil, "W/(m·K)", "the drawing");
        put("ρc, soil", floor->capacity, "J/(m³·K)", "its material, or assumed");
        put("δ = √(3.15·10⁷·λ/(π·ρc))", floor->depth, "m", "computed");
        put("d_f", floor->equivalent_thickness, "m", "computed");
        put("l, floor", floor->length, "m", "the drawing");
        put("H_pe/P = 0.37·λ·ln(δ/d_f + 1)", floor->by_standard_outside.size, "W/(m·K)", "ISO 13370, from memory");
        put("β = 1.5 − 0.42·ln(δ/(d_f + 1))", floor->by_standard_outside.months, "months", "ISO 13370, from memory");
        put("floor alone, by outside", floor->solved_outside.size, "W/(m·K)", "its field");
        put("H_pi/P = l·(λ/d_f)·√(2/((1 + δ/d_f)² + 1))", floor->by_standard_inside.size, "W/(m·K)", "ISO 13370, from memory");
        put("α = 1.5 − (12/2π)·arctan(d_f/(d_f + δ))", floor->by_standard_inside.months, "months", "ISO 13370, from memory");
        put("floor alone, by inside", floor->solved_inside.size, "W/(m·K)", "its field");
    }
    if (seasons.outside && seasons.outside->most_off > 0) derivation.notes.push_back(season_say("season-note-months", {{"off", fixed(seasons.outside->most_off, 1)}}));
    if (!seasons.assumed.empty()) derivation.notes.push_back(season_say("season-assumed-value", {{"list", assumed_words(seasons)}}));
    derivation.notes.push_back(season_say("season-note-error"));
    return derivation;
}

}  // namespace wallfoot

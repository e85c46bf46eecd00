// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/solve_command.hpp"

#include <charconv>
#include <cmath>
#include <cstdio>
#include <optional>

#include "app/arguments.hpp"
#include "core/exchange/climate_table.hpp"
#include "core/file/study_file.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

const char* const solve_usage =
    "wallfoot solve FILE [--variant ID-or-NAME]… [--tolerance W/mK|SHARE%] [--at X,Y]… [--sensitivities] [--criteria] [--seasons]\n"
    "               [--convention ID] [--climate FILE] [--indoor 1|2|3|4|RH%] [--json] [--resources DIR]\n"
    "  --variant    a variant by its id or name; may be given several times; all of them without it\n"
    "  --tolerance  width of the bracket of every psi, W/(m·K), above 0; 1e-4 without it;\n"
    "               or a share of L2D: 0.001% for a report\n"
    "  --at         a point in mm whose temperature is asked; may be given several times\n"
    "  --sensitivities  also what 10 % more of every conductivity and surface resistance does to psi and fRsi\n"
    "  --criteria   also the criteria of ISO 10211: a mesh of twice the elements, heat balance, distances of the cuts\n"
    "  --seasons    also the year's wave through the ground: swing and lag of the heat flow and of the coldest surface, with mould by month\n"
    "  --convention another convention by its id: iso, uk-ireland, de-surface, low-energy, or one of the study or of --resources\n"
    "  --climate    twelve months for the check of the surface: a table (outside °C, humidity %) or an hourly EPW weather file\n"
    "  --indoor     the air inside for that check: humidity class 1 to 4, or relative humidity such as 50%\n"
    "  --json       JSON instead of a table\n";

namespace {

struct SolveAsked {
    std::string file;
    std::vector<std::string> variants;
    FindingsOptions options;
    std::string convention, climate;
    std::optional<IndoorAir> indoor;
    bool json = false;
};

std::optional<double> number(std::string_view text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

Point point(const std::string& text) {
    const auto comma = text.find(',');
    const auto x = number(std::string_view(text).substr(0, comma));
    const auto y = comma == std::string::npos ? std::nullopt : number(std::string_view(text).substr(comma + 1));
    const double limit = to_mm(coordinate_limit);
    if (!x || !y || std::abs(*x) > limit || std::abs(*y) > limit)
        wrong_use("'" + text + "' is not a point", "--at X,Y with two numbers in mm, such as --at 100,-20.5");
    return {from_mm(*x), from_mm(*y)};
}

/// In W/(m·K), or as a share of L2D in per cent.
void take_tolerance(const std::string& text, FindingsOptions& options) {
    const bool share = text.ends_with('%');
    const auto value = number(std::string_view(text).substr(0, text.size() - (share ? 1 : 0)));
    if (!value || *value <= 0 || (share && *value >= 100))
        wrong_use("'" + text + "' is not a tolerance", "a number above 0 in W/(m·K), such as 1e-4, or a share of L2D, such as 0.001%");
    (share ? options.share : options.tolerance) = share ? *value / 100 : *value;
}

IndoorAir indoor_air(const std::string& text) {
    const bool percent = text.ends_with('%');
    const auto value = number(std::string_view(text).substr(0, text.size() - (percent ? 1 : 0)));
    if (percent && value && *value >= 1 && *value <= 100) return {.humidity_class = {}, .humidity = *value / 100};
    for (const int known : {1, 2, 3, 4})
        if (!percent && value == known) return {.humidity_class = known, .humidity = {}};
    wrong_use("'" + text + "' says nothing of the air inside", "a humidity class 1, 2, 3 or 4, or a relative humidity such as 50%");
}

/// The study under the convention and in the climate that were asked for.
Study as_asked(Study study, const SolveAsked& asked) {
    if (!asked.convention.empty()) study = with_convention(study, asked.convention);
    if (!asked.climate.empty()) {
        Climate climate = climate_from_file(asked.climate);
        if (study.climate) climate.indoor = study.climate->indoor, climate.zone = study.climate->zone;
        study.climate = std::move(climate);
    }
    if (asked.indoor && !study.climate) study.climate.emplace();
    if (asked.indoor) study.climate->indoor = asked.indoor;
    return study;
}

SolveAsked read_solve_arguments(const std::vector<std::string>& arguments) {
    SolveAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            return arguments[++i];
        };
        if (word == "--json") {
            asked.json = true;
        } else if (word == "--criteria") {
            asked.options.criteria = true;
        } else if (word == "--seasons") {
            asked.options.seasons = true;
        } else if (word == "--sensitivities") {
            asked.options.slopes = true;
        } else if (word == "--variant") {
            asked.variants.push_back(value());
        } else if (word == "--tolerance") {
            take_tolerance(value(), asked.options);
        } else if (word == "--at") {
            asked.options.at.push_back(point(value()));
        } else if (word == "--convention") {
            asked.convention = value();
        } else if (word == "--climate") {
            asked.climate = value();
        } else if (word == "--indoor") {
            asked.indoor = indoor_air(value());
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of solve", "one of --variant, --tolerance, --at, --sensitivities, --criteria, --seasons, --convention, --climate, --indoor, --json");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one study file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot solve FILE");
    return asked;
}

int solve_asked(const SolveAsked& asked) {
    auto read = load_study(asked.file);
    read.study = as_asked(std::move(read.study), asked);
    FindingsOptions options = asked.options;
    options.floor_widths = true;
    std::vector<std::shared_ptr<const Findings>> all;
    bool fault = false, reached = true;
    for (const Variant* variant : chosen(read.study, asked.variants)) {
        auto findings = find(read.study, *variant, options);
        print_faults(findings->messages, asked.file);
        fault = fault || findings->has_fault();
        reached = reached && findings->converged;
        all.push_back(std::move(findings));
    }
    if (fault) return input_at_fault;
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const auto text = asked.json ? to_json(read.study, asked.file, all) : to_table(read.study, all);
    return print_result(text, reached ? solved : tolerance_not_reached);
}

}  // namespace

int solve_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_solve_arguments, solve_asked); }

}  // namespace wallfoot

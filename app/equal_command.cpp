// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/equal_command.hpp"

#include <cstdio>
#include <optional>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "core/text/number_entry.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/partner.hpp"

namespace wallfoot {

const char* const equal_usage =
    "wallfoot equal FILE --to ID-or-NAME --variant ID-or-NAME --piece ID-or-NAME… [--by psi|fRsi] [--courses MATERIAL [--height MM] [--most N]] [--resources DIR]\n"
    "  what would make --variant as good as --to: the conductivity of the pieces, or how many whole courses of another block in them\n";

namespace {

struct Asked {
    std::string file, to, variant, courses;
    std::vector<std::string> pieces;
    Measure measure = Measure::psi;
    Micrometres height = 225'000;
    std::size_t most = 8;
};

double number_of(const std::string& option, const std::string& text, double least, double greatest) {
    const Entry entry = parse_number(text);
    if (!entry || *entry.value < least || *entry.value > greatest) wrong_use(option + " is '" + text + "'", "a number from " + number_text(least) + " to " + number_text(greatest));
    return *entry.value;
}

Asked read_arguments(const std::vector<std::string>& arguments) {
    Asked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            return arguments[++i];
        };
        if (word == "--to") asked.to = value();
        else if (word == "--variant") asked.variant = value();
        else if (word == "--piece") asked.pieces.push_back(value());
        else if (word == "--courses") asked.courses = value();
        else if (word == "--height") asked.height = from_mm(number_of(word, value(), 1, 10'000));
        else if (word == "--most") asked.most = static_cast<std::size_t>(number_of(word, value(), 1, 40));
        else if (word == "--by") {
            const std::string& by = value();
            if (by != "psi" && by != "fRsi") wrong_use("--by is '" + by + "'", "psi or fRsi");
            asked.measure = by == "psi" ? Measure::psi : Measure::fRsi;
        } else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of equal", "one of --to, --variant, --piece, --by, --courses, --height, --most");
        else if (!asked.file.empty()) wrong_use("two files are given", "one study file");
        else asked.file = word;
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot equal FILE --to ID --variant ID --piece ID");
    if (asked.to.empty() || asked.variant.empty()) wrong_use("two variants are needed", "--to the one to be matched, --variant the one that is changed");
    if (asked.pieces.empty()) wrong_use("no piece is named", "--piece with the id or name of a piece, once or more");
    if (!asked.courses.empty() && asked.measure == Measure::fRsi) wrong_use("--courses compares by psi", "no --by fRsi beside it");
    return asked;
}

std::string head(const Study& study, const Asked& asked, const Variant& variant, const Variant& to) {
    std::string pieces;
    for (const auto& piece : asked.pieces) pieces += (pieces.empty() ? "" : ", ") + piece;
    return (study.title.empty() ? "" : study.title + "\n") + variant.name + " as good as " + to.name + ", by " + pieces + "\n";
}

constexpr const char* heat_only = "\nHeat only. Strength, frost, sound, fire and movement are not in it; the maker, the engineer and local rules decide them.\n";

std::string conductivity_text(const EqualConductivity& found, Measure measure) {
    const std::string name = measure == Measure::psi ? "psi" : "fRsi";
    std::string text = "  to reach: " + name + " " + fixed(found.target, 4) + "\n";
    if (found.roots.empty())
        text += "  not reachable by the conductivity of these pieces: from " + fixed(least_tried, 2) + " to " + fixed(most_tried, 0) + " W/(m·K) " + name + " goes from " + fixed(found.tried.front().value, 4) + " to " + fixed(found.tried.back().value, 4) + "\n";
    for (const auto& root : found.roots)
        text += "  equal at about " + fixed(root.conductivity, 3) + " W/(m·K), some " + fixed(rounded_down(root.lower, 4), 4) + " to " + fixed(rounded_up(root.upper, 4), 4) + " by what the brackets leave open\n";
    if (found.roots.size() > 1) text += "  more than one: " + name + " does not follow the conductivity one way only here\n";
    return text;
}

std::string psi_of(const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    return psi && psi->value ? with_bracket(*psi->value) : "–";
}

std::string courses_text(const EqualCourses& found) {
    std::string text = "  to reach: psi " + with_bracket(found.target) + "\n  as it is: psi " + psi_of(*found.before) + "\n";
    std::size_t n = 0;
    for (const auto& step : found.steps)
        text += "  " + std::to_string(++n) + "  " + padded(step.piece + ", " + number_text(to_mm(step.bottom)) + " to " + number_text(to_mm(step.top)) + " mm", 52) + "psi " + psi_of(*step.findings) + "\n";
    if (found.equal_at) text += "  as good from " + std::to_string(*found.equal_at) + (*found.equal_at == 1 ? " course on\n" : " courses on\n");
    else text += found.undecided ? "  undecided: the brackets of both overlap\n" : "  not reached with these courses\n";
    return text;
}

int equal_asked(const Asked& asked) {
    const auto read = load_study(asked.file);
    const Variant& to = *chosen(read.study, {asked.to}).front();
    const Variant& variant = *chosen(read.study, {asked.variant}).front();
    const auto target = find(read.study, to);
    refuse_faults(target->messages);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    std::string text = head(read.study, asked, variant, to);
    if (asked.courses.empty()) text += conductivity_text(equal_conductivity(read.study, variant, asked.pieces, *target, asked.measure), asked.measure);
    else text += courses_text(equal_courses(read.study, variant, asked.pieces, asked.courses, *target, asked.height, asked.most));
    return print_result(text + heat_only, solved);
}

}  // namespace

int equal_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_arguments, equal_asked); }

}  // namespace wallfoot

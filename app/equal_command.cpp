// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/equal_command.hpp"

#include <cstdio>
#include <optional>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "core/text/number_entry.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/equal_build.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/partner.hpp"

namespace wallfoot {

const char* const equal_usage =
    "wallfoot equal FILE --to ID-or-NAME --variant ID-or-NAME --piece ID-or-NAME… [--by psi|fRsi] [--courses MATERIAL [--height MM] [--most N]] [--resources DIR]\n"
    "wallfoot equal FILE --to ID-or-NAME --variant ID-or-NAME --measure ID-or-NAME --element ID [--by U|thickness] [--resources DIR]\n"
    "  what would make --variant as good as --to: the conductivity of the pieces, or how many whole courses of another block in them;\n"
    "  or how long a measure must be for an element to have the U, or the thickness, that it has there\n";

namespace {

struct Asked {
    std::string file, to, variant, courses, measure_line, element;
    std::string by;  ///< "" = not said
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
        else if (word == "--measure") asked.measure_line = value();
        else if (word == "--element") asked.element = value();
        else if (word == "--by") asked.by = value();
        else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of equal", "one of --to, --variant, --piece, --by, --courses, --height, --most, --measure, --element");
        else if (!asked.file.empty()) wrong_use("two files are given", "one study file");
        else asked.file = word;
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot equal FILE --to ID --variant ID --piece ID");
    if (asked.to.empty() || asked.variant.empty()) wrong_use("two variants are needed", "--to the one to be matched, --variant the one that is changed");
    if (!asked.measure_line.empty()) {
        if (asked.element.empty()) wrong_use("no element is named", "--element with its id, such as top or left");
        if (!asked.pieces.empty() || !asked.courses.empty()) wrong_use("--measure changes a measure", "no --piece or --courses beside it");
        if (!asked.by.empty() && asked.by != "U" && asked.by != "thickness") wrong_use("--by is '" + asked.by + "'", "U or thickness beside --measure");
        return asked;
    }
    if (!asked.by.empty() && asked.by != "psi" && asked.by != "fRsi") wrong_use("--by is '" + asked.by + "'", "psi or fRsi");
    asked.measure = asked.by == "fRsi" ? Measure::fRsi : Measure::psi;
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

std::string build_text(const EqualBuild& found, Alike alike) {
    const auto shown = [&](double value) { return alike == Alike::transmittance ? "U " + fixed(value, 4) + " W/(m²·K)" : "thickness " + fixed(1000 * value, 1) + " mm"; };
    std::string text = "  to reach: " + shown(found.target) + " of " + found.element + "\n  as it is: " + shown(found.value_before) + ", " + found.measure + " " + length_text(to_mm(found.before)) + "\n";
    if (found.bracket)
        return text + "  equal at: " + found.measure + " " + length_text(to_mm(found.length)) +
               (found.bracket->first == found.bracket->second ? "" : " (between " + length_text(to_mm(found.bracket->first)) + " and " + length_text(to_mm(found.bracket->second)) + ")") + ", " + shown(found.value) + "\n";
    if (found.tried.empty()) return text + "  not reachable: the drawing allows no other length\n";
    return text + "  not reachable: from " + length_text(to_mm(found.tried.front().length)) + " to " + length_text(to_mm(found.tried.back().length)) + " it goes from " + shown(found.tried.front().value) + " to " + shown(found.tried.back().value) + "\n";
}

/// A measure is changed until an element is alike in both; then psi of the variant with that length.
int equal_build_asked(const Asked& asked, const Study& study, const Variant& to, const Variant& variant) {
    const Alike alike = asked.by == "thickness" ? Alike::thickness : Alike::transmittance;
    const EqualBuild found = equal_build(study, variant, asked.measure_line, asked.element, alike, alike_value(study, to, asked.element, alike));
    std::string text = (study.title.empty() ? "" : study.title + "\n") + variant.name + " with the " + (alike == Alike::thickness ? "thickness" : "U") + " of " + to.name + "\n" + build_text(found, alike);
    bool converged = true;
    if (found.section) {
        Variant changed = variant;
        changed.section = found.section;
        const auto base = find(study, to), before = find(study, variant), after = find(study, changed);
        for (const auto& [what, findings] : {std::pair("psi of " + to.name, base), std::pair("psi of " + variant.name + " as it is", before), std::pair("psi of " + variant.name + " with that", after)}) {
            refuse_faults(findings->messages);
            converged = converged && findings->converged;
            text += "  " + what + ": " + psi_of(*findings) + " W/(m·K)\n";
        }
    }
    return print_result(text, converged ? solved : tolerance_not_reached);
}

int equal_asked(const Asked& asked) {
    const auto read = load_study(asked.file);
    const Variant& to = *chosen(read.study, {asked.to}).front();
    const Variant& variant = *chosen(read.study, {asked.variant}).front();
    if (!asked.measure_line.empty()) return equal_build_asked(asked, read.study, to, variant);
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

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
    "wallfoot equal FILE --to ID-or-NAME --variant ID-or-NAME WHAT [--by psi|fRsi|both|U|thickness] [--from X --to-most Y] [--resources DIR]\n"
    "  WHAT: --piece ID-or-NAME…                    the conductivity these pieces would need in place\n"
    "        --piece … --courses MATERIAL [--height MM] [--most N]   how many whole courses of another block\n"
    "        --measure ID-or-NAME                   how long a named measure: a thickness, a depth\n"
    "        --extent PIECE --side left|right|bottom|top     how far one piece reaches\n"
    "        --membrane ID --side left|right|bottom|top      how long a membrane that goes on towards a side\n"
    "        --measure ID-or-NAME --element ID --by U|thickness      until an element is built alike in both\n"
    "  what would make --variant as good as --to: every value at which they are equal, or that none is\n";

namespace {

struct EqualArguments {
    std::string file, to, variant, courses, element;
    std::vector<std::string> pieces;
    Parameter parameter;
    std::string by = "psi";
    std::optional<double> from, to_most;
    std::optional<CutSide> side;
    Micrometres height = 225'000;
    std::size_t most = 8;

    std::vector<Measure> measures() const {
        if (by == "both") return {Measure::psi, Measure::fRsi};
        return {by == "psi" ? Measure::psi : Measure::fRsi};
    }
};

double number_of(const std::string& option, const std::string& text, double least, double greatest) {
    const Entry entry = parse_number(text);
    if (!entry || *entry.value < least || *entry.value > greatest) wrong_use(option + " is '" + text + "'", "a number from " + number_text(least) + " to " + number_text(greatest));
    return *entry.value;
}

EqualArguments read_equal_arguments(const std::vector<std::string>& arguments) {
    EqualArguments asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            return arguments[++i];
        };
        if (word == "--to") asked.to = value();
        else if (word == "--variant") asked.variant = value();
        else if (word == "--piece") asked.pieces.push_back(value());
        else if (word == "--measure") asked.parameter = {ParameterWhat::measure, {value()}, {}};
        else if (word == "--extent") asked.parameter = {ParameterWhat::extent, {value()}, {}};
        else if (word == "--membrane") asked.parameter = {ParameterWhat::membrane, {value()}, {}};
        else if (word == "--side") {
            const std::string& side = value();
            for (const auto& [known, name] : cut_side_words)
                if (name == side) asked.side = known;
            if (!asked.side) wrong_use("--side is '" + side + "'", "left, right, bottom or top");
        } else if (word == "--from") asked.from = number_of(word, value(), -300, 500'000);
        else if (word == "--to-most") asked.to_most = number_of(word, value(), -300, 500'000);
        else if (word == "--courses") asked.courses = value();
        else if (word == "--height") asked.height = from_mm(number_of(word, value(), 1, 10'000));
        else if (word == "--most") asked.most = static_cast<std::size_t>(number_of(word, value(), 1, 40));
        else if (word == "--by") {
            asked.by = value();
            if (asked.by != "psi" && asked.by != "fRsi" && asked.by != "both" && asked.by != "U" && asked.by != "thickness") wrong_use("--by is '" + asked.by + "'", "psi, fRsi or both, or with --element U or thickness");
        } else if (word == "--element") asked.element = value();
        else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of equal", "one of --to, --variant, --piece, --measure, --element, --extent, --membrane, --side, --by, --from, --to-most, --courses, --height, --most");
        else if (!asked.file.empty()) wrong_use("two files are given", "one study file");
        else asked.file = word;
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot equal FILE --to ID --variant ID --piece ID");
    if (asked.to.empty() || asked.variant.empty()) wrong_use("two variants are needed", "--to the one to be matched, --variant the one that is changed");
    const bool built_alike = asked.by == "U" || asked.by == "thickness";
    if (built_alike && asked.element.empty()) wrong_use("no element is named", "--element with its id, such as top or left");
    if (!asked.element.empty() && (asked.parameter.what != ParameterWhat::measure || !asked.pieces.empty())) wrong_use("--element goes with --measure", "--measure alone beside it");
    if (!asked.element.empty() && !built_alike) asked.by = "U";
    const bool by_pieces = asked.parameter.what == ParameterWhat::conductivity;
    if (by_pieces && asked.pieces.empty()) wrong_use("it is not said what may change", "--piece (once or more), --measure, --extent or --membrane");
    if (!by_pieces && !asked.pieces.empty()) wrong_use("two things are to change at once", "one of --piece, --measure, --extent, --membrane");
    if (asked.parameter.towards_a_side() != asked.side.has_value()) wrong_use(asked.side ? "--side stands without --extent or --membrane" : "it is not said towards which side", "--side left, right, bottom or top, with --extent or --membrane");
    if (asked.side) asked.parameter.side = *asked.side;
    if (asked.from.has_value() != asked.to_most.has_value()) wrong_use("one end of the range is not given", "--from and --to-most together");
    if (!by_pieces && !asked.courses.empty()) wrong_use("--courses needs leaves", "--piece with the id or name of a leaf");
    return asked;
}

std::string head(const Study& study, const EqualArguments& asked, const Variant& variant, const Variant& to) {
    std::string what;
    for (const auto& target : asked.pieces.empty() ? asked.parameter.targets : asked.pieces) what += (what.empty() ? "" : ", ") + target;
    return (study.title.empty() ? "" : study.title + "\n") + variant.name + " as good as " + to.name + ", by " + what + "\n";
}

std::string psi_text(const Findings& findings) {
    const Psi* psi = findings.headline_psi();
    return psi && psi->value ? with_bracket(*psi->value) : "–";
}

std::string build_text(const EqualBuild& found, Alike alike) {
    const auto shown = [&](double value) { return alike == Alike::transmittance ? "U " + fixed(value, 4) + " W/(m²·K)" : "thickness " + fixed(1000 * value, 1) + " mm"; };
    std::string text = "  to reach: " + shown(found.target) + " of " + found.element + "\n  as it is: " + shown(found.value_before) + ", " + found.measure + " " + length_text(to_mm(found.before)) + "\n";
    if (found.bracket)
        return text + "  equal at: " + found.measure + " " + length_text(to_mm(found.length)) +
               (found.bracket->first == found.bracket->second ? "" : " (between " + length_text(to_mm(found.bracket->first)) + " and " + length_text(to_mm(found.bracket->second)) + ")") + ", " + shown(found.value) + "\n";
    if (found.leaps_at) return text + "  passed at once at " + found.measure + " " + length_text(to_mm(*found.leaps_at)) + ": no length gives it\n";
    if (found.tried.empty()) return text + "  not reachable: the drawing allows no other length\n";
    return text + "  not reachable: from " + length_text(to_mm(found.tried.front().length)) + " to " + length_text(to_mm(found.tried.back().length)) + " it goes from " + shown(found.tried.front().value) + " to " + shown(found.tried.back().value) + "\n";
}

/// A measure is changed until an element is alike in both; then psi of the variant with that length.
int equal_build_asked(const EqualArguments& asked, const Study& study, const Variant& to, const Variant& variant) {
    const Alike alike = asked.by == "thickness" ? Alike::thickness : Alike::transmittance;
    const EqualBuild found = equal_build(study, variant, asked.parameter.targets.front(), asked.element, alike, alike_value(study, to, asked.element, alike));
    std::string text = (study.title.empty() ? "" : study.title + "\n") + variant.name + " with the " + (alike == Alike::thickness ? "thickness" : "U") + " of " + to.name + "\n" + build_text(found, alike);
    bool converged = true;
    if (found.section) {
        Variant changed = variant;
        changed.section = found.section;
        const auto base = find(study, to), before = find(study, variant), after = find(study, changed);
        for (const auto& [what, findings] : {std::pair("psi of " + to.name, base), std::pair("psi of " + variant.name + " as it is", before), std::pair("psi of " + variant.name + " with that", after)}) {
            refuse_faults(findings->messages);
            converged = converged && findings->converged;
            text += "  " + what + ": " + psi_text(*findings) + " W/(m·K)\n";
        }
    }
    return print_result(text, converged ? solved : tolerance_not_reached);
}

int equal_asked(const EqualArguments& asked) {
    const auto read = load_study(asked.file);
    const Variant& to = *chosen(read.study, {asked.to}).front();
    const Variant& variant = *chosen(read.study, {asked.variant}).front();
    if (!asked.element.empty()) return equal_build_asked(asked, read.study, to, variant);
    const auto target = find(read.study, to);
    refuse_faults(target->messages);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    std::string text = head(read.study, asked, variant, to);
    EqualAsked sought{asked.parameter, 0, 0, asked.measures()};
    if (!asked.pieces.empty()) sought.parameter.targets = piece_ids(*variant.section, asked.pieces);
    if (asked.courses.empty()) {
        const EqualRange usual = usual_range(read.study, variant, sought.parameter);
        sought.from = asked.from.value_or(usual.from);
        sought.to = asked.to_most.value_or(usual.to);
        text += equal_text(sought.parameter, equal_parameter(read.study, variant, sought, *target));
    } else {
        text += equal_courses_text(equal_courses(read.study, variant, asked.pieces, asked.courses, *target, asked.height, asked.most, asked.measures()));
    }
    text += "\nWhat heat does not decide:\n";
    for (const Message& message : beside_heat(read.study, variant, sought.parameter, asked.courses)) text += "  " + english(message) + "\n";
    return print_result(text, solved);
}

}  // namespace

int equal_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_equal_arguments, equal_asked); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/foot_command.hpp"

#include <cstdio>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "core/foot/foot_report.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

const char* const foot_usage =
    "wallfoot foot FILE [--variant ID-or-NAME]… [--rules ID] [--json | --questions] [--resources DIR]\n"
    "  the rules at the wall foot: what is met, what is not, what is open, and the questions that would decide\n"
    "  --rules      a rule set by its id; without it the one that the study carries, else foot-general\n"
    "  --questions  only the questions, to copy into a reply\n";

namespace {

struct FootAsked {
    std::string file;
    std::vector<std::string> variants;
    std::string rules;
    bool json = false, questions = false;
};

FootAsked read_foot_arguments(const std::vector<std::string>& arguments) {
    FootAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        if (word == "--json") {
            asked.json = true;
        } else if (word == "--questions") {
            asked.questions = true;
        } else if (word == "--variant" || word == "--rules") {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            if (word == "--rules") asked.rules = arguments[++i];
            else asked.variants.push_back(arguments[++i]);
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of foot", "one of --variant, --rules, --json, --questions");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one study file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot foot FILE");
    return asked;
}

int foot_asked(const FootAsked& asked) {
    const auto read = load_study(asked.file);
    std::vector<FootReport> reports;
    std::vector<Check> all;
    for (const Variant* variant : chosen(read.study, asked.variants)) {
        reports.push_back(foot_report(read.study, *variant, asked.rules));
        all.insert(all.end(), reports.back().checks.begin(), reports.back().checks.end());
    }
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const auto text = asked.json        ? foot_json(std::string("wallfoot ") + program_version, read.study.title, reports)
                      : asked.questions ? questions_text(questions_of(all))
                                        : foot_table(reports);
    return print_result(text, solved);
}

}  // namespace

int foot_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_foot_arguments, foot_asked); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/errors_command.hpp"

#include <cstdio>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "solver/findings/usual_errors.hpp"

namespace wallfoot {

const char* const errors_usage =
    "wallfoot errors FILE [--variant ID-or-NAME]… [--json] [--resources DIR]\n"
    "  usual errors that stand in the drawing, and what others would do to it: psi and fRsi with the error less those without\n";

namespace {

struct ErrorsAsked {
    std::string file;
    std::vector<std::string> variants;
    bool json = false;
};

ErrorsAsked read_errors_arguments(const std::vector<std::string>& arguments) {
    ErrorsAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        if (word == "--json") {
            asked.json = true;
        } else if (word == "--variant") {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a variant after it");
            asked.variants.push_back(arguments[++i]);
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of errors", "one of --variant, --json");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one study file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot errors FILE");
    return asked;
}

int errors_asked(const ErrorsAsked& asked) {
    const auto read = load_study(asked.file);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    std::vector<UsualErrors> found;
    int status = solved;
    for (const Variant* variant : chosen(read.study, asked.variants)) {
        found.push_back(usual_errors(read.study, *variant));
        if (!found.back().drawn->converged) status = tolerance_not_reached;
    }
    if (asked.json) return print_result(usual_errors_json(found), status);
    std::string text;
    for (const UsualErrors& one : found) text += (text.empty() ? "" : "\n") + usual_errors_text(one);
    return print_result(text, status);
}

}  // namespace

int errors_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_errors_arguments, errors_asked); }

}  // namespace wallfoot

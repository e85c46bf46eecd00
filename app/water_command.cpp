// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/water_command.hpp"

#include <cstdio>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "core/water/report.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

const char* const water_usage =
    "wallfoot water FILE [--variant ID-or-NAME]… [--json] [--resources DIR]\n"
    "  what water reaches, on which membranes the rest relies, and the smallest remedy for masonry that is reached\n";

namespace {

struct WaterAsked {
    std::string file;
    std::vector<std::string> variants;
    bool json = false;
};

WaterAsked read_water_arguments(const std::vector<std::string>& arguments) {
    WaterAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        if (word == "--json") {
            asked.json = true;
        } else if (word == "--variant") {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            asked.variants.push_back(arguments[++i]);
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of water", "one of --variant, --json");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one study file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot water FILE");
    return asked;
}

int water_asked(const WaterAsked& asked) {
    const auto read = load_study(asked.file);
    std::vector<WaterReport> reports;
    for (const Variant* variant : chosen(read.study, asked.variants)) reports.push_back(water_report(read.study, *variant));
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const auto text = asked.json ? water_json(std::string("wallfoot ") + program_version, read.study.title, reports)
                                 : water_table(reports);
    return print_result(text, solved);
}

}  // namespace

int water_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_water_arguments, water_asked); }

}  // namespace wallfoot

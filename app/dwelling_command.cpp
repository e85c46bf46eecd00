// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dwelling_command.hpp"

#include <cstdio>
#include <filesystem>

#include "app/arguments.hpp"
#include "core/dwelling/dwelling_file.hpp"
#include "solver/dwelling/dwelling_print.hpp"
#include "solver/dwelling/update.hpp"

namespace wallfoot {

const char* const dwelling_usage =
    "wallfoot dwelling FILE.dwelling [--update] [--transfer TEMPLATE] [--json | --csv] [--resources DIR]\n"
    "  junctions of a dwelling: what is open or out of date, sums with their bounds, y, share, energy, cost, carbon; --update\n"
    "  solves the studies again and saves; --transfer lists what is to be typed into a calculation, with a check sum\n";

namespace {

enum class Form { table, json, csv };

struct DwellingAsked {
    std::string file, transfer;
    bool update = false;
    Form form = Form::table;
};

DwellingAsked read_dwelling_arguments(const std::vector<std::string>& arguments) {
    DwellingAsked asked;
    const auto take_form = [&](Form form) {
        if (asked.form != Form::table && asked.form != form) wrong_use("two forms are asked for", "one of --json and --csv");
        asked.form = form;
    };
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        if (word == "--update") {
            asked.update = true;
        } else if (word == "--json") {
            take_form(Form::json);
        } else if (word == "--csv") {
            take_form(Form::csv);
        } else if (word == "--transfer") {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a template after it, such as junction-list");
            asked.transfer = arguments[++i];
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of dwelling", "one of --update, --transfer, --json, --csv");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one dwelling file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot dwelling FILE.dwelling");
    return asked;
}

int dwelling_asked(const DwellingAsked& asked) {
    // What cannot be shown is told before anything is solved or saved.
    std::optional<TransferTemplate> used;
    if (!asked.transfer.empty()) used = transfer_template(asked.transfer);
    const auto read = load_dwelling(asked.file);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const std::string folder = std::filesystem::path(asked.file).parent_path().string();
    Dwelling dwelling = read.dwelling;
    StudiesNow studies;
    int status = solved;
    if (asked.update) {
        Updated updated = update_dwelling(dwelling, folder, today());
        if (!updated.reached) status = tolerance_not_reached;
        for (const auto& [key, trouble] : updated.troubles) {
            std::fprintf(stderr, "%s\n", one_line(trouble, asked.file).c_str());
            status = input_at_fault;
        }
        dwelling = std::move(updated.dwelling);
        studies = std::move(updated.studies);
        if (!(dwelling == read.dwelling)) {
            if (changed_meanwhile(read.dwelling, asked.file)) throw InputFault({Message{Severity::fault, "dwelling-changed-meanwhile", {}, {}, {}}});
            save_dwelling(dwelling, asked.file);
        }
    } else {
        studies = studies_now(dwelling, folder);
    }
    const Balance sums = balance(dwelling, studies);
    if (used) {
        const TransferSheet sheet = transfer_sheet(dwelling, sums, *used);
        return print_result(asked.form == Form::json ? transfer_json(dwelling, sheet) : asked.form == Form::csv ? transfer_csv(dwelling, sheet) : transfer_text(dwelling, sheet), status);
    }
    return print_result(asked.form == Form::json ? dwelling_json(dwelling, asked.file, sums) : asked.form == Form::csv ? dwelling_csv(dwelling, sums) : dwelling_table(dwelling, sums), status);
}

}  // namespace

int dwelling_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_dwelling_arguments, dwelling_asked); }

}  // namespace wallfoot

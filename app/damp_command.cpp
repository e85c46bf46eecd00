// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/damp_command.hpp"

#include <algorithm>
#include <cstdio>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "solver/findings/damp.hpp"

namespace wallfoot {

const char* const damp_usage =
    "wallfoot damp FILE --piece ID-or-NAME [--against MATERIAL] [--variant ID-or-NAME]… [--json] [--resources DIR]\n"
    "  psi, fRsi and L2D with one piece in every moisture condition, in every variant that has it; what is not declared as the\n"
    "  range of its class, where one is published; another material in the same place, and how wet before no better\n";

namespace {

struct DampAsked {
    std::string file, piece, against;
    std::vector<std::string> variants;
    bool json = false;
};

DampAsked read_damp_arguments(const std::vector<std::string>& arguments) {
    DampAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            return arguments[++i];
        };
        if (word == "--json") asked.json = true;
        else if (word == "--variant") asked.variants.push_back(value());
        else if (word == "--piece") asked.piece = value();
        else if (word == "--against") asked.against = value();
        else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of damp", "one of --piece, --against, --variant, --json");
        else if (!asked.file.empty()) wrong_use("two files are given", "one study file");
        else asked.file = word;
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot damp FILE --piece ID");
    if (asked.piece.empty()) wrong_use("no piece is named", "--piece with the id or name of a piece");
    return asked;
}

bool has_piece(const Variant& variant, const std::string& piece) {
    const auto& all = variant.section->pieces;
    return std::any_of(all.begin(), all.end(), [&](const Piece& p) { return p.id == piece || p.name == piece; });
}

int damp_asked(const DampAsked& asked) {
    const auto read = load_study(asked.file);
    auto variants = chosen(read.study, asked.variants);
    // Variants that were not named and lack the piece have nothing to say of it.
    if (asked.variants.empty() && std::any_of(variants.begin(), variants.end(), [&](const Variant* v) { return has_piece(*v, asked.piece); }))
        std::erase_if(variants, [&](const Variant* v) { return !has_piece(*v, asked.piece); });
    std::vector<DampTable> tables;
    for (const Variant* variant : variants) tables.push_back(damp_table(read.study, *variant, asked.piece, asked.against));
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const auto text = asked.json ? damp_json(asked.file, tables) : damp_text(tables);
    const bool reached = std::all_of(tables.begin(), tables.end(), [](const DampTable& table) { return table.converged(); });
    return print_result(text, reached ? solved : tolerance_not_reached);
}

}  // namespace

int damp_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_damp_arguments, damp_asked); }

}  // namespace wallfoot

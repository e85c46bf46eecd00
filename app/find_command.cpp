// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/find_command.hpp"

#include <cstdio>

#include "app/arguments.hpp"
#include "core/file/find_studies.hpp"

namespace wallfoot {

const char* const find_usage =
    "wallfoot find FOLDER [WORD]… [--json]\n"
    "  the studies below a folder in which every word stands: title, notes, enquiry number, variants, pieces, blocks, soil\n";

namespace {

struct FindAsked {
    std::string file;  ///< the folder
    std::vector<std::string> words;
    bool json = false;
};

FindAsked read_find_arguments(const std::vector<std::string>& arguments) {
    FindAsked asked;
    for (const std::string& word : arguments) {
        if (word == "--json") asked.json = true;
        else if (word.starts_with("--")) wrong_use("'" + word + "' is no option of find", "--json");
        else if (asked.file.empty()) asked.file = word;
        else asked.words.push_back(word);
    }
    if (asked.file.empty()) wrong_use("no folder is given", "wallfoot find FOLDER WORD");
    return asked;
}

int find_asked(const FindAsked& asked) {
    FoundStudies found = studies_below(asked.file);
    std::erase_if(found.studies, [&](const FoundStudy& study) { return !is_found(study, asked.words); });
    for (const auto& [path, message] : found.unread) std::fprintf(stderr, "%s\n", one_line(message, path).c_str());
    return print_result(asked.json ? found_studies_json(found) : found_studies_text(found), solved);
}

}  // namespace

int find_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_find_arguments, find_asked); }

}  // namespace wallfoot

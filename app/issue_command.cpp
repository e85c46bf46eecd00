// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/issue_command.hpp"

#include <algorithm>
#include <cstdio>
#include <stdexcept>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "solver/record/record.hpp"

namespace wallfoot {

const char* const issue_usage =
    "wallfoot issue FILE --author NAME --reason TEXT [--checker NAME] [--revision TEXT] [--date YYYY-MM-DD]\n"
    "  freezes a record of every variant in the study: who, why, a full copy of what was used, all findings, a hash\n"
    "wallfoot check FILE [--json]\n"
    "  works each record out again from its own copy: equal, inside the brackets, or changed and why\n";

namespace {

struct IssueAsked {
    std::string file;
    Issue issue;
};

struct CheckAsked {
    std::string file;
    bool json = false;
};

IssueAsked read_issue(const std::vector<std::string>& arguments) {
    IssueAsked asked;
    asked.issue.date = today();
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        std::string* field = word == "--author" ? &asked.issue.author : word == "--checker" ? &asked.issue.checker : word == "--revision" ? &asked.issue.revision
                             : word == "--reason" ? &asked.issue.reason : word == "--date" ? &asked.issue.date : nullptr;
        if (field) {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            *field = arguments[++i];
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of issue", "one of --author, --reason, --checker, --revision, --date");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one study file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot issue FILE --author NAME --reason TEXT");
    return asked;
}

CheckAsked read_check(const std::vector<std::string>& arguments) {
    CheckAsked asked;
    for (const std::string& word : arguments) {
        if (word == "--json") asked.json = true;
        else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of check", "--json");
        else if (!asked.file.empty()) wrong_use("two files are given", "one study file");
        else asked.file = word;
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot check FILE");
    return asked;
}

int issue_asked(const IssueAsked& asked) {
    const auto read = load_study(asked.file);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const Study issued = with_record(read.study, asked.issue);
    try {
        save_study(issued, asked.file);
    } catch (const std::runtime_error& error) {
        std::fprintf(stderr, "%s: not written: %s; the study is as it was\n", asked.file.c_str(), error.what());
        return other_failure;
    }
    return print_result("Issued " + asked.issue.date + " in " + asked.file + "\n", solved);
}

int check_asked(const CheckAsked& asked) {
    const auto read = load_study(asked.file);
    const auto records = recheck(read.study);
    const bool hold = std::all_of(records.begin(), records.end(), [](const RecheckedRecord& record) { return record.holds(); });
    return print_result(asked.json ? recheck_json(records) : recheck_table(records), hold ? solved : other_failure);
}

}  // namespace

int issue_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_issue, issue_asked); }

int check_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_check, check_asked); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <exception>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "app/arguments.hpp"
#include "app/compare_command.hpp"
#include "app/damp_command.hpp"
#include "app/details_command.hpp"
#include "app/drawing_command.hpp"
#include "app/dwelling_command.hpp"
#include "app/equal_command.hpp"
#include "app/errors_command.hpp"
#include "app/find_command.hpp"
#include "app/foot_command.hpp"
#include "app/issue_command.hpp"
#include "app/pack_command.hpp"
#include "app/selftest_command.hpp"
#include "app/solve_command.hpp"
#include "app/sweep_command.hpp"
#include "app/water_command.hpp"
#include "core/context/memory.hpp"
#include "core/resources/resources.hpp"
#include "solver/findings/version.hpp"

namespace {

using namespace wallfoot;

void print_help(std::FILE* where) {
    std::fputs("wallfoot                opens the window\n"
               "wallfoot FILE.wallfoot  opens the window on a study\n"
               "wallfoot FILE.dwelling  opens the window on a dwelling\n"
               "wallfoot FILE.pdf       opens the window on the study that a report carries\n"
               "wallfoot picture FILE --out x.png|x.svg\n"
               "wallfoot report FILE --out x.pdf|html|csv|json|txt [--short] [--no-errors] [--template FILE] [--variant ID]… [--paper A4|A3] [--date YYYY-MM-DD]\n"
               "wallfoot report FOLDER|FILE… --out-dir DIR [--as pdf,html,…] [--short] [--no-errors] [--template FILE] [--paper A4|A3] [--date YYYY-MM-DD]\n"
               "wallfoot lesson FILE --out x.html|pdf|png|svg [--lesson N] [--step N] [--paper A4|A3]\n",
               where);
    for (const char* usage : {solve_usage, water_usage, foot_usage, damp_usage, compare_usage, equal_usage, sweep_usage, dwelling_usage, drawing_usage, details_usage, selftest_usage, issue_usage, find_usage, pack_usage, errors_usage}) std::fputs(usage, where);
    std::fputs("wallfoot --help | --version\n"
               "Exit status: 0 solved, 2 the input is at fault, 3 the tolerance was not reached, 1 anything else.\n", where);
}

/// The window and the picture need Qt and live in a second executable: beside this one, else in PATH.
int become_window(char** arguments) {
    static char name[] = "wallfoot-window";
    std::error_code ignored;
    const auto self = std::filesystem::read_symlink("/proc/self/exe", ignored);
    const auto beside = (self.parent_path() / name).string();
    arguments[0] = name;
    if (!self.empty()) execv(beside.c_str(), arguments);
    execvp(name, arguments);
    std::fprintf(stderr, "wallfoot: the window cannot be opened: no %s beside the program (%s) or in PATH (%s); "
                         "build it with -DWALLFOOT_WINDOW=ON, or use 'wallfoot solve FILE'\n",
                 name, self.parent_path().c_str(), std::strerror(errno));
    return other_failure;
}

/// Takes --resources DIR out of the words of a command that runs here. False when its folder is missing.
bool take_resources(std::vector<std::string>& words) {
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] != "--resources") continue;
        if (i + 1 == words.size() || !std::filesystem::is_directory(words[i + 1])) {
            std::fprintf(stderr, "wallfoot: --resources needs a folder%s%s\n", i + 1 < words.size() ? ", not " : "",
                         i + 1 < words.size() ? words[i + 1].c_str() : "");
            return false;
        }
        use_resources_from(words[i + 1]);
        words.erase(words.begin() + std::ptrdiff_t(i), words.begin() + std::ptrdiff_t(i) + 2);
        --i;
    }
    return true;
}

bool has(const std::vector<std::string>& words, const char* word) {
    for (const auto& w : words)
        if (w == word) return true;
    return false;
}

int run(int count, char** arguments) {
    std::vector<std::string> words(arguments + 1, arguments + count);
    if (has(words, "--help") || has(words, "-h")) {
        print_help(stdout);
        return solved;
    }
    if (has(words, "--version")) {
        std::printf("wallfoot %s\n", program_version);
        return solved;
    }
    if (!take_resources(words)) return input_at_fault;
    if (words.empty() || words[0] == "picture" || words[0] == "report" || words[0] == "lesson" || words[0].ends_with(".wallfoot") || words[0].ends_with(".dwelling") || words[0].ends_with(".pdf")) return become_window(arguments);
    if (words[0] == "solve") return solve_command({words.begin() + 1, words.end()});
    if (words[0] == "damp") return damp_command({words.begin() + 1, words.end()});
    if (words[0] == "compare") return compare_command({words.begin() + 1, words.end()});
    if (words[0] == "equal") return equal_command({words.begin() + 1, words.end()});
    if (words[0] == "sweep") return sweep_command({words.begin() + 1, words.end()});
    if (words[0] == "water") return water_command({words.begin() + 1, words.end()});
    if (words[0] == "foot") return foot_command({words.begin() + 1, words.end()});
    if (words[0] == "dwelling") return dwelling_command({words.begin() + 1, words.end()});
    if (words[0] == "drawing") return drawing_command({words.begin() + 1, words.end()});
    if (words[0] == "details") return details_command({words.begin() + 1, words.end()});
    if (words[0] == "issue") return issue_command({words.begin() + 1, words.end()});
    if (words[0] == "pack") return pack_command({words.begin() + 1, words.end()});
    if (words[0] == "check") return check_command({words.begin() + 1, words.end()});
    if (words[0] == "selftest") return selftest_command({words.begin() + 1, words.end()});
    if (words[0] == "faults") return faults_command({words.begin() + 1, words.end()});
    if (words[0] == "errors") return errors_command({words.begin() + 1, words.end()});
    if (words[0] == "find") return find_command({words.begin() + 1, words.end()});
    if (words[0] == "begin") return begin_command({words.begin() + 1, words.end()});
    std::fprintf(stderr, "wallfoot: '%s' is neither a command nor a study (*.wallfoot) or dwelling (*.dwelling)\n", words[0].c_str());
    print_help(stderr);
    return input_at_fault;
}

}  // namespace

int main(int count, char** arguments) {
    wallfoot::keep_freed_memory();
    try {
        return run(count, arguments);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "wallfoot: %s\n", error.what());
        return other_failure;
    }
}

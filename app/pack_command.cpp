// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/pack_command.hpp"

#include <cstdio>
#include <stdexcept>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "core/file/whole_file.hpp"
#include "solver/report/pack.hpp"

namespace wallfoot {

const char* const pack_usage =
    "wallfoot pack FILE --out x.zip [--variant ID-or-NAME]…\n"
    "  geometry, conductivities, surfaces, control points and results for whoever builds the junction again in another program\n";

namespace {

struct PackAsked {
    std::string file, out;
    std::vector<std::string> variants;
};

PackAsked read_pack(const std::vector<std::string>& arguments) {
    PackAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        if (word == "--out" || word == "--variant") {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            const std::string& value = arguments[++i];
            if (word == "--variant") asked.variants.push_back(value);
            else asked.out = value;
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of pack", "one of --out, --variant");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one study file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot pack FILE --out x.zip");
    if (!asked.out.ends_with(".zip")) wrong_use("no pack to write is given", "--out with a name that ends in .zip");
    return asked;
}

int write_pack(const PackAsked& asked) {
    const auto read = load_study(asked.file);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const Pack pack = make_pack(read.study, chosen(read.study, asked.variants));
    try {
        save_whole(pack.bytes, asked.out, "pack");
    } catch (const std::runtime_error& error) {
        std::fprintf(stderr, "wallfoot: %s\n", error.what());
        return other_failure;
    }
    return pack.converged ? solved : tolerance_not_reached;
}

}  // namespace

int pack_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_pack, write_pack); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/drawing_command.hpp"

#include <cstdio>
#include <filesystem>
#include <fstream>

#include "app/arguments.hpp"
#include "core/exchange/dxf.hpp"
#include "core/file/study_file.hpp"

namespace wallfoot {

const char* const drawing_usage = "wallfoot drawing FILE --out x.dxf|x.svg [--variant ID-or-NAME]\n";

namespace {

struct DrawingAsked {
    std::string file, out, variant;
};

DrawingAsked read_drawing_arguments(const std::vector<std::string>& arguments) {
    DrawingAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        if (word == "--out" || word == "--variant") {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            (word == "--out" ? asked.out : asked.variant) = arguments[++i];
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of drawing", "one of --out, --variant");
        } else if (!asked.file.empty()) {
            wrong_use("two files are given", "one study file");
        } else {
            asked.file = word;
        }
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot drawing FILE --out x.dxf");
    if (!asked.out.ends_with(".dxf") && !asked.out.ends_with(".svg")) wrong_use("no drawing to write is given", "--out with a name that ends in .dxf or .svg");
    return asked;
}

int write_drawing(const DrawingAsked& asked) {
    const auto read = load_study(asked.file);
    const Variant& variant = asked.variant.empty() ? read.study.variants.front() : *chosen(read.study, {asked.variant}).front();
    const Drawing drawing = plain_drawing(*variant.section);
    // Beside it first: a drawing that is there is replaced by a whole one or not at all.
    const std::string part = asked.out + ".part";
    std::ofstream out(part, std::ios::binary);
    out << (asked.out.ends_with(".svg") ? svg_text(drawing) : dxf_text(drawing));
    out.close();
    std::error_code error;
    if (out) std::filesystem::rename(part, asked.out, error);
    if (out && !error) return solved;
    std::fprintf(stderr, "%s: the drawing cannot be written there\n", asked.out.c_str());
    std::filesystem::remove(part, error);
    return other_failure;
}

}  // namespace

int drawing_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_drawing_arguments, write_drawing); }

}  // namespace wallfoot

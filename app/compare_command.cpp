// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/compare_command.hpp"

#include <algorithm>
#include <cstdio>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/comparison.hpp"

namespace wallfoot {

const char* const compare_usage =
    "wallfoot compare FILE [OTHER] [--base ID-or-NAME] [--variant ID-or-NAME]… [--json] [--resources DIR]\n"
    "  variants of one study, or of two, beside each other: psi and fRsi with what is certain and what is open, and in words\n"
    "  what each has otherwise than the base (of FILE; its first variant unless named)\n";

namespace {

struct CompareAsked {
    std::string file, other, base;
    std::vector<std::string> variants;
    bool json = false;
};

CompareAsked read_compare_arguments(const std::vector<std::string>& arguments) {
    CompareAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            return arguments[++i];
        };
        if (word == "--json") asked.json = true;
        else if (word == "--variant") asked.variants.push_back(value());
        else if (word == "--base") asked.base = value();
        else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of compare", "one of --base, --variant, --json");
        else if (asked.file.empty()) asked.file = word;
        else if (asked.other.empty()) asked.other = word;
        else wrong_use("three files are given", "one study file, or two");
    }
    if (asked.file.empty()) wrong_use("no file is given", "wallfoot compare FILE [OTHER]");
    return asked;
}

/// Reads the other study with its own name in what is said of it.
ReadStudy load_named(const std::string& path, const std::string& main) {
    try {
        return load_study(path);
    } catch (const InputFault& fault) {
        if (path == main) throw;
        auto faults = fault.faults();
        for (Message& message : faults) message.pointer = path + (message.pointer.empty() ? "" : ": " + message.pointer);
        throw InputFault(std::move(faults));
    }
}

int compare_asked(const CompareAsked& asked) {
    struct File {
        std::string path;
        std::shared_ptr<const Study> study;
    };
    std::vector<File> files;
    for (const std::string& path : {asked.file, asked.other}) {
        if (path.empty()) continue;
        const auto read = load_named(path, asked.file);
        for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, path).c_str());
        files.push_back({path, std::make_shared<const Study>(read.study)});
    }
    // A name that is in neither is a fault; one that is in one of them is asked of that.
    for (const std::string& name : asked.variants)
        if (std::none_of(files.begin(), files.end(), [&](const File& file) { return file.study->find_variant(name); })) chosen(*files.front().study, {name});
    const Variant* base_variant = asked.base.empty() ? nullptr : chosen(*files.front().study, {asked.base}).front();
    std::vector<ComparedVariant> all;
    std::size_t base = 0;
    for (std::size_t f = 0; f < files.size(); ++f)
        for (const Variant& variant : files[f].study->variants) {
            const bool named = std::any_of(asked.variants.begin(), asked.variants.end(), [&](const std::string& name) { return files[f].study->find_variant(name) == &variant; });
            const bool is_base = f == 0 && &variant == base_variant;
            if (!asked.variants.empty() && !named && !is_base) continue;
            ComparedVariant of{files[f].path, files[f].study, find(*files[f].study, variant), {}};
            refuse_faults(of.findings->messages);
            of.open = input_range(*files[f].study, variant);
            if (is_base) base = all.size();
            all.push_back(std::move(of));
        }
    const bool reached = std::all_of(all.begin(), all.end(), [](const ComparedVariant& of) { return of.findings->converged; });
    return print_result(asked.json ? comparison_json(all, base) : comparison_text(all, base), reached ? solved : tolerance_not_reached);
}

}  // namespace

int compare_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_compare_arguments, compare_asked); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/details_command.hpp"

#include <algorithm>
#include <cstdio>
#include <filesystem>

#include "app/arguments.hpp"
#include "core/details/detail.hpp"
#include "core/file/json_value.hpp"
#include "core/file/study_file.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/site_faults.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

const char* const details_usage =
    "wallfoot details [--json] [--resources DIR]\n"
    "  sections to begin from, with what can be set and which site faults each allows\n"
    "wallfoot begin DETAIL [--set NAME=VALUE]… [--with FAULT]… --out FILE [--resources DIR]\n"
    "  --set   a parameter by its id; lengths in mm, or with their unit\n"
    "  --with  a site fault by its id; each makes one variant more\n"
    "  --out   the study to write; a file that is there already is left as it is\n"
    "wallfoot faults DETAIL [--set NAME=VALUE]… [--json] [--resources DIR]\n"
    "  what each site fault does to psi, fRsi, the water's way and the rules, the highest rise of psi first\n";

namespace {

std::string range_of(const DetailParameter& parameter) {
    if (!parameter.is_choice())
        return number_text(parameter.standard) + " " + parameter.unit + "  (" + number_text(parameter.least) + " to " + number_text(parameter.most) + ")";
    std::string list;
    for (const auto& option : parameter.options) list += (list.empty() ? "" : " | ") + option.id;
    return parameter.standard_option + "  (" + list + ")";
}

std::string padded(std::string text, std::size_t columns) {
    text.resize(std::max(text.size() + 1, columns), ' ');
    return text;
}

std::string details_table(const std::vector<Detail>& details) {
    std::string table;
    for (const Detail& detail : details) {
        table += (table.empty() ? "" : "\n") + detail.id + "\n  " + detail.name + ": " + detail.about + "\n";
        for (const DetailParameter& parameter : detail.parameters)
            table += "    " + padded(parameter.id, 24) + padded(range_of(parameter), 34) + parameter.name + "\n";
        if (!detail.switches.empty()) table += "  site faults\n";
        for (const DetailSwitch& fault : detail.switches) table += "    " + padded(fault.id, 24) + fault.name + ": " + fault.about + "\n";
    }
    return table;
}

json::Value parameter_json(const DetailParameter& parameter) {
    json::Object object{{"id", parameter.id}, {"name", parameter.name}};
    if (parameter.is_choice()) {
        json::Array options;
        for (const auto& option : parameter.options) options.push_back(json::Object{{"id", option.id}, {"name", option.name}});
        object["default"] = parameter.standard_option;
        object["options"] = std::move(options);
    } else {
        object["unit"] = parameter.unit;
        object["default"] = parameter.standard;
        object["least"] = parameter.least;
        object["most"] = parameter.most;
    }
    return object;
}

std::string details_json(const std::vector<Detail>& details) {
    json::Array list;
    for (const Detail& detail : details) {
        json::Array parameters, switches;
        for (const auto& parameter : detail.parameters) parameters.push_back(parameter_json(parameter));
        for (const auto& fault : detail.switches)
            switches.push_back(json::Object{{"id", fault.id}, {"name", fault.name}, {"about", fault.about}});
        list.push_back(json::Object{{"id", detail.id}, {"name", detail.name}, {"about", detail.about},
                                    {"parameters", std::move(parameters)}, {"switches", std::move(switches)}});
    }
    return json::print(json::Object{{"program", std::string("wallfoot ") + program_version}, {"details", std::move(list)}});
}

StarterDetails all_details() {
    StarterDetails all = starter_details();
    for (const Message& fault : all.faults) std::fprintf(stderr, "%s\n", one_line(fault, "").c_str());
    return all;
}

int list(const std::vector<std::string>& arguments) {
    bool as_json = false;
    for (const auto& word : arguments) {
        if (word == "--json") as_json = true;
        else wrong_use("'" + word + "' is no option of details", "--json, or nothing");
    }
    const StarterDetails all = all_details();
    const auto text = as_json ? details_json(all.details) : details_table(all.details);
    return print_result(text, solved);
}

/// NAME=VALUE.
std::pair<std::string, std::string> setting(const std::string& text) {
    const auto equals = text.find('=');
    if (equals == std::string::npos) wrong_use("'" + text + "' sets nothing", "--set NAME=VALUE, such as --set inner_leaf=140");
    return {text.substr(0, equals), text.substr(equals + 1)};
}

int begin(const std::vector<std::string>& arguments) {
    std::string id, out;
    std::vector<std::pair<std::string, std::string>> set;
    std::vector<std::string> faults;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            return arguments[++i];
        };
        if (word == "--set") {
            set.push_back(setting(value()));
        } else if (word == "--with") {
            faults.push_back(value());
        } else if (word == "--out") {
            out = value();
        } else if (word.size() > 1 && word.starts_with("-")) {
            wrong_use("'" + word + "' is no option of begin", "one of --set, --with, --out");
        } else if (!id.empty()) {
            wrong_use("two details are given", "one of those that 'wallfoot details' lists");
        } else {
            id = word;
        }
    }
    if (id.empty()) wrong_use("no detail is given", "one of those that 'wallfoot details' lists");
    if (out.empty()) wrong_use("no file to write is given", "--out FILE.wallfoot");
    std::error_code ignored;
    if (std::filesystem::exists(out, ignored)) wrong_use("'" + out + "' is there already", "the name of a new file");
    const StarterDetails all = all_details();
    const Detail& detail = all.get(id);
    DetailSettings settings;
    for (const auto& [name, text] : set) set_parameter(detail, settings, name, text);
    for (const auto& fault : faults) add_switch(detail, settings, fault);
    save_study(make_study(detail, settings), out);
    return solved;
}

int faults(const std::vector<std::string>& arguments) {
    std::string id;
    std::vector<std::pair<std::string, std::string>> set;
    bool as_json = false;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        if (word == "--json") as_json = true;
        else if (word == "--set") {
            if (i + 1 == arguments.size()) wrong_use("--set stands without a value", "--set NAME=VALUE");
            set.push_back(setting(arguments[++i]));
        } else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of faults", "one of --set, --json");
        else if (!id.empty()) wrong_use("two details are given", "one of those that 'wallfoot details' lists");
        else id = word;
    }
    if (id.empty()) wrong_use("no detail is given", "one of those that 'wallfoot details' lists");
    const StarterDetails all = all_details();
    const Detail& detail = all.get(id);
    DetailSettings settings;
    for (const auto& [name, text] : set) set_parameter(detail, settings, name, text);
    const SiteFaults found = site_faults(detail, settings);
    const bool reached = found.meant->converged && std::all_of(found.effects.begin(), found.effects.end(), [](const FaultEffect& effect) { return effect.findings->converged; });
    return print_result(as_json ? site_faults_json(found) : site_faults_text(found), reached ? solved : tolerance_not_reached);
}

int guarded(int (*command)(const std::vector<std::string>&), const std::vector<std::string>& arguments) {
    try {
        return command(arguments);
    } catch (const InputFault& fault) {
        print_faults(fault.faults(), "wallfoot");
        return input_at_fault;
    }
}

}  // namespace

int details_command(const std::vector<std::string>& arguments) { return guarded(list, arguments); }
int begin_command(const std::vector<std::string>& arguments) { return guarded(begin, arguments); }
int faults_command(const std::vector<std::string>& arguments) { return guarded(faults, arguments); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace json {
struct Value;
}

/// One of the ways a choice may go.
struct DetailOption {
    std::string id, name;
};

/// What the user sets: a number in a unit, or a choice between options.
struct DetailParameter {
    std::string id, name;
    std::string unit;  ///< mm | courses (whole numbers) | °C; empty for a choice
    double standard = 0, least = 0, most = 0;
    std::vector<DetailOption> options;  ///< of a choice; empty for a number
    std::string standard_option;
    bool is_choice() const { return !options.empty(); }
};

/// Something that goes wrong on site.
struct DetailSwitch {
    std::string id, name;
    std::string about;  ///< one sentence: what goes wrong
};

/// A section to begin from, as a data file says it; how to write one: DEVELOPERS, "How to add".
struct Detail {
    std::string id, name;
    std::string about;  ///< one sentence: what it is for
    std::vector<DetailParameter> parameters;
    std::vector<DetailSwitch> switches;
    std::shared_ptr<const json::Value> content;  ///< the whole file

    const DetailParameter* find_parameter(std::string_view id) const;
    const DetailSwitch* find_switch(std::string_view id) const;
};

/// What was set; what is absent stands at its default.
struct DetailSettings {
    std::map<std::string, double> numbers;
    std::map<std::string, std::string> choices;
    std::vector<std::string> switches;  ///< one variant more for each, in the order of the detail
};

/// Reads and checks a detail file: every expression and condition is read, whether the defaults come by it or not.
/// Throws InputFault with JSON pointers: a missing or unknown field, an unknown name, values that lead back to
/// themselves, an unknown material, a default outside its range.
Detail read_detail(const std::string& json);

/// The details that come with the program, `resources/details/*.json`, in order of their files. With --resources a file
/// of the same path takes the place of the program's, and a detail of the same id that of its namesake. A damaged file is
/// left out and told ("detail-damaged").
struct StarterDetails {
    std::vector<Detail> details;
    std::vector<Message> faults;
    /// Throws InputFault "detail-unknown".
    const Detail& get(const std::string& id) const;
};
StarterDetails starter_details();

/// Sets a parameter from typed text: lengths and numbers by the rules of typed entries, choices by id or name.
/// Throws InputFault: "detail-unknown-parameter", the codes of typed entries, "detail-out-of-range",
/// "detail-not-whole", "detail-unknown-option".
void set_parameter(const Detail& detail, DetailSettings& settings, const std::string& id, const std::string& text);
/// Throws InputFault "detail-unknown-switch".
void add_switch(const Detail& detail, DetailSettings& settings, const std::string& id);

/// An ordinary study that needs nothing of the detail afterwards: a base variant, and for every switch that is set one
/// with that fault only. Every material the detail mentions is copied in, so that alternatives are at hand. Coordinates
/// are rounded to the grid; a piece or membrane that its dimensions shrink to nothing is left out.
/// Throws InputFault: settings as in set_parameter; "detail-divides-by-zero", "detail-too-far", "detail-turned-over"
/// (dimensions that contradict each other); what the reader of studies finds.
Study make_study(const Detail& detail, const DetailSettings& settings);

}  // namespace wallfoot

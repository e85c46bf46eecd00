// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/derivation_print.hpp"

#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "solver/findings/numbers.hpp"

namespace wallfoot {

std::string derivation_json(const Derivation& derivation) {
    nlohmann::ordered_json inputs = nlohmann::ordered_json::array();
    for (const auto& input : derivation.inputs)
        inputs.push_back({{"name", input.name}, {"value", significant(input.value, 7)}, {"unit", input.unit}, {"source", input.source}});
    nlohmann::ordered_json json = nlohmann::ordered_json::object();
    if (!derivation.id.empty()) json["id"] = derivation.id, json["version"] = derivation.version;
    json["formula"] = derivation.formula;
    json["inputs"] = std::move(inputs);
    json["notes"] = derivation.notes;
    return json.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

std::string derived_value(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.6g", value);
    const std::string whole = text;
    const std::size_t power = whole.find('e');
    if (power == std::string::npos) return whole;
    // As people write it: 4.8·10⁻⁵.
    constexpr const char* raised[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    std::string exponent = std::to_string(std::atoi(whole.c_str() + power + 1)), told = whole.substr(0, power) + "·10";
    for (const char digit : exponent) told += digit == '-' ? "⁻" : raised[digit - '0'];
    return told;
}

std::vector<std::string> derivation_lines(const Derivation& derivation) {
    std::vector<std::string> lines{derivation.of, derivation.formula};
    for (const auto& input : derivation.inputs)
        lines.push_back(input.name + " = " + derived_value(input.value) + (input.unit.empty() ? "" : " " + input.unit) + (input.source.empty() ? "" : " (" + input.source + ")"));
    lines.insert(lines.end(), derivation.notes.begin(), derivation.notes.end());
    return lines;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/text/message.hpp"

#include <nlohmann/json.hpp>

#include "core/resources/resources.hpp"

namespace wallfoot {

namespace {

const std::map<std::string, std::string>& catalogue() {
    static const auto sentences =
        nlohmann::json::parse(resource("texts/en.json")).get<std::map<std::string, std::string>>();
    return sentences;
}

/// Puts the arguments into {name}; a name without an argument stays, so that a mistake can be seen.
std::string fill(const std::string& sentence, const std::map<std::string, std::string>& args) {
    std::string out;
    for (std::size_t i = 0; i < sentence.size();) {
        const std::size_t open = sentence.find('{', i), close = sentence.find('}', open);
        if (open == std::string::npos || close == std::string::npos) return out + sentence.substr(i);
        out += sentence.substr(i, open - i);
        const auto arg = args.find(sentence.substr(open + 1, close - open - 1));
        out += arg == args.end() ? sentence.substr(open, close - open + 1) : arg->second;
        i = close + 1;
    }
    return out;
}

/// A length in mm with one to three decimals.
std::string in_mm(Micrometres value) {
    const std::string sign = value < 0 ? "-" : "";
    const auto size = value < 0 ? -value : value;
    std::string decimals = std::to_string(1000 + size % 1000).substr(1);
    while (decimals.size() > 1 && decimals.back() == '0') decimals.pop_back();
    return sign + std::to_string(size / 1000) + "." + decimals;
}

std::string first_of(const std::vector<Message>& faults) {
    if (faults.empty()) return "the input cannot be used";
    const std::string more = faults.size() > 1 ? " (and " + std::to_string(faults.size() - 1) + " more)" : "";
    return english(faults.front()) + more;
}

}  // namespace

std::string english(const Message& message) {
    const auto sentence = catalogue().find(message.code);
    if (sentence != catalogue().end()) return fill(sentence->second, message.args);
    std::string plain = message.code;
    for (const auto& [name, value] : message.args) plain += " " + name + "=" + value;
    return plain;
}

std::string one_line(const Message& message, const std::string& file) {
    std::string line;
    if (!file.empty()) line += file + ": ";
    if (!message.pointer.empty()) line += message.pointer + ": ";
    if (message.at) line += "at (" + in_mm(message.at->x) + ", " + in_mm(message.at->y) + ") mm: ";
    line += english(message);
    // Names and file paths may hold line ends; the line stays one.
    for (char& c : line)
        if (c == '\n' || c == '\r') c = ' ';
    return line;
}

InputFault::InputFault(std::vector<Message> faults) : std::runtime_error(first_of(faults)), faults_(std::move(faults)) {}

}  // namespace wallfoot

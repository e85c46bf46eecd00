// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "core/geometry/point.hpp"

namespace wallfoot {

enum class Severity { fault, caution, note };

/// What the program has to say, as a code with arguments; the words live in resources/texts/ (one catalogue).
/// A message about the drawing always carries its place.
struct Message {
    Severity severity = Severity::fault;
    std::string code;                           ///< key of the catalogue, such as "air-unclaimed"
    std::map<std::string, std::string> args;    ///< fill {name} in the catalogue's sentence
    std::optional<Point> at;                    ///< place on the drawing
    std::string pointer;                        ///< JSON pointer into the study file, if there is one
    bool operator==(const Message&) const = default;
};

/// The sentence for a message in English: what is wrong and what would be right. An unknown code prints code and arguments.
std::string english(const Message& message);
/// One line for a terminal: file, JSON pointer, point in mm, sentence.
std::string one_line(const Message& message, const std::string& file);

/// Input that cannot be used. Carries every fault found, at least one.
class InputFault : public std::runtime_error {
  public:
    explicit InputFault(std::vector<Message> faults);
    explicit InputFault(Message fault) : InputFault(std::vector<Message>{std::move(fault)}) {}
    const std::vector<Message>& faults() const { return faults_; }

  private:
    std::vector<Message> faults_;
};

}  // namespace wallfoot

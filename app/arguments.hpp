// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

// What the commands of the command line share.

/// Throws InputFault "wrong-use".
[[noreturn]] void wrong_use(const std::string& what, const std::string& right);

/// Variants by id or name, all of them for no names. Throws InputFault "unknown-variant".
std::vector<const Variant*> chosen(const Study& study, const std::vector<std::string>& names);

/// One line per fault on standard error.
void print_faults(const std::vector<Message>& messages, const std::string& file);

}  // namespace wallfoot

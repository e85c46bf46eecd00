// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <string>

namespace wallfoot {

/// Characters of a text, not bytes.
inline std::size_t characters_of(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

/// A cell as RFC 4180 asks for it, of a table whose cells `divider` parts.
inline std::string csv_cell(const std::string& text, char divider = ',') {
    if (text.find_first_of(std::string("\"\r\n") + divider) == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char letter : text) quoted += letter == '"' ? "\"\"" : std::string(1, letter);
    return quoted + "\"";
}

}  // namespace wallfoot

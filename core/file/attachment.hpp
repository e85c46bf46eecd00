// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/study/underlays.hpp"

namespace wallfoot {

/// SHA-256 of bytes, 64 hex digits.
std::string sha256_of(std::string_view bytes);
/// A file with the key it is kept under.
AttachedFile attached_file(std::string type, std::string name, std::string bytes);

/// Base64 of RFC 4648, padded.
std::string base64_of(std::string_view bytes);
/// Nothing when it is not base64 in full.
std::optional<std::string> bytes_of_base64(std::string_view text);

}  // namespace wallfoot

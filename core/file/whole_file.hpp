// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace wallfoot {

/// All bytes of a file. Throws InputFault "file-unreadable" with the reason, "file-too-large" above 200 MB.
std::string read_whole(const std::string& path);
/// Writes to a temporary file beside `path`, flushes it to disk and renames: the old file stays whole on any error.
/// `what` is not saved, says the std::runtime_error then: "study".
void save_whole(const std::string& text, const std::string& path, const std::string& what);

}  // namespace wallfoot

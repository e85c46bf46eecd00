// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// One file of an archive.
struct ZipEntry {
    std::string name;   ///< with '/' between folders
    std::string bytes;
};

/// A zip archive of these files in this order. The same files give the same bytes: every file carries the first date that
/// the format knows. Throws std::runtime_error when it cannot be made.
std::string zip_bytes(const std::vector<ZipEntry>& entries);

}  // namespace wallfoot

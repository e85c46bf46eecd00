// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/dwelling/dwelling.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// Newest version of the dwelling file this program reads, and the one it writes.
constexpr int newest_dwelling_version = 1;

/// A dwelling as read, with what was odd about it, never a fault.
struct ReadDwelling {
    Dwelling dwelling;
    std::vector<Message> warnings;
};

/// Reads and validates a dwelling file. Throws InputFault with every fault and its JSON pointer: not JSON, no dwelling file,
/// newer version, wrong type, out of range, unknown kind, unknown reference, duplicate id, a kind that is there and said absent.
ReadDwelling read_dwelling(const std::string& json);
/// Same, from a file.
ReadDwelling load_dwelling(const std::string& path);
/// Canonical JSON text, by the rules of the study file; read_dwelling(write_dwelling(d)) == d.
std::string write_dwelling(const Dwelling& dwelling);
/// Whether the file is another one than the dwelling that was read from it or saved to it: saving would lose what somebody else
/// wrote meanwhile. A file that is gone loses nothing.
bool changed_meanwhile(const Dwelling& known, const std::string& path);
/// Throws std::runtime_error with the reason; the old file stays whole then.
void save_dwelling(const Dwelling& dwelling, const std::string& path);

}  // namespace wallfoot

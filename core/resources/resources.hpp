// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace wallfoot {

/// Bytes of a file under resources/, embedded at build time; `path` is relative to that folder ("conventions/iso.json").
/// A folder set with use_resources_from() wins over the embedded copy. Throws std::out_of_range for an unknown path.
std::string resource(std::string_view path);
/// All paths below a folder of resources/, sorted.
std::vector<std::string> resources_below(std::string_view folder);
/// Files in `directory` override embedded ones of the same path (option --resources DIR).
void use_resources_from(std::string directory);
/// True when `path` came, or would come, from the overriding folder.
bool resource_is_overridden(std::string_view path);

}  // namespace wallfoot

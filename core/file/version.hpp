// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace wallfoot {

/// Newest version of the study file this program reads, and the one it writes.
constexpr int newest_version = 1;

}  // namespace wallfoot

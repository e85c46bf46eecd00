// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <malloc.h>

namespace wallfoot {

/// Lets the process keep the memory it frees, for the next mesh and the next variant: the system has to clear every page
/// it hands out again, which costs a third of a solve and two thirds of a variant on a kept mesh (measured). The peak
/// stays as it is. For the beginning of main().
inline void keep_freed_memory() {
    constexpr int largest_allowed = 32 << 20;  // bytes; the library refuses more
    mallopt(M_MMAP_THRESHOLD, largest_allowed);
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    mallopt(M_TOP_PAD, 1 << 20);
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/unit/sanitized.hpp"

extern "C" [[gnu::weak]] void __asan_init();  // there only when the sanitizer is linked

namespace wallfoot {

bool sanitized() { return __asan_init != nullptr; }

}  // namespace wallfoot

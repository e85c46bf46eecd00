// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace wallfoot {

/// Whether core and solver run with the address sanitizer here, several times slower. Asked when running: the tests are
/// compiled once for both.
bool sanitized();

}  // namespace wallfoot

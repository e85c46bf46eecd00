// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace wallfoot {

/// A file of resources/ as bytes [begin, end); the table is generated at build time and ends with a null path.
struct EmbeddedFile {
    const char* path;
    const char* begin;
    const char* end;
};
extern const EmbeddedFile embedded_files[];

}  // namespace wallfoot

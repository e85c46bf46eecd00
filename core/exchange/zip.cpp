// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/zip.hpp"

#include <minizip/zip.h>

#include <algorithm>
#include <cstdio>
#include <stdexcept>

namespace wallfoot {

namespace {

/// A file that is kept in memory while it is written.
struct ZipMemory {
    std::string bytes;
    std::size_t at = 0;
};

ZipMemory& memory_of(voidpf stream) { return *static_cast<ZipMemory*>(stream); }

zlib_filefunc64_def functions_on(ZipMemory& memory) {
    zlib_filefunc64_def functions{};
    functions.opaque = &memory;
    functions.zopen64_file = [](voidpf opaque, const void*, int) -> voidpf { return opaque; };
    functions.zread_file = [](voidpf, voidpf stream, void* into, uLong size) -> uLong {
        ZipMemory& file = memory_of(stream);
        const std::size_t left = file.at < file.bytes.size() ? file.bytes.size() - file.at : 0, taken = std::min<std::size_t>(size, left);
        std::copy_n(file.bytes.data() + file.at, taken, static_cast<char*>(into));
        file.at += taken;
        return taken;
    };
    functions.zwrite_file = [](voidpf, voidpf stream, const void* from, uLong size) -> uLong {
        ZipMemory& file = memory_of(stream);
        if (file.bytes.size() < file.at + size) file.bytes.resize(file.at + size);
        std::copy_n(static_cast<const char*>(from), size, file.bytes.data() + file.at);
        file.at += size;
        return size;
    };
    functions.ztell64_file = [](voidpf, voidpf stream) -> ZPOS64_T { return memory_of(stream).at; };
    functions.zseek64_file = [](voidpf, voidpf stream, ZPOS64_T offset, int origin) -> long {
        ZipMemory& file = memory_of(stream);
        file.at = static_cast<std::size_t>(offset) + (origin == ZLIB_FILEFUNC_SEEK_CUR ? file.at : origin == ZLIB_FILEFUNC_SEEK_END ? file.bytes.size() : 0);
        return 0;
    };
    functions.zclose_file = [](voidpf, voidpf) -> int { return 0; };
    functions.zerror_file = [](voidpf, voidpf) -> int { return 0; };
    return functions;
}

}  // namespace

std::string zip_bytes(const std::vector<ZipEntry>& entries) {
    ZipMemory memory;
    zlib_filefunc64_def functions = functions_on(memory);
    const auto archive = zipOpen2_64("", APPEND_STATUS_CREATE, nullptr, &functions);
    if (!archive) throw std::runtime_error("the archive cannot be begun");
    zip_fileinfo first_date{};
    first_date.tmz_date.tm_year = 1980;
    first_date.tmz_date.tm_mday = 1;
    bool sound = true;
    for (const ZipEntry& entry : entries) {
        constexpr uLong utf8_names = 1u << 11;
        sound = sound && zipOpenNewFileInZip4_64(archive, entry.name.c_str(), &first_date, nullptr, 0, nullptr, 0, nullptr, Z_DEFLATED, Z_DEFAULT_COMPRESSION, 0, -MAX_WBITS,
                                                 DEF_MEM_LEVEL, Z_DEFAULT_STRATEGY, nullptr, 0, 0, utf8_names, 0) == ZIP_OK;
        sound = sound && zipWriteInFileInZip(archive, entry.bytes.data(), static_cast<unsigned>(entry.bytes.size())) == ZIP_OK;
        sound = sound && zipCloseFileInZip(archive) == ZIP_OK;
    }
    if (zipClose(archive, nullptr) != ZIP_OK || !sound) throw std::runtime_error("the archive cannot be written");
    return memory.bytes;
}

}  // namespace wallfoot

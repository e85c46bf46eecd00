// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <malloc.h>
#include <sys/mman.h>

#include <array>
#include <cstdint>
#include <cstdlib>

namespace wallfoot {

/// Makes fresh memory cheap, for the beginning of main(). A solve takes and frees the same vectors for mesh after mesh; the
/// system clears every page it hands out, one fault a page, which was measured to cost a third of a solve and two thirds
/// of a variant on a kept mesh. So what is freed is kept, all threads share it, and its first part may come in huge pages.
/// The peak stays nearly as it is.
inline void keep_freed_memory() {
    constexpr int mebibyte = 1 << 20;
    constexpr std::uintptr_t huge_page = 2 * mebibyte, block_head = 16;  // bytes the library puts before a block
    mallopt(M_MMAP_THRESHOLD, 32 * mebibyte);  // the library refuses more
    mallopt(M_TRIM_THRESHOLD, 1024 * mebibyte);
    mallopt(M_TOP_PAD, mebibyte);
    mallopt(M_ARENA_MAX, 1);
    // Address space only, until it is written to; in blocks below the size that would be mapped apart from the rest.
    constexpr std::size_t block_size = 31 * mebibyte, most = 12;
    std::array<void*, most> blocks{};
    for (void*& block : blocks) block = std::malloc(block_size);
    const auto begin = reinterpret_cast<std::uintptr_t>(blocks.front());
    const auto first_huge = (begin + huge_page - 1) / huge_page * huge_page;
    std::size_t joined = 1;  // blocks that lie one behind the other
    while (joined < most && reinterpret_cast<std::uintptr_t>(blocks[joined]) == begin + joined * (block_size + block_head)) ++joined;
    if (begin) madvise(reinterpret_cast<void*>(first_huge), begin + joined * block_size - first_huge, MADV_HUGEPAGE);
    for (void* block : blocks) std::free(block);
    // Never written to: what is allocated from here on lies in the huge pages, where the system has them.
    static void* const before_them = std::malloc(first_huge - begin);
    (void)before_them;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <cmath>
#include <fstream>
#include <random>
#include <sstream>

#include "core/exchange/dxf.hpp"
#include "core/text/message.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

std::vector<std::string> lines_of(const std::string& path) {
    std::ifstream in(in_tree(path), std::ios::binary);
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

// Drawings with lines changed, taken out, doubled or moved: each is read or refused with a sentence, and what is read
// holds no number that is none.
TEST(DxfMutations, a_damaged_drawing_is_read_or_refused) {
    const auto whole = lines_of("tests/reference/dxf/r2000.dxf");
    ASSERT_GT(whole.size(), 1000u);
    std::size_t entities = 0;
    while (whole[entities] != "ENTITIES") ++entities;
    std::mt19937_64 random(4);
    const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
    const char* const values[] = {"nan", "1e999", "-1", "0", "1000000000000", "99999999999999", "", "LINE", "HATCH", "INSERT", "outer", "inner", "\xFF\xFE", "1.5", "-1e-300", "360"};
    int read = 0, refused = 0;
    for (int round = 0; round < 3000; ++round) {
        auto lines = whole;
        for (std::size_t changes = 1 + below(4); changes > 0; --changes) {
            if (lines.size() <= entities) break;
            const std::size_t at = below(3) == 0 ? below(lines.size()) : entities + below(lines.size() - entities);
            switch (below(5)) {
                case 0: lines[at] = values[below(std::size(values))]; break;
                case 1: lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at), lines.begin() + static_cast<std::ptrdiff_t>(std::min(lines.size(), at + 1 + below(3)))); break;
                case 2: lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at), lines[below(lines.size())]); break;
                case 3: std::swap(lines[at], lines[entities + below(lines.size() - entities)]); break;
                default: lines.resize(std::max(entities + 1, at)); break;
            }
        }
        std::string text;
        for (const auto& line : lines) text += line + "\n";
        if (below(4) != 0) text += "  0\nENDSEC\n  0\nEOF\n";
        try {
            const Drawing drawing = read_dxf(text);
            ++read;
            for (const Stroke& stroke : drawing.strokes)
                for (const Place p : stroke.points) ASSERT_TRUE(std::isfinite(p.x) && std::isfinite(p.y)) << round;
            joined(drawing, 0.5);
        } catch (const InputFault& fault) {
            ++refused;
            ASSERT_TRUE(english(fault.faults().front()).find('{') == std::string::npos) << english(fault.faults().front());
        }
    }
    EXPECT_GT(read, 300);
    EXPECT_GT(refused, 300);
}

}  // namespace
}  // namespace wallfoot

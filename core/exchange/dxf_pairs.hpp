// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "core/study/underlay.hpp"

// The text of a DXF as pairs of a group code and a value; not for others.
namespace wallfoot::dxf {

[[noreturn]] void refuse(const char* code, std::size_t line, std::map<std::string, std::string> more = {});

struct Pair {
    int code = 0;
    std::uint32_t line = 0;  ///< of the value, from 1
    std::string_view value;
};

/// All pairs up to EOF. Throws InputFault "dxf-not-text", "dxf-broken".
std::vector<Pair> pairs_of(std::string_view bytes);
/// Throws InputFault "dxf-number" for what is no finite number of a possible size.
double number_of(const Pair& pair);
int whole_of(const Pair& pair);
/// As UTF-8: what is not is read as Latin 1; \U+XXXX stands for a character.
std::string text_of(std::string_view value);

/// The pairs of one entity, its kind first.
struct Entity {
    const Pair* first = nullptr;
    const Pair* last = nullptr;  ///< one behind
    std::string_view kind() const { return first->value; }
    std::size_t line() const { return first->line; }
    const Pair* begin() const { return first + 1; }
    const Pair* end() const { return last; }
    const Pair* find(int code) const {
        for (const Pair& pair : *this)
            if (pair.code == code) return &pair;
        return nullptr;
    }
    double number(int code, double absent) const { const Pair* pair = find(code); return pair ? number_of(*pair) : absent; }
    int whole(int code, int absent) const { const Pair* pair = find(code); return pair ? whole_of(*pair) : absent; }
    Place point(int x_code) const { return {number(x_code, 0), number(x_code + 10, 0)}; }
    std::vector<double> all(int code) const {
        std::vector<double> numbers;
        for (const Pair& pair : *this)
            if (pair.code == code) numbers.push_back(number_of(pair));
        return numbers;
    }
};

}  // namespace wallfoot::dxf

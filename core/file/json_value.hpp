// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <string>
#include <variant>
#include <vector>

#include "core/text/message.hpp"

namespace wallfoot::json {

/// A number with the text it is written as: whole numbers as they stand, others in the shortest form that reads back equal.
struct Number {
    double value = 0;
    std::string text = "0";
};

struct Value;
using Array = std::vector<Value>;
using Object = std::map<std::string, Value, std::less<>>;  ///< sorted: the canonical order

/// One JSON value. Numbers are finite.
struct Value {
    std::variant<std::monostate, bool, Number, std::string, Array, Object> data;

    Value() = default;
    Value(bool flag) : data(flag) {}
    Value(double number);  ///< finite
    Value(Number number) : data(std::move(number)) {}
    Value(std::string text) : data(std::move(text)) {}
    Value(const char* text) : data(std::string(text)) {}
    Value(Array items) : data(std::move(items)) {}
    Value(Object members) : data(std::move(members)) {}

    template <class T>
    const T* as() const {
        return std::get_if<T>(&data);
    }
    template <class T>
    T* as() {
        return std::get_if<T>(&data);
    }
    bool is_null() const { return data.index() == 0; }
};

/// Deepest nesting that is read.
constexpr std::size_t depth_limit = 64;
/// Most values (numbers, words, lists, objects) that are read.
constexpr std::size_t value_limit = 5'000'000;

/// Reads JSON. Appends to `faults`: not JSON (line and column), a number too large, nesting too deep, too many values —
/// then the value is what was read so far — and duplicate keys with their pointer below `pointer`.
/// Returns false when reading stopped early.
bool parse(const std::string& text, const std::string& pointer, Value& value, std::vector<Message>& faults);
/// Reads JSON that this program wrote or kept. Throws InputFault.
Value parse(const std::string& text);

/// On one line, keys sorted.
std::string print_line(const Value& value);
/// Keys sorted, 2 spaces per level; a list without objects in it stays on one line; ends with a line end.
std::string print(const Value& value);

/// Shortest decimal text that reads back as the same number; never "-0".
std::string number_text(double value);
/// One step of a JSON pointer, "/" and "~" escaped.
std::string pointer_step(std::string_view name);

}  // namespace wallfoot::json

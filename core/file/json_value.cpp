// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/json_value.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace wallfoot::json {

namespace {

void print_text(std::string& out, const std::string& text) {
    static constexpr char hex[] = "0123456789abcdef";
    out += '"';
    for (const char c : text) {
        switch (c) {
            case '"': out += "\\\""; break;
            case '\\': out += "\\\\"; break;
            case '\n': out += "\\n"; break;
            case '\r': out += "\\r"; break;
            case '\t': out += "\\t"; break;
            default:
                if (static_cast<unsigned char>(c) < 0x20) {
                    out += "\\u00";
                    out += hex[static_cast<unsigned char>(c) >> 4];
                    out += hex[static_cast<unsigned char>(c) & 15];
                } else {
                    out += c;
                }
        }
    }
    out += '"';
}

bool holds_object(const Value& value) {
    if (value.as<Object>()) return true;
    const auto* items = value.as<Array>();
    return items && std::any_of(items->begin(), items->end(), holds_object);
}

/// indent < 0: everything on one line.
void print_value(std::string& out, const Value& value, int indent) {
    const int inner = indent < 0 ? -1 : indent + 2;
    const auto line_break = [&](int columns) {
        if (indent < 0) return;
        out += '\n';
        out.append(static_cast<std::size_t>(columns), ' ');
    };
    const char* comma = indent < 0 ? ", " : ",";
    if (const auto* flag = value.as<bool>()) {
        out += *flag ? "true" : "false";
    } else if (const auto* number = value.as<Number>()) {
        out += number->text;
    } else if (const auto* text = value.as<std::string>()) {
        print_text(out, *text);
    } else if (const auto* items = value.as<Array>()) {
        if (indent >= 0 && !holds_object(value)) return print_value(out, value, -1);
        out += '[';
        for (const Value& item : *items) {
            if (&item != &items->front()) out += comma;
            line_break(inner);
            print_value(out, item, inner);
        }
        if (!items->empty()) line_break(indent);
        out += ']';
    } else if (const auto* members = value.as<Object>()) {
        out += '{';
        bool first = true;
        for (const auto& [name, member] : *members) {
            if (!first) out += comma;
            first = false;
            line_break(inner);
            print_text(out, name);
            out += ": ";
            print_value(out, member, inner);
        }
        if (!members->empty()) line_break(indent);
        out += '}';
    } else {
        out += "null";
    }
}

}  // namespace

Value::Value(double number) : data(Number{number, number_text(number)}) {}

std::string number_text(double value) {
    if (!std::isfinite(value)) throw std::invalid_argument("a number in a study must be finite");
    if (value == 0) return "0";
    char buffer[32];
    const auto end = std::to_chars(buffer, buffer + sizeof buffer, value).ptr;
    return {buffer, end};
}

std::string pointer_step(std::string_view name) {
    std::string step = "/";
    for (const char c : name) {
        if (c == '~') step += "~0";
        else if (c == '/') step += "~1";
        else step += c;
    }
    return step;
}

std::string print_line(const Value& value) {
    std::string out;
    print_value(out, value, -1);
    return out;
}

std::string print(const Value& value) {
    std::string out;
    print_value(out, value, 0);
    return out + '\n';
}

}  // namespace wallfoot::json

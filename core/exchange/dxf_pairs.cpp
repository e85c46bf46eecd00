// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/dxf_pairs.hpp"

#include <charconv>
#include <cmath>

#include "core/exchange/dxf.hpp"
#include "core/text/message.hpp"

namespace wallfoot::dxf {

namespace {

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t' || text.back() == '\r')) text.remove_suffix(1);
    return text;
}

void put_utf8(std::string& text, unsigned c) {
    if (c < 0x80) {
        text += static_cast<char>(c);
    } else if (c < 0x800) {
        text += static_cast<char>(0xC0 | c >> 6);
        text += static_cast<char>(0x80 | (c & 63));
    } else {
        text += static_cast<char>(0xE0 | c >> 12);
        text += static_cast<char>(0x80 | (c >> 6 & 63));
        text += static_cast<char>(0x80 | (c & 63));
    }
}

bool is_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto c = static_cast<unsigned char>(text[i]);
        const std::size_t more = c < 0x80 ? 0 : c >= 0xC2 && c < 0xE0 ? 1 : c >= 0xE0 && c < 0xF0 ? 2 : c >= 0xF0 && c < 0xF5 ? 3 : 9;
        if (more == 9 || i + more >= text.size()) return false;
        for (std::size_t k = 1; k <= more; ++k)
            if ((static_cast<unsigned char>(text[i + k]) & 0xC0) != 0x80) return false;
        i += more + 1;
    }
    return true;
}

}  // namespace

void refuse(const char* code, std::size_t line, std::map<std::string, std::string> more) {
    more["line"] = std::to_string(line);
    throw InputFault(Message{Severity::fault, code, std::move(more), {}, {}});
}

std::vector<Pair> pairs_of(std::string_view bytes) {
    if (bytes.size() > dxf_byte_limit) refuse("dxf-too-large", 0, {{"limit", std::to_string(dxf_byte_limit / 1'000'000)}});
    // The other two forms of such drawings are full of zero bytes from the start.
    if (bytes.substr(0, 4000).find('\0') != std::string_view::npos) refuse("dxf-not-text", 1);
    if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
    std::vector<Pair> pairs;
    std::size_t at = 0;
    std::uint32_t line = 0;
    const auto next_line = [&] {
        const std::size_t end = std::min(bytes.find('\n', at), bytes.size());
        const std::string_view text = bytes.substr(at, end - at);
        at = end + 1;
        ++line;
        return text;
    };
    while (at < bytes.size()) {
        const std::string_view code_text = trimmed(next_line());
        if (code_text.empty() && at >= bytes.size()) break;
        int code = 0;
        const auto [end, error] = std::from_chars(code_text.data(), code_text.data() + code_text.size(), code);
        if (error != std::errc() || end != code_text.data() + code_text.size()) refuse(pairs.empty() ? "dxf-not-text" : "dxf-broken", line);
        if (at >= bytes.size()) refuse("dxf-broken", line);
        const std::string_view value = trimmed(next_line());
        if (code == 999) continue;  // a comment
        pairs.push_back({code, line, value});
        if (code == 0 && value == "EOF") return pairs;
    }
    refuse(pairs.empty() ? "dxf-not-text" : "dxf-broken", line);  // a sound file says where it ends
}

double number_of(const Pair& pair) {
    std::string_view text = pair.value;
    if (text.starts_with('+')) text.remove_prefix(1);
    double number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    constexpr double most = 1e12;
    if (error == std::errc::result_out_of_range && end == text.data() + text.size() && text.find_first_of("eE") + 1 == text.find('-', 1)) return 0;
    if (error != std::errc() || end != text.data() + text.size() || !(std::abs(number) <= most)) refuse("dxf-number", pair.line, {{"value", text_of(pair.value.substr(0, 40))}});
    return number;
}

int whole_of(const Pair& pair) {
    const double number = number_of(pair);
    if (std::abs(number) > 1e9 || number != std::floor(number)) refuse("dxf-number", pair.line, {{"value", text_of(pair.value.substr(0, 40))}});
    return static_cast<int>(number);
}

std::string text_of(std::string_view value) {
    std::string text;
    const bool utf8 = is_utf8(value);
    for (std::size_t i = 0; i < value.size(); ++i) {
        unsigned code = 0;
        if (value.substr(i).starts_with("\\U+") && i + 7 <= value.size() && std::from_chars(value.data() + i + 3, value.data() + i + 7, code, 16).ptr == value.data() + i + 7) {
            put_utf8(text, code);
            i += 6;
        } else if (utf8) {
            text += value[i];
        } else {
            put_utf8(text, static_cast<unsigned char>(value[i]));
        }
    }
    return text;
}

}  // namespace wallfoot::dxf

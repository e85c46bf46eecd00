// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/text/number_entry.hpp"

#include <charconv>
#include <cmath>

namespace wallfoot {

namespace {

/// A value on its way: a length (mm) or a plain number, which may still become a length.
struct Part {
    double value = 0;
    bool length = false;
};

struct Problem {
    const char* code;
    std::size_t at;
};

class Parser {
  public:
    explicit Parser(std::string_view text) : text_(text) {}

    Part whole() {
        skip_blanks();
        if (at_end()) throw Problem{"entry-empty", pos_};
        const Part part = sum();
        if (!at_end()) throw Problem{"entry-not-a-number", pos_};
        return part;
    }

  private:
    std::string_view text_;
    std::size_t pos_ = 0;
    int depth_ = 0;

    bool at_end() const { return pos_ >= text_.size(); }
    void skip_blanks() {
        while (take_text(" ") || take_text("\t") || take_text("\xc2\xa0") || take_text("\xe2\x80\xaf")) {}
    }
    bool take_text(std::string_view word) {
        if (!text_.substr(pos_).starts_with(word)) return false;
        pos_ += word.size();
        return true;
    }
    bool take(std::string_view word) {
        if (!take_text(word)) return false;
        skip_blanks();
        return true;
    }

    Part sum() {
        Part left = product();
        for (;;) {
            double sign = 0;
            if (take("+")) sign = 1;
            else if (take("-") || take("\xe2\x88\x92")) sign = -1;
            else return left;
            const Part right = product();
            left = {left.value + sign * right.value, left.length || right.length};
        }
    }

    Part product() {
        Part left = factor();
        for (;;) {
            const std::size_t here = pos_;
            if (take("*") || take("\xc3\x97")) {
                const Part right = factor();
                if (left.length && right.length) throw Problem{"entry-units", here};
                left = {left.value * right.value, left.length || right.length};
            } else if (take("/")) {
                const Part right = factor();
                if (right.length) throw Problem{"entry-units", here};
                if (right.value == 0) throw Problem{"entry-divides-by-zero", here};
                left.value /= right.value;
            } else {
                return left;
            }
        }
    }

    Part factor() {
        if (take("-") || take("\xe2\x88\x92")) {
            const Part part = guarded([this] { return factor(); });
            return {-part.value, part.length};
        }
        if (take("+")) return guarded([this] { return factor(); });
        if (take("(")) {
            const Part part = guarded([this] { return sum(); });
            if (!take(")")) throw Problem{"entry-not-a-number", pos_};
            return unit(part);
        }
        return unit({number(), false});
    }

    /// Typed text is short; a pasted one must not exhaust the stack.
    template <class F>
    Part guarded(F inner) {
        if (++depth_ > 50) throw Problem{"entry-not-a-number", pos_};
        const Part part = inner();
        --depth_;
        return part;
    }

    double number() {
        const std::size_t begin = pos_;
        std::string digits;
        bool separated = false, any = false;
        for (; !at_end(); ++pos_) {
            const char c = text_[pos_];
            if (c >= '0' && c <= '9') {
                digits += c;
                any = true;
            } else if (c == '.' || c == ',') {
                if (separated) throw Problem{"entry-two-separators", pos_};
                separated = true;
                digits += '.';
            } else {
                break;
            }
        }
        if (!any) throw Problem{"entry-not-a-number", begin};
        double value = 0;
        const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
        if (result.ec != std::errc{}) throw Problem{"entry-too-large", begin};
        skip_blanks();
        return value;
    }

    Part unit(Part part) {
        const std::size_t here = pos_;
        double factor = 0;
        if (take("mm")) factor = 1;
        else if (take("cm")) factor = 10;
        else if (take("m")) factor = 1000;
        else return part;
        if (part.length) throw Problem{"entry-units", here};
        return {part.value * factor, true};
    }
};

Entry finish(const Part& part, double limit) {
    if (!std::isfinite(part.value) || std::abs(part.value) > limit) return {{}, "entry-too-large", 0};
    return {part.value, {}, 0};
}

}  // namespace

Entry parse_length(std::string_view text) {
    try {
        return finish(Parser(text).whole(), 500'000.0);
    } catch (const Problem& problem) {
        return {{}, problem.code, problem.at};
    }
}

Entry parse_number(std::string_view text) {
    for (const std::string_view degree : {"\xc2\xb0", " "})
        while (text.ends_with(degree)) text.remove_suffix(degree.size());
    try {
        const Part part = Parser(text).whole();
        if (part.length) return {{}, "entry-units", 0};
        return finish(part, 1e12);
    } catch (const Problem& problem) {
        return {{}, problem.code, problem.at};
    }
}

std::string number_text(double value, int most_decimals) {
    char buffer[400];
    const auto result = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed, most_decimals);
    std::string text(buffer, result.ptr);
    if (text.find('.') != std::string::npos) {
        while (text.back() == '0') text.pop_back();
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

std::string length_text(double mm) { return number_text(mm) + " mm"; }

}  // namespace wallfoot

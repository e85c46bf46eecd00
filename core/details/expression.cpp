// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/details/expression.hpp"

#include <algorithm>
#include <charconv>

namespace wallfoot {

namespace {

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

class Evaluator {
  public:
    Evaluator(std::string_view text, const NameLookup& lookup) : text_(text), lookup_(lookup) {}

    double whole() {
        const double value = sum();
        if (pos_ < text_.size()) malformed();
        return value;
    }

  private:
    [[noreturn]] void malformed() const { throw ExpressionProblem{ExpressionProblem::malformed, {}, pos_}; }
    void skip_blanks() {
        while (pos_ < text_.size() && text_[pos_] == ' ') ++pos_;
    }
    bool take(char c) {
        skip_blanks();
        if (pos_ >= text_.size() || text_[pos_] != c) return false;
        ++pos_;
        skip_blanks();
        return true;
    }
    void need(char c) {
        if (!take(c)) malformed();
    }

    double sum() {
        double value = product();
        for (;;) {
            if (take('+')) value += product();
            else if (take('-')) value -= product();
            else return value;
        }
    }

    double product() {
        double value = factor();
        for (;;) {
            const std::size_t here = pos_;
            if (take('*')) {
                value *= factor();
            } else if (take('/')) {
                const double by = factor();
                if (by == 0) throw ExpressionProblem{ExpressionProblem::divides_by_zero, {}, here};
                value /= by;
            } else {
                return value;
            }
        }
    }

    double factor() {
        // A file may come from anywhere; a text of ten thousand brackets must not exhaust the stack.
        if (++depth_ > 50) malformed();
        const double value = factor_inside();
        --depth_;
        return value;
    }

    double factor_inside() {
        if (take('-')) return -factor();
        if (take('(')) {
            const double value = sum();
            need(')');
            return value;
        }
        if (pos_ < text_.size() && is_letter(text_[pos_])) return named();
        double value = 0;
        const auto read = std::from_chars(text_.data() + pos_, text_.data() + text_.size(), value, std::chars_format::fixed);
        if (read.ec != std::errc{} || !is_digit(text_[pos_])) malformed();
        pos_ = static_cast<std::size_t>(read.ptr - text_.data());
        skip_blanks();
        return value;
    }

    double named() {
        const std::size_t begin = pos_;
        while (pos_ < text_.size() && (is_letter(text_[pos_]) || is_digit(text_[pos_]) || text_[pos_] == '_' || text_[pos_] == '.')) ++pos_;
        const std::string_view name = text_.substr(begin, pos_ - begin);
        skip_blanks();
        if (name == "min" || name == "max") {
            need('(');
            double value = sum();
            while (take(',')) value = name == "min" ? std::min(value, sum()) : std::max(value, sum());
            need(')');
            return value;
        }
        const auto value = lookup_(name);
        if (!value) throw ExpressionProblem{ExpressionProblem::unknown_name, std::string(name), begin};
        return *value;
    }

    std::string_view text_;
    const NameLookup& lookup_;
    std::size_t pos_ = 0;
    int depth_ = 0;
};

}  // namespace

double evaluate(std::string_view text, const NameLookup& lookup) { return Evaluator(text, lookup).whole(); }

bool is_expression_name(std::string_view text) {
    const auto small = [](char c) { return c >= 'a' && c <= 'z'; };
    return !text.empty() && small(text[0]) && text != "min" && text != "max" &&
           std::all_of(text.begin(), text.end(), [&](char c) { return small(c) || is_digit(c) || c == '_'; });
}

}  // namespace wallfoot

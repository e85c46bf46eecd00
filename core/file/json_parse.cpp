// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/file/json_value.hpp"

namespace wallfoot::json {

namespace {

/// Line and column of the byte at `position` (1-based), columns counted in characters.
std::map<std::string, std::string> line_and_column(const std::string& text, std::size_t position) {
    const std::size_t end = std::min(std::max<std::size_t>(position, 1) - 1, text.size());
    std::size_t line = 1, column = 1;
    for (std::size_t i = 0; i < end; ++i) {
        if (text[i] == '\n') {
            ++line;
            column = 1;
        } else if ((static_cast<unsigned char>(text[i]) & 0xC0) != 0x80) {
            ++column;
        }
    }
    return {{"line", std::to_string(line)}, {"column", std::to_string(column)}};
}

/// Builds the value while the library reads; knows where it is, which the library's own tree builder does not.
class Builder {
  public:
    Builder(const std::string& text, const std::string& pointer, Value& root, std::vector<Message>& faults)
        : text_(text), pointer_(pointer), root_(root), faults_(faults) {}

    bool null() { return put({}) != nullptr; }
    bool boolean(bool flag) { return put(flag) != nullptr; }
    bool number_integer(std::int64_t n) { return put(Number{static_cast<double>(n), std::to_string(n)}) != nullptr; }
    bool number_unsigned(std::uint64_t n) { return put(Number{static_cast<double>(n), std::to_string(n)}) != nullptr; }
    bool number_float(double n, const std::string&) { return put(n) != nullptr; }
    bool string(std::string& text) { return put(std::move(text)) != nullptr; }
    bool binary(nlohmann::json::binary_t&) { return false; }
    bool start_object(std::size_t) { return open(Object{}); }
    bool start_array(std::size_t) { return open(Array{}); }
    bool end_object() { return close(); }
    bool end_array() { return close(); }

    bool key(std::string& name) {
        Frame& frame = open_.back();
        frame.key = name;
        if (frame.container->as<Object>()->contains(name))
            add("duplicate-key", {{"key", name}}, here());
        return true;
    }

    bool parse_error(std::size_t position, const std::string&, const nlohmann::json::exception& error) {
        const bool overflow = dynamic_cast<const nlohmann::json::out_of_range*>(&error) != nullptr;
        const bool ended = std::string_view(error.what()).find("unexpected end of input") != std::string_view::npos;
        add(overflow ? "number-not-finite" : ended ? "json-cut-short" : "json-syntax", line_and_column(text_, position),
            here());
        return false;
    }

  private:
    struct Frame {
        Value* container;
        std::string key;
    };

    std::string here() const {
        std::string pointer = pointer_;
        for (const Frame& frame : open_) {
            // In the innermost array the next value is meant; in those around it the one that is open already stands.
            const std::size_t standing = &frame == &open_.back() ? 0 : 1;
            if (const auto* items = frame.container->as<Array>())
                pointer += pointer_step(std::to_string(items->size() - standing));
            else if (frame.container->as<Object>()) pointer += pointer_step(frame.key);
        }
        return pointer;
    }

    void add(const char* code, std::map<std::string, std::string> args, std::string pointer) {
        if (faults_.size() >= 50) return;
        Message message;
        message.code = code;
        message.args = std::move(args);
        message.pointer = std::move(pointer);
        faults_.push_back(std::move(message));
    }

    /// Puts a value where the reader stands; null when there are too many.
    Value* put(Value value) {
        if (++count_ > value_limit) {
            add("too-many-values", {{"limit", std::to_string(value_limit)}}, here());
            return nullptr;
        }
        if (open_.empty()) {
            root_ = std::move(value);
            return &root_;
        }
        Frame& frame = open_.back();
        if (auto* items = frame.container->as<Array>()) return &items->emplace_back(std::move(value));
        return &((*frame.container->as<Object>())[frame.key] = std::move(value));
    }

    bool open(Value container) {
        if (open_.size() >= depth_limit) {
            add("json-too-deep", {{"limit", std::to_string(depth_limit)}}, here());
            return false;
        }
        Value* place = put(std::move(container));
        if (place) open_.push_back({place, {}});
        return place != nullptr;
    }

    bool close() {
        open_.pop_back();
        return true;
    }

    const std::string& text_;
    const std::string& pointer_;
    Value& root_;
    std::vector<Message>& faults_;
    std::vector<Frame> open_;
    std::size_t count_ = 0;
};

}  // namespace

bool parse(const std::string& text, const std::string& pointer, Value& value, std::vector<Message>& faults) {
    Builder builder(text, pointer, value, faults);
    return nlohmann::json::sax_parse(text.begin(), text.end(), &builder);
}

Value parse(const std::string& text) {
    Value value;
    std::vector<Message> faults;
    if (!parse(text, "", value, faults) || !faults.empty()) throw InputFault(std::move(faults));
    return value;
}

}  // namespace wallfoot::json

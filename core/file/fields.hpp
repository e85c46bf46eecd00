// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/file/json_value.hpp"
#include "core/study/edits.hpp"
#include "core/study/study.hpp"
#include "core/study/words.hpp"

namespace wallfoot::file {

/// Place in the file, as a chain of steps; the pointer is only spelled out for a message.
/// The parent and the name must outlive it.
class Where {
  public:
    explicit Where(std::string_view prefix) : name_(prefix) {}
    Where(const Where& parent, std::string_view name) : parent_(&parent), name_(name), step_(Step::name) {}
    Where(const Where& parent, std::size_t index) : parent_(&parent), index_(index), step_(Step::index) {}
    std::string pointer() const;

  private:
    enum class Step { root, name, index };
    const Where* parent_ = nullptr;
    std::string_view name_;
    std::size_t index_ = 0;
    Step step_ = Step::root;
};

/// What was found wrong or odd while reading.
struct Found {
    std::vector<Message> faults, warnings;

    using Args = std::map<std::string, std::string>;
    void fault(const char* code, const Where& where, Args args = {}, std::optional<Point> at = {});
    void warn(const char* code, const Where& where, Args args = {});
};

/// Closed range of a number, in the unit of the field.
struct Range {
    double least, most;
};
constexpr Range any_length{-500'000, 500'000};       ///< mm
constexpr Range some_length{0.001, 500'000};         ///< mm, > 0 on the grid
constexpr Range not_negative{0, 1e9};
constexpr Range temperatures{least_celsius, most_celsius};  ///< °C
constexpr Range ground_floor_sizes{0.01, 1e6};         ///< area and perimeter of a ground floor, m² and m
constexpr Range resistances{0, 1000};                ///< m²·K/W
constexpr double least_resistance = 1e-6;            ///< m²·K/W, of those above 0: a smaller one only loses digits

std::optional<double> read_number(Found& found, const json::Value& value, const Where& where, Range range);
/// A surface resistance, m²·K/W: 0, or large enough to count.
std::optional<double> read_resistance(Found& found, const json::Value& value, const Where& where);
std::optional<Micrometres> read_length(Found& found, const json::Value& value, const Where& where, Range range = any_length);
std::optional<std::string> read_text(Found& found, const json::Value& value, const Where& where);
std::optional<bool> read_flag(Found& found, const json::Value& value, const Where& where);
std::optional<Point> read_point(Found& found, const json::Value& value, const Where& where);
/// A list of points; nothing when any of them is at fault.
std::optional<std::vector<Point>> read_points(Found& found, const json::Value& value, const Where& where);
/// The list, or null and a fault.
const json::Array* read_list(Found& found, const json::Value& value, const Where& where);
void wrong_type(Found& found, const json::Value& value, const Where& where, const char* expected);
void unknown_word(Found& found, const Where& where, const std::string& word, const std::string& words);

template <class E, std::size_t N>
std::string list_of(const Words<E, N>& words) {
    std::string list;
    for (const auto& [value, word] : words) list += (list.empty() ? "" : ", ") + std::string(word);
    return list;
}

template <class E, std::size_t N>
std::optional<E> find_word(const Words<E, N>& words, std::string_view word) {
    for (const auto& [value, known] : words)
        if (known == word) return value;
    return std::nullopt;
}

template <class E, std::size_t N>
std::optional<E> read_word(Found& found, const json::Value& value, const Where& where, const Words<E, N>& words) {
    const auto word = read_text(found, value, where);
    if (!word) return std::nullopt;
    const auto known = find_word(words, *word);
    if (!known) unknown_word(found, where, *word, list_of(words));
    return known;
}

/// The fields of one object. Each is asked for once by name; rest() gives what nobody asked for.
class Fields {
  public:
    /// A fault when `value` is not an object; then every field is absent.
    Fields(Found& found, const json::Value& value, const Where& where);

    bool is_object() const { return object_ != nullptr; }
    const Where& where() const { return where_; }
    Where at(std::string_view name) const { return {where_, name}; }
    Found& found() { return found_; }

    const json::Value* find(std::string_view name);  ///< null when absent
    const json::Value* need(std::string_view name);  ///< a fault when absent

    std::string text(std::string_view name);         ///< "" when absent
    std::optional<std::string> optional_text(std::string_view name);
    std::string id();                                ///< needed, not empty
    std::optional<double> number(std::string_view name, Range range);
    double need_number(std::string_view name, Range range);  ///< 0 and a fault when absent
    double need_resistance(std::string_view name);   ///< 0 and a fault when absent
    std::optional<Micrometres> length(std::string_view name, Range range = any_length);
    Micrometres need_length(std::string_view name, Range range = any_length);
    std::optional<bool> flag(std::string_view name);
    std::string kept_object(std::string_view name);  ///< JSON text of an object, "" when absent
    std::string kept_list(std::string_view name);    ///< JSON text of a list, "" when absent

    template <class E, std::size_t N>
    std::optional<E> word(std::string_view name, const Words<E, N>& words) {
        const auto* value = find(name);
        return value ? read_word(found_, *value, at(name), words) : std::nullopt;
    }
    template <class E, std::size_t N>
    E need_word(std::string_view name, const Words<E, N>& words) {
        const auto* value = need(name);
        if (!value) return words.front().first;
        return read_word(found_, *value, at(name), words).value_or(words.front().first);
    }
    /// Calls read(Value, Where) for every item of a list, if there is one.
    template <class Read>
    void each(std::string_view name, Read read) {
        const auto* value = find(name);
        if (!value) return;
        const Where list_place = at(name);
        const auto* items = read_list(found_, *value, list_place);
        if (!items) return;
        for (std::size_t i = 0; i < items->size(); ++i) read((*items)[i], Where(list_place, i));
    }

    /// Fields nobody asked for, as JSON text, with a warning each.
    Extra rest();

  private:
    Found& found_;
    Where where_;
    const json::Object* object_ = nullptr;
    std::set<std::string_view> asked_;
};

/// Faults for ids that were seen before.
class Ids {
  public:
    void add(Found& found, const Where& where, const std::string& id, std::optional<Point> at = {});

  private:
    std::set<std::string> seen_;
};

// The parts of a study.
Convention read_convention_fields(Found& found, const json::Value& value, const Where& where);
SurfaceResistances read_resistances(Found& found, const json::Value& value, const Where& where);
Climate read_climate(Found& found, const json::Value& value, const Where& where);
Material read_material(Found& found, const json::Value& value, const Where& where);
/// References between materials: known, and no mix that holds itself.
void check_mixes(Found& found, const Where& materials, const std::vector<Material>& list);
/// The attachments of a study, decoded; limits and what does not match its key are told.
void read_attachments(Fields& fields, Study& study);
/// building.quantities: read again where they are asked for (core/file/quantities.hpp).
void check_quantities(Found& found, const json::Value& value, const Where& where);
/// building.floor.edge_insulation, likewise.
void check_floor_edge(Found& found, const json::Value& value, const Where& where);
Underlay read_underlay(Found& found, const json::Value& value, const Where& where);
Section read_section(Found& found, const json::Value& value, const Where& where, const std::vector<Material>& materials);

// And back.
json::Value write_convention(const Convention& convention);
json::Value write_climate(const Climate& climate);
json::Value write_material(const Material& material);
json::Value write_attachment(const Attachment& attachment);
json::Value write_underlay(const Underlay& underlay);
json::Value write_section(const Section& section);
json::Value write_resistances(const SurfaceResistances& resistances);
json::Value write_length(Micrometres length);  ///< mm, at most three decimals
void put_extra(json::Object& object, const Extra& extra);
void put_text(json::Object& object, const char* name, const std::string& text);  ///< unless empty
/// JSON text kept as it was read, unless empty.
void put_kept(json::Object& object, const char* name, const std::string& text);

}  // namespace wallfoot::file

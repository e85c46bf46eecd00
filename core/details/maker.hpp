// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>

#include "core/details/detail.hpp"
#include "core/details/expression.hpp"
#include "core/file/fields.hpp"

namespace wallfoot::details {

/// The names of a detail with their numbers: parameters, switches and options (0 or 1), and values named in the file,
/// which may stand on one another.
class Names {
  public:
    /// `values` of the file as name → number or expression.
    Names(const Detail& detail, const DetailSettings& settings, const json::Object* values);

    /// Throws ExpressionProblem; InputFault "detail-cycle" or a problem of a value the expression stands on.
    double number(std::string_view expression) const;
    /// Whether a switch or option is set; nothing when there is none of that name.
    std::optional<bool> flag(std::string_view name) const;
    std::string known() const;
    std::string known_flags() const;

  private:
    std::optional<double> find(std::string_view name) const;

    std::map<std::string, double, std::less<>> numbers_;
    std::set<std::string, std::less<>> flags_;
    const json::Object* values_;
    mutable std::set<std::string, std::less<>> open_;                 ///< values being worked out
    mutable std::map<std::string, double, std::less<>> worked_out_;  ///< each is worked out once
};

/// Turns the template of a section into one of the study file.
class Maker {
  public:
    /// `check` visits every alternative, whatever the settings, and counts no division by zero.
    Maker(const Names& names, file::Found& found, bool check) : names_(names), found_(found), check_(check) {}

    /// Nothing for an object whose "when" does not hold.
    std::optional<json::Value> make(const json::Value& value, const file::Where& where, bool numeric = false);

  private:
    bool holds(const json::Value& when, const file::Where& where);
    std::optional<json::Value> alternative(const json::Value& list, const file::Where& where, bool numeric);
    std::optional<json::Value> make_object(const json::Object& object, const file::Where& where);
    std::optional<json::Value> make_expression(const std::string& text, const file::Where& where);

    const Names& names_;
    file::Found& found_;
    bool check_;
};

/// Takes out points that fell together, and pieces and membranes that shrank to nothing. `section` is a made one.
/// Faults: "detail-turned-over".
void tidy_section(json::Object& section, file::Found& found, const file::Where& where);

}  // namespace wallfoot::details

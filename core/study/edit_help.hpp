// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"

// What the edits share; not for others.
namespace wallfoot::edit {

[[noreturn]] void refuse(const std::string& code, std::map<std::string, std::string> args = {}, std::optional<Point> at = {});
/// `stem` with the first number from n on that nothing in the section has as its id.
std::string free_id(const Section& section, const std::string& stem, int n = 1);
/// Refuses a path that is too short or stands still.
void check_path(const Membrane& membrane);
/// Makes `points` corners of every line they lie on; a piece that the bent edge would break keeps its edge.
void insert_corners(Section& section, const std::vector<Point>& points);

}  // namespace wallfoot::edit

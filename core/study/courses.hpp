// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/study.hpp"

namespace wallfoot {

/// One course of a leaf that is drawn as a rectangle. A cut course counts as one.
struct Course {
    std::string piece, name;  ///< id and name of the leaf
    Micrometres left = 0, right = 0, bottom = 0, top = 0;
};

/// Courses of pieces (ids), leaf by leaf from the top down: those of the leaf where it has any, else of `height` from its top.
/// Throws InputFault "edit-unknown-id", "equal-not-rectangular", "equal-course-height".
std::vector<Course> courses_of(const Section& section, const std::vector<std::string>& ids, Micrometres height);

/// The course as a piece of a material just above its leaf, in the same condition, so that what covers the leaf still does.
/// `id`, when given, receives the id of that piece.
Section with_course(const Section& section, const Course& course, const std::string& material, std::string* id = nullptr);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "core/study/study.hpp"

namespace wallfoot {

/// The variant of an id or name. Throws InputFault "unknown-variant", with those that are there.
const Variant& need_variant(const Study& study, const std::string& id_or_name);

/// The study with one variant at another place of the list; the first one is the base that the others are compared with.
/// Throws std::out_of_range for a place that the list does not have.
Study move_variant(const Study& study, std::size_t from, std::size_t to);

/// Its name and what is noted of it. Throws std::out_of_range.
Study describe_variant(const Study& study, std::size_t variant, const std::string& name, const std::string& note);

/// What both sections have otherwise than the base, in one: each piece, membrane, level, space and side as the one that changed
/// it has it. Throws InputFault "combine-both-changed" where both changed the same thing, each in another way.
Section combined(const Section& base, const Section& first, const Section& second);

}  // namespace wallfoot

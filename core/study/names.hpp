// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "core/study/study.hpp"

namespace wallfoot {

// What people read where a thing has no name of its own.

std::string shown_name(const Piece& piece);
std::string shown_name(const Material& material);
/// Its name, else its kind, with the id where several of a kind have no name.
std::string shown_name(const Section& section, const Space& space);
/// Its file's name, else its id.
std::string shown_name(const Study& study, const Underlay& underlay);

}  // namespace wallfoot

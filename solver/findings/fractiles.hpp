// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// What a declared value is of production: "mean of production (50 %)", "kept by 90 % of production"; "" where nothing is stated.
std::string fractile_words(const Conductivity& declared);

/// The caution that masonry of this study is stated partly as mean and partly as a fractile (EN 1745 declares either; from memory), so
/// that variants differ by more than their blocks. Values are not converted: the way to do it needs the spread and the number of
/// measurements, which no declaration carries.
std::optional<Message> mixed_fractiles(const Study& study);

}  // namespace wallfoot

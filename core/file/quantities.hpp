// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>

#include "core/study/study.hpp"

namespace wallfoot {

/// The junction in the whole building, as the user gives it under `building.quantities`: what psi and U are multiplied by.
/// It has no part in the result of any section.
struct Quantities {
    std::optional<double> junction;       ///< length of the junction, m
    std::map<std::string, double> areas;  ///< of each flanking element, by its id, m²
    bool operator==(const Quantities&) const = default;
};

/// Greatest length or area that may be given, m or m².
constexpr double most_quantity = 1e9;

/// Those of a study that was read; what is not given is not there.
Quantities quantities(const Study& study);
/// Puts them in the study, each 0 … most_quantity; other fields under `building` stay.
Study set_quantities(Study study, const Quantities& given);

}  // namespace wallfoot

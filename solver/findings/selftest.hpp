// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/bracket/solution.hpp"

namespace wallfoot {

/// One published value beside what this program gives for it.
struct SelftestValue {
    std::string name, unit;
    double asked = 0, found = 0, tolerance = 0;
    bool within() const { return found >= asked - tolerance && found <= asked + tolerance; }
};

struct SelftestCase {
    std::string name, source;
    std::vector<SelftestValue> values;
    std::optional<Bracketed> coupling;  ///< W/(m·K), where there is one
    std::size_t triangles = 0;
    double balance = 0;                 ///< |ΣΦ|/(½·Σ|Φ|); 0 where temperatures are given on touching faces
    bool passed() const;
};

/// The two-dimensional validation cases of ISO 10211 through the whole program: study file, section, mesh, both fields. The
/// cases with their published values are data (`resources/selftest`). Throws InputFault.
std::vector<SelftestCase> selftest();

/// A page for a file of proofs, with a date (ISO 8601).
std::string selftest_page(const std::vector<SelftestCase>& cases, const std::string& date);
std::string selftest_json(const std::vector<SelftestCase>& cases, const std::string& date);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/text/message.hpp"

namespace wallfoot {

/// A way to work something out, as derivations and records name it. Its id stays; all versions from 1 on can be worked out.
struct KnownFormula {
    const char* id;  ///< what it follows, then what it gives: "iso6946-transmittance"
    int newest = 1;
};
const std::vector<KnownFormula>& known_formulas();

/// Which version of each formula is meant; the newest of one that is not stated.
class FormulaVersions {
  public:
    FormulaVersions() = default;
    /// Those of a record: what it does not name had its first version then. A name without a part behind it ("iso6946") stands
    /// for all formulas that begin with it.
    static FormulaVersions recorded(std::map<std::string, int> stated);

    int of(const std::string& id) const;
    bool operator==(const FormulaVersions&) const = default;

  private:
    std::map<std::string, int> stated_;
    bool others_are_first_ = false;
};

/// Why a version that a record names cannot be worked out by this program: "record-formula-version" with the versions it knows, or
/// "record-formula-unknown". Nothing where it can.
std::optional<Message> unknown_version(const std::string& id, int version);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace wallfoot::test {

/// A dwelling file with every field, values invented: two rows of 10 m and 4 m, one of a study that is nowhere, one fixing.
inline std::string full_dwelling() {
    return R"json({ "format": "wallfoot-dwelling", "version": 1, "name": "Plot", "notes": "n", "lengths": "internal", "currency": "marks", "efficiency": 0.8,
 "junctions": [
  { "id": "foot", "kind": "ground-floor-external-wall", "name": "front", "length": 10,
    "study": { "file": "foot.wallfoot", "variant": "v1",
     "last": { "psi": 0.12, "lower": 0.119, "upper": 0.122, "input_hash": "sha256ab", "date": "2026-11-26", "lengths": "internal",
      "flanking": [ { "element": "top", "U": 0.25, "length": 1.5 } ], "other_pairs": [ { "warm": "in", "cold": "void", "psi": 0.04 } ] } },
    "calculation_U": [ { "element": "top", "as": "wall" }, { "element": "left", "U": 0.2 } ] },
  { "id": "lintels", "kind": "lintel", "length": 4, "elsewhere": { "psi": 0.3, "lower": 0.25, "upper": 0.35, "basis": "default", "source": "a table", "lengths": "internal" } },
  { "id": "ties", "kind": "fixing", "point": { "chi": 0.02, "count": 6, "basis": "published", "source": "a paper" } },
  { "id": "eaves", "kind": "eaves" } ],
 "absent": [ "ground-floor-party-wall", "party-wall-external-wall", "party-wall-roof", "gable" ],
 "envelope": [ { "id": "wall", "name": "Wall", "area": 80, "U": 0.2, "source": "s" }, { "id": "roof", "area": 40, "U": 0.15 } ],
 "degree_days": { "value": 2200, "base": "15.5 °C", "source": "s" },
 "energy_price": { "value": 0.5, "date": "2026-01-31", "source": "bill" }, "carbon_factor": { "value": 0.25, "date": "2026-01-31", "source": "list" },
 "measures": [ { "id": "m1", "name": "better lintels", "junction": "lintels", "elsewhere": { "psi": 0.05, "basis": "calculated", "source": "sheet" }, "cost": { "value": 100, "date": "2026-02-01", "source": "offer" } } ] })json";
}

}  // namespace wallfoot::test

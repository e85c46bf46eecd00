// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// The conductivity that holds in one face, and why.
struct FaceConductivity {
    double across = 0;  ///< W/(m·K) in x; 0 for air and cutouts
    double up = 0;      ///< W/(m·K) in y
    Condition asked = Condition::dry;  ///< condition of the place (RULES 11)
    Condition used = Condition::dry;   ///< condition whose declared value was taken
    bool undeclared = false;           ///< asked is not declared: the next drier declared value serves
    double low = 0, high = 0;          ///< across, what the inputs leave open (= across when nothing is stated)
};

/// Conductivity of every face (same order as arrangement.faces). `auto` moisture by RULES 11: by the levels; below them, what
/// the water's way keeps dry for certain is as above them (note "water-keeps-dry" with piece, place, old and new condition),
/// and a piece that water reaches keeps what the levels say. Airspaces by RULES 14 and
/// ISO 6946, whose heat-flow direction needs the spaces' temperatures. Appends gaps and cautions to `messages`
/// (codes "undeclared-condition", "dry-masonry-in-service", "airspace-shape", …), each once per piece.
/// A material that cannot be used yet (a mix) or has no value at all is a fault in `messages`.
std::vector<FaceConductivity> conductivities(const Study& study, const Section& section, const Arrangement& arrangement,
                                             std::vector<Message>& messages);

}  // namespace wallfoot

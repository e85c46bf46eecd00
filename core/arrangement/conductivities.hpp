// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// A part of a material that is built of others.
struct MixedShare {
    double fraction = 0, conductivity = 0;  ///< W/(m·K), across
    std::string material = {};              ///< id
    double up = 0;                          ///< W/(m·K), along the height
};

/// The conductivity that holds in one face, and why.
struct FaceConductivity {
    double across = 0;  ///< W/(m·K) in x; 0 for air and cutouts
    double up = 0;      ///< W/(m·K) in y
    Condition asked = Condition::dry;  ///< condition of the place (RULES 11)
    Condition used = Condition::dry;   ///< condition whose declared value was taken
    bool undeclared = false;           ///< asked is not declared: the next drier declared value serves
    double low = 0, high = 0;          ///< across, what the inputs leave open (= across when nothing is stated)
    double factor = 1;                 ///< F_T·F_a of ISO 10456 that the declared value was multiplied by
    std::vector<MixedShare> parts = {};  ///< of a material that is built of others; `across` is their mean by area until the element says more (RULES 13)
};

/// F_T·F_a of ISO 10456: from the temperature and the age that a material's values are stated for to those of its use; 1 for none.
double use_factor(const Material& material);

/// Conductivity of every face (same order as arrangement.faces). `auto` moisture by RULES 11: by the levels; below them, what
/// the water's way keeps dry for certain is as above them (note "water-keeps-dry" with piece, place, old and new condition),
/// and a piece that water reaches keeps what the levels say. Airspaces by RULES 14 and
/// ISO 6946, whose heat-flow direction needs the spaces' temperatures. Appends gaps and cautions to `messages`
/// (codes "undeclared-condition", "dry-masonry-in-service", "airspace-shape", …), each once per piece.
/// A material that has no value at all, or a mix whose parts do not fill it, is a fault in `messages`.
std::vector<FaceConductivity> conductivities(const Study& study, const Section& section, const Arrangement& arrangement,
                                             std::vector<Message>& messages);

}  // namespace wallfoot

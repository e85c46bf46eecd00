// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/water/water_net.hpp"

namespace wallfoot {

// The water's way through a section, RULES 15: what it reaches, and on what the rest relies. Liquid water only, drawn
// in by touching faces; no rates, no heights of rise, no vapour.

/// RULES 15. 'No path drawn' is not 'dry': it says what the drawing shows.
enum class WaterState { no_path, lap_not_proven, reached };

/// Where the water enters a part on its way.
struct WaterStep {
    int part = -1;
    Point at;
};

/// The shortest way along the middles of the arrangement's triangle edges, measured from the border of what is wet.
struct WaterPath {
    WaterFrom from = WaterFrom::soil;
    std::vector<WaterStep> steps;  ///< from the wet part to the part reached
    std::vector<Point> line;       ///< on the drawing
    double length = 0;             ///< µm
};

/// Where a barrier changes over from one membrane to another.
struct Lap {
    int first = -1, second = -1;  ///< indices into Section::membranes, first < second
    double length = 0;            ///< µm of noded edges that carry both, inside the cut; 0 = they only touch
    bool sealed = false;          ///< one of the two states sealed laps and neither denies them
    Point at;
};

struct PartWater {
    WaterState state = WaterState::no_path;
    std::vector<int> relies_on;  ///< membranes behind which there would be water, sorted; empty = nothing leads to it
    std::vector<Lap> laps;       ///< of those
    bool enclosed = false;       ///< between membranes, with no face to air or an air space on which it could dry
    std::optional<WaterPath> path;  ///< when reached
};

/// A piece with its worst part.
struct PieceWater {
    int piece = -1;
    WaterState state = WaterState::no_path;
    int part = -1;               ///< the part that decides; of reached ones the one with the shortest path
    double reached_share = 0;    ///< of its drawn area inside the frame
    std::vector<int> relies_on;  ///< of all its parts that are not reached
    std::vector<Lap> laps;
    bool enclosed = false;
};

struct WaterWay {
    WaterNet net;
    std::vector<PartWater> parts;    ///< same order as net.parts
    std::vector<PieceWater> pieces;  ///< pieces that draw water and can be seen, in painter's order
};

/// Finds the water's way. The first `membranes` membranes of the section count (all of them by default).
/// Pure; the arrangement must be that of the section and sound. Throws Cancelled.
WaterWay water_way(const Study& study, const Section& section, const Arrangement& arrangement, const Context& context = {},
                   std::optional<std::size_t> membranes = std::nullopt);

/// Every invariant that is broken, as text (empty = none).
std::vector<std::string> validate(const WaterWay& way, const Arrangement& arrangement);

/// Where the water's way keeps a face dry for certain, and on which membranes that rests.
struct KeptDry {
    std::vector<bool> dry;                    ///< per face
    std::vector<std::vector<int>> relies_on;  ///< per face, sorted
};

/// `auto` moisture of a face kept dry is that of a place above the levels (RULES 11). Kept dry: the study states soil, rain
/// and cavity foot (true or false), the face draws water, and no part of it is reached, enclosed, or relies on a lap that
/// is not proven.
KeptDry kept_dry(const Study& study, const Section& section, const Arrangement& arrangement);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

// What a lesson shows of the two fields.

/// The middle of a tube between two heat-flow lines, from warm to cold.
struct TracerLine {
    std::vector<std::array<double, 2>> points;  ///< µm, at least 2
};

/// Tubes that each carry the same heat. What drifts along them at one speed and one distance carries the same heat each.
struct HeatTracers {
    double share = 0;  ///< W per metre run that one tube carries; 0 = nothing flows
    std::vector<TracerLine> lines;
};
/// At most `most` (≥ 1) tubes side by side; their share is a round number (1, 2 or 5 times a power of ten). `share` > 0: that
/// share whatever flows, so that two pictures can be compared by how many lines they have; where it would make more than ten
/// times `most`, it is chosen after all.
HeatTracers heat_tracers(const Solution& solution, const std::vector<double>& temperatures, int most, double share = 0);

/// Along a straight line through the section, which may leave the body.
struct LineSample {
    double at = 0;                      ///< mm from the beginning
    std::optional<double> temperature;  ///< °C; nothing in air
    std::optional<double> flux;         ///< W/m², whichever way it goes
};
struct CrossedLayer {
    double from = 0, to = 0;  ///< mm from the beginning
    std::string name;         ///< of the topmost piece; "" in air
    std::optional<double> fall = {};  ///< K, from its beginning to its end; nothing in air
};
struct LineProfile {
    std::vector<LineSample> samples;
    std::vector<CrossedLayer> layers;
};
/// `samples` ≥ 2 places, the ends with them. Empty where both ends are one point or nothing is solved.
LineProfile line_profile(const Findings& findings, Point from, Point to, int samples = 240);

/// Temperatures inside the cut on a grid of points, row 0 at the top, the points in the middle of equal cells.
struct TemperatureGrid {
    static constexpr std::int16_t none = -32768;  ///< no body there
    Rect cut;
    int columns = 0, rows = 0;
    std::vector<std::int16_t> hundredths;         ///< of a °C
};
TemperatureGrid temperature_grid(const Findings& findings, int most_cells);

/// The piece that is seen at a point, the topmost there; null in air.
const Piece* piece_seen(const Section& section, double x_um, double y_um);

}  // namespace wallfoot

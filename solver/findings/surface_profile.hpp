// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

/// A place on a surface.
struct ProfilePoint {
    double along = 0;           ///< m from the beginning of the run
    double x = 0, y = 0;        ///< mm
    double temperature = 0;     ///< °C, by the surface resistances of the surface check
    std::optional<double> factor;    ///< fRsi there
    std::optional<double> humidity;  ///< relative, at the surface in the month that asks most against mould; may pass 1
};

/// The surface of one space, piece by piece where it is parted; each run with the solid on its left, mesh nodes in order.
using SurfaceProfile = std::vector<std::vector<ProfilePoint>>;

/// Of a solved variant; empty without a solution or for a space without a surface.
SurfaceProfile surface_profile(const Study& study, const Findings& findings, int space);

/// "along_m,x_mm,y_mm,temperature_C,fRsi,humidity_percent", runs one below the other with their number (RFC 4180).
std::string profile_csv(const SurfaceProfile& profile);

}  // namespace wallfoot

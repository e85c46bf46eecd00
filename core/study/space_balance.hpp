// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace wallfoot {

/// What an unheated space exchanges with another space outside the section, for the whole of it. One of: area and U; volume
/// and air change; openings with wind (a ventilated void); W/K as known.
struct BalanceLoss {
    std::string name, to;  ///< `to`: id of a space
    std::optional<double> area, U;               ///< m², W/(m²·K)
    std::optional<double> volume, air_change;    ///< m³, 1/h
    std::optional<double> openings, wind;        ///< m² in all, m/s at 10 m
    std::optional<double> shelter;               ///< wind shielding factor f_w: sheltered 0.02, average 0.05, exposed 0.10
    std::optional<double> coefficient;           ///< W/K

    /// W/K. Air: 1200 J/(m³·K), as ISO 13789 has it (0.33 W·h/(m³·K); from memory). Openings: ISO 13370:2017, the
    /// ventilation term 1450·ε·v·f_w/B of a suspended floor for the whole of it, A·1450·ε·v·f_w/B = 725·(ε·P)·v·f_w (from memory).
    double watts_per_kelvin() const;
};

/// The heat balance of an unheated space: what comes through the section over its length, and what goes elsewhere.
struct SpaceBalance {
    double length = 0;      ///< m, of the junction along the space
    double gains = 0;       ///< W, from sources inside it
    std::vector<BalanceLoss> losses;
};

/// From the JSON of "balance"; faults carry pointers below `pointer`. `spaces`: ids that may be named. Throws InputFault.
SpaceBalance read_space_balance(const std::string& json, const std::string& pointer, const std::vector<std::string>& spaces);

/// The JSON of "balance".
std::string space_balance_json(const SpaceBalance& balance);

}  // namespace wallfoot

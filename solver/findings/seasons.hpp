// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <complex>
#include <optional>
#include <string>
#include <vector>

#include "core/study/climate.hpp"
#include "solver/findings/surface_verdicts.hpp"

namespace wallfoot {

struct Findings;
struct Study;

/// A swing of the year: how large, and how long after what caused it (in months, 0 to below 12; for a lead see where it stands).
struct Swing {
    double size = 0;    ///< unit by its use
    double months = 0;
    double error = 0;   ///< of `size`: how far it changed with twice the elements; no proven bound
};

/// A year's wave about its mean: value(m) = mean + Re(wave·e^{iωm}), m = 0 in the middle of January, ω = 2π/12.
struct YearOf {
    double mean = 0;                  ///< °C
    std::complex<double> wave = 0;    ///< K
    double most_off = 0;              ///< K, by which a stated month departs from the wave
};
/// The mean and the first harmonic of twelve values, from January on.
YearOf year_of(const std::array<double, months_of_a_year>& values);

/// A month of the wave, 0 = January; it states no humidity (0).
ClimateMonth month_of(const YearWave& year, std::size_t month, double inside_mean);

/// Rooms of one temperature go through the year together; one kept at another stays at it.
bool same_room_temperature(double a, double b);

/// The heat flow from a space into the construction through a year.
struct SeasonFlow {
    int space = -1;
    Swing by_outside;  ///< W/(m·K): swing of the flow per kelvin of swing outside; months its largest comes after the coldest outside
    Swing by_inside;   ///< W/(m·K), per kelvin of swing of the inside; months it comes before the warmest inside
    std::optional<double> mean = {};     ///< W/m of the year
    std::optional<Swing> in_year = {};   ///< W/m; months from the middle of January to its largest
};

/// The coldest inside surface through a year, with the resistances of the headline surface.
struct SeasonSurface {
    int space = -1;
    std::array<double, 2> at{};  ///< µm
    double lowest = 0;           ///< °C, in the month it is lowest
    std::size_t month = 0;       ///< 0 = January
    double error = 0;            ///< K: how far the lowest of any month changed with twice the elements
    Swing swing;                 ///< K at that point; months that its lowest comes after the coldest outside
    std::array<double, months_of_a_year> by_month{};         ///< °C, coldest point of each month
    std::array<double, months_of_a_year> steady_by_month{};  ///< °C, by the steady field, which follows at once
};

/// The floor alone: its swing by the section without the wall, beside the coefficients of ISO 13370 for the same floor.
struct SeasonFloor {
    Swing solved_outside, solved_inside;   ///< W/(m·K), per metre of exposed perimeter; months as in SeasonFlow
    Swing by_standard_outside, by_standard_inside;  ///< W/(m·K): H_pe/P with β, H_pi/P with α
    double depth = 0;                      ///< δ, m
    double equivalent_thickness = 0;       ///< d_f, m
    double soil = 0, capacity = 0;         ///< W/(m·K); J/(m³·K)
    double length = 0;                     ///< m of floor
};

/// The wave of the year on the section: −∇·(λ∇Θ) + iωρcΘ = 0 for outside and inside apart, on the mesh of the steady field with
/// its elements halved where the wave asks for it, and once more all of them.
struct Seasons {
    std::optional<YearOf> outside = {}, inside = {};  ///< the climate's; nothing where none is stated
    std::vector<SeasonFlow> flows = {};           ///< of inside and unheated spaces that touch the construction
    std::optional<SeasonSurface> surface = {};    ///< where the climate states the twelve months or a wave
    std::optional<SeasonFloor> floor = {};        ///< where there is a floor alone
    std::vector<SurfaceVerdict> checks = {};      ///< mould and condensation by month in this field, where Findings::verdicts judges them
    std::vector<std::string> assumed = {};        ///< heat capacities that no material states: "Clay block 1.50"
    std::size_t elements = 0;
};

/// True where the study states what the year is like: twelve months, or a wave.
bool states_year(const Study& study);

/// A line of what is told of the year, the same in window, table and report.
struct SeasonRow {
    std::string what, value;
};
std::vector<SeasonRow> season_rows(const Findings& findings);
/// As a JSON object.
std::string season_json(const Findings& findings);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "core/foot/check.hpp"
#include "core/study/climate.hpp"

namespace wallfoot {

struct Findings;
struct Study;

/// What is asked of a surface, or of psi.
enum class SurfaceDemand {
    limit,         ///< least fRsi of the convention
    mould,         ///< monthly mean humidity at the surface ≤ 80 % (ISO 13788)
    condensation,  ///< no saturation at the surface, by monthly means
    psi_limit      ///< most psi of the convention
};

/// RULES 17: undecided where what is asked lies inside the error estimate of fRsi, or the bracket of psi.
struct SurfaceVerdict {
    SurfaceDemand demand = SurfaceDemand::limit;
    int space = -1;                 ///< whose inside surface; -1 for psi
    Verdict verdict = Verdict::not_assessed;
    std::optional<double> asked;    ///< fRsi, or psi in W/(m·K)
    double found = 0, lower = 0, upper = 0;
    std::optional<std::size_t> month;  ///< 0 = January: the one that asks most
    std::optional<double> margin_K;    ///< how much warmer the surface is in that month than what is asked
    Message message;                ///< the verdict in a sentence, its cautions inside
};

/// Name of a month, from 0.
std::string month_name(std::size_t month);

/// fRsi that a month asks against mould (ISO 13788); nothing when it is not warmer inside than outside. `inside_celsius`
/// holds where the month states none. Throws OutsideStandard for values outside the range of the formulas.
std::optional<double> required_fRsi(const ClimateMonth& month, const IndoorAir& indoor, double inside_celsius);

/// Least fRsi of the convention that the verdict on it was made against; nothing where there is none, or where use or zone leave it open.
std::optional<double> limit_judged(const Findings& findings);

/// The headline surface and psi against the convention and the climate of the study. Also adds how each was worked out to
/// the derivations of the findings.
std::vector<SurfaceVerdict> surface_verdicts(const Study& study, Findings& findings);

/// The same by month with the year's wave of the findings' Seasons: mould and condensation, where the steady field judges them.
std::vector<SurfaceVerdict> season_verdicts(const Study& study, Findings& findings);

}  // namespace wallfoot

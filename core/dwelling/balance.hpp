// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/dwelling/dwelling.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// A value with what its bounds leave open.
struct Span {
    double value = 0, low = 0, high = 0;
    bool operator==(const Span&) const = default;
};

/// A variant of a study as it is now.
struct StudyNow {
    std::string input_hash;   ///< "" where it cannot be had
    Message trouble;          ///< then: why
};
/// By study_key.
using StudiesNow = std::map<std::string, StudyNow>;

std::string study_key(const FromStudy& from);
/// Looks at every study that rows and measures refer to, relative to `folder`; each file is read once.
StudiesNow studies_now(const Dwelling& dwelling, const std::string& folder);

/// Whether a value is that of its study as it is now, by the lengths of the dwelling.
bool is_up_to_date(const FromStudy& from, const StudiesNow& studies, DwellingLengths lengths);

/// How a row stands: from elsewhere; from a study as it is now; from a study that has changed or is gone since, with the
/// value it had; without a value or a length.
enum class Standing { stated, current, out_of_date, open };
inline constexpr Words<Standing, 4> standing_words{{{Standing::stated, "stated"}, {Standing::current, "current"}, {Standing::out_of_date, "out-of-date"}, {Standing::open, "open"}}};

struct RowResult {
    Standing standing = Standing::open;
    bool point = false;
    std::optional<Span> value;    ///< psi, W/(m·K), or chi, W/K
    std::optional<Span> loss;     ///< psi·length or chi·count, W/K; nothing: the row is not in the sum
    Message why;                  ///< of what is open or out of date; code "" else
    std::vector<Message> notes;
};

/// What a measure would change, more being a saving.
struct MeasureResult {
    std::optional<Span> loss;          ///< W/K
    std::optional<Span> energy, cost, carbon;  ///< per year: kWh of heat, currency, kg CO2
    std::optional<double> payback;     ///< years, cost of the measure over what it saves in a year; only where it surely saves
    Message why;                       ///< where there is no loss
    bool out_of_date = false;
};

/// The sums over a dwelling. What is open is in none of them.
struct Balance {
    std::vector<RowResult> rows;           ///< parallel to Dwelling::junctions
    std::vector<std::string> open_kinds;   ///< usual kinds that have no row and are not said to be absent
    std::size_t open_rows = 0, out_of_date = 0;
    Span lines, points;                    ///< Σ psi·l and Σ chi·n, W/K
    double area = 0, plane = 0;            ///< ΣA, m²; Σ U·A, W/K
    std::optional<Span> y;                 ///< Σ psi·l / ΣA, W/(m²·K)
    std::optional<Span> total;             ///< Σ U·A + Σ psi·l + Σ chi·n, W/K
    std::optional<Span> share;             ///< of the junctions (lines and points) in it
    std::optional<Span> energy, total_energy;  ///< heat per year through the junctions, and through all, kWh
    std::optional<Span> cost, total_cost, carbon, total_carbon;
    std::vector<MeasureResult> measures;   ///< parallel to Dwelling::measures

    std::size_t open() const { return open_rows + open_kinds.size(); }
    Span junctions() const { return {lines.value + points.value, lines.low + points.low, lines.high + points.high}; }
};

/// Sums by definition (ISO 13789, transmission heat transfer coefficient H = ΣA·U + Σl·psi + Σchi, from memory; y as
/// used by SAP 2012, appendix K: Σ(L·psi) over the exposed area, from memory; degree days: energy = H·DD·24/1000 kWh).
Balance balance(const Dwelling& dwelling, const StudiesNow& studies);

/// The sums as equations that can be done again with a pocket calculator.
std::vector<std::string> balance_equations(const Dwelling& dwelling, const Balance& balance);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/dwelling/balance.hpp"

namespace wallfoot {

/// How a number is cut to its decimals: to the nearest with a half away from zero or to the even digit; or always up, so
/// that no loss is made smaller.
enum class RoundingMode { half_away, half_even, up };
inline constexpr Words<RoundingMode, 3> rounding_words{{{RoundingMode::half_away, "half-away"}, {RoundingMode::half_even, "half-even"}, {RoundingMode::up, "up"}}};

/// A number in whole steps of 10^-decimals: exact, so that a check sum is that of a pocket calculator.
struct Typed {
    std::int64_t steps = 0;
    int decimals = 0;
    bool operator==(const Typed&) const = default;
};
/// Rounds the shortest decimal text of the number, not its binary value: 0.0345 to three decimals is a true half.
Typed typed(double value, int decimals, RoundingMode mode);
/// Its digits, always with a sign where `sign` says so; "-0.000" is "+0.000". `point` is the decimal sign.
std::string typed_text(const Typed& value, bool sign, char point = '.');

/// What a column of a transfer sheet shows.
enum class TransferWhat { number, kind, name, psi, length, product, basis, source };
inline constexpr Words<TransferWhat, 8> transfer_words{{{TransferWhat::number, "number"},
                                                        {TransferWhat::kind, "kind"},
                                                        {TransferWhat::name, "name"},
                                                        {TransferWhat::psi, "psi"},
                                                        {TransferWhat::length, "length"},
                                                        {TransferWhat::product, "product"},
                                                        {TransferWhat::basis, "basis"},
                                                        {TransferWhat::source, "source"}}};

/// How a calculation wants its junctions: resources/transfer/ID.json.
struct TransferTemplate {
    std::string id, name, about;
    DwellingLengths lengths = DwellingLengths::internal;
    struct Kind {
        std::string id, name;  ///< its name in that calculation; "" = as here
        bool operator==(const Kind&) const = default;
    };
    std::vector<Kind> order;   ///< kinds not named follow as they stand in the dwelling
    int psi_decimals = 3, length_decimals = 2, U_decimals = 2, sum_decimals = 3;
    RoundingMode rounding = RoundingMode::half_away;
    char decimal_sign = '.';
    struct Column {
        TransferWhat what = TransferWhat::kind;
        std::string name;
        bool operator==(const Column&) const = default;
    };
    std::vector<Column> columns;
};

/// Throws InputFault with every fault and its pointer.
TransferTemplate read_transfer_template(const std::string& json);
/// Ids of those that come with the program or lie in the folder of --resources.
std::vector<std::string> transfer_ids();
/// Throws InputFault "transfer-unknown" with the known ids.
TransferTemplate transfer_template(const std::string& id);

/// Beside a row: what its study took off for one flanking element, and what the calculation uses for it.
struct FlankingEffect {
    std::size_t junction = 0;          ///< index into Dwelling::junctions
    std::string element;
    double U = 0, length = 0;          ///< of the study, W/(m²·K) and m
    std::optional<double> U_used;      ///< of the calculation, where the user says it
    std::optional<double> difference;  ///< U_used − U
    std::optional<double> effect;      ///< of it on psi: −length·difference, W/(m·K)
};

struct TransferRow {
    std::size_t junction = 0;
    std::string kind, name, basis, source;
    bool point = false;
    Standing standing = Standing::open;
    std::optional<Typed> psi, length, product;  ///< chi and count for a point
};

/// The junctions of a dwelling as a calculation wants them typed.
struct TransferSheet {
    TransferTemplate used;
    std::vector<TransferRow> rows;            ///< those with lengths first, then points
    std::vector<std::string> open_kinds;      ///< names
    std::vector<FlankingEffect> flanking;
    Typed check_sum, point_sum, length_sum;   ///< Σ psi·length, Σ chi·count and Σ length, each of the numbers as typed
    std::size_t typed_rows = 0;               ///< that are in a check sum
    std::vector<Message> notes;
};

TransferSheet transfer_sheet(const Dwelling& dwelling, const Balance& sums, const TransferTemplate& used);
/// What a cell of a row shows.
std::string transfer_cell(const TransferSheet& sheet, std::size_t row, TransferWhat what);

}  // namespace wallfoot

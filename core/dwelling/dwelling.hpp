// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/study/material.hpp"
#include "core/study/words.hpp"

namespace wallfoot {

// The dwelling file as plain values: its junctions with their lengths and where each value is from, its envelope, and what
// the user states of climate, prices and factors. `extra` holds unknown fields.

/// How lengths are measured, for all of a dwelling alike: between the inner surfaces of each room; between the inner
/// surfaces of the whole, inner walls and floors counted in; between the outer surfaces.
enum class DwellingLengths { internal, overall_internal, external };
/// What stands behind a value that no study here gave.
enum class ValueBasis { default_value, calculated, published };

inline constexpr Words<DwellingLengths, 3> dwelling_length_words{{{DwellingLengths::internal, "internal"}, {DwellingLengths::overall_internal, "overall-internal"}, {DwellingLengths::external, "external"}}};
inline constexpr Words<ValueBasis, 3> value_basis_words{{{ValueBasis::default_value, "default"}, {ValueBasis::calculated, "calculated"}, {ValueBasis::published, "published"}}};

/// What a study took off L2D for one flanking element: its U over its length.
struct FlankingElement {
    std::string element;   ///< as the study names it, such as "top"
    double U = 0;          ///< W/(m²·K), as drawn
    double length = 0;     ///< m
    Extra extra;
    bool operator==(const FlankingElement&) const = default;
};

/// psi of another pair of spaces of the same section: heat that the row does not count.
struct OtherPair {
    std::string warm, cold;  ///< ids of the spaces
    double psi = 0;          ///< W/(m·K)
    Extra extra;
    bool operator==(const OtherPair&) const = default;
};

/// The value a study gave when it was last worked out.
struct LastValue {
    double psi = 0, lower = 0, upper = 0;  ///< W/(m·K), with its proven bounds
    std::string input_hash, date;          ///< of what was solved; YYYY-MM-DD
    DwellingLengths lengths = DwellingLengths::internal;
    std::vector<FlankingElement> flanking;
    std::vector<OtherPair> other_pairs;
    Extra extra;
    bool operator==(const LastValue&) const = default;
};

struct FromStudy {
    std::string file;      ///< relative to the folder of the dwelling file
    std::string variant;   ///< id
    std::optional<LastValue> last;
    Extra extra;
    bool operator==(const FromStudy&) const = default;
};

struct FromElsewhere {
    double psi = 0;                        ///< W/(m·K)
    std::optional<double> lower, upper;    ///< where the source gives a range
    ValueBasis basis = ValueBasis::default_value;
    std::string source;
    std::optional<DwellingLengths> lengths;  ///< that the value is meant for; absent: those of the dwelling
    Extra extra;
    bool operator==(const FromElsewhere&) const = default;
};

/// A point transmittance that occurs a number of times.
struct PointValue {
    double chi = 0;        ///< W/K
    double count = 0;
    ValueBasis basis = ValueBasis::default_value;
    std::string source;
    Extra extra;
    bool operator==(const PointValue&) const = default;
};

/// The U that the calculation uses for a flanking element of a row: a number, or that of an element of the envelope.
struct CalculationU {
    std::string element;
    std::optional<double> U;   ///< W/(m²·K)
    std::string as;            ///< id of an envelope element
    Extra extra;
    bool operator==(const CalculationU&) const = default;
};

using JunctionValue = std::variant<std::monostate, FromStudy, FromElsewhere, PointValue>;

/// One row: a kind of junction, how long it is, and its value; without length or value it is open.
struct Junction {
    std::string id, kind, name;
    std::optional<double> length;   ///< m; none for a point transmittance
    JunctionValue value;
    std::vector<CalculationU> calculation;
    Extra extra;
    bool operator==(const Junction&) const = default;
};

/// A part of the envelope towards the outside, the ground or an unheated space.
struct EnvelopeElement {
    std::string id, name;
    double area = 0;       ///< m², by the lengths of the dwelling
    double U = 0;          ///< W/(m²·K)
    std::string source;
    Extra extra;
    bool operator==(const EnvelopeElement&) const = default;
};

struct DegreeDays {
    double value = 0;      ///< K·day per year
    std::string base;      ///< base temperature and place, in words
    std::string source;
    Extra extra;
    bool operator==(const DegreeDays&) const = default;
};

/// A price or factor that the user states: nothing is given by the program.
struct DatedValue {
    double value = 0;
    std::string date, source;
    Extra extra;
    bool operator==(const DatedValue&) const = default;
};

/// Another value for a row, to be weighed against the one it has.
struct DwellingMeasure {
    std::string id, name, junction;  ///< `junction`: id of the row
    JunctionValue value;             ///< from a study or from elsewhere
    std::optional<DatedValue> cost;  ///< in `Dwelling::currency`, for the whole of the row
    Extra extra;
    bool operator==(const DwellingMeasure&) const = default;
};

struct Dwelling {
    std::string name, notes;
    DwellingLengths lengths = DwellingLengths::internal;
    std::vector<Junction> junctions;
    std::vector<std::string> absent;          ///< kinds of junction that this dwelling does not have
    std::vector<EnvelopeElement> envelope;
    std::optional<DegreeDays> degree_days;
    std::string currency;
    std::optional<DatedValue> energy_price;   ///< currency per kWh delivered
    std::optional<DatedValue> carbon_factor;  ///< kg CO2 per kWh delivered
    std::optional<double> efficiency;         ///< heat per energy delivered, > 0
    std::vector<DwellingMeasure> measures;
    Extra extra;
    bool operator==(const Dwelling&) const = default;

    const Junction* find_junction(const std::string& id) const;
    const EnvelopeElement* find_envelope(const std::string& id) const;
};

/// A kind of junction, from resources/dwelling/junction-kinds.json.
struct JunctionKind {
    std::string id, name;
    bool usual = false;        ///< asked of every dwelling: open until it has a row or is said not to be there
    bool inner_part = false;   ///< an inner wall or floor meets the envelope: internal and overall internal lengths differ
    bool operator==(const JunctionKind&) const = default;
};

/// Reads such a list; throws InputFault with every fault.
std::vector<JunctionKind> read_junction_kinds(const std::string& json);
/// Those that come with the program, or lie in the folder of --resources.
std::vector<JunctionKind> junction_kinds();
/// Its name, or the id of a kind that is not known.
std::string kind_name(const std::vector<JunctionKind>& kinds, const std::string& id);
/// What a row is called: its kind, and its own name behind it.
std::string shown_name(const Junction& junction, const std::vector<JunctionKind>& kinds);
/// An id that no row has yet.
std::string new_junction_id(const Dwelling& dwelling);

}  // namespace wallfoot

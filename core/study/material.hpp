// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace wallfoot {

/// Fields this version does not know: name → JSON text, kept and written back.
using Extra = std::map<std::string, std::string>;

enum class MaterialKind { masonry, concrete, mortar, render, insulation, timber, metal, soil, granular, airspace, membrane, other };

/// Moisture conditions from dry to wet; the order is used to find the next drier declared value.
enum class Condition { dry, protected_, exposed, below_dpc, below_ground, saturated };

/// What a printed conductivity refers to (ISO 10456; see RULES 12).
enum class Basis { oven_dry, at_moisture, measured, not_stated };

enum class MoistureBy { mass, volume };  ///< kg/kg or m³/m³

struct MoistureContent {
    MoistureBy by = MoistureBy::mass;
    double value = 0;  ///< kg/kg or m³/m³
    Extra extra = {};
    bool operator==(const MoistureContent&) const = default;
};

/// One conductivity as its paper states it.
struct Conductivity {
    double value = 0;            ///< W/(m·K), > 0
    std::optional<double> low;   ///< W/(m·K), what the inputs leave open
    std::optional<double> high;  ///< W/(m·K)
    Basis basis = Basis::not_stated;
    std::optional<MoistureContent> moisture;  ///< with Basis::at_moisture
    std::optional<double> fractile;           ///< per cent of production, 50 or 90
    std::string source;
    Extra extra;
    bool operator==(const Conductivity&) const = default;
};

/// Declared values by condition. `bare`: the file gave one number instead of an object.
struct Conductivities {
    std::map<Condition, Conductivity> by_condition;
    bool bare = false;
    bool operator==(const Conductivities&) const = default;
};

/// Share of another material in an inhomogeneous layer (by area across the heat flow).
struct MixPart {
    std::string material;
    double fraction = 0;
    Extra extra;
    bool operator==(const MixPart&) const = default;
};

/// ISO 10456 moisture conversion: coefficient and the moisture it is valid to.
struct Conversion {
    MoistureBy by = MoistureBy::mass;
    double coefficient = 0;
    double valid_to = 0;
    Extra extra;
    bool operator==(const Conversion&) const = default;
};

/// ISO 10456: from the temperature that conductivities are stated at to that of their use.
struct TemperatureConversion {
    double coefficient = 0;  ///< 1/K
    double from = 10, to = 10;  ///< °C
    Extra extra = {};
    bool operator==(const TemperatureConversion&) const = default;
};

struct Evidence {
    std::string document, date, page, seen_by;
    Extra extra;
    bool operator==(const Evidence&) const = default;
};

struct Material {
    std::string id;
    std::string name;
    MaterialKind kind = MaterialKind::other;
    Conductivities lambda;     ///< across the leaf (x of the sheet); empty when `mix` is given or an airspace follows ISO 6946
    Conductivities lambda_up;  ///< along the height (y of the sheet); empty = same as lambda
    std::vector<MixPart> mix;
    std::optional<Conversion> conversion;
    std::optional<TemperatureConversion> temperature = {};
    std::optional<double> ageing = {};    ///< F_a of ISO 10456, ≥ 1: factor on every conductivity
    std::optional<double> density;        ///< kg/m³
    std::optional<double> heat_capacity;  ///< J/(kg·K)
    std::optional<double> strength;       ///< N/mm²
    std::optional<std::string> frost;
    std::optional<std::string> aggregate;
    std::optional<bool> assessed;
    std::optional<bool> capillary;
    std::optional<double> sorptivity;  ///< mm/√min
    std::vector<Evidence> evidence;
    Extra extra;
    bool operator==(const Material&) const = default;
};

}  // namespace wallfoot

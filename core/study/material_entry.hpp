// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

constexpr std::size_t condition_count = 6;

/// What the paper in hand gives.
enum class StatedAs { conductivity, resistance, joints };

/// One conductivity as typed from a paper. Texts are kept as typed; `.` and `,` are both decimal signs. An empty value
/// is not declared.
struct ConductivityEntry {
    std::string value;            ///< W/(m·K), of the unit alone for `joints`; or m²·K/W for `resistance`
    StatedAs stated = StatedAs::conductivity;
    std::string thickness;        ///< of that unit: mm, or with its own unit
    Basis basis = Basis::not_stated;
    std::string moisture;         ///< per cent
    MoistureBy by = MoistureBy::mass;
    std::string low, high;        ///< W/(m·K)
    std::string fractile;         ///< per cent of production
    std::string source;
    // Of units in mortar (`joints`).
    std::string unit_length = {}, unit_height = {}, bed = {}, perpend = {};  ///< mm, or with their own unit; an empty joint is none
    std::string mortar = {};                                                  ///< W/(m·K)
    bool operator==(const ConductivityEntry&) const = default;
};

/// A part of a material that is built of others.
struct MixEntry {
    std::string material;  ///< id
    std::string share;     ///< per cent, by area across the heat flow
    bool operator==(const MixEntry&) const = default;
};

/// A material as typed.
struct MaterialEntry {
    std::string name;
    MaterialKind kind = MaterialKind::masonry;
    std::array<ConductivityEntry, condition_count> across, up;  ///< by condition, dry first
    bool second_axis = false;                                   ///< `up` counts
    std::string density;   ///< kg/m³
    std::string aggregate; ///< such as aerated, light, dense
    std::string strength;  ///< N/mm²
    std::optional<bool> capillary;
    bool mixed = false;                       ///< `mix` counts, and nothing of `across` and `up`
    std::vector<MixEntry> mix = {};
    std::string temperature_coefficient = {}; ///< 1/K
    std::string temperature_from = {}, temperature_to = {};  ///< °C: that its values are stated at, that of its use
    std::string ageing = {};                  ///< factor, 1 or more
    bool operator==(const MaterialEntry&) const = default;
};

/// What a material says, as texts to be changed. A bare number of a kind that moisture does not change stands under
/// every condition, as it holds in every one.
MaterialEntry entry_of(const Material& material);

/// W/(m·K) to six digits, and nothing when there is no value, or none that can be read: λ = thickness / R, and of units in
/// mortar that across the leaf or `up` along its height (core/standards/masonry).
std::optional<double> entered_conductivity(const ConductivityEntry& entry, bool up = false);
/// The same of one condition; along the height what units and joints across the leaf give where nothing is typed.
std::optional<double> entered_conductivity(const MaterialEntry& entry, std::size_t condition, bool up);

/// The same entry without what `before` had along the height where units and joints across the leaf are stated now: it
/// follows from them, unless it was typed since.
MaterialEntry restated(const MaterialEntry& typed, const Material& before);

/// The material that an entry describes; what the entry does not show is taken from `before`. Each fault carries its
/// field as pointer. Where a value across the leaf is that of units in mortar, the one along the height follows from the
/// same joints unless it is typed (restated); the other conditions then have theirs across along the height as well. Pointers: "/name", "/density", "/lambda/below-dpc/value", "/lambda_up/dry/thickness",
/// "/temperature/from", "/ageing", "/mix" (their sum), "/mix/0/material", "/mix/0/fraction".
struct ReadEntry {
    Material material;
    std::vector<Message> faults;
};
ReadEntry read_entry(const MaterialEntry& typed, const Material& before);

}  // namespace wallfoot

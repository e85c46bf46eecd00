// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <utility>

#include "core/study/study.hpp"

namespace wallfoot {

// The words of the study file: one table per enumeration, used for reading and for writing.

template <class E, std::size_t N>
using Words = std::array<std::pair<E, std::string_view>, N>;

inline constexpr Words<MaterialKind, 12> material_kind_words{{{MaterialKind::masonry, "masonry"},
                                                              {MaterialKind::concrete, "concrete"},
                                                              {MaterialKind::mortar, "mortar"},
                                                              {MaterialKind::render, "render"},
                                                              {MaterialKind::insulation, "insulation"},
                                                              {MaterialKind::timber, "timber"},
                                                              {MaterialKind::metal, "metal"},
                                                              {MaterialKind::soil, "soil"},
                                                              {MaterialKind::granular, "granular"},
                                                              {MaterialKind::airspace, "airspace"},
                                                              {MaterialKind::membrane, "membrane"},
                                                              {MaterialKind::other, "other"}}};
inline constexpr Words<Condition, 6> condition_words{{{Condition::dry, "dry"},
                                                      {Condition::protected_, "protected"},
                                                      {Condition::exposed, "exposed"},
                                                      {Condition::below_dpc, "below-dpc"},
                                                      {Condition::below_ground, "below-ground"},
                                                      {Condition::saturated, "saturated"}}};
inline constexpr Words<Basis, 4> basis_words{{{Basis::oven_dry, "oven-dry"},
                                              {Basis::at_moisture, "at-moisture"},
                                              {Basis::measured, "measured"},
                                              {Basis::not_stated, "not-stated"}}};
inline constexpr Words<MoistureBy, 2> moisture_by_words{{{MoistureBy::mass, "mass"}, {MoistureBy::volume, "volume"}}};
inline constexpr Words<SpaceKind, 4> space_kind_words{{{SpaceKind::inside, "inside"},
                                                       {SpaceKind::outside, "outside"},
                                                       {SpaceKind::unheated, "unheated"},
                                                       {SpaceKind::other, "other"}}};
inline constexpr Words<MembraneKind, 5> membrane_kind_words{{{MembraneKind::dpc, "dpc"},
                                                             {MembraneKind::dpm, "dpm"},
                                                             {MembraneKind::tanking, "tanking"},
                                                             {MembraneKind::gas, "gas"},
                                                             {MembraneKind::tray, "tray"}}};
inline constexpr Words<UnderlayKind, 3> underlay_kind_words{{{UnderlayKind::picture, "picture"}, {UnderlayKind::pdf, "pdf"}, {UnderlayKind::dxf, "dxf"}}};
inline constexpr Words<Side, 2> side_words{{{Side::left, "left"}, {Side::right, "right"}}};
inline constexpr Words<CutSide, 4> cut_side_words{
    {{CutSide::left, "left"}, {CutSide::bottom, "bottom"}, {CutSide::right, "right"}, {CutSide::top, "top"}}};
inline constexpr Words<LengthSystem, 2> length_system_words{
    {{LengthSystem::internal, "internal"}, {LengthSystem::external, "external"}}};
inline constexpr Words<DwellingShare, 2> dwelling_share_words{
    {{DwellingShare::half, "half"}, {DwellingShare::by_side, "by-side"}}};
inline constexpr Words<FloorReading, 2> floor_reading_words{
    {{FloorReading::to_underside, "to-underside"}, {FloorReading::to_ground, "to-ground"}}};

template <class E, std::size_t N>
std::string word_of(const Words<E, N>& words, E value) {
    for (const auto& [known, word] : words)
        if (known == value) return std::string(word);
    return {};
}

}  // namespace wallfoot

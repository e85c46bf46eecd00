// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/foot/check.hpp"
#include "core/study/words.hpp"

namespace wallfoot {

// The words of rule sets and checks in JSON.
inline constexpr Words<RuleKind, 13> rule_kind_words{{{RuleKind::dpc_height, "dpc-height"},
                                                      {RuleKind::dpc_continuity, "dpc-continuity"},
                                                      {RuleKind::dpc_bridging, "dpc-bridging"},
                                                      {RuleKind::cavity_clear, "cavity-clear"},
                                                      {RuleKind::gas_membrane, "gas-membrane"},
                                                      {RuleKind::frost_band, "frost-band"},
                                                      {RuleKind::inner_below_dpc, "inner-below-dpc"},
                                                      {RuleKind::sulfate, "sulfate"},
                                                      {RuleKind::dry_conductivity, "dry-conductivity"},
                                                      {RuleKind::exposure, "exposure"},
                                                      {RuleKind::water_pressure, "water-pressure"},
                                                      {RuleKind::strength, "strength"},
                                                      {RuleKind::to_specify, "to-specify"}}};
inline constexpr Words<UnitProperty, 4> unit_property_words{{{UnitProperty::density, "density"},
                                                             {UnitProperty::strength, "strength"},
                                                             {UnitProperty::aggregate, "aggregate"},
                                                             {UnitProperty::assessed, "assessed"}}};
inline constexpr Words<Verdict, 4> verdict_words{{{Verdict::meets, "meets"},
                                                  {Verdict::does_not_meet, "does-not-meet"},
                                                  {Verdict::undecided, "undecided"},
                                                  {Verdict::not_assessed, "not-assessed"}}};

}  // namespace wallfoot

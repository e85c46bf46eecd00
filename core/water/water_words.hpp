// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/study/words.hpp"
#include "core/water/remedy.hpp"

namespace wallfoot {

// The words of the water's way in JSON.
inline constexpr Words<WaterState, 3> water_state_words{{{WaterState::no_path, "no-path"},
                                                         {WaterState::lap_not_proven, "lap-not-proven"},
                                                         {WaterState::reached, "reached"}}};
inline constexpr Words<WaterFrom, 4> water_from_words{{{WaterFrom::soil, "soil"},
                                                       {WaterFrom::water_level, "water-level"},
                                                       {WaterFrom::rain, "rain"},
                                                       {WaterFrom::cavity_foot, "cavity-foot"}}};
inline constexpr Words<RemedyKind, 3> remedy_kind_words{{{RemedyKind::damp_course, "damp-course"},
                                                         {RemedyKind::floor_membrane, "floor-membrane"},
                                                         {RemedyKind::tanking, "tanking"}}};
inline constexpr Words<RemedyAnswer, 6> remedy_answer_words{{{RemedyAnswer::none_needed, "none-needed"},
                                                             {RemedyAnswer::seal_laps, "seal-laps"},
                                                             {RemedyAnswer::proposed, "proposed"},
                                                             {RemedyAnswer::water_level, "water-level"},
                                                             {RemedyAnswer::at_source, "at-source"},
                                                             {RemedyAnswer::none_found, "none-found"}}};

}  // namespace wallfoot

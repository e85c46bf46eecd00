// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "core/water/remedy.hpp"

namespace wallfoot {

/// The water's way through one variant, with a remedy for every piece of masonry that water reaches.
struct WaterReport {
    std::string variant_id, variant_name;
    std::shared_ptr<const Section> section;
    Arrangement arrangement;  ///< that the way was found in
    WaterWay way;
    std::map<int, Remedy> remedies;  ///< by piece
    std::vector<Message> notes;      ///< what was assumed, cautions of the drawing
};

/// Throws InputFault with every fault of the drawing; Cancelled.
WaterReport water_report(const Study& study, const Variant& variant, const Context& context = {});

/// What there is to say of one piece: its state with path or membranes, and 'enclosed'.
std::vector<Message> sentences(const WaterReport& report, const PieceWater& piece);
/// The remedy in sentences, each with its caution inside; the first says the answer, one more for every run.
std::vector<Message> sentences(const WaterReport& report, const Remedy& remedy);

/// For people.
std::string water_table(const std::vector<WaterReport>& reports);
/// For programs; `program` is its name and version, `title` that of the study.
std::string water_json(const std::string& program, const std::string& title, const std::vector<WaterReport>& reports);

}  // namespace wallfoot

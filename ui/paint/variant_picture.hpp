// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "ui/paint/heat_lines.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// From the coldest to the warmest space.
TemperatureRange range_of(const Findings& findings);
/// One range for several variants, so that equal colours are equal temperatures.
TemperatureRange range_of(const std::vector<std::shared_ptr<const Findings>>& all);

/// A variant inside its cut: with hatches, or with heat map, isotherms and heat-flow lines over `range`. `shown`: the cut
/// as far as it is to be seen, pixels; `ratio`: heat-map pixels per pixel; `labels`: names of spaces, levels and membranes; `turns`: of
/// the hatches, where not those of this section alone.
LineSteps paint_variant(QPainter& painter, const View& view, const Study& study, const Findings& findings, bool heat,
                        TemperatureRange range, const SheetColours& colours, const QRectF& shown, double ratio, bool labels = true,
                        const std::map<std::string, int>* turns = nullptr);

/// Turns of the hatches that hold in several sections at once, by id of the material: in the first as in it alone; what comes with a
/// later one takes the turn that its kind uses least there.
std::map<std::string, int> hatch_turns(const Study& study, const std::vector<std::shared_ptr<const Findings>>& all);

/// The cut in pixels.
QRectF cut_in_pixels(const View& view, const Section& section);

}  // namespace wallfoot

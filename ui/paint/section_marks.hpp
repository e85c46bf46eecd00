// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/arrangement/arrangement.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// paint_section in two halves, for what has to lie between them (heat map below, field lines between body and marks). `turns`: of all
/// materials, where not those of this section alone.
void paint_section_body(QPainter& painter, const View& view, const Study& study, const Section& section,
                        const Arrangement* arrangement, const SectionLook& look, const std::map<std::string, int>* turns = nullptr);
/// Levels, space marks, names of membranes, faults. Faults with `look.faults`, the rest with `look.labels`.
void paint_section_marks(QPainter& painter, const View& view, const Study& study, const Section& section,
                         const Arrangement* arrangement, const SectionLook& look, LabelPlaces& places);

std::vector<LevelMark> level_marks(const Section& section);
/// Part of the mark that is there at any scale, pixels: triangle and the beginning of its line.
QRectF level_mark_rect(const View& view, const Section& section, const LevelMark& mark);

/// Warning hatch over air that belongs to no space, inside `shown` (pixels).
void paint_unclaimed_air(QPainter& painter, const View& view, const Arrangement& arrangement, const QRectF& shown,
                         const SheetColours& colours);
/// Membranes, each kind with its own line pattern.
void paint_membrane_lines(QPainter& painter, const View& view, const Section& section, const QRectF& shown,
                          const SheetColours& colours);

}  // namespace wallfoot

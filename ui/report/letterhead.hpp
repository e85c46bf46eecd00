// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPainter>

#include "solver/report/office_template.hpp"

namespace wallfoot {

/// Throws InputFault "template-logo-broken" when the logo cannot be painted: before anything is written, not in the middle of it.
void need_sound_logo(const OfficeTemplate& office);
/// Room of logo, name and contact lines on top of the first page, with a line below them; pixels of 1/96 inch. 0 without them.
double letterhead_height(const OfficeTemplate& office);
/// Paints them into a box of that height: the logo on the left, name and lines on the right. The tags: see pdf_tags.
void paint_letterhead(QPainter& painter, const OfficeTemplate& office, const QRectF& box, int logo_tag = -1, int lines_tag = -1);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPainter>
#include <QStringList>

#include "solver/report/office_template.hpp"

namespace wallfoot {

/// Between the edge of a page and what stands on it.
constexpr double paper_margin_mm = 15;

/// Throws InputFault before anything is written, not in the middle of it: "template-logo-broken" when the logo cannot be painted,
/// "template-too-long" when the name, a contact line or the foot line takes more than two lines on A4.
void need_printable(const OfficeTemplate& office);
/// Room of logo, name and contact lines on top of the first page, with a line below them, in a width; pixels of 1/96 inch. 0 without
/// them.
double letterhead_height(const OfficeTemplate& office, double width);
/// The foot line as it goes over lines in a width; none without one.
QStringList office_foot_lines(const OfficeTemplate& office, double width);
/// Font of the foot of a page.
QFont office_foot_font();
/// Paints them into a box of that height: the logo on the left, name and lines on the right. The tags: see pdf_tags.
void paint_letterhead(QPainter& painter, const OfficeTemplate& office, const QRectF& box, int logo_tag = -1, int lines_tag = -1);

}  // namespace wallfoot

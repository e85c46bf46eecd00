// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/report/report.hpp"
#include "ui/exchange/pdf_tags.hpp"
#include "ui/report/flow.hpp"

namespace wallfoot {

// The items of a report as strips of a width; pixels of 1/96 inch. `tags`: where what they are is put down for those who have it
// read aloud; may be null.

std::vector<Strip> heading_strips(const ReportHeading& heading, double width, TagTree* tags = nullptr);
std::vector<Strip> text_strips(const ReportText& text, double width, TagTree* tags = nullptr);
/// Columns as wide as their words need, the rest shared by how much each has to say.
std::vector<Strip> table_strips(const ReportTable& table, double width, TagTree* tags = nullptr);
/// The picture at 1 : `scale` with its caption and, of heat, its keys; one strip. `ratio`: heat-map pixels per pixel.
Strip picture_strip(std::shared_ptr<const ReportSource> source, const ReportPicture& picture, double width, double scale, double ratio = 3, TagTree* tags = nullptr);
/// Size of a picture with its captions.
QSizeF picture_size(const ReportSource& source, const ReportPicture& picture, double scale);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QString>
#include <memory>

#include "solver/report/report.hpp"

namespace wallfoot {

// Single parts of a report, to be pasted into a letter or a spreadsheet.

/// Rows as lines, cells parted by tabs; tabs and line ends within a cell become spaces.
QString table_as_text(const ReportTable& table);
/// The same as an HTML table with its caption.
QString table_as_html(const ReportTable& table);
/// The picture with its caption on white, `dots_per_inch` of paper at a width of at most 170 mm.
QImage picture_as_image(const std::shared_ptr<const ReportSource>& source, const ReportPicture& picture, int dots_per_inch = 200);

/// What can be copied: index into Report::items, the heading of the first level above it, and its name below that heading.
struct CopyablePart {
    std::size_t item = 0;
    QString heading, name;
};
std::vector<CopyablePart> copyable_parts(const Report& report);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPageSize>

#include "solver/report/report.hpp"
#include "ui/exchange/pdf_tags.hpp"
#include "ui/report/flow.hpp"

namespace wallfoot {

/// A report laid out on pages; painted alike on paper and on the screen. Lengths in pixels of 1/96 inch. Keeps references
/// to nothing: what it draws of the source is shared or copied.
class ReportPages {
  public:
    /// `one_page`: closer, with letters down to 8 points, and with the points below a heading run on in one paragraph, as far as
    /// that brings all onto one page.
    ReportPages(Report report, std::shared_ptr<const ReportSource> source, QPageSize::PageSizeId paper = QPageSize::A4, bool one_page = false);
    int count() const { return static_cast<int>(pages_.size()); }
    QSizeF size() const { return size_; }
    /// Paints a page, from 0 on, with its head and foot.
    void paint(QPainter& painter, int page) const;
    const Report& report() const { return report_; }
    const std::shared_ptr<const ReportSource>& source() const { return source_; }
    /// What the parts of the pages are, in the order in which they are read.
    const TagTree& tags() const { return tags_; }
    /// 1 : this on paper.
    double scale() const { return scale_; }

  private:
    void add_strips(bool run_on);
    void lay_out(double zoom, bool close, bool run_on = false);
    void choose_scale();

    Report report_;
    std::shared_ptr<const ReportSource> source_;
    QSizeF size_;
    double letterhead_ = 0;  ///< height of the office's head on the first page
    double scale_ = 20;
    double zoom_ = 1;  ///< of letters and tables; pictures stand in short answers nowhere
    TagTree tags_;
    int title_tag_ = -1, logo_tag_ = -1, office_tag_ = -1;
    std::vector<Strip> strips_;
    std::vector<PlacedPage> pages_;
};

/// The whole as a PDF with the study attached, byte for byte as given. Throws std::runtime_error when it cannot be made.
QByteArray report_pdf(const ReportPages& pages, const QByteArray& study, const QString& study_name);

/// A picture of the report as SVG, for HTML.
QByteArray report_picture_svg(const ReportSource& source, const ReportPicture& picture);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QByteArray>
#include <QImage>
#include <QLineF>
#include <memory>
#include <string>
#include <vector>

namespace Poppler {
class Document;
}

namespace wallfoot {

/// A PDF in memory. Its unit is the point, 1/72 inch.
class PdfFile {
  public:
    /// Throws InputFault "pdf-damaged", "pdf-locked".
    explicit PdfFile(const std::string& bytes);
    ~PdfFile();
    int pages() const;
    /// Size of a page (from 1) in points, as it is to be seen. Throws InputFault "pdf-no-page", "pdf-page-too-large".
    QSizeF size(int page) const;
    /// The page as an image of at most `pixels` pixels. Throws InputFault as size().
    QImage image(int page, double pixels) const;
    /// The straight lines that are drawn on a page, in points from its lower left corner, y upwards. Curves are left out;
    /// of a scanned page there are none. At most `line_limit`.
    std::vector<QLineF> lines(int page) const;

    /// The study that a report carries: the first attachment whose name ends in .wallfoot, else the first JSON. Throws InputFault "pdf-no-study".
    QByteArray study() const;
    /// The program that it says it was made by.
    QString creator() const;

    static constexpr std::size_t line_limit = 200'000;

  private:
    std::unique_ptr<Poppler::Document> document_;
};

}  // namespace wallfoot

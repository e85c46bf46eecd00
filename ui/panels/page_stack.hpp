// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QThreadPool>
#include <QWidget>
#include <map>
#include <memory>
#include <set>

#include "ui/report/pages.hpp"

namespace wallfoot {

/// Pages below each other; each is painted into an image when it comes into view.
class PageStack : public QWidget {
    Q_OBJECT
  public:
    PageStack(QThreadPool& pool, QWidget* parent) : QWidget(parent), pool_(pool) { setAccessibleName(tr("Pages of the report")); }
    void show_pages(std::shared_ptr<const ReportPages> pages);
    /// 1: a millimetre of paper is a millimetre at 96 dots per inch.
    void set_zoom(double zoom);
    QRectF page_rect(int page) const;
    QSize sizeHint() const override { return minimumSize(); }

  protected:
    void paintEvent(QPaintEvent*) override;

  private:
    void fit_size();
    void ask_for(int page);

    QThreadPool& pool_;
    std::shared_ptr<const ReportPages> pages_;
    double zoom_ = 1;
    int generation_ = 0;  ///< of pages and zoom
    std::map<int, QImage> images_;
    std::set<int> asked_;
};

}  // namespace wallfoot

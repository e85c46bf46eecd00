// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QThreadPool>
#include <QWidget>
#include <map>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "core/context/context.hpp"
#include "ui/report/pages.hpp"

class QCheckBox;
class QComboBox;
class QLabel;
class QMenu;
class QScrollArea;

namespace wallfoot {

class PageStack;
struct CopyablePart;

/// The report as it will be printed, beside the study. Laid out and painted by a thread of its own; the window never waits.
class ReportView : public QWidget {
    Q_OBJECT
  public:
    explicit ReportView(QWidget* parent = nullptr);
    ~ReportView() override;

    /// Lays out a report of the source; what was shown stays until it is there. Null: nothing can be reported, and `why`.
    void show_source(std::shared_ptr<const ReportSource> source, const QString& why = {});
    /// As it is shown; null while there is none.
    std::shared_ptr<const ReportPages> pages() const { return pages_; }
    std::shared_ptr<const ReportSource> source() const { return source_; }
    bool a3() const;
    /// The answer on one page in the place of the whole report.
    bool brief() const;
    /// The usual errors stand in the report as well.
    bool errors() const;
    /// Those of the source that is shown, once they were looked for; else empty.
    std::vector<UsualErrors> known_errors() const;

  protected:
    void resizeEvent(QResizeEvent*) override;

  signals:
    void save_wanted();
    void copy_wanted();
    void template_wanted();
    void laid_out();

  private:
    /// What usual errors are found from: the findings, and the length of the junction in the building.
    using ErrorsOf = std::pair<std::vector<std::shared_ptr<const Findings>>, std::optional<double>>;
    static ErrorsOf errors_of(const ReportSource& source);
    void lay_out();
    /// The tables and pictures of the pages shown, below their headings.
    void list_parts();
    void copy_part(const std::shared_ptr<const ReportPages>& pages, const CopyablePart& part);
    void take_pages(std::shared_ptr<const ReportPages> pages, const std::shared_ptr<const ReportSource>& source, const std::vector<UsualErrors>& found, const QString& reason, bool last);
    /// The size chosen; pages as wide as there is room where none is.
    void zoom();

    std::shared_ptr<const ReportSource> source_;
    std::shared_ptr<const ReportPages> pages_;
    int asked_ = 0;  ///< layouts asked for; a late answer to an earlier one is dropped
    std::shared_ptr<Context> running_;  ///< of the layout under way
    ErrorsOf errors_of_;             ///< that `errors_` were looked for in
    std::vector<UsualErrors> errors_;
    QThreadPool pool_;
    QCheckBox* with_errors_;
    QComboBox *extent_, *paper_, *zoom_;
    QLabel* told_;
    QMenu* parts_;
    QScrollArea* scroll_;
    PageStack* stack_;
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QThreadPool>
#include <QWidget>
#include <memory>
#include <vector>

#include "core/study/study.hpp"
#include "solver/findings/findings.hpp"

class QComboBox;
class QLabel;
class QTableWidget;

namespace wallfoot {

/// One variant as it stands: its findings at rest, or why there are none.
struct Compared {
    std::string id, name;
    std::shared_ptr<const Section> section;
    std::shared_ptr<const Findings> findings;  ///< at rest and sound; null: see `why`
    QString why;
};

/// Variants side by side: a column each, pictures in one scale and one colour scale, figures, and what each has otherwise
/// than the one they are compared with.
class CompareView : public QWidget {
    Q_OBJECT
  public:
    explicit CompareView(QWidget* parent = nullptr);
    ~CompareView() override;

    void show_variants(std::shared_ptr<const Study> study, std::vector<Compared> variants);
    QTableWidget* table() const { return table_; }
    QComboBox* base() const { return base_; }
    /// What is in the table as lines of fields divided by tabs.
    QString as_text() const;

  signals:
    void chosen(const QString& variant_id);  ///< a column was double-clicked

  private:
    enum Row { picture, psi, difference, factor, lowest, flow, differs, row_count };
    void fill();
    void fill_column(int column, const Compared& of, const Compared& base);
    void paint_pictures();

    std::shared_ptr<const Study> study_;
    std::vector<Compared> variants_;
    QString base_id_;
    int asked_ = 0;  ///< pictures asked for
    QThreadPool pool_;
    QComboBox *base_, *shows_;
    QLabel* told_;
    QTableWidget* table_;
};

}  // namespace wallfoot

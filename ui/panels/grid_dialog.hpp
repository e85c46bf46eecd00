// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>

#include "core/study/variant_grid.hpp"

class QCheckBox;
class QComboBox;
class QGridLayout;
class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;
class QTimer;

namespace wallfoot {

/// Variants from choices: what to begin from, blocks, moisture conditions and numbers of courses, every combination of them.
/// Says how many it will be, and how they are called, before any is made.
class GridDialog : public QDialog {
    Q_OBJECT
  public:
    /// `piece`: id of the piece ticked first, if any.
    GridDialog(std::shared_ptr<const Study> study, std::size_t active, const QString& piece, QWidget* parent = nullptr);
    ~GridDialog() override;

    /// What OK takes: null while there is none.
    std::shared_ptr<const Grid> grid() const { return grid_; }

    QListWidget& variants() { return *variants_; }
    QListWidget& pieces() { return *pieces_; }
    QListWidget& blocks() { return *blocks_; }
    QListWidget& conditions() { return *conditions_; }
    QCheckBox& pairs() { return *pairs_; }
    QLineEdit& courses() { return *courses_; }
    QLabel& told() { return *told_; }
    QListWidget& names() { return *names_; }
    QPushButton& ok() { return *ok_; }
    bool busy() const { return busy_; }

    void accept() override;

  private:
    QListWidget* add_list(QGridLayout& grid, int row, int column, const QString& title, const QString& tip);
    void fill(std::size_t active, const QString& piece);
    void changed();
    void ask();
    /// What is ticked and typed; what is wrong with it otherwise.
    GridChoices choices(QString& problem) const;
    void show_grid(std::shared_ptr<const Grid> grid, std::size_t combinations, const QString& problem);

    std::shared_ptr<const Study> study_;
    std::shared_ptr<const Grid> grid_;
    int asked_ = 0;
    bool busy_ = false;
    QThreadPool pool_;
    QTimer* due_ = nullptr;
    QListWidget *variants_ = nullptr, *pieces_ = nullptr, *blocks_ = nullptr, *conditions_ = nullptr, *names_ = nullptr;
    QLineEdit *courses_ = nullptr, *height_ = nullptr;
    QComboBox* from_ = nullptr;
    QCheckBox* pairs_ = nullptr;
    QLabel* told_ = nullptr;
    QPushButton* ok_ = nullptr;
};

}  // namespace wallfoot

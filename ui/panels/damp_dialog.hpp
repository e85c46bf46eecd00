// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>

#include "core/context/context.hpp"
#include "solver/findings/damp.hpp"

class QChart;
class QComboBox;
class QLabel;
class QPushButton;
class QTableWidget;

namespace wallfoot {

/// Id of the masonry that ends nearest to the level of the damp-proof course, what is asked about most; empty where there is
/// none.
QString masonry_at_damp_course(const Study& study, const Section& section);

/// What damp costs: one piece in every moisture condition as table and plot, another material beside it in the same place,
/// and how wet it may get before it is no better.
class DampDialog : public QDialog {
    Q_OBJECT
  public:
    /// `piece`: id of the one shown first; any where it is none that has a material.
    DampDialog(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& piece, QWidget* parent = nullptr);
    ~DampDialog() override;

    QComboBox& piece() { return *piece_; }
    QComboBox& against() { return *against_; }
    QTableWidget& table() { return *table_; }
    QLabel& told() { return *told_; }
    QString as_text() const;
    bool busy() const { return busy_; }

  private:
    void ask();
    void show_table(const DampTable& found);
    void show_plot(const DampTable& found);

    std::shared_ptr<const Study> study_;
    std::string variant_id_;
    std::shared_ptr<Context> running_;  ///< of the work under way
    int asked_ = 0;
    bool busy_ = false;
    QThreadPool pool_;
    QComboBox *piece_ = nullptr, *against_ = nullptr;
    QTableWidget* table_ = nullptr;
    QChart* chart_ = nullptr;
    QLabel* told_ = nullptr;
    QPushButton* copy_ = nullptr;
    std::string text_;
};

}  // namespace wallfoot

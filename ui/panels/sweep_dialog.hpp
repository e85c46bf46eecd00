// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <map>
#include <memory>
#include <string>

#include "core/context/context.hpp"
#include "ui/panels/sweep_plot.hpp"

class QComboBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QTableWidget;
class QTimer;
class QVBoxLayout;

namespace wallfoot {

class ParameterChoice;

/// One or two parameters of a variant gone through step by step: psi, L2D and fRsi as they come in, as plot and table. It can
/// be stopped and goes on from what is done; a step the drawing does not allow says why, and the others go on.
class SweepDialog : public QDialog {
    Q_OBJECT
  public:
    /// `piece`: id of the piece offered first, if any.
    SweepDialog(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& piece, QWidget* parent = nullptr);
    ~SweepDialog() override;

    ParameterChoice& first() { return *first_; }
    ParameterChoice& second() { return *second_; }
    QComboBox& shown() { return *shown_; }
    QPushButton& start() { return *start_; }
    QPushButton& stop() { return *stop_; }
    QTableWidget& table() { return *table_; }
    SweepPlot& plot() { return *plot_; }
    QLabel& told() { return *told_; }
    bool busy() const { return busy_; }
    /// Rows at rest.
    std::size_t done() const;
    /// What is at rest, as the command writes it.
    QString as_csv() const;
    /// The plan for the command.
    QString plan_text() const;
    /// The reason when it could not be written.
    QString save_csv(const QString& path) const;

  private:
    void make_choices(const QString& piece);
    void make_run_row(QVBoxLayout& rows);
    /// The plan as chosen, or what is wrong with it.
    std::optional<SweepPlan> chosen(QString& problem) const;
    void choice_changed();
    void run();
    void stop_run();
    void arrived(std::size_t row, SweepState state, const SweepResult& result, const std::string& line, const std::string& hash);
    void ended(const QString& problem);
    void refresh_buttons();
    void refresh_plot();
    void fill_table();
    void fit_columns();
    void put_row(std::size_t row);

    std::shared_ptr<const Study> study_;
    std::string variant_id_;
    SweepPlan plan_;                           ///< of what is shown
    QStringList titles_;
    std::vector<SweepPoint> points_;           ///< of its rows
    std::vector<std::string> lines_;           ///< of its rows; "" until at rest
    std::map<std::string, SweepResult> known_; ///< at rest, by hash of the input: whatever plan brought it
    std::shared_ptr<Context> running_;
    int asked_ = 0;
    bool busy_ = false;
    QThreadPool pool_;

    ParameterChoice *first_ = nullptr, *second_ = nullptr;
    QComboBox* shown_ = nullptr;
    QPushButton *start_ = nullptr, *stop_ = nullptr, *copy_ = nullptr, *save_ = nullptr, *copy_plan_ = nullptr;
    QProgressBar* progress_ = nullptr;
    SweepPlot* plot_ = nullptr;
    QTableWidget* table_ = nullptr;
    QLabel* told_ = nullptr;
    QTimer* redraw_ = nullptr;
};

}  // namespace wallfoot

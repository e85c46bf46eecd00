// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QThreadPool>
#include <QWidget>
#include <map>
#include <memory>
#include <vector>

#include "core/context/context.hpp"
#include "solver/findings/input_range.hpp"
#include "ui/panels/compared.hpp"

class QChart;
class QChartView;
class QLabel;
class QLineEdit;
class QPushButton;

namespace wallfoot {

/// psi and fRsi of variants as two charts: a mark for the value, a thin stroke for its bracket, a broad one for what low and
/// high conductivities leave open (worked out here, off the window's thread), a line for the one compared with, and the
/// limit of fRsi where there is one.
class CompareCharts : public QWidget {
    Q_OBJECT
  public:
    explicit CompareCharts(QWidget* parent = nullptr);
    ~CompareCharts() override;

    /// Those with findings; `base`: its row among them, -1 = none is marked. `limit`: of the convention, if it sets one.
    void show_variants(std::vector<Compared> rows, int base, std::optional<double> limit);
    QChart& psi_chart() { return *psi_; }
    QChart& factor_chart() { return *factor_; }
    QLineEdit& limit() { return *limit_; }
    QLabel& told() { return *told_; }
    bool busy() const { return running_ != nullptr; }

  protected:
    void showEvent(QShowEvent* event) override;

  private:
    struct Known {
        std::shared_ptr<const Findings> of;  ///< held, so that its address stays its own
        std::shared_ptr<const InputRange> range;
        QString problem;
    };
    void work();
    void stop();
    void draw();
    void tell();

    std::vector<Compared> rows_;
    int base_ = -1;
    std::map<const Findings*, Known> known_;
    std::shared_ptr<Context> running_;
    bool stopped_ = false;  ///< by the user, until other variants come
    QThreadPool pool_;
    QChart *psi_, *factor_;
    QChartView *psi_view_, *factor_view_;
    QLineEdit* limit_;
    QString of_convention_;  ///< the limit it sets, as text
    QLabel* told_;
    QPushButton* stop_;
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QStackedWidget>
#include <vector>

#include "solver/findings/sweep.hpp"

class QChart;
class QChartView;

namespace wallfoot {

/// How far a row of a sweep is.
enum class SweepState { waiting, first_look, at_rest };

struct SweepPoint {
    SweepState state = SweepState::waiting;
    SweepResult result;
};

/// What is read off the rows.
enum class SweepQuantity { psi, fRsi, coupling };

/// The value with what is left open of it; nothing while there is none.
std::optional<Bracketed> value_of(const SweepPoint& point, SweepQuantity quantity);
QString text_of(const SweepPoint& point, SweepQuantity quantity);
QString title_of(SweepQuantity quantity);

class SweepGrid;

/// A sweep as it comes in: over one parameter a line with its bracket (and fRsi on the right), over two a field of colours
/// with the numbers in it. Points the drawing does not allow are marked.
class SweepPlot : public QStackedWidget {
  public:
    explicit SweepPlot(QWidget* parent = nullptr);
    /// Points in the order of the plan's rows, the last parameter going round fastest; one title for each parameter.
    void show_points(const std::vector<SweepChange>& changes, const QStringList& titles, const std::vector<SweepPoint>& points, SweepQuantity quantity);
    QChart& chart() { return *chart_; }
    SweepGrid& grid() { return *grid_; }

  private:
    void show_line(const SweepChange& change, const QString& title, const std::vector<SweepPoint>& points, SweepQuantity quantity);

    QChart* chart_ = nullptr;
    QChartView* view_ = nullptr;
    SweepGrid* grid_ = nullptr;
};

/// Rows over two parameters as cells: the first parameter to the right, the second upwards.
class SweepGrid : public QWidget {
    Q_OBJECT
  public:
    explicit SweepGrid(QWidget* parent = nullptr);
    void show_points(const std::vector<SweepChange>& changes, const QStringList& titles, const std::vector<SweepPoint>& points, SweepQuantity quantity);
    /// Text of a cell as it is told when the mouse rests on it.
    QString told(std::size_t first, std::size_t second) const;
    QSize minimumSizeHint() const override;

  protected:
    void paintEvent(QPaintEvent*) override;
    bool event(QEvent*) override;

  private:
    QRectF field() const;
    QRectF cell(std::size_t first, std::size_t second) const;
    const SweepPoint& point(std::size_t first, std::size_t second) const { return points_[first * changes_[1].count() + second]; }
    void paint_axes(QPainter& painter) const;
    void paint_key(QPainter& painter, double low, double high) const;

    std::vector<SweepChange> changes_;
    QStringList titles_;
    std::vector<SweepPoint> points_;
    SweepQuantity quantity_ = SweepQuantity::psi;
};

}  // namespace wallfoot

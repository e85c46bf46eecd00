// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/sweep_plot.hpp"

#include <QHelpEvent>
#include <QPainter>
#include <QToolTip>
#include <QtCharts/QAreaSeries>
#include <QtCharts/QCategoryAxis>
#include <QtCharts/QChart>
#include <QtCharts/QChartView>
#include <QtCharts/QLegendMarker>
#include <QtCharts/QLineSeries>
#include <QtCharts/QScatterSeries>
#include <QtCharts/QValueAxis>
#include <algorithm>
#include <cmath>

#include "solver/findings/numbers.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/parameter_choice.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

// Blue and vermilion are told apart with every kind of colour vision; circles and squares besides.
const QColor left_colour(0x00, 0x72, 0xb2), right_colour(0xd5, 0x5e, 0x00), refused_colour(0x70, 0x70, 0x70);

/// One quantity over the values of one parameter.
class Curve {
  public:
    Curve(QChart& chart, QAbstractAxis* x, QAbstractAxis* y, QColor colour) : chart_(chart), x_(x), y_(y), colour_(colour) {}

    void add(const QString& name, const SweepChange& change, const std::vector<SweepPoint>& points, SweepQuantity quantity, QScatterSeries::MarkerShape shape) {
        auto *rest = marks(name, shape, true), *first = marks(QObject::tr("%1, first look").arg(name), shape, false);
        QList<QPointF> run, lower, upper;
        const auto end_run = [&] {
            if (run.size() > 1 && change.words.empty()) band(lower, upper), line(run);
            run.clear(), lower.clear(), upper.clear();
        };
        for (std::size_t n = 0; n < points.size(); ++n) {
            const auto value = value_of(points[n], quantity);
            if (!value) {
                end_run();
                continue;
            }
            const double at = change.words.empty() ? change.numbers[n] : static_cast<double>(n) + 0.5;
            run << QPointF(at, value->value);
            lower << QPointF(at, value->lower);
            upper << QPointF(at, value->upper);
            least_ = std::min(least_, value->value), most_ = std::max(most_, value->value);
            (points[n].state == SweepState::at_rest ? rest : first)->append(run.back());
        }
        end_run();
        for (QScatterSeries* series : {rest, first}) {
            if (series->count() == 0) delete series;
            else attach(series, true);
        }
        if (least_ > most_) return;
        auto* axis = static_cast<QValueAxis*>(y_);
        const double margin = std::max((most_ - least_) * 0.1, std::abs(most_) * 1e-3 + 1e-6);
        axis->setRange(least_ - margin, most_ + margin);
        axis->applyNiceNumbers();
        axis->setLabelFormat(most_ - least_ < 0.02 ? QStringLiteral("%.4f") : QStringLiteral("%.3f"));
    }

  private:
    QScatterSeries* marks(const QString& name, QScatterSeries::MarkerShape shape, bool filled) const {
        auto* series = new QScatterSeries;
        series->setName(name);
        series->setColor(filled ? colour_ : QColor(Qt::transparent));
        series->setBorderColor(colour_);
        series->setMarkerShape(shape);
        series->setMarkerSize(8);
        return series;
    }
    void attach(QAbstractSeries* series, bool in_key) {
        chart_.addSeries(series);
        series->attachAxis(x_);
        series->attachAxis(y_);
        if (!in_key)
            for (QLegendMarker* marker : chart_.legend()->markers(series)) marker->setVisible(false);
    }
    void line(const QList<QPointF>& run) {
        auto* series = new QLineSeries;
        series->setPen(QPen(colour_, 1.5));
        series->append(run);
        attach(series, false);
    }
    void band(const QList<QPointF>& lower, const QList<QPointF>& upper) {
        auto* area = new QAreaSeries;
        auto *below = new QLineSeries(area), *above = new QLineSeries(area);
        below->append(lower);
        above->append(upper);
        area->setLowerSeries(below);
        area->setUpperSeries(above);
        QColor faint = colour_;
        faint.setAlpha(70);
        area->setBrush(faint);
        area->setPen(Qt::NoPen);
        attach(area, false);
    }

    QChart& chart_;
    QAbstractAxis *x_, *y_;
    QColor colour_;
    double least_ = INFINITY, most_ = -INFINITY;
};

/// Black or white, whichever has more contrast (relative luminance of WCAG 2.1, from memory; both are alike at 0.179).
QColor better_on(QColor colour) {
    const auto linear = [](double c) { return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); };
    return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) + 0.0722 * linear(colour.blueF()) < 0.179 ? Qt::white : Qt::black;
}

/// 1, 2 or 5 times a power of ten, the first that is no less.
double round_step(double least) {
    const double power = std::pow(10, std::floor(std::log10(least)));
    for (const double times : {1.0, 2.0, 5.0})
        if (times * power >= least) return times * power;
    return 10 * power;
}

/// Places along the lower edge where the drawing allows no value; the reason shows when the mouse is on one.
void add_refused(QChart& chart, QAbstractAxis* x, QValueAxis* y, const SweepChange& change, const std::vector<SweepPoint>& points) {
    auto* series = new QScatterSeries;
    series->setName(QObject::tr("not possible"));
    series->setColor(Qt::transparent);
    series->setBorderColor(refused_colour);
    series->setMarkerShape(QScatterSeries::MarkerShapeTriangle);
    series->setMarkerSize(11);
    for (std::size_t n = 0; n < points.size(); ++n)
        if (!points[n].result.problem.empty()) series->append(change.words.empty() ? change.numbers[n] : static_cast<double>(n) + 0.5, y->min() + (y->max() - y->min()) * 0.03);
    if (series->count() == 0) return delete series;
    chart.addSeries(series);
    series->attachAxis(x);
    series->attachAxis(y);
}

}  // namespace

std::optional<Bracketed> value_of(const SweepPoint& point, SweepQuantity quantity) {
    const SweepResult& result = point.result;
    if (point.state == SweepState::waiting || !result.problem.empty()) return std::nullopt;
    if (quantity == SweepQuantity::psi) return result.psi;
    if (quantity == SweepQuantity::coupling) return result.coupling;
    return result.fRsi ? std::optional(Bracketed{*result.fRsi, *result.fRsi - result.estimate, *result.fRsi + result.estimate}) : std::nullopt;
}

QString text_of(const SweepPoint& point, SweepQuantity quantity) {
    const auto value = value_of(point, quantity);
    if (!value) return {};
    if (quantity == SweepQuantity::fRsi) return words(fixed(*point.result.fRsi, point.result.decimals));
    return short_value(*value);
}

QString title_of(SweepQuantity quantity) {
    return quantity == SweepQuantity::psi ? QObject::tr("psi, W/(m·K)") : quantity == SweepQuantity::fRsi ? QObject::tr("fRsi") : QObject::tr("L2D, W/(m·K)");
}

SweepPlot::SweepPlot(QWidget* parent) : QStackedWidget(parent) {
    chart_ = new QChart;
    chart_->setMargins({4, 4, 4, 4});
    view_ = new QChartView(chart_, this);
    view_->setRenderHint(QPainter::Antialiasing);
    view_->setAccessibleName(tr("The sweep as a plot"));
    grid_ = new SweepGrid(this);
    addWidget(view_);
    addWidget(grid_);
}

void SweepPlot::show_points(const std::vector<SweepChange>& changes, const QStringList& titles, const std::vector<SweepPoint>& points, SweepQuantity quantity) {
    setCurrentWidget(changes.size() > 1 ? static_cast<QWidget*>(grid_) : view_);
    if (changes.size() > 1) grid_->show_points(changes, titles, points, quantity);
    else if (changes.empty()) chart_->removeAllSeries();
    else show_line(changes.front(), titles.front(), points, quantity);
}

void SweepPlot::show_line(const SweepChange& change, const QString& title, const std::vector<SweepPoint>& points, SweepQuantity quantity) {
    chart_->removeAllSeries();
    for (QAbstractAxis* axis : chart_->axes()) {
        chart_->removeAxis(axis);
        delete axis;
    }
    QValueAxis* x = nullptr;
    if (change.words.empty()) {
        const auto [low, high] = std::minmax_element(change.numbers.begin(), change.numbers.end());
        const double margin = (*high - *low) * 0.02;
        x = new QValueAxis;
        x->setRange(*low - margin, *high + margin);
        const double step = round_step((*high - *low) / 6);
        x->setTickType(QValueAxis::TicksDynamic);
        x->setTickAnchor(0);
        x->setTickInterval(step);
        x->setLabelFormat(QStringLiteral("%.%1f").arg(std::clamp(static_cast<int>(-std::floor(std::log10(step) + 1e-9)), 0, 6)));
    } else {
        auto* categories = new QCategoryAxis;
        categories->setRange(0, static_cast<double>(change.words.size()));
        for (std::size_t n = 0; n < change.words.size(); ++n) categories->append(shown_value(change, n), static_cast<double>(n + 1));
        x = categories;
    }
    x->setTitleText(title);
    auto* left = new QValueAxis;
    // Short beside the axis, where there may be little height; the unit is in the key.
    left->setTitleText(quantity == SweepQuantity::psi ? tr("psi") : quantity == SweepQuantity::fRsi ? tr("fRsi") : tr("L2D"));
    chart_->addAxis(x, Qt::AlignBottom);
    chart_->addAxis(left, Qt::AlignLeft);
    Curve(*chart_, x, left, left_colour).add(title_of(quantity), change, points, quantity, QScatterSeries::MarkerShapeCircle);
    if (quantity != SweepQuantity::fRsi) {
        auto* right = new QValueAxis;
        right->setTitleText(tr("fRsi"));
        chart_->addAxis(right, Qt::AlignRight);
        Curve(*chart_, x, right, right_colour).add(tr("fRsi (right)"), change, points, SweepQuantity::fRsi, QScatterSeries::MarkerShapeRectangle);
        right->setGridLineVisible(false);
    }
    add_refused(*chart_, x, left, change, points);
    const QPalette& colours = palette();
    chart_->setBackgroundBrush(colours.base());
    chart_->legend()->setLabelColor(colours.color(QPalette::Text));
    for (QAbstractAxis* axis : chart_->axes()) {
        axis->setLabelsColor(colours.color(QPalette::Text));
        axis->setTitleBrush(colours.text());
        axis->setGridLineColor(colours.color(QPalette::Mid));
    }
}

// ---- over two parameters -------------------------------------------------------------------------------------------------

SweepGrid::SweepGrid(QWidget* parent) : QWidget(parent) { setAccessibleName(tr("The sweep over two parameters, as a field of colours")); }

QSize SweepGrid::minimumSizeHint() const { return {fontMetrics().height() * 20, fontMetrics().height() * 12}; }

void SweepGrid::show_points(const std::vector<SweepChange>& changes, const QStringList& titles, const std::vector<SweepPoint>& points, SweepQuantity quantity) {
    changes_ = changes;
    titles_ = titles;
    points_ = points;
    quantity_ = quantity;
    update();
}

/// Room for the cells: labels to the left and below, the key to the right.
QRectF SweepGrid::field() const {
    int widest = 0;
    for (std::size_t n = 0; n < changes_[1].count(); ++n) widest = std::max(widest, fontMetrics().horizontalAdvance(shown_value(changes_[1], n)));
    const double line = fontMetrics().height(), key = line * 1.5 + fontMetrics().horizontalAdvance(QStringLiteral("−0.0000")) + line;
    return QRectF(rect()).adjusted(widest + line * 2.2, line * 0.6, -key, -line * 3);
}

QRectF SweepGrid::cell(std::size_t first, std::size_t second) const {
    const QRectF all = field();
    const double width = all.width() / static_cast<double>(changes_[0].count()), height = all.height() / static_cast<double>(changes_[1].count());
    return {all.left() + width * static_cast<double>(first), all.bottom() - height * static_cast<double>(second + 1), width, height};
}

QString SweepGrid::told(std::size_t first, std::size_t second) const {
    const SweepPoint& here = point(first, second);
    QStringList lines{tr("%1: %2").arg(titles_[0], shown_value(changes_[0], first)), tr("%1: %2").arg(titles_[1], shown_value(changes_[1], second))};
    if (!here.result.problem.empty()) lines << words(here.result.problem);
    else if (here.state == SweepState::waiting) lines << tr("not worked out yet");
    for (const SweepQuantity quantity : {SweepQuantity::psi, SweepQuantity::fRsi, SweepQuantity::coupling})
        if (const auto value = value_of(here, quantity)) lines << tr("%1: %2").arg(title_of(quantity), words(with_bracket(*value)));
    if (here.state == SweepState::first_look) lines << tr("a first look, its bracket wider");
    return lines.join(QLatin1Char('\n'));
}

bool SweepGrid::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip && changes_.size() > 1) {
        const auto* help = static_cast<QHelpEvent*>(event);
        for (std::size_t i = 0; i < changes_[0].count(); ++i)
            for (std::size_t j = 0; j < changes_[1].count(); ++j)
                if (cell(i, j).contains(help->pos())) {
                    QToolTip::showText(help->globalPos(), told(i, j), this);
                    return true;
                }
        QToolTip::hideText();
        return true;
    }
    return QWidget::event(event);
}

void SweepGrid::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.fillRect(rect(), palette().base());
    if (changes_.size() < 2) return;
    double low = INFINITY, high = -INFINITY;
    for (const SweepPoint& point : points_)
        if (const auto value = value_of(point, quantity_)) low = std::min(low, value->value), high = std::max(high, value->value);
    for (std::size_t i = 0; i < changes_[0].count(); ++i)
        for (std::size_t j = 0; j < changes_[1].count(); ++j) {
            const SweepPoint& here = point(i, j);
            const QRectF box = cell(i, j).adjusted(0.5, 0.5, -0.5, -0.5);
            const auto value = value_of(here, quantity_);
            if (!value) {
                painter.fillRect(box, here.result.problem.empty() ? palette().brush(QPalette::AlternateBase) : QBrush(palette().color(QPalette::Mid), Qt::BDiagPattern));
                if (!here.result.problem.empty()) {
                    painter.setPen(palette().color(QPalette::Text));
                    painter.drawText(box, Qt::AlignCenter, QStringLiteral("×"));
                }
                continue;
            }
            const QColor colour = temperature_colour(high > low ? (value->value - low) / (high - low) : 0.5);
            painter.fillRect(box, colour);
            const QString text = text_of(here, quantity_);
            if (fontMetrics().horizontalAdvance(text) + 4 > box.width() || fontMetrics().height() > box.height()) continue;
            painter.setPen(better_on(colour));
            QFont font = painter.font();
            font.setItalic(here.state == SweepState::first_look);
            painter.setFont(font);
            painter.drawText(box, Qt::AlignCenter, text);
            font.setItalic(false);
            painter.setFont(font);
        }
    paint_axes(painter);
    if (low <= high) paint_key(painter, low, high);
}

void SweepGrid::paint_axes(QPainter& painter) const {
    const QRectF all = field();
    const double line = fontMetrics().height();
    painter.setPen(palette().color(QPalette::Text));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(all);
    double free_from = -INFINITY;
    for (std::size_t i = 0; i < changes_[0].count(); ++i) {
        const QString text = shown_value(changes_[0], i);
        const double middle = cell(i, 0).center().x(), half = fontMetrics().horizontalAdvance(text) / 2.0 + 3;
        if (middle - half < free_from) continue;  // labels would run into each other
        painter.drawText(QRectF(middle - half, all.bottom() + 2, 2 * half, line), Qt::AlignCenter, text);
        free_from = middle + half;
    }
    double free_below = INFINITY;
    for (std::size_t j = 0; j < changes_[1].count(); ++j) {
        const double middle = cell(0, j).center().y();
        if (middle + line / 2 > free_below) continue;
        painter.drawText(QRectF(0, middle - line / 2, all.left() - 4, line), Qt::AlignRight | Qt::AlignVCenter, shown_value(changes_[1], j));
        free_below = middle - line / 2;
    }
    painter.drawText(QRectF(all.left(), all.bottom() + line * 1.4, width() - all.left(), line * 1.3), Qt::AlignLeft | Qt::AlignVCenter, fontMetrics().elidedText(titles_[0], Qt::ElideRight, static_cast<int>(width() - all.left())));
    painter.save();
    painter.translate(line * 0.8, all.bottom());
    painter.rotate(-90);
    painter.drawText(QRectF(0, -line * 0.7, all.height(), line * 1.3), Qt::AlignLeft | Qt::AlignVCenter, fontMetrics().elidedText(titles_[1], Qt::ElideRight, static_cast<int>(all.height())));
    painter.restore();
}

void SweepGrid::paint_key(QPainter& painter, double low, double high) const {
    const QRectF all = field();
    const double line = fontMetrics().height();
    const QRectF bar(all.right() + line * 0.8, all.top(), line, all.height());
    const int steps = std::max(2, static_cast<int>(bar.height()));
    for (int i = 0; i < steps; ++i)
        painter.fillRect(QRectF(bar.left(), bar.bottom() - bar.height() * (i + 1) / steps, bar.width(), bar.height() / steps + 1), temperature_colour(high > low ? (i + 0.5) / steps : 0.5));
    painter.setPen(palette().color(QPalette::Text));
    painter.drawRect(bar);
    const double shown_steps = high > low ? 4 : 0;
    for (int i = 0; i <= shown_steps; ++i) {
        const double share = shown_steps > 0 ? i / shown_steps : 0.5, y = bar.bottom() - bar.height() * share;
        const double value = low + (high - low) * share;
        painter.drawText(QRectF(bar.right() + 4, std::clamp(y - line / 2, bar.top() - line * 0.1, bar.bottom() - line * 0.9), width() - bar.right() - 4, line), Qt::AlignLeft | Qt::AlignVCenter, words(fixed(value, high - low < 0.02 ? 4 : 3)));
    }
    painter.drawText(QRectF(bar.left() - line, all.bottom() + 2, width() - bar.left() + line, line), Qt::AlignRight | Qt::AlignVCenter, title_of(quantity_));
}

}  // namespace wallfoot

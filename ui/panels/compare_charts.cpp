// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/compare_charts.hpp"

#include <QApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPointer>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <QtCharts/QCategoryAxis>
#include <QtCharts/QChart>
#include <QtCharts/QChartView>
#include <QtCharts/QLegendMarker>
#include <QtCharts/QLineSeries>
#include <QtCharts/QScatterSeries>
#include <QtCharts/QValueAxis>
#include <algorithm>

#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

// Told apart by shape and width first; blue, grey and vermilion are so with every kind of colour vision, and in grey.
const QColor value_colour(0x00, 0x72, 0xb2), range_colour(0x9a, 0x9a, 0x9a), limit_colour(0xd5, 0x5e, 0x00);
constexpr int row_height = 46, beside_rows = 130;  // pixels

/// One row: a value with what is certain about it and what is open.
struct ChartRow {
    QString label;
    std::optional<double> value;
    std::optional<LowHigh> bracket, range;
};

/// A line that stands across all rows.
struct Across {
    QString name;
    double at = 0;
    QPen pen;
};

class ChartPainter {
  public:
    ChartPainter(QChart& chart, const QPalette& colours, const QString& title, const char* format) : chart_(chart), colours_(colours), y_(new QCategoryAxis), x_(new QValueAxis) {
        chart_.removeAllSeries();
        for (QAbstractAxis* axis : chart_.axes()) {
            chart_.removeAxis(axis);
            delete axis;
        }
        x_->setTitleText(title);
        x_->setLabelFormat(QString::fromLatin1(format));
    }

    void paint(const std::vector<ChartRow>& rows, const std::vector<Across>& lines, const QString& bracket) {
        const double count = static_cast<double>(rows.size());
        y_->setRange(0, count);
        y_->setLabelsPosition(QCategoryAxis::AxisLabelsPositionCenter);
        for (std::size_t i = rows.size(); i-- > 0;) y_->append(rows[i].label + QString(static_cast<qsizetype>(i), QChar(0x200b)), count - static_cast<double>(i));  // no two labels are equal
        chart_.addAxis(x_, Qt::AlignBottom);
        chart_.addAxis(y_, Qt::AlignLeft);
        for (const Across& line : lines) stroke(line.name, {line.at, 0}, {line.at, count}, line.pen);
        const auto all = [&](const QString& name, std::optional<LowHigh> ChartRow::*part, const QPen& pen) {
            bool first = true;
            for (std::size_t i = 0; i < rows.size(); ++i)
                if (const auto& of = rows[i].*part) {
                    const double y = count - static_cast<double>(i) - 0.5;
                    stroke(first ? name : QString(), {of->low, y}, {of->high, y}, pen);
                    first = false;
                }
        };
        all(QObject::tr("from low to high conductivities"), &ChartRow::range, QPen(range_colour, 9, Qt::SolidLine, Qt::FlatCap));
        all(bracket, &ChartRow::bracket, QPen(colours_.color(QPalette::Text), 2, Qt::SolidLine, Qt::FlatCap));
        auto* points = new QScatterSeries;
        points->setName(QObject::tr("as drawn"));
        points->setColor(value_colour);
        points->setBorderColor(colours_.color(QPalette::Base));
        points->setMarkerSize(11);
        for (std::size_t i = 0; i < rows.size(); ++i)
            if (rows[i].value) append(*points, {*rows[i].value, count - static_cast<double>(i) - 0.5});
        add(points);
        finish();
    }

  private:
    void append(QXYSeries& series, QPointF at) {
        series.append(at);
        low_ = std::min(low_, at.x()), high_ = std::max(high_, at.x());
    }
    void add(QXYSeries* series) {
        chart_.addSeries(series);
        series->attachAxis(x_);
        series->attachAxis(y_);
        if (series->name().isEmpty())
            for (QLegendMarker* marker : chart_.legend()->markers(series)) marker->setVisible(false);
    }
    void stroke(const QString& name, QPointF from, QPointF to, const QPen& pen) {
        auto* line = new QLineSeries;
        line->setName(name);
        line->setPen(pen);
        append(*line, from);
        append(*line, to);
        add(line);
    }
    void finish() {
        if (low_ <= high_) {
            const double margin = std::max(0.002, (high_ - low_) * 0.08);
            x_->setRange(low_ - margin, high_ + margin);
            x_->applyNiceNumbers();
        }
        chart_.setBackgroundBrush(colours_.base());
        chart_.setMargins({4, 4, 4, 4});
        chart_.legend()->setLabelColor(colours_.color(QPalette::Text));
        chart_.legend()->setAlignment(Qt::AlignBottom);
        chart_.legend()->setMarkerShape(QLegend::MarkerShapeFromSeries);
        for (QAbstractAxis* axis : {static_cast<QAbstractAxis*>(x_), static_cast<QAbstractAxis*>(y_)}) {
            axis->setLabelsColor(colours_.color(QPalette::Text));
            axis->setTitleBrush(colours_.text());
            axis->setGridLineColor(colours_.color(QPalette::Mid));
        }
    }

    QChart& chart_;
    const QPalette& colours_;
    QCategoryAxis* y_;
    QValueAxis* x_;
    double low_ = 1e300, high_ = -1e300;
};

QString row_label(const QWidget& of, const QString& name, const QString& value) {
    return of.fontMetrics().elidedText(name, Qt::ElideMiddle, of.fontMetrics().averageCharWidth() * 28).toHtmlEscaped() + QStringLiteral("<br>") + value;
}

}  // namespace

CompareCharts::CompareCharts(QWidget* parent) : QWidget(parent) {
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QHBoxLayout;
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    stop_ = new QPushButton(tr("S&top"), this);
    limit_ = new QLineEdit(this);
    limit_->setPlaceholderText(tr("none"));
    limit_->setAccessibleName(tr("Limit of fRsi"));
    limit_->setToolTip(tr("The least fRsi that is asked for. Of the convention where it sets one; another is drawn only, and not kept."));
    limit_->setFixedWidth(fontMetrics().averageCharWidth() * 10);
    auto* label = new QLabel(tr("&Limit of fRsi:"), this);
    label->setBuddy(limit_);
    head->addWidget(label);
    head->addWidget(limit_);
    head->addStretch(1);
    head->addWidget(stop_);
    rows->addWidget(told_);
    rows->addLayout(head);
    auto* both = new QWidget(this);
    auto* charts = new QVBoxLayout(both);
    charts->setContentsMargins(0, 0, 0, 0);
    const auto chart = [&](QChart*& of, QChartView*& view, const QString& name) {
        of = new QChart;
        view = new QChartView(of, both);
        view->setRenderHint(QPainter::Antialiasing);
        view->setAccessibleName(name);
        charts->addWidget(view);
    };
    chart(psi_, psi_view_, tr("psi of the variants, as a chart"));
    chart(factor_, factor_view_, tr("fRsi of the variants, as a chart"));
    auto* scrolled = new QScrollArea(this);
    scrolled->setWidgetResizable(true);
    scrolled->setFrameShape(QFrame::NoFrame);
    scrolled->setWidget(both);
    rows->addWidget(scrolled, 1);
    connect(limit_, &QLineEdit::textChanged, this, &CompareCharts::draw);
    connect(stop_, &QPushButton::clicked, this, [this] {
        stopped_ = true;
        stop();
        tell();
    });
}

CompareCharts::~CompareCharts() {
    stop();
    pool_.clear();
    pool_.waitForDone();
}

void CompareCharts::show_variants(std::vector<Compared> rows, int base, std::optional<double> limit) {
    const auto same = [](const Compared& a, const Compared& b) { return a.findings == b.findings; };
    if (!std::is_permutation(rows.begin(), rows.end(), rows_.begin(), rows_.end(), same)) stopped_ = false;
    rows_ = std::move(rows);
    base_ = base;
    // What is shown no more is let go.
    std::erase_if(known_, [&](const auto& known) { return std::none_of(rows_.begin(), rows_.end(), [&](const Compared& row) { return row.findings.get() == known.first; }); });
    const QString of_convention = limit ? words(number_text(*limit)) : QString();
    if (limit_->text() == of_convention_) limit_->setText(of_convention);  // what was typed stays
    of_convention_ = of_convention;
    if (!isVisible()) return;
    draw();
    work();
}

void CompareCharts::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    draw();
    work();
}

void CompareCharts::stop() {
    if (running_) running_->cancel();
    running_.reset();
}

/// One variant after the other; what is under way goes on as long as its row is shown.
void CompareCharts::work() {
    tell();
    if (running_ || stopped_) return;
    const auto next = std::find_if(rows_.begin(), rows_.end(), [&](const Compared& row) { return !known_.contains(row.findings.get()); });
    if (next == rows_.end()) return;
    running_ = std::make_shared<Context>();
    tell();
    pool_.start([row = *next, context = running_, self = QPointer(this)] {
        Known known{row.findings, nullptr, {}};
        try {
            known.range = std::make_shared<const InputRange>(input_range(*row.study, *row.study->find_variant(row.id), {}, *context));
        } catch (const Cancelled&) {
            return;
        } catch (const InputFault& fault) {
            known.problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            known.problem = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, known, context] {
            if (!self || self->running_ != context) return;
            self->running_.reset();
            self->known_[known.of.get()] = known;
            self->draw();
            self->work();
        });
    });
}

void CompareCharts::tell() {
    std::size_t done = 0;
    QStringList materials, problems;
    for (const Compared& row : rows_)
        if (const auto known = known_.find(row.findings.get()); known != known_.end()) {
            ++done;
            if (!known->second.problem.isEmpty()) problems << row.shown() + QStringLiteral(": ") + known->second.problem;
            if (known->second.range)
                for (const auto& name : known->second.range->materials)
                    if (!materials.contains(words(name))) materials << words(name);
        }
    stop_->setVisible(running_ != nullptr);
    if (!problems.isEmpty()) told_->setText(problems.join(QLatin1Char('\n')));
    else if (running_) told_->setText(tr("What the conductivities leave open: %1 of %2 variants worked out…").arg(done).arg(rows_.size()));
    else if (done < rows_.size()) told_->setText(tr("What the conductivities leave open was worked out for %1 of %2 variants.").arg(done).arg(rows_.size()));
    else if (materials.isEmpty()) told_->setText(tr("No conductivity in use states a low and a high value, so that no range is drawn. The bracket is that of the section as drawn."));
    else told_->setText(tr("Broad strokes: what low and high conductivities leave open (%1), all at the end that is worse, then all at the better one. The bracket, of the section as drawn, is mostly narrower than the mark.").arg(materials.join(QStringLiteral(", "))));
}

void CompareCharts::draw() {
    std::vector<ChartRow> psi_rows, factor_rows;
    std::vector<Across> psi_lines, factor_lines;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
        const Compared& row = rows_[i];
        const auto known = known_.find(row.findings.get());
        const InputRange* open = known != known_.end() && known->second.range && !known->second.range->materials.empty() ? known->second.range.get() : nullptr;
        const QPen of_base(palette().color(QPalette::Text), 1, Qt::DotLine);
        const QString of_base_name = tr("as %1").arg(fontMetrics().elidedText(row.shown(), Qt::ElideRight, fontMetrics().averageCharWidth() * 24));
        const Psi* psi = row.findings->headline_psi();
        ChartRow psi_row{row_label(*this, row.shown(), tr("no psi")), {}, {}, {}};
        if (psi && psi->value) {
            psi_row = {row_label(*this, row.shown(), words(with_bracket(*psi->value))), psi->value->value, LowHigh{psi->value->lower, psi->value->upper}, open ? open->psi : std::nullopt};
            if (static_cast<int>(i) == base_) psi_lines.push_back({of_base_name, psi->value->value, of_base});
        }
        psi_rows.push_back(psi_row);
        const SurfaceFinding* surface = row.findings->headline_surface();
        ChartRow factor_row{row_label(*this, row.shown(), tr("no fRsi")), {}, {}, {}};
        if (surface && surface->fRsi) {
            const double factor = *surface->fRsi;
            factor_row = {row_label(*this, row.shown(), words(fixed(factor, factor_decimals(*surface)))), factor, LowHigh{factor - surface->estimate, factor + surface->estimate}, open ? open->fRsi : std::nullopt};
            if (static_cast<int>(i) == base_) factor_lines.push_back({of_base_name, factor, of_base});
        }
        factor_rows.push_back(factor_row);
    }
    if (const Entry limit = parse_number(limit_->text().trimmed().toStdString()); limit && *limit.value >= 0 && *limit.value <= 1)
        factor_lines.push_back({tr("limit %1").arg(limit_->text().trimmed()), *limit.value, QPen(limit_colour, 2.5, Qt::DashLine)});
    ChartPainter(*psi_, palette(), tr("psi, W/(m·K)"), "%.3f").paint(psi_rows, psi_lines, tr("bracket"));
    ChartPainter(*factor_, palette(), tr("fRsi; higher is warmer"), "%.3f").paint(factor_rows, factor_lines, tr("estimate of its error"));
    for (QChartView* view : {psi_view_, factor_view_}) view->setMinimumHeight(static_cast<int>(rows_.size()) * row_height + beside_rows);
}

}  // namespace wallfoot

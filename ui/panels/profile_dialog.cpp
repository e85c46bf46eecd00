// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/profile_dialog.hpp"

#include <QApplication>
#include <QChart>
#include <QChartView>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLegendMarker>
#include <QLineSeries>
#include <QPushButton>
#include <QVBoxLayout>
#include <QValueAxis>
#include <algorithm>

#include "solver/findings/numbers.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

// Blue and orange of a general-purpose palette that colour-blind people tell apart; one line is dashed, for print in grey.
const QColor curve_colour(0x00, 0x72, 0xb2), damp_colour(0xd5, 0x5e, 0x00);
constexpr double pen_width = 2;
constexpr double mould_percent = 80;

}  // namespace

ProfileDialog::ProfileDialog(std::shared_ptr<const Study> study, std::shared_ptr<const Findings> findings, QWidget* parent)
    : QDialog(parent), study_(std::move(study)), findings_(std::move(findings)) {
    setWindowTitle(tr("Along the inside surface: %1").arg(words(findings_->variant_name)));
    auto* rows = new QVBoxLayout(this);
    auto* line = new QHBoxLayout;
    space_ = new QComboBox(this);
    space_->setAccessibleName(tr("Space"));
    int first = 0;
    const SurfaceFinding* headline = findings_->headline_surface();
    for (std::size_t i = 0; i < findings_->section->spaces.size(); ++i) {
        const SpaceKind kind = findings_->section->spaces[i].kind;
        if (kind != SpaceKind::inside && kind != SpaceKind::unheated) continue;
        if (headline && headline->space == static_cast<int>(i)) first = space_->count();
        space_->addItem(space_label(*findings_->section, static_cast<int>(i)), static_cast<int>(i));
    }
    space_->setCurrentIndex(first);
    auto* label = new QLabel(tr("&Surface of"), this);
    label->setBuddy(space_);
    line->addWidget(label);
    line->addWidget(space_);
    line->addStretch(1);
    rows->addLayout(line);
    chart_ = new QChart;
    auto* view = new QChartView(chart_, this);
    view->setRenderHint(QPainter::Antialiasing);
    view->setMinimumSize(640, 340);
    view->setAccessibleName(tr("Temperature and humidity along the surface"));
    rows->addWidget(view, 1);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    auto* copy = buttons->addButton(tr("Copy as a &table"), QDialogButtonBox::ActionRole);
    connect(copy, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(words(profile_csv(profile_))); });
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    rows->addWidget(buttons);
    connect(space_, &QComboBox::currentIndexChanged, this, &ProfileDialog::show_profile);
    show_profile();
}

void ProfileDialog::show_profile() {
    profile_ = space_->count() == 0 ? SurfaceProfile{} : surface_profile(*study_, *findings_, space_->currentData().toInt());
    chart_->removeAllSeries();
    for (QAbstractAxis* axis : chart_->axes()) {
        chart_->removeAxis(axis);
        delete axis;
    }
    auto *x = new QValueAxis, *left = new QValueAxis, *right = new QValueAxis;
    x->setTitleText(tr("along the surface, m"));
    left->setTitleText(tr("temperature, °C"));
    right->setTitleText(tr("humidity at the surface, %"));
    x->setLabelFormat(QStringLiteral("%.2f"));
    left->setLabelFormat(QStringLiteral("%.1f"));
    right->setLabelFormat(QStringLiteral("%.0f"));
    chart_->addAxis(x, Qt::AlignBottom);
    chart_->addAxis(left, Qt::AlignLeft);
    double longest = 0, coldest = 1e9, warmest = -1e9, damp = 0, dry = 100;
    const ProfilePoint* lowest = nullptr;
    bool humid = false;
    for (const auto& run : profile_)
        for (const ProfilePoint& point : run) {
            longest = std::max(longest, point.along);
            warmest = std::max(warmest, point.temperature);
            if (point.temperature < coldest) coldest = point.temperature, lowest = &point;
            if (!point.humidity) continue;
            humid = true;
            damp = std::max(damp, 100 * *point.humidity), dry = std::min(dry, 100 * *point.humidity);
        }
    if (humid) chart_->addAxis(right, Qt::AlignRight);
    const auto series = [&](const QString& name, const QColor& colour, Qt::PenStyle style, QAbstractAxis* y, const auto& value, const std::vector<ProfilePoint>& run, bool named) {
        auto* made = new QLineSeries;
        for (const ProfilePoint& point : run) made->append(point.along, value(point));
        made->setName(name);
        made->setPen(QPen(colour, pen_width, style));
        chart_->addSeries(made);
        made->attachAxis(x);
        made->attachAxis(y);
        if (!named)
            for (auto* marker : chart_->legend()->markers(made)) marker->setVisible(false);
    };
    for (const auto& run : profile_) {
        const bool named = &run == &profile_.front();
        series(tr("temperature"), curve_colour, Qt::SolidLine, left, [](const ProfilePoint& point) { return point.temperature; }, run, named);
        if (humid) series(tr("humidity, worst month"), damp_colour, Qt::DashLine, right, [](const ProfilePoint& point) { return 100 * point.humidity.value_or(0); }, run, named);
    }
    if (humid) {
        std::vector<ProfilePoint> ends{{.along = 0, .factor = {}, .humidity = {}}, {.along = longest, .factor = {}, .humidity = {}}};
        series(tr("80 %: mould may grow"), palette().color(QPalette::Text), Qt::DotLine, right, [](const ProfilePoint&) { return mould_percent; }, ends, true);
        right->setRange(std::min(dry, mould_percent) - 5, std::max(damp, mould_percent) + 5);
        right->applyNiceNumbers();
    }
    x->setRange(0, longest > 0 ? longest : 1);
    x->applyNiceNumbers();
    if (lowest) left->setRange(coldest - 0.5, warmest + 0.5);
    left->applyNiceNumbers();
    const QPalette& colours = palette();
    chart_->setBackgroundBrush(colours.base());
    chart_->legend()->setLabelColor(colours.color(QPalette::Text));
    for (QAbstractAxis* axis : chart_->axes()) {
        axis->setLabelsColor(colours.color(QPalette::Text));
        axis->setTitleBrush(colours.text());
        axis->setGridLineColor(colours.color(QPalette::Mid));
    }
    if (!humid) delete right;
    if (!lowest) return told_->setText(tr("Nothing to show: this space has no surface here."));
    told_->setText(tr("Lowest %1 at %2, %3 mm. Surface resistances of the surface check; the solid lies to the left of the way. %4")
                       .arg(value_words(lowest->temperature, "°C", 3)).arg(lowest->x, 0, 'f', 0).arg(lowest->y, 0, 'f', 0)
                       .arg(humid ? tr("Where the dashed line passes 80 %, mould may grow.") : findings_->section->spaces.size() > 2 ? tr("With more than two spaces no humidity is drawn.") : tr("State a climate and the air inside (Site menu) to see the humidity too.")));
}

}  // namespace wallfoot

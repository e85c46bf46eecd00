// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/compare_view.hpp"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPainter>
#include <QPointer>
#include <QPushButton>
#include <QSignalBlocker>
#include <QTableWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "core/study/differences.hpp"
#include "solver/findings/numbers.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr int picture_width = 260, picture_height = 250;

/// All in one scale: that at which the largest section fits.
double scale_of(const std::vector<Compared>& variants) {
    double scale = 0;
    for (const auto& of : variants) {
        const View view = View::fitting(of.section->cut, QSizeF(picture_width, picture_height), 0.01);
        scale = scale == 0 ? view.pixels_per_mm : std::min(scale, view.pixels_per_mm);
    }
    return scale;
}

QImage painted(const Study& study, const Findings& findings, bool heat, TemperatureRange range, double pixels_per_mm, double ratio) {
    const Section& section = *findings.section;
    View view = View::fitting(section.cut, QSizeF(picture_width, picture_height), 0.01);
    view.pixels_per_mm = pixels_per_mm;
    QImage image((view.viewport * ratio).toSize(), QImage::Format_RGB32);
    image.setDevicePixelRatio(ratio);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF shown = cut_in_pixels(view, section);
    painter.setClipRect(shown);
    paint_variant(painter, view, study, findings, heat, range, SheetColours::light(), shown, ratio, false);
    return image;
}

}  // namespace

CompareView::CompareView(QWidget* parent) : QWidget(parent) {
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(0, 0, 0, 0);
    auto* row = new QHBoxLayout;
    row->setContentsMargins(8, 6, 8, 0);
    base_ = new QComboBox(this);
    base_->setAccessibleName(tr("Compare with"));
    base_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    base_->setMinimumContentsLength(12);
    base_->setMinimumWidth(fontMetrics().horizontalAdvance(QLatin1Char('M')) * 8);
    shows_ = new QComboBox(this);
    shows_->setAccessibleName(tr("Pictures show"));
    shows_->addItems({tr("heat maps"), tr("sections")});
    auto* copy = new QPushButton(tr("Co&py the table"), this);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    row->addWidget(new QLabel(tr("Compare with:"), this));
    row->addWidget(base_, 1);
    row->addStretch(1);
    auto* second = new QHBoxLayout;
    second->setContentsMargins(8, 0, 8, 0);
    second->addWidget(shows_);
    second->addWidget(copy);
    second->addWidget(told_, 1);
    table_ = new QTableWidget(row_count, 0, this);
    table_->setAccessibleName(tr("Variants side by side"));
    table_->setVerticalHeaderLabels({tr("Picture"), tr("psi\nW/(m·K)"), tr("Difference\nW/(m·K)"), tr("fRsi"), tr("Coldest\ninside surface"), tr("Heat loss\nper metre and K"), tr("Otherwise than\nthe one\ncompared with")});
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->setWordWrap(true);
    table_->setTabKeyNavigation(false);
    table_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    table_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    told_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    rows->addLayout(row);
    rows->addLayout(second);
    rows->addWidget(table_, 1);
    connect(base_, &QComboBox::currentIndexChanged, this, [this] {
        base_id_ = base_->currentData().toString();
        fill();
    });
    connect(shows_, &QComboBox::currentIndexChanged, this, &CompareView::paint_pictures);
    connect(copy, &QPushButton::clicked, this, [this] {
        QApplication::clipboard()->setText(as_text());
        told_->setText(tr("Copied: paste it into a table or a letter."));
    });
    const auto choose = [this](int column) {
        if (column >= 0 && column < static_cast<int>(variants_.size())) emit chosen(words(variants_[static_cast<std::size_t>(column)].id));
    };
    connect(table_, &QTableWidget::cellDoubleClicked, this, [choose](int, int column) { choose(column); });
    connect(table_->horizontalHeader(), &QHeaderView::sectionDoubleClicked, this, choose);
}

CompareView::~CompareView() {
    pool_.clear();
    pool_.waitForDone();
}

void CompareView::show_variants(std::shared_ptr<const Study> study, std::vector<Compared> variants) {
    study_ = std::move(study);
    variants_ = std::move(variants);
    const QSignalBlocker quiet(base_);
    base_->clear();
    for (const auto& of : variants_) base_->addItem(words(of.name), words(of.id));
    base_->setCurrentIndex(std::max(0, base_->findData(base_id_)));
    base_id_ = base_->currentData().toString();
    fill();
}

void CompareView::fill() {
    told_->clear();
    table_->setColumnCount(static_cast<int>(variants_.size()));
    if (variants_.empty()) return;
    const Compared& base = variants_[static_cast<std::size_t>(std::max(0, base_->currentIndex()))];
    for (int column = 0; column < table_->columnCount(); ++column) fill_column(column, variants_[static_cast<std::size_t>(column)], base);
    table_->resizeRowsToContents();
    table_->setRowHeight(picture, picture_height + 8);
    paint_pictures();
}

void CompareView::fill_column(int column, const Compared& of, const Compared& base) {
    table_->setHorizontalHeaderItem(column, new QTableWidgetItem(words(of.name)));
    table_->setColumnWidth(column, picture_width + 10);
    const auto put = [&](int row, const QString& text, bool bold = false) {
        auto* item = new QTableWidgetItem(text);
        item->setTextAlignment(Qt::AlignLeft | Qt::AlignVCenter);
        if (bold) {
            QFont font = item->font();
            font.setBold(true);
            item->setFont(font);
        }
        table_->setItem(row, column, item);
    };
    put(picture, of.findings ? QString() : of.why);
    const auto value = [](const Compared& variant) -> const Bracketed* {
        const Psi* psi = variant.findings ? variant.findings->headline_psi() : nullptr;
        return psi && psi->value ? &*psi->value : nullptr;
    };
    const Psi* headline = of.findings ? of.findings->headline_psi() : nullptr;
    put(psi, value(of) ? words(with_bracket(*value(of))) : headline ? words(why_missing(*of.findings, headline->a, headline->b, headline->lengths, headline->reason)) : QStringLiteral("–"), true);
    if (&of == &base) put(difference, tr("compared with"));
    else if (value(of) && value(base)) {
        const Bracketed by{value(of)->value - value(base)->value, value(of)->lower - value(base)->upper, value(of)->upper - value(base)->lower};
        const bool alike = by.lower <= 0 && by.upper >= 0;
        put(difference, alike ? tr("no difference beyond the brackets") : (by.value > 0 ? QStringLiteral("+") : QString()) + words(with_bracket(by)) + QLatin1Char(' ') + (by.value > 0 ? tr("(loses more)") : tr("(loses less)")));
    } else put(difference, QStringLiteral("–"));
    const SurfaceFinding* surface = of.findings ? of.findings->headline_surface() : nullptr;
    put(factor, surface && surface->fRsi ? words(fixed(*surface->fRsi, factor_decimals(*surface))) : QStringLiteral("–"));
    put(lowest, surface ? tr("%1 °C at x %2, y %3 mm").arg(words(fixed(surface->lowest, temperature_decimals(*of.findings, *surface))), words(fixed(surface->at[0] / 1000, 0)), words(fixed(surface->at[1] / 1000, 0))) : QStringLiteral("–"));
    QString loss = QStringLiteral("–");
    if (of.findings && headline)
        for (const auto& coupling : of.findings->couplings)
            if (coupling.a == headline->a && coupling.b == headline->b && coupling.value) loss = tr("L2D %1").arg(words(with_bracket(*coupling.value)));
    put(flow, loss);
    QStringList said;
    if (&of != &base)
        for (const auto& message : differences(*study_, *base.section, *of.section)) said << sentence(message);
    put(differs, said.isEmpty() && &of != &base ? tr("Nothing.") : said.join(QLatin1Char('\n')));
}

void CompareView::paint_pictures() {
    ++asked_;
    const bool heat = shows_->currentIndex() == 0;
    std::vector<std::shared_ptr<const Findings>> all;
    for (const auto& of : variants_)
        if (of.findings) all.push_back(of.findings);
    const TemperatureRange range = range_of(all);
    const double scale = scale_of(variants_);
    for (std::size_t column = 0; column < variants_.size(); ++column) {
        if (!variants_[column].findings) continue;
        pool_.start([study = study_, findings = variants_[column].findings, heat, range, scale, ratio = devicePixelRatioF(), column, asked = asked_, self = QPointer(this)] {
            const QImage image = painted(*study, *findings, heat, range, scale, ratio);
            QMetaObject::invokeMethod(qApp, [self, image, column, asked] {
                if (!self || self->asked_ != asked) return;
                if (auto* item = self->table_->item(picture, static_cast<int>(column))) item->setData(Qt::DecorationRole, QPixmap::fromImage(image));
            });
        });
    }
}

QString CompareView::as_text() const {
    QStringList lines;
    QStringList head{tr("Variant")};
    for (const auto& of : variants_) head << words(of.name);
    lines << head.join(QLatin1Char('\t'));
    for (int row = psi; row < row_count; ++row) {
        QStringList fields{table_->verticalHeaderItem(row)->text().replace(QLatin1Char('\n'), QLatin1Char(' '))};
        for (int column = 0; column < table_->columnCount(); ++column) fields << table_->item(row, column)->text().replace(QLatin1Char('\n'), QLatin1Char(' '));
        lines << fields.join(QLatin1Char('\t'));
    }
    return lines.join(QLatin1Char('\n')) + QLatin1Char('\n');
}

}  // namespace wallfoot

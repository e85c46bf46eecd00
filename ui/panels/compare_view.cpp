// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/compare_view.hpp"

#include <QApplication>
#include <QCheckBox>
#include <QClipboard>
#include <QComboBox>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QMimeData>
#include <QPushButton>
#include <QSignalBlocker>
#include <QTabWidget>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>
#include "solver/findings/surface_verdicts.hpp"

#include "ui/panels/compare_charts.hpp"
#include "ui/panels/compare_pictures.hpp"
#include "ui/panels/flow_row.hpp"
#include "ui/panels/other_study.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QComboBox* choice(QWidget* parent, const QString& name, int characters) {
    auto* box = new QComboBox(parent);
    box->setAccessibleName(name);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    box->setMinimumContentsLength(characters);
    box->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    return box;
}

/// What is not to be parted at the end of a line.
QWidget* together(QWidget* parent, const std::initializer_list<QWidget*>& widgets) {
    auto* of = new QWidget(parent);
    auto* row = new QHBoxLayout(of);
    row->setContentsMargins(0, 0, 0, 0);
    for (QWidget* widget : widgets) row->addWidget(widget);
    return of;
}

}  // namespace

CompareView::CompareView(QWidget* parent) : QWidget(parent) {
    lay_out();
    connect(base_, &QComboBox::currentIndexChanged, this, [this] {
        base_key_ = base_->currentData().toString();
        fill();
    });
    connect(shows_, &QComboBox::currentIndexChanged, this, [this](int shown) { table_->set_pictures(static_cast<CompareTable::Pictures>(shown)); });
    connect(sorted_by_, &QComboBox::currentIndexChanged, this, &CompareView::fill);
    connect(descending_, &QToolButton::toggled, this, &CompareView::fill);
    connect(only_differing_, &QCheckBox::toggled, table_, &CompareTable::set_only_differing);
    connect(table_, &CompareTable::sort_wanted, this, &CompareView::sort_by_row);
    connect(table_, &CompareTable::chosen, this, [this](const QString& key) {
        for (const Compared& of : variants_)
            if (of.key() == key) emit chosen(words(of.id));
    });
    connect(stop_, &QPushButton::clicked, this, [this] {
        if (other_) other_->stop();
        fill();
    });
}

CompareView::~CompareView() = default;

void CompareView::lay_out() {
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(0, 0, 0, 0);
    auto* controls = new FlowRow;
    base_ = choice(this, tr("Compare with"), 22);
    sorted_by_ = choice(this, tr("Sorted by"), 13);
    sorted_by_->addItem(tr("order in the study"), static_cast<int>(CompareTable::picture));
    for (int row = CompareTable::psi; row < CompareTable::row_count; ++row) {
        const auto of = static_cast<CompareTable::Row>(row);
        if (of != CompareTable::psi_change && of != CompareTable::loss_change && of != CompareTable::rules && of != CompareTable::flanking) sorted_by_->addItem(CompareTable::row_name(of).replace(QLatin1Char('\n'), QLatin1Char(' ')), row);
    }
    descending_ = new QToolButton(this);
    descending_->setCheckable(true);
    descending_->setText(tr("largest first"));
    variants_shown_ = new QToolButton(this);
    variants_shown_->setText(tr("Variants shown"));
    variants_shown_->setPopupMode(QToolButton::InstantPopup);
    variants_shown_->setMenu(variants_menu_ = new QMenu(variants_shown_));
    only_differing_ = new QCheckBox(tr("only &rows that differ"), this);
    shows_ = choice(this, tr("Pictures show"), 9);
    shows_->addItems({tr("heat maps"), tr("sections"), tr("differences")});
    auto* quantities = new QPushButton(tr("&Whole junction…"), this);
    quantities->setToolTip(tr("Enter the length of the junction and the areas beside it: the table then says what each variant loses in all."));
    auto* more = new QToolButton(this);
    more->setText(tr("More"));
    more->setPopupMode(QToolButton::InstantPopup);
    auto* more_menu = new QMenu(more);
    more_menu->setToolTipsVisible(true);
    more->setMenu(more_menu);
    auto* beside = more_menu->addAction(tr("&Beside another study…"));
    beside->setToolTip(tr("Sets the variants of another file beside these. That file is only read."));
    away_ = more_menu->addAction(tr("&Take the other study away"));
    auto* equal = more_menu->addAction(tr("&Equal wall or floor…"));
    equal->setToolTip(tr("Changes a measure of one variant until its wall or floor has the U, or the thickness, of the one compared with."));
    auto* copied = new QPushButton(tr("Co&py the table"), this);
    controls->addWidget(together(this, {new QLabel(tr("Compare with:"), this), base_}));
    controls->addWidget(together(this, {new QLabel(tr("sorted by:"), this), sorted_by_, descending_}));
    for (QWidget* control : std::initializer_list<QWidget*>{variants_shown_, only_differing_, shows_, quantities, copied, more}) controls->addWidget(control);
    auto* third = new QHBoxLayout;
    third->setContentsMargins(8, 0, 8, 0);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    stop_ = new QPushButton(tr("S&top"), this);
    third->addWidget(told_, 1);
    third->addWidget(stop_);
    tabs_ = new QTabWidget(this);
    tabs_->setDocumentMode(true);
    tabs_->addTab(table_ = new CompareTable(tabs_), tr("Table"));
    tabs_->addTab(charts_ = new CompareCharts(tabs_), tr("Charts"));
    tabs_->addTab(pictures_ = new ComparePictures(tabs_), tr("Picture against picture"));
    // What holds for the table alone stands with it alone.
    connect(tabs_, &QTabWidget::currentChanged, this, [this, copied](int tab) {
        for (QWidget* control : std::initializer_list<QWidget*>{only_differing_, shows_, copied}) control->setVisible(tab == 0);
    });
    rows->addLayout(controls);
    rows->addLayout(third);
    rows->addWidget(tabs_, 1);
    connect(quantities, &QPushButton::clicked, this, &CompareView::quantities_wanted);
    connect(equal, &QAction::triggered, this, &CompareView::equal_wanted);
    connect(away_, &QAction::triggered, this, &CompareView::take_away);
    connect(beside, &QAction::triggered, this, [this] {
        const QString path = QFileDialog::getOpenFileName(this, tr("Set another study beside this one"), QString(), tr("Studies (*.wallfoot)"));
        if (!path.isEmpty()) set_beside(path);
    });
    connect(copied, &QPushButton::clicked, this, [this] {
        copy();
        told_->setText(tr("Copied: paste it into a table or a letter."));
        told_->show();
    });
    tell();
}

void CompareView::copy() const {
    auto* data = new QMimeData;
    data->setText(table_->as_text());
    data->setHtml(table_->as_html());
    QApplication::clipboard()->setMimeData(data);
}

void CompareView::show_variants(std::shared_ptr<const Study> study, std::vector<Compared> variants) {
    study_ = std::move(study);
    variants_ = std::move(variants);
    for (Compared& of : variants_) of.study = study_;
    fill();
}

std::vector<Compared> CompareView::answered() const {
    std::vector<Compared> all = variants_;
    std::erase_if(all, [](const Compared& of) { return !of.findings; });
    return all;
}

void CompareView::begin_anew() {
    hidden_.clear();
    base_key_.clear();
    const QSignalBlocker quiet(sorted_by_), quiet_too(descending_);
    sorted_by_->setCurrentIndex(0);
    descending_->setChecked(false);
}

void CompareView::set_beside(const QString& path) {
    other_ = std::make_unique<OtherStudy>();
    connect(other_.get(), &OtherStudy::changed, this, &CompareView::fill);
    other_->open(path);
    fill();
}

void CompareView::take_away() {
    other_.reset();
    fill();
}

void CompareView::sort_by_row(int row) {
    // The difference stands in the order of what it is of.
    const int of = row == CompareTable::psi_change ? CompareTable::psi : row == CompareTable::loss_change ? CompareTable::loss : row;
    const QSignalBlocker quiet(sorted_by_), quiet_too(descending_);
    if (sorted_by_->currentData().toInt() != of) {
        sorted_by_->setCurrentIndex(std::max(0, sorted_by_->findData(of)));
        descending_->setChecked(false);
    } else if (!descending_->isChecked()) {
        descending_->setChecked(true);
    } else {
        sorted_by_->setCurrentIndex(0);
        descending_->setChecked(false);
    }
    fill();
}

/// Equal values keep the order of the study, and what has no value comes last either way.
std::vector<Compared> CompareView::sorted(const CompareTable::Columns& columns) const {
    const auto row = static_cast<CompareTable::Row>(sorted_by_->currentData().toInt());
    if (row == CompareTable::picture) return columns.shown;
    std::vector<std::pair<std::optional<double>, Compared>> all;
    for (const Compared& of : columns.shown) all.emplace_back(CompareTable::sort_value(row, of, columns), of);
    const bool descending = descending_->isChecked();
    std::stable_sort(all.begin(), all.end(), [&](const auto& a, const auto& b) {
        if (!a.first || !b.first) return a.first.has_value() && !b.first.has_value();
        return descending ? *a.first > *b.first : *a.first < *b.first;
    });
    std::vector<Compared> result;
    for (auto& [value, of] : all) result.push_back(std::move(of));
    return result;
}

void CompareView::fill() {
    std::vector<Compared> all = variants_;
    if (other_) all.insert(all.end(), other_->variants().begin(), other_->variants().end());
    {
        const QSignalBlocker quiet(base_);
        base_->clear();
        for (const auto& of : all) base_->addItem(of.shown(), of.key());
        base_->setCurrentIndex(std::max(0, base_->findData(base_key_)));
        base_key_ = base_->currentData().toString();
    }
    CompareTable::Columns columns{{}, {}, study_};
    for (const Compared& of : all) {
        if (of.key() == base_key_) columns.base = of;
        if (!hidden_.contains(of.key())) columns.shown.push_back(of);
    }
    columns.shown = sorted(columns);
    const auto row = static_cast<CompareTable::Row>(sorted_by_->currentData().toInt());
    descending_->setEnabled(row != CompareTable::picture);
    table_->mark_sorted(row, descending_->isChecked());
    table_->show_columns(columns);
    std::vector<Compared> answered;
    int base = -1;
    for (const Compared& of : columns.shown) {
        if (!of.findings) continue;
        if (of.key() == base_key_) base = static_cast<int>(answered.size());
        answered.push_back(of);
    }
    // The limit that verdicts were made against: by use and zone where the convention names them.
    std::optional<double> limit;
    if (base >= 0) limit = limit_judged(*answered[static_cast<std::size_t>(base)].findings);
    for (std::size_t i = 0; i < answered.size() && !limit; ++i) limit = limit_judged(*answered[i].findings);
    charts_->show_variants(answered, base, limit);
    pictures_->show_variants(answered, base_key_);
    fill_menu();
    tell();
}

void CompareView::fill_menu() {
    variants_menu_->clear();
    for (int i = 0; i < base_->count(); ++i) {
        const QString key = base_->itemData(i).toString();
        auto* action = variants_menu_->addAction(QString(base_->itemText(i)).replace(QLatin1Char('&'), QStringLiteral("&&")));
        action->setCheckable(true);
        action->setChecked(!hidden_.contains(key));
        connect(action, &QAction::toggled, this, [this, key](bool shown) {
            if (shown) hidden_.remove(key);
            else hidden_.insert(key);
            fill();
        }, Qt::QueuedConnection);  // the menu is made anew
    }
    variants_menu_->addSeparator();
    auto* all = variants_menu_->addAction(tr("Show all"));
    all->setEnabled(!hidden_.isEmpty());
    connect(all, &QAction::triggered, this, [this] {
        hidden_.clear();
        fill();
    }, Qt::QueuedConnection);
}

void CompareView::tell() {
    QStringList said;
    if (other_ && !other_->problem().isEmpty()) said << tr("%1 cannot be set beside: %2").arg(other_->name(), other_->problem());
    else if (other_ && other_->busy()) said << (other_->variants().empty() ? tr("%1 is being read…").arg(other_->name()) : tr("%1: %2 of %3 variants worked out…").arg(other_->name()).arg(other_->worked_out()).arg(other_->variants().size()));
    else if (other_) said << tr("%1 stands beside, and is only read.").arg(other_->name());
    const int hidden = static_cast<int>(std::count_if(variants_.begin(), variants_.end(), [&](const Compared& of) { return hidden_.contains(of.key()); }));
    if (hidden > 0) said << (hidden == 1 ? tr("1 variant is not shown.") : tr("%1 variants are not shown.").arg(hidden));
    told_->setText(said.join(QLatin1Char(' ')));
    told_->setVisible(!said.isEmpty());
    stop_->setVisible(other_ && other_->busy());
    away_->setEnabled(other_ != nullptr);
}

}  // namespace wallfoot

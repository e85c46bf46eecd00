// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/grid_dialog.hpp"

#include <QApplication>
#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPointer>
#include <QPushButton>
#include <QScreen>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr int count_after = 150;  // ms; edits collapse before it is counted again
const QString by_place = QStringLiteral("by-place");

std::vector<std::string> ticked(const QListWidget& list) {
    std::vector<std::string> ids;
    for (int row = 0; row < list.count(); ++row)
        if (list.item(row)->checkState() == Qt::Checked) ids.push_back(list.item(row)->data(Qt::UserRole).toString().toStdString());
    return ids;
}

void add_tick(QListWidget& list, const QString& text, const QString& id, bool on) {
    auto* item = new QListWidgetItem(text, &list);
    item->setData(Qt::UserRole, id);
    item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsUserCheckable | Qt::ItemIsSelectable);
    item->setCheckState(on ? Qt::Checked : Qt::Unchecked);
}

}  // namespace

GridDialog::GridDialog(std::shared_ptr<const Study> study, std::size_t active, const QString& piece, QWidget* parent) : QDialog(parent), study_(std::move(study)) {
    setWindowTitle(tr("Grid of variants"));
    pool_.setMaxThreadCount(1);
    due_ = new QTimer(this);
    due_->setSingleShot(true);
    due_->setInterval(count_after);
    connect(due_, &QTimer::timeout, this, &GridDialog::ask);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("Makes a variant of every combination of what is ticked. Where nothing is ticked, it stays as it is. Site faults of a starter detail are variants of their own: tick them to begin from."), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    auto* grid = new QGridLayout;
    variants_ = add_list(*grid, 0, 0, tr("&Begin from"), tr("Variants that are there; they stay as they are."));
    pieces_ = add_list(*grid, 0, 1, tr("&Pieces that change"), tr("What block, moisture condition and courses speak of."));
    blocks_ = add_list(*grid, 0, 2, tr("B&locks for them"), tr("Materials of the study."));
    conditions_ = add_list(*grid, 2, 0, tr("&Moisture conditions"), tr("A condition that a block does not declare is worked out from the next drier one, and marked so in the findings."));
    names_ = new QListWidget(this);
    names_->setAccessibleName(tr("Names of the variants to be made"));
    names_->setSelectionMode(QAbstractItemView::NoSelection);
    names_->setFocusPolicy(Qt::NoFocus);
    auto* courses = new QGridLayout;
    courses_ = new QLineEdit(this);
    courses_->setPlaceholderText(tr("whole pieces"));
    courses_->setToolTip(tr("How many courses become the block, several numbers with a blank between: 0 1 2 3. Empty: the whole pieces do."));
    height_ = new QLineEdit(QStringLiteral("225"), this);
    height_->setToolTip(tr("Where a piece shows no courses of its own."));
    from_ = new QComboBox(this);
    from_->addItems({tr("from the top down"), tr("from the foot up")});
    int row = 0;
    for (const auto& [text, field] : {std::pair<QString, QWidget*>(tr("&Courses of the block"), courses_), {tr("Counted"), from_}, {tr("Course &height, mm"), height_}}) {
        auto* label = new QLabel(text, this);
        label->setBuddy(field);
        field->setAccessibleName(QString(text).remove(QLatin1Char('&')));
        courses->addWidget(label, row, 0);
        courses->addWidget(field, row++, 1);
    }
    courses->setRowStretch(row, 1);
    grid->addLayout(courses, 3, 1);
    grid->addWidget(new QLabel(tr("They will be called"), this), 2, 2);
    grid->addWidget(names_, 3, 2);
    for (int column = 0; column < 3; ++column) grid->setColumnStretch(column, column == 2 ? 4 : 3);
    rows->addLayout(grid, 1);
    pairs_ = new QCheckBox(tr("Begin from every &two of the ticked ones together as well, such as two site faults at once"), this);
    pairs_->setToolTip(tr("Takes what both have otherwise than the first variant. Where both change the same thing, the pair is left out."));
    rows->addWidget(pairs_);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setMinimumHeight(2 * fontMetrics().lineSpacing());
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    ok_ = buttons->button(QDialogButtonBox::Ok);
    ok_->setText(tr("Make them"));
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &GridDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    fill(active, piece);
    for (QListWidget* list : {variants_, pieces_, blocks_, conditions_}) connect(list, &QListWidget::itemChanged, this, &GridDialog::changed);
    for (QLineEdit* edit : {courses_, height_}) connect(edit, &QLineEdit::textChanged, this, &GridDialog::changed);
    connect(from_, &QComboBox::currentIndexChanged, this, &GridDialog::changed);
    connect(pairs_, &QCheckBox::toggled, this, &GridDialog::changed);
    const int em = fontMetrics().horizontalAdvance(QLatin1Char('M'));
    const QSize room = screen() ? screen()->availableGeometry().size() - QSize(2 * em, 4 * fontMetrics().height()) : QSize(10'000, 10'000);
    resize(std::min(room.width(), 78 * em), std::min(room.height(), fontMetrics().height() * 34));
    changed();
}

GridDialog::~GridDialog() {
    pool_.clear();
    pool_.waitForDone();
}

QListWidget* GridDialog::add_list(QGridLayout& grid, int row, int column, const QString& title, const QString& tip) {
    auto* label = new QLabel(title, this);
    auto* list = new QListWidget(this);
    list->setAccessibleName(QString(title).remove(QLatin1Char('&')));
    list->setToolTip(tip);
    label->setBuddy(list);
    grid.addWidget(label, row, column);
    grid.addWidget(list, row + 1, column);
    return list;
}

void GridDialog::fill(std::size_t active, const QString& piece) {
    for (std::size_t v = 0; v < study_->variants.size(); ++v) {
        const Variant& variant = study_->variants[v];
        add_tick(*variants_, words(variant.name.empty() ? variant.id : variant.name), words(variant.id), v == active);
    }
    // Masonry and concrete first: it is blocks that are asked about.
    const auto is_block = [&](const Material* material) { return material && (material->kind == MaterialKind::masonry || material->kind == MaterialKind::concrete); };
    for (const bool block : {true, false})
        for (const Piece& of : study_->variants[active].section->pieces)
            if (of.fill == Fill::material && is_block(study_->find_material(of.filled_with)) == block) add_tick(*pieces_, words(shown_name(of)), words(of.id), words(of.id) == piece);
    for (const bool block : {true, false})
        for (const Material& material : study_->materials)
            if (is_block(&material) == block) add_tick(*blocks_, words(shown_name(material)), words(material.id), false);
    add_tick(*conditions_, tr("by place (auto)"), by_place, false);
    for (const auto& [condition, word] : condition_words) add_tick(*conditions_, name_of(condition), words(std::string(word)), false);
}

GridChoices GridDialog::choices(QString& problem) const {
    GridChoices choices;
    choices.variants = ticked(*variants_);
    // The first one is what the others differ from: it adds nothing to a pair.
    std::vector<std::string> paired = choices.variants;
    std::erase(paired, study_->variants.front().id);
    if (pairs_->isChecked() && paired.size() < 2) problem = tr("A pair needs two ticked variants beside the first one, \"%1\".").arg(words(study_->variants.front().name));
    for (std::size_t i = 0; pairs_->isChecked() && i < paired.size(); ++i)
        for (std::size_t k = i + 1; k < paired.size(); ++k) choices.pairs.emplace_back(paired[i], paired[k]);
    choices.pieces = ticked(*pieces_);
    choices.blocks = ticked(*blocks_);
    for (const std::string& word : ticked(*conditions_)) {
        if (words(word) == by_place) choices.conditions.emplace_back();
        for (const auto& [condition, known] : condition_words)
            if (known == word) choices.conditions.emplace_back(condition);
    }
    for (const QString& text : courses_->text().split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        const Entry entry = parse_number(text.toStdString());
        if (!entry || *entry.value < 0 || *entry.value > 1000 || *entry.value != std::floor(*entry.value)) problem = tr("\"%1\" is no number of courses. Type whole numbers with a blank between, such as 0 1 2.").arg(text);
        else if (std::find(choices.courses.begin(), choices.courses.end(), static_cast<int>(*entry.value)) == choices.courses.end()) choices.courses.push_back(static_cast<int>(*entry.value));
    }
    const Entry height = parse_length(height_->text().trimmed().toStdString());
    if (!height) problem = sentence(height.problem);
    else choices.course_height = from_mm(*height.value);
    choices.from_top = from_->currentIndex() == 0;
    return choices;
}

void GridDialog::changed() {
    busy_ = true;
    ++asked_;
    grid_.reset();
    ok_->setEnabled(false);
    due_->start();
}

void GridDialog::ask() {
    QString problem;
    const GridChoices wanted = choices(problem);
    if (!problem.isEmpty()) return show_grid(nullptr, 0, problem);
    pool_.start([study = study_, wanted, asked = asked_, self = QPointer(this)] {
        std::shared_ptr<const Grid> grid;
        QString why;
        try {
            grid = std::make_shared<const Grid>(make_grid(*study, wanted));
        } catch (const InputFault& fault) {
            why = sentence(fault.faults());
        } catch (const std::exception& failure) {
            why = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, asked, grid, why, combinations = grid_combinations(wanted)] {
            if (self && self->asked_ == asked) self->show_grid(grid, combinations, why);
        });
    });
}

void GridDialog::show_grid(std::shared_ptr<const Grid> grid, std::size_t combinations, const QString& problem) {
    busy_ = false;
    grid_ = std::move(grid);
    names_->clear();
    if (!grid_) {
        told_->setText(problem);
    } else {
        for (const std::string& name : grid_->made) names_->addItem(words(name));
        QString text = tr("%n variant(s) will be made, one act of undo takes them back.", nullptr, static_cast<int>(grid_->made.size()));
        if (grid_->alike > 0) text += QLatin1Char(' ') + tr("Of %1 combinations %2 are left out: the same drawing as another variant.").arg(combinations).arg(grid_->alike);
        if (!grid_->apart.empty()) text += QLatin1Char('\n') + sentence(grid_->apart);
        told_->setText(text);
    }
    ok_->setEnabled(grid_ && !grid_->made.empty());
}

void GridDialog::accept() {
    if (grid_ && !grid_->made.empty()) QDialog::accept();
}

}  // namespace wallfoot

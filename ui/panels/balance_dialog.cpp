// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/balance_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <array>

#include "core/text/number_entry.hpp"
#include "solver/findings/balance.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum LossColumn { loss_name, loss_to, loss_kind, loss_first, loss_second, loss_third, loss_result, loss_columns };

/// A way to state a loss: its fields, in the order of the columns of numbers.
struct LossKind {
    const char* name;
    std::array<std::optional<double> BalanceLoss::*, 3> fields;
    std::array<const char*, 3> labels;
};
const std::array<LossKind, 4> loss_kinds{{
    {QT_TRANSLATE_NOOP("BalanceDialog", "area and U"), {&BalanceLoss::area, &BalanceLoss::U, nullptr}, {"m²", "W/(m²·K)", ""}},
    {QT_TRANSLATE_NOOP("BalanceDialog", "air change"), {&BalanceLoss::volume, &BalanceLoss::air_change, nullptr}, {"m³", "1/h", ""}},
    {QT_TRANSLATE_NOOP("BalanceDialog", "openings and wind"), {&BalanceLoss::openings, &BalanceLoss::wind, &BalanceLoss::shelter}, {"m²", "m/s", QT_TRANSLATE_NOOP("BalanceDialog", "shelter")}},
    {QT_TRANSLATE_NOOP("BalanceDialog", "known"), {&BalanceLoss::coefficient, nullptr, nullptr}, {"W/K", "", ""}},
}};

std::size_t kind_of(const BalanceLoss& loss) {
    for (std::size_t i = 0; i < loss_kinds.size(); ++i)
        if (loss.*loss_kinds[i].fields[0]) return i;
    return 0;
}

QComboBox* combo_at(QTableWidget* table, int row, int column) { return qobject_cast<QComboBox*>(table->cellWidget(row, column)); }

}  // namespace

BalanceDialog::BalanceDialog(const Section& section, const std::string& space_id, QWidget* parent) : QDialog(parent), section_(section), space_id_(space_id) {
    setWindowTitle(tr("Temperature by a balance"));
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("The temperature of an unheated space follows from what reaches it through this section, over the length of the junction, and what it exchanges elsewhere. State the rest of its losses for the whole space."), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    auto* form = new QFormLayout;
    length_ = new QLineEdit(this);
    length_->setPlaceholderText(tr("along the space"));
    gains_ = new QLineEdit(QStringLiteral("0"), this);
    form->addRow(tr("&Length of the junction, m"), length_);
    form->addRow(tr("&Heat sources in it, W"), gains_);
    rows->addLayout(form);
    table_ = new QTableWidget(0, loss_columns, this);
    table_->setAccessibleName(tr("Losses"));
    table_->setHorizontalHeaderLabels({tr("What"), tr("To"), tr("Stated by"), tr("first"), tr("second"), tr("third"), tr("W/K")});
    table_->verticalHeader()->hide();
    table_->horizontalHeader()->setSectionResizeMode(loss_name, QHeaderView::Stretch);
    table_->setMinimumHeight(fontMetrics().height() * 9);
    rows->addWidget(table_);
    auto* line = new QHBoxLayout;
    auto* add = new QPushButton(tr("&Add a loss"), this);
    auto* remove = new QPushButton(tr("&Remove the marked one"), this);
    for (auto* button : {add, remove}) {
        button->setAutoDefault(false);
        line->addWidget(button);
    }
    line->addStretch(1);
    rows->addLayout(line);
    problem_ = new QLabel(this);
    problem_->setObjectName(QStringLiteral("problem"));
    problem_->setWordWrap(true);
    rows->addWidget(problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    rows->addWidget(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(add, &QPushButton::clicked, this, [this] { add_loss({}); });
    connect(remove, &QPushButton::clicked, this, [this] {
        if (table_->currentRow() >= 0) table_->removeRow(table_->currentRow());
        refresh();
    });
    connect(length_, &QLineEdit::textChanged, this, &BalanceDialog::refresh);
    connect(gains_, &QLineEdit::textChanged, this, &BalanceDialog::refresh);
    connect(table_, &QTableWidget::cellChanged, this, &BalanceDialog::refresh);
    const Space* space = nullptr;
    for (const Space& each : section.spaces)
        if (each.id == space_id) space = &each;
    if (space && space->balance) {
        std::vector<std::string> ids;
        for (const Space& each : section.spaces) ids.push_back(each.id);
        try {
            const SpaceBalance before = read_space_balance(*space->balance, "", ids);
            length_->setText(words(number_text(before.length)));
            gains_->setText(words(number_text(before.gains)));
            for (const BalanceLoss& loss : before.losses) add_loss(loss);
        } catch (const InputFault&) {
            // What cannot be used is entered anew.
        }
    }
    length_->setFocus();
    setMinimumWidth(fontMetrics().averageCharWidth() * 112);
    refresh();
}

void BalanceDialog::add_loss(const BalanceLoss& loss) {
    filling_ = true;
    const int row = table_->rowCount();
    table_->insertRow(row);
    table_->setItem(row, loss_name, new QTableWidgetItem(words(loss.name)));
    auto* to = new QComboBox(table_);
    int outside = -1;
    for (std::size_t i = 0; i < section_.spaces.size(); ++i) {
        if (section_.spaces[i].id == space_id_) continue;
        to->addItem(space_label(section_, static_cast<int>(i)), words(section_.spaces[i].id));
        if (outside < 0 && section_.spaces[i].kind == SpaceKind::outside) outside = to->count() - 1;
    }
    to->setCurrentIndex(loss.to.empty() ? std::max(outside, to->count() > 0 ? 0 : -1) : to->findData(words(loss.to)));
    auto* kind = new QComboBox(table_);
    for (const LossKind& each : loss_kinds) kind->addItem(tr(each.name));
    kind->setCurrentIndex(static_cast<int>(kind_of(loss)));
    table_->setCellWidget(row, loss_to, to);
    table_->setCellWidget(row, loss_kind, kind);
    for (std::size_t i = 0; i < 3; ++i) {
        const auto field = loss_kinds[kind_of(loss)].fields[i];
        auto* item = new QTableWidgetItem(field && loss.*field ? words(number_text(*(loss.*field), 6)) : QString());
        item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        table_->setItem(row, loss_first + static_cast<int>(i), item);
    }
    auto* result = new QTableWidgetItem;
    result->setFlags(Qt::ItemIsEnabled);
    result->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
    table_->setItem(row, loss_result, result);
    connect(kind, &QComboBox::currentIndexChanged, this, &BalanceDialog::refresh);
    connect(to, &QComboBox::currentIndexChanged, this, &BalanceDialog::refresh);
    table_->resizeColumnsToContents();
    filling_ = false;
    refresh();
}

/// What the numbers of a row are, shown where they are still missing.
void BalanceDialog::label_numbers(int row) {
    const LossKind& kind = loss_kinds[static_cast<std::size_t>(combo_at(table_, row, loss_kind)->currentIndex())];
    for (std::size_t i = 0; i < 3; ++i) {
        QTableWidgetItem* item = table_->item(row, loss_first + static_cast<int>(i));
        item->setFlags(kind.fields[i] ? Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsEditable : Qt::NoItemFlags);
        item->setToolTip(kind.fields[i] ? tr(kind.labels[i]) : QString());
        if (!kind.fields[i]) item->setText(QString());
    }
}

void BalanceDialog::refresh() {
    if (filling_ || !buttons_) return;
    filling_ = true;
    QString problem;
    const auto complain = [&](const QString& text) {
        if (problem.isEmpty()) problem = text;
    };
    entered_ = {};
    if (const Entry length = parse_number(length_->text().trimmed().toStdString()); length && *length.value > 0 && *length.value <= 10'000) entered_.length = *length.value;
    else complain(tr("State the length of the junction along the space, in m."));
    if (const Entry gains = parse_number(gains_->text().trimmed().toStdString())) entered_.gains = *gains.value;
    else complain(tr("The heat sources should be a number in W, 0 where there are none."));
    for (int row = 0; row < table_->rowCount(); ++row) {
        label_numbers(row);
        const LossKind& kind = loss_kinds[static_cast<std::size_t>(combo_at(table_, row, loss_kind)->currentIndex())];
        BalanceLoss loss;
        loss.name = table_->item(row, loss_name)->text().trimmed().toStdString();
        loss.to = combo_at(table_, row, loss_to)->currentData().toString().toStdString();
        QStringList missing;
        if (loss.to.empty()) missing << tr("where it goes");
        for (std::size_t i = 0; i < 3; ++i) {
            if (!kind.fields[i]) continue;
            const Entry entry = parse_number(table_->item(row, loss_first + static_cast<int>(i))->text().trimmed().toStdString());
            if (entry && *entry.value >= 0) loss.*kind.fields[i] = *entry.value;
            else missing << tr(kind.labels[i]);
        }
        if (!missing.isEmpty()) complain(tr("Loss %1: state %2.").arg(row + 1).arg(missing.join(QStringLiteral(", "))));
        table_->item(row, loss_result)->setText(missing.isEmpty() ? words(number_text(loss.watts_per_kelvin(), 3)) : QString());
        entered_.losses.push_back(std::move(loss));
    }
    filling_ = false;
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot

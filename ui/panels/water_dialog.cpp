// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/water_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr std::optional<bool> Water::* statements[] = {&Water::soil, &Water::rain, &Water::cavity_foot, &Water::standing};

}  // namespace

WaterDialog::WaterDialog(const Section& section, QWidget* parent) : QDialog(parent), before_(section.water.value_or(Water{})) {
    setWindowTitle(tr("Water at the foot"));
    for (const auto& y : {section.ground.both, section.ground.left, section.ground.right})
        if (y) ground_ = std::max(ground_.value_or(*y), *y);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("State where water comes from at this section. What is not stated is taken as there, except water that stands; the water's way, the moisture conditions set to auto and the rules follow from it."), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    auto* grid = new QGridLayout;
    const QString names[] = {tr("From the &soil"), tr("Driving &rain on outside faces"), tr("Foot of the &cavity"), tr("Standing &water, up to the ground")};
    const QString tips[] = {tr("Soil is wet and wets what touches it, unless a membrane lies between."), tr("Rain wets faces to the outside above the ground."),
                            tr("Rain that runs down in a cavity stands on its floor."), tr("Everything below the ground is wet, on either side of any membrane.")};
    for (std::size_t i = 0; i < choices_.size(); ++i) {
        auto* label = new QLabel(names[i], this);
        QComboBox* choice = choices_[i] = new QComboBox(this);
        choice->addItems({statements[i] == &Water::standing ? tr("not stated: taken as none") : tr("not stated: taken as there"), tr("there is"), tr("there is none")});
        const std::optional<bool> stated = before_.*statements[i];
        choice->setCurrentIndex(!stated ? 0 : *stated ? 1 : 2);
        choice->setAccessibleName(QString(names[i]).remove(QLatin1Char('&')));
        for (QWidget* widget : {static_cast<QWidget*>(label), static_cast<QWidget*>(choice)}) widget->setToolTip(tips[i]);
        label->setBuddy(choice);
        grid->addWidget(label, static_cast<int>(i), 0);
        grid->addWidget(choice, static_cast<int>(i), 1);
        connect(choice, &QComboBox::currentIndexChanged, this, &WaterDialog::refresh);
    }
    auto* label = new QLabel(tr("Water &level, mm"), this);
    level_ = new QLineEdit(before_.water_level ? words(number_text(to_mm(*before_.water_level))) : QString(), this);
    level_->setPlaceholderText(tr("not known"));
    level_->setAccessibleName(tr("Water level in mm"));
    level_->setToolTip(tr("Height on the drawing up to which ground water stands. Below it everything is wet, and no membrane counts."));
    label->setToolTip(level_->toolTip());
    label->setBuddy(level_);
    grid->addWidget(label, grid->rowCount(), 0);
    grid->addWidget(level_, grid->rowCount() - 1, 1);
    grid->setColumnStretch(1, 1);
    rows->addLayout(grid);
    problem_ = new QLabel(this);
    problem_->setObjectName(QStringLiteral("problem"));
    problem_->setWordWrap(true);
    rows->addWidget(problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    rows->addWidget(buttons_);
    connect(level_, &QLineEdit::textChanged, this, &WaterDialog::refresh);
    choices_.front()->setFocus();
    setMinimumWidth(fontMetrics().averageCharWidth() * 76);
    refresh();
}

Water WaterDialog::water() const {
    Water water = before_;
    for (std::size_t i = 0; i < choices_.size(); ++i) {
        const int chosen = choices_[i]->currentIndex();
        water.*statements[i] = chosen == 0 ? std::nullopt : std::optional(chosen == 1);
    }
    water.water_level.reset();
    if (const Entry level = parse_length(level_->text().trimmed().toStdString()); level) water.water_level = from_mm(*level.value);
    return water;
}

/// What is wrong keeps the dialog; what is odd is only said.
void WaterDialog::refresh() {
    QString problem, remark;
    if (const std::string text = level_->text().trimmed().toStdString(); !text.empty()) {
        if (const Entry entry = parse_length(text); !entry) problem = sentence(entry.problem);
        else if (choices_[3]->currentIndex() == 2 && ground_ && from_mm(*entry.value) >= *ground_) remark = sentence("water-level-above-ground");
    } else if (choices_[3]->currentIndex() == 1 && !ground_) {
        remark = sentence("water-standing-without-ground");
    }
    problem_->setText(problem.isEmpty() ? remark : problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot

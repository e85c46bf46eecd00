// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/mix_table.hpp"

#include <QComboBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "core/study/names.hpp"
#include "core/text/number_entry.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum MixColumn { mix_part, mix_share, mix_columns };

}  // namespace

MixTable::MixTable(const std::vector<MixEntry>& begin, std::vector<Material> others, QWidget* parent) : QWidget(parent), others_(std::move(others)) {
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(0, 0, 0, 0);
    auto* about = new QLabel(tr("For a layer that is no one material, such as insulation between studs. The layer then conducts as the parts do side by side, worked out with the other layers of its wall or floor (ISO 6946). Parts are materials of the study with a conductivity of their own."), this);
    about->setWordWrap(true);
    rows->addWidget(about);
    table_ = new QTableWidget(0, mix_columns, this);
    table_->setAccessibleName(tr("Parts"));
    table_->setHorizontalHeaderLabels({tr("Part"), tr("Share of the area, %")});
    table_->horizontalHeader()->setSectionResizeMode(mix_part, QHeaderView::Stretch);
    table_->horizontalHeader()->setSectionResizeMode(mix_share, QHeaderView::ResizeToContents);
    table_->setTabKeyNavigation(false);
    table_->setMinimumHeight(fontMetrics().height() * 7);
    rows->addWidget(table_, 1);
    auto* line = new QHBoxLayout;
    auto* add = new QPushButton(tr("&Add a part"), this);
    auto* remove = new QPushButton(tr("Re&move the part"), this);
    add->setEnabled(possible());
    for (QPushButton* button : {add, remove}) {
        button->setAutoDefault(false);
        line->addWidget(button);
    }
    sum_ = new QLabel(this);
    line->addStretch();
    line->addWidget(sum_);
    rows->addLayout(line);
    fault_ = new QLabel(this);
    fault_->setObjectName(QStringLiteral("fault.mix"));
    fault_->setWordWrap(true);
    QPalette red = fault_->palette();
    red.setColor(QPalette::WindowText, (palette().color(QPalette::Base).lightness() < 128 ? SheetColours::dark() : SheetColours::light()).fault);
    fault_->setPalette(red);
    rows->addWidget(fault_);
    connect(table_, &QTableWidget::cellChanged, this, [this] {
        if (!filling_) emit changed();
    });
    connect(add, &QPushButton::clicked, this, [this] {
        add_part({});
        emit changed();
        table_->setCurrentCell(table_->rowCount() - 1, mix_part);
    });
    connect(remove, &QPushButton::clicked, this, [this] {
        const int row = table_->currentRow() >= 0 ? table_->currentRow() : table_->rowCount() - 1;
        if (row < 0) return;
        table_->removeRow(row);
        emit changed();
    });
    for (const MixEntry& part : begin) add_part(part);
    if (begin.empty() && possible())
        for (int i = 0; i < 2; ++i) add_part({});
}

void MixTable::add_part(const MixEntry& part) {
    filling_ = true;
    const int row = table_->rowCount();
    table_->insertRow(row);
    auto* list = new QComboBox(table_);
    list->setAccessibleName(tr("Part"));
    list->setPlaceholderText(tr("choose"));
    for (const Material& material : others_) list->addItem(words(shown_name(material)), words(material.id));
    if (!part.material.empty() && list->findData(words(part.material)) < 0) list->addItem(words(part.material), words(part.material));
    list->setCurrentIndex(part.material.empty() ? -1 : list->findData(words(part.material)));
    table_->setCellWidget(row, mix_part, list);
    connect(list, &QComboBox::currentIndexChanged, this, &MixTable::changed);
    auto* share = new QTableWidgetItem(words(part.share));
    share->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
    table_->setItem(row, mix_share, share);
    filling_ = false;
}

QComboBox& MixTable::part(int row) { return *qobject_cast<QComboBox*>(table_->cellWidget(row, mix_part)); }

std::vector<MixEntry> MixTable::parts() const {
    std::vector<MixEntry> parts;
    for (int row = 0; row < table_->rowCount(); ++row) {
        const auto* list = qobject_cast<QComboBox*>(table_->cellWidget(row, mix_part));
        const auto* share = table_->item(row, mix_share);
        parts.push_back({list ? list->currentData().toString().toStdString() : std::string(), share ? share->text().trimmed().toStdString() : std::string()});
    }
    return parts;
}

void MixTable::tell(const std::vector<Message>& faults) {
    double sum = 0;
    for (const MixEntry& part : parts())
        if (const Entry entry = parse_number(part.share)) sum += *entry.value;
    sum_->setText(tr("Together %1 %").arg(words(number_text(sum, 4))));
    const auto first = std::find_if(faults.begin(), faults.end(), [](const Message& fault) { return fault.pointer.starts_with("/mix"); });
    QString text;
    if (first != faults.end()) {
        const QString row = words(first->pointer).section(QLatin1Char('/'), 2, 2);
        text = row.isEmpty() ? sentence(*first) : tr("Row %1: %2").arg(row.toInt() + 1).arg(sentence(*first));
    }
    fault_->setText(text);
    fault_->setVisible(!text.isEmpty());
    const QColor red = fault_->palette().color(QPalette::WindowText);
    filling_ = true;
    for (int row = 0; row < table_->rowCount(); ++row) {
        const std::string at = std::string("/mix/") + std::to_string(row) + "/fraction";
        const bool wrong = std::any_of(faults.begin(), faults.end(), [&](const Message& fault) { return fault.pointer == at; });
        if (auto* share = table_->item(row, mix_share)) share->setForeground(wrong ? red : palette().color(QPalette::Text));
    }
    filling_ = false;
}

}  // namespace wallfoot

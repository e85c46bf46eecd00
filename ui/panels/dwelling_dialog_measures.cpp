// SPDX-License-Identifier: GPL-3.0-or-later
#include <QDir>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QLocale>
#include <QMessageBox>
#include <QPushButton>
#include <QTableWidget>
#include <QTimer>
#include <QVBoxLayout>

#include "core/dwelling/dwelling_file.hpp"
#include "core/file/study_file.hpp"
#include "core/text/number_entry.hpp"
#include "solver/dwelling/dwelling_print.hpp"
#include "ui/panels/dwelling_dialog.hpp"
#include "ui/panels/dwelling_table.hpp"
#include "ui/panels/measure_dialog.hpp"
#include "ui/panels/words.hpp"

// Measures of the dwelling, and the copy of what is not saved.
namespace wallfoot {

namespace {

enum MeasureColumn { measure_name, measure_row, measure_saves, measure_column_count };

std::vector<std::pair<QString, QString>> variants_in(const QString& path) {
    std::vector<std::pair<QString, QString>> found;
    try {
        for (const Variant& variant : load_study(path.toStdString()).study.variants) found.emplace_back(words(variant.id), words(variant.name.empty() ? variant.id : variant.name));
    } catch (const std::exception&) {
        // The dialog says that there is none to choose from.
    }
    return found;
}

}  // namespace

QWidget* DwellingDialog::make_measures() {
    auto* page = new QWidget(this);
    auto* rows = new QVBoxLayout(page);
    auto* head = new QLabel(tr("What could be done at a row instead, and what it would save in a year: another variant of its study, or a psi from elsewhere. Give its price to see when it is paid back."), page);
    head->setWordWrap(true);
    rows->addWidget(head);
    measures_ = new QTableWidget(0, measure_column_count, page);
    measures_->setAccessibleName(tr("Measures"));
    measures_->setHorizontalHeaderLabels({tr("What is done"), tr("At which row"), tr("What it changes")});
    measures_->horizontalHeader()->setStretchLastSection(true);
    measures_->verticalHeader()->hide();
    measures_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    measures_->setSelectionBehavior(QAbstractItemView::SelectRows);
    measures_->setSelectionMode(QAbstractItemView::SingleSelection);
    measures_->setTabKeyNavigation(false);
    rows->addWidget(measures_, 1);
    auto* buttons = new QHBoxLayout;
    const auto button = [&](const QString& text, const QString& tip) {
        auto* made = new QPushButton(text, page);
        made->setToolTip(tip);
        made->setAutoDefault(false);
        buttons->addWidget(made);
        return made;
    };
    add_measure_ = button(tr("A&dd a measure…"), tr("Weigh another value for a row against the one it has."));
    edit_measure_ = button(tr("Ed&it…"), tr("Change the marked measure."));
    remove_measure_ = button(tr("&Remove"), tr("Take the marked measure out."));
    buttons->addStretch();
    rows->addLayout(buttons);
    const auto marked = [this] { return measures_->currentRow() < 0 ? std::nullopt : std::optional(static_cast<std::size_t>(measures_->currentRow())); };
    connect(add_measure_, &QPushButton::clicked, this, [this] { edit_measure({}); });
    connect(edit_measure_, &QPushButton::clicked, this, [this, marked] {
        if (marked()) edit_measure(marked());
    });
    connect(remove_measure_, &QPushButton::clicked, this, &DwellingDialog::remove_measure);
    connect(measures_, &QTableWidget::cellDoubleClicked, this, [this](int row) { edit_measure(static_cast<std::size_t>(row)); });
    connect(measures_, &QTableWidget::currentCellChanged, this, [this](int row) {
        edit_measure_->setEnabled(row >= 0);
        remove_measure_->setEnabled(row >= 0);
    });
    return page;
}

void DwellingDialog::fill_measures(const Balance& sums) {
    const int before = measures_->currentRow();
    const auto kinds = junction_kinds();
    measures_->setRowCount(static_cast<int>(dwelling().measures.size()));
    for (std::size_t m = 0; m < dwelling().measures.size(); ++m) {
        const DwellingMeasure& of = dwelling().measures[m];
        const Junction* at = dwelling().find_junction(of.junction);
        const auto put = [&](int column, const QString& text) {
            auto* item = new QTableWidgetItem(text);
            item->setToolTip(QStringLiteral("<span>%1</span>").arg(text.toHtmlEscaped()));
            measures_->setItem(static_cast<int>(m), column, item);
        };
        put(measure_name, words(of.name));
        put(measure_row, at ? words(shown_name(*at, kinds)) : words(of.junction));
        put(measure_saves, m < sums.measures.size() ? words(measure_text(dwelling(), sums.measures[m])) : QString());
    }
    measures_->resizeColumnToContents(measure_name);
    measures_->resizeColumnToContents(measure_row);
    measures_->resizeRowsToContents();
    if (before >= 0 && measures_->rowCount() > 0) measures_->setCurrentCell(std::min(before, measures_->rowCount() - 1), 0);
    add_measure_->setEnabled(!dwelling().junctions.empty());
    add_measure_->setToolTip(dwelling().junctions.empty() ? tr("A measure belongs to a row: add one on the page of junctions first.") : tr("Weigh another value for a row against the one it has."));
    edit_measure_->setEnabled(measures_->currentRow() >= 0);
    remove_measure_->setEnabled(measures_->currentRow() >= 0);
}

void DwellingDialog::edit_measure(std::optional<std::size_t> index) {
    if (dwelling().junctions.empty()) return;
    MeasureDialog dialog(dwelling(), index, [this](const std::string& file) { return variants_in(QDir(folder()).absoluteFilePath(words(file))); }, this);
    if (dialog.exec() != QDialog::Accepted) return;
    Dwelling next = dwelling();
    DwellingMeasure made = dialog.measure();
    if (index) keep_newest(made.value, next.measures.at(*index).value);
    if (index) next.measures.at(*index) = made;
    else next.measures.push_back(made);
    if (!change(std::move(next))) return;
    if (const auto* of = std::get_if<FromStudy>(&made.value); of && !of->last) update_values();
}

void DwellingDialog::remove_measure() {
    if (measures_->currentRow() < 0) return;
    Dwelling next = dwelling();
    next.measures.erase(next.measures.begin() + measures_->currentRow());
    change(std::move(next));
}

void DwellingDialog::keep_copy_now() {
    keep_soon_->stop();
    if (dwelling() == saved_) copy_.drop();
    else copy_.keep(QByteArray::fromStdString(write_dwelling(dwelling())), path_);
}

bool DwellingDialog::recover(const QString& copy, const QString& path) {
    try {
        Dwelling read = load_dwelling(copy.toStdString()).dwelling;
        begin({}, path);
        if (!path.isEmpty()) {
            try {
                in_file_ = load_dwelling(path.toStdString()).dwelling;
            } catch (const std::exception&) {
                // It is asked before what is there now is written over.
            }
        }
        history_.front() = read;
        saved_ = in_file_;
        name_->setText(words(dwelling().name));
        envelope_->load(dwelling());
        refresh();
        look();
        keep_copy_now();
        return true;
    } catch (const InputFault& fault) {
        QMessageBox::warning(this, tr("Not opened"), sentence(fault.faults()));
        return false;
    }
}

bool DwellingDialog::offer_left_behind() {
    for (const KeptCopy::Left& left : KeptCopy::left_behind(copies_)) {
        const QString what = left.path.isEmpty() ? tr("a dwelling that was never saved") : tr("\"%1\"").arg(QDir::toNativeSeparators(left.path));
        QMessageBox question(QMessageBox::Question, tr("Unsaved changes"), tr("The program ended before changes to %1 were saved. A copy of %2 is there.").arg(what, QLocale().toString(left.written, QLocale::ShortFormat)), QMessageBox::NoButton, this);
        const auto* open = question.addButton(tr("Open the copy"), QMessageBox::AcceptRole);
        const auto* drop = question.addButton(tr("Throw it away"), QMessageBox::DestructiveRole);
        question.addButton(tr("Later"), QMessageBox::RejectRole);
        question.exec();
        if (question.clickedButton() == open && recover(left.copy, left.path)) {
            copy_.finish();  // its own copy is there before the one left behind goes
            KeptCopy::forget(left);
            return true;
        }
        if (question.clickedButton() == drop) KeptCopy::forget(left);
    }
    return false;
}

}  // namespace wallfoot

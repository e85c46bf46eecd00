// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/commands_dialog.hpp"

#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QKeySequenceEdit>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

#include "ui/commands/keys.hpp"

namespace wallfoot {

namespace {

QString without_mark(const char* text) { return translated(text).remove(QLatin1Char('&')); }
QString name_of(const Command& entry) { return QStringLiteral("%1 › %2").arg(without_mark(entry.menu), without_mark(entry.text)); }

}  // namespace

CommandsDialog::CommandsDialog(QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Commands and keys"));
    auto* layout = new QVBoxLayout(this);
    search_ = new QLineEdit(this);
    search_->setPlaceholderText(tr("Find a command: type a word of it"));
    search_->setAccessibleName(tr("Find a command"));
    search_->setClearButtonEnabled(true);
    search_->installEventFilter(this);
    table_ = new QTableWidget(static_cast<int>(commands().size()), 3, this);
    table_->setAccessibleName(windowTitle());
    table_->setHorizontalHeaderLabels({tr("Command"), tr("Key"), tr("What it does")});
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->setSelectionBehavior(QAbstractItemView::SelectRows);
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    table_->setTabKeyNavigation(false);
    table_->verticalHeader()->hide();
    key_ = new QKeySequenceEdit(this);
    key_->setAccessibleName(tr("Key of the marked command"));
    take_ = new QPushButton(tr("&Give this key"), this);
    auto* reset = new QPushButton(tr("All keys as &delivered"), this);
    for (QPushButton* button : {take_, reset}) button->setAutoDefault(false);
    auto* keys = new QHBoxLayout;
    keys->addWidget(new QLabel(tr("Another key for the marked command:"), this));
    keys->addWidget(key_, 1);
    keys->addWidget(take_);
    keys->addWidget(reset);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    auto* more = new QLabel(tr("On the sheet: the wheel zooms at the cursor; the middle button, or space and dragging, moves the sheet; Esc goes one level back; "
                               "Ctrl or Alt switches snapping off; a double click on an edge of the picked piece makes a corner, on a corner takes it out."), this);
    more->setWordWrap(true);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    do_ = buttons->addButton(tr("D&o it"), QDialogButtonBox::AcceptRole);
    do_->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    layout->addWidget(search_);
    layout->addWidget(table_, 1);
    layout->addLayout(keys);
    layout->addWidget(told_);
    layout->addWidget(more);
    layout->addWidget(buttons);
    // Nothing is cut off: the sentences wrap in what the two short columns leave.
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    table_->horizontalHeader()->setSectionResizeMode(2, QHeaderView::Stretch);
    table_->verticalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    fill();
    connect(search_, &QLineEdit::textChanged, this, &CommandsDialog::find);
    connect(table_, &QTableWidget::currentCellChanged, this, &CommandsDialog::show_marked);
    connect(table_, &QTableWidget::cellDoubleClicked, this, &QDialog::accept);
    connect(take_, &QPushButton::clicked, this, &CommandsDialog::take_key);
    connect(reset, &QPushButton::clicked, this, [this] {
        forget_own_keys();
        fill();
        told_->setText(tr("Every command has the key it was delivered with."));
        emit keys_changed();
    });
    table_->setCurrentCell(0, 0);
    search_->setFocus();
    resize(fontMetrics().averageCharWidth() * 120, fontMetrics().height() * 36);
}

void CommandsDialog::fill() {
    int row = 0;
    for (const Command& entry : commands()) {
        table_->setItem(row, 0, new QTableWidgetItem(name_of(entry)));
        table_->setItem(row, 1, new QTableWidgetItem(key_words(entry)));
        table_->setItem(row++, 2, new QTableWidgetItem(translated(entry.tip)));
    }
}

void CommandsDialog::find() {
    const QStringList sought = search_->text().split(QLatin1Char(' '), Qt::SkipEmptyParts);
    int first = -1;
    for (int row = 0; row < table_->rowCount(); ++row) {
        QString text;
        for (int column = 0; column < table_->columnCount(); ++column) text += table_->item(row, column)->text() + QLatin1Char('\n');
        bool fits = true;
        for (const QString& word : sought) fits = fits && text.contains(word, Qt::CaseInsensitive);
        table_->setRowHidden(row, !fits);
        if (fits && first < 0) first = row;
    }
    table_->setCurrentCell(first, 0);
    told_->setText(first < 0 ? tr("No command has these words.") : QString());
}

int CommandsDialog::marked() const {
    const int row = table_->currentRow();
    return row >= 0 && !table_->isRowHidden(row) ? row : -1;
}

void CommandsDialog::show_marked() {
    const int row = marked();
    take_->setEnabled(row >= 0);
    do_->setEnabled(row >= 0);
    if (row < 0) return key_->clear();
    const auto keys = keys_of(commands()[static_cast<std::size_t>(row)]);
    key_->setKeySequence(keys.isEmpty() ? QKeySequence() : keys.first());
}

void CommandsDialog::take_key() {
    const int row = marked();
    if (row < 0) return;
    const Command& entry = commands()[static_cast<std::size_t>(row)];
    const QKeySequence all = key_->keySequence();
    const QKeySequence key = all.isEmpty() ? all : QKeySequence(all[0]);
    if (const Command* holder = key.isEmpty() ? nullptr : holder_of(key, entry)) {
        told_->setText(tr("%1 is the key of \"%2\". Give that command another key first, or choose a different one here.").arg(key.toString(QKeySequence::NativeText), name_of(*holder)));
        return;
    }
    set_own_key(entry, key);
    fill();
    key_->setKeySequence(key);
    told_->setText(key.isEmpty() ? tr("\"%1\" has no key now.").arg(name_of(entry)) : tr("\"%1\" has the key %2 now.").arg(name_of(entry), key.toString(QKeySequence::NativeText)));
    emit keys_changed();
}

QString CommandsDialog::chosen() const {
    const int row = marked();
    return row < 0 ? QString() : QString::fromLatin1(commands()[static_cast<std::size_t>(row)].id);
}

/// Up and Down in the search field go through the list.
bool CommandsDialog::eventFilter(QObject* object, QEvent* event) {
    if (object != search_ || event->type() != QEvent::KeyPress) return QDialog::eventFilter(object, event);
    const int key = static_cast<QKeyEvent*>(event)->key();
    if (key != Qt::Key_Up && key != Qt::Key_Down) return QDialog::eventFilter(object, event);
    const int by = key == Qt::Key_Up ? -1 : 1;
    for (int row = table_->currentRow() + by; row >= 0 && row < table_->rowCount(); row += by)
        if (!table_->isRowHidden(row)) {
            table_->setCurrentCell(row, 0);
            break;
        }
    return true;
}

}  // namespace wallfoot

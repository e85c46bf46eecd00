// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/errors_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QDialogButtonBox>
#include <QHeaderView>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPointer>
#include <QPushButton>
#include <QScreen>
#include <QTableWidget>
#include <QVBoxLayout>

#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum ErrorColumn { error_where, error_name, error_psi, error_factor, error_columns };

}  // namespace

ErrorsDialog::ErrorsDialog(std::shared_ptr<const Study> study, std::size_t variant, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Usual errors"));
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("What is often drawn or read wrongly: what of it stands in \"%1\", and what the rest would do to it. psi and fRsi with the error less those without; a psi that falls or an fRsi that rises only looks better.").arg(words(study->variants[variant].name)), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    table_ = new QTableWidget(0, error_columns, this);
    table_->setAccessibleName(tr("Usual errors"));
    table_->setHorizontalHeaderLabels({tr("Where"), tr("Error"), tr("psi, W/(m·K)"), tr("fRsi")});
    table_->verticalHeader()->hide();
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->setSelectionBehavior(QAbstractItemView::SelectRows);
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    table_->setTabKeyNavigation(false);
    table_->horizontalHeader()->setSectionResizeMode(error_name, QHeaderView::Stretch);
    table_->setWordWrap(true);
    rows->addWidget(table_, 1);
    why_ = new QLabel(this);
    why_->setWordWrap(true);
    why_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    why_->setMinimumHeight(fontMetrics().lineSpacing() * 3);
    rows->addWidget(why_);
    derived_ = new QPlainTextEdit(this);
    derived_->setReadOnly(true);
    derived_->setTabChangesFocus(true);
    derived_->setAccessibleName(tr("How it was worked out"));
    derived_->setPlaceholderText(tr("How the size of the marked error was worked out"));
    derived_->setFixedHeight(fontMetrics().lineSpacing() * 7);
    rows->addWidget(derived_);
    told_ = new QLabel(tr("Being tried…"), this);
    told_->setWordWrap(true);
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    mend_ = buttons->addButton(tr("&Mend it"), QDialogButtonBox::ActionRole);
    mend_->setToolTip(tr("Changes the drawing so that the marked error is gone; one act, to be taken back with Undo."));
    copy_ = buttons->addButton(tr("Copy as &text"), QDialogButtonBox::ActionRole);
    for (QPushButton* button : {mend_, copy_}) button->setEnabled(false), button->setAutoDefault(false);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(table_, &QTableWidget::currentCellChanged, this, &ErrorsDialog::show_marked);
    connect(copy_, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(words(usual_errors_text(*found_))); });
    connect(mend_, &QPushButton::clicked, this, [this] {
        mended_ = found_->errors[static_cast<std::size_t>(table_->currentRow())].mended;
        accept();
    });
    const QSize room = parent ? parent->screen()->availableSize() * 9 / 10 : QSize(1100, 700);
    resize(QSize(fontMetrics().averageCharWidth() * 120, fontMetrics().height() * 34).boundedTo(room));
    pool_.start([study, variant, context = context_, self = QPointer(this)] {
        std::shared_ptr<const UsualErrors> found;
        QString problem;
        try {
            found = std::make_shared<const UsualErrors>(usual_errors(*study, study->variants[variant], {}, *context));
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            problem = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, found, problem] {
            if (!self) return;
            self->busy_ = false;
            self->found_ = found;
            self->told_->setText(problem);
            self->show_errors();
        });
    });
}

ErrorsDialog::~ErrorsDialog() {
    context_->cancel();
    pool_.waitForDone();
}

void ErrorsDialog::show_errors() {
    if (!found_) return;
    copy_->setEnabled(true);
    table_->setRowCount(static_cast<int>(found_->errors.size()));
    std::size_t present = 0;
    for (std::size_t row = 0; row < found_->errors.size(); ++row) {
        const UsualError& error = found_->errors[row];
        present += error.present;
        const auto put = [&](int column, const QString& text) { table_->setItem(static_cast<int>(row), column, new QTableWidgetItem(text)); };
        put(error_where, error.present ? tr("in this drawing") : tr("would do here"));
        put(error_name, words(error.effect.name));
        put(error_psi, words(psi_change(error.effect)));
        put(error_factor, words(factor_change(error.effect)));
    }
    for (const int column : {int(error_where), int(error_psi), int(error_factor)}) table_->resizeColumnToContents(column);
    table_->resizeRowsToContents();
    told_->setText(present == 0 ? tr("None of them stands in this drawing.") : tr("%n of them stand(s) in this drawing.", nullptr, static_cast<int>(present)));
    if (table_->rowCount() > 0) table_->setCurrentCell(0, 0);
}

void ErrorsDialog::show_marked() {
    const int row = table_->currentRow();
    mend_->setEnabled(false);
    why_->clear();
    derived_->clear();
    if (!found_ || row < 0 || static_cast<std::size_t>(row) >= found_->errors.size()) return;
    const UsualError& error = found_->errors[static_cast<std::size_t>(row)];
    QStringList text{words(error.effect.about)};
    for (const std::string& note : notes_of(error.effect)) text << words(note);
    why_->setText(text.join(QLatin1Char('\n')));
    if (!error.derivation.of.empty()) derived_->setPlainText(derived_words(error.derivation));
    mend_->setEnabled(error.mended.has_value());
}

}  // namespace wallfoot

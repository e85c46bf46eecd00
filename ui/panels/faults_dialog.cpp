// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/faults_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QDialogButtonBox>
#include <QHeaderView>
#include <QLabel>
#include <QPointer>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

#include "solver/findings/site_faults.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

FaultsDialog::FaultsDialog(const Detail& detail, const DetailSettings& settings, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("What site faults cost"));
    auto* rows = new QVBoxLayout(this);
    head_ = new QLabel(words(detail.name), this);
    head_->setWordWrap(true);
    rows->addWidget(head_);
    table_ = new QTableWidget(0, 4, this);
    table_->setAccessibleName(tr("Site faults, the highest rise of psi first"));
    table_->setHorizontalHeaderLabels({tr("Site fault"), tr("psi, W/(m·K)"), tr("fRsi"), tr("Besides")});
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->setWordWrap(true);
    table_->setTabKeyNavigation(false);
    table_->verticalHeader()->hide();
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    table_->horizontalHeader()->setSectionResizeMode(3, QHeaderView::Stretch);
    rows->addWidget(table_, 1);
    told_ = new QLabel(tr("being worked out…"), this);
    told_->setWordWrap(true);
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    copy_ = buttons->addButton(tr("&Copy as text"), QDialogButtonBox::ActionRole);
    copy_->setEnabled(false);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(copy_, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(text_); });
    resize(fontMetrics().horizontalAdvance(QLatin1Char('M')) * 58, fontMetrics().height() * 30);
    pool_.start([detail, settings, context = context_, self = QPointer(this)] {
        std::shared_ptr<const SiteFaults> found;
        QString problem;
        try {
            found = std::make_shared<const SiteFaults>(site_faults(detail, settings, {}, *context));
        } catch (const Cancelled&) {
            return;
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            problem = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, found, problem] {
            if (!self) return;
            self->busy_ = false;
            if (!found) return self->told_->setText(problem);
            self->text_ = words(site_faults_text(*found));
            self->copy_->setEnabled(true);
            self->told_->setText(tr("One fault at a time, all else as set; together they need not add up. psi: more is worse. fRsi: less is colder. Local rules prevail."));
            const Psi* psi = found->meant->headline_psi();
            self->head_->setText(tr("%1, as set: psi %2 W/(m·K)").arg(words(found->detail), psi && psi->value ? words(with_bracket(*psi->value)) : QStringLiteral("–")));
            self->table_->setRowCount(static_cast<int>(found->effects.size()));
            for (int row = 0; row < self->table_->rowCount(); ++row) {
                const FaultEffect& effect = found->effects[static_cast<std::size_t>(row)];
                QStringList notes;
                for (const std::string& note : notes_of(effect)) notes << words(note);
                int column = 0;
                for (const QString& text : {words(effect.name), words(psi_change(effect)), words(factor_change(effect)), notes.join(QLatin1Char('\n'))}) {
                    auto* item = new QTableWidgetItem(text);
                    item->setToolTip(column == 0 ? words(effect.about) : text);
                    self->table_->setItem(row, column++, item);
                }
            }
            self->table_->resizeRowsToContents();
        });
    });
}

FaultsDialog::~FaultsDialog() {
    context_->cancel();
    pool_.waitForDone();
}

}  // namespace wallfoot

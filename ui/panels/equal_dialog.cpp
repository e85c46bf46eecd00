// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/equal_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPointer>
#include <QPushButton>
#include <QScreen>
#include <QVBoxLayout>
#include <algorithm>

#include "core/text/refuse_faults.hpp"
#include "ui/panels/parameter_choice.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

EqualDialog::EqualDialog(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& piece, QWidget* parent) : QDialog(parent), study_(std::move(study)), variant_id_(variant_id) {
    const Variant& variant = *study_->find_variant(variant_id_);
    setWindowTitle(tr("Equal partner"));
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("What would make \"%1\" as good as another variant: every value of one parameter at which both are equal, or that there is none. The study stays as it is.").arg(words(variant.name.empty() ? variant.id : variant.name)), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    auto* form = new QFormLayout;
    target_ = new QComboBox(this);
    target_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    for (const Variant& other : study_->variants)
        if (other.id != variant_id_) target_->addItem(words(other.name.empty() ? other.id : other.name), words(other.id));
    form->addRow(tr("As &good as"), target_);
    by_ = new QComboBox(this);
    by_->addItem(tr("psi"));
    by_->addItem(tr("fRsi"));
    by_->addItem(tr("psi and fRsi, both"));
    form->addRow(tr("&In"), by_);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    rows->addLayout(form);
    choice_ = new ParameterChoice(study_, variant_id_, tr("&By"), ParameterChoice::Offered::numbers, piece, this);
    rows->addWidget(choice_);
    auto* row = new QHBoxLayout;
    start_ = new QPushButton(tr("&Find"), this);
    start_->setDefault(true);
    stop_ = new QPushButton(tr("S&top"), this);
    row->addWidget(start_);
    row->addWidget(stop_);
    row->addStretch(1);
    rows->addLayout(row);
    answer_ = new QPlainTextEdit(this);
    answer_->setReadOnly(true);
    answer_->setTabChangesFocus(true);
    answer_->setAccessibleName(tr("The answer"));
    rows->addWidget(answer_, 1);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    copy_ = buttons->addButton(tr("&Copy as text"), QDialogButtonBox::ActionRole);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(copy_, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(answer_->toPlainText()); });
    connect(start_, &QPushButton::clicked, this, &EqualDialog::run);
    connect(stop_, &QPushButton::clicked, this, [this] {
        if (running_) running_->cancel();
    });
    connect(choice_, &ParameterChoice::changed, this, &EqualDialog::choice_changed);
    for (QComboBox* box : {target_, by_}) connect(box, &QComboBox::currentIndexChanged, this, &EqualDialog::choice_changed);
    const int em = fontMetrics().horizontalAdvance(QLatin1Char('M'));
    const QSize room = screen() ? screen()->availableGeometry().size() - QSize(2 * em, 4 * fontMetrics().height()) : QSize(10'000, 10'000);
    resize(std::min(room.width(), 76 * em), std::min(room.height(), fontMetrics().height() * 30));
    choice_changed();
}

EqualDialog::~EqualDialog() {
    if (running_) running_->cancel();
    pool_.clear();
    pool_.waitForDone();
}

void EqualDialog::choice_changed() {
    if (running_) running_->cancel();
    ++asked_;
    busy_ = false;
    const QString problem = target_->count() == 0 ? tr("There is no other variant to be as good as. Make one first (Ctrl+D).") : choice_->problem();
    answer_->setPlainText(problem);
    start_->setEnabled(problem.isEmpty() && choice_->change());
    stop_->setEnabled(false);
    copy_->setEnabled(false);
}

void EqualDialog::run() {
    const auto change = choice_->change();
    if (busy_ || !change || target_->currentIndex() < 0) return;
    busy_ = true;
    start_->setEnabled(false);
    stop_->setEnabled(true);
    copy_->setEnabled(false);
    answer_->setPlainText(tr("being worked out…"));
    const auto [low, high] = std::minmax_element(change->numbers.begin(), change->numbers.end());
    EqualAsked wanted{*change, *low, *high, {}, std::max(2, static_cast<int>(change->numbers.size()) - 1)};
    if (by_->currentIndex() != 1) wanted.measures.push_back(Measure::psi);
    if (by_->currentIndex() != 0) wanted.measures.push_back(Measure::fRsi);
    running_ = std::make_shared<Context>();
    pool_.start([study = study_, variant_id = variant_id_, wanted, other = target_->currentData().toString().toStdString(), title = choice_->title(), context = running_, asked = ++asked_, self = QPointer(this)] {
        QString text;
        bool found = false;
        try {
            const Variant &variant = *study->find_variant(variant_id), &to = *study->find_variant(other);
            const auto target = wallfoot::find(*study, to, {}, *context);
            refuse_faults(target->messages);
            text = tr("%1 as good as %2, by %3\n").arg(words(variant.name), words(to.name), title) + words(equal_text(wanted.parameter, equal_parameter(*study, variant, wanted, *target, {}, *context)));
            text += QLatin1Char('\n') + tr("What heat does not decide:") + QLatin1Char('\n');
            for (const Message& message : beside_heat(*study, variant, wanted.parameter)) text += QStringLiteral("  ") + sentence(message) + QLatin1Char('\n');
            found = true;
        } catch (const Cancelled&) {
            text = tr("Stopped.");
        } catch (const InputFault& fault) {
            text = sentence(fault.faults());
        } catch (const std::exception& failure) {
            text = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, asked, text, found] {
            if (self && self->asked_ == asked) self->ended(text, found);
        });
    });
}

void EqualDialog::ended(const QString& text, bool found) {
    busy_ = false;
    running_.reset();
    answer_->setPlainText(text);
    start_->setEnabled(true);
    stop_->setEnabled(false);
    copy_->setEnabled(found);
}

}  // namespace wallfoot

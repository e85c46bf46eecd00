// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/records_dialog.hpp"

#include <QDate>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QScreen>
#include <QSplitter>
#include <QTableWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum RecordColumn { record_date, record_author, record_checker, record_revision, record_reason, record_program, record_state, record_columns };
enum FrozenColumn { frozen_variant, frozen_what, frozen_value, frozen_now, frozen_state, frozen_columns };

QTableWidget* plain_table(const QString& name, const QStringList& heads, QWidget* parent) {
    auto* table = new QTableWidget(0, static_cast<int>(heads.size()), parent);
    table->setAccessibleName(name);
    table->setHorizontalHeaderLabels(heads);
    table->verticalHeader()->hide();
    table->horizontalHeader()->setStretchLastSection(true);
    table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table->setSelectionBehavior(QAbstractItemView::SelectRows);
    table->setSelectionMode(QAbstractItemView::SingleSelection);
    table->setTabKeyNavigation(false);
    return table;
}

void put_cell(QTableWidget& table, int row, int column, const QString& text) {
    auto* item = new QTableWidgetItem(text);
    item->setToolTip(QStringLiteral("<span>%1</span>").arg(text.toHtmlEscaped()));
    table.setItem(row, column, item);
}

QString found_again(Recheck state) {
    return state == Recheck::equal ? QObject::tr("equal") : state == Recheck::within_brackets ? QObject::tr("inside the brackets") : QObject::tr("CHANGED");
}

}  // namespace

// ---- issuing -------------------------------------------------------------------------------------------------------

IssueDialog::IssueDialog(std::shared_ptr<const Study> study, QWidget* parent) : QDialog(parent), study_(std::move(study)) {
    setWindowTitle(tr("Issue results"));
    auto* rows = new QVBoxLayout(this);
    auto* about = new QLabel(tr("Freezes the results of all variants in the study, with a full copy of what they rest on. Whoever opens it later can work them out again and sees whether they still hold. They also see when the results, or anything that they rest on, were changed in the record. Names, notes and evidence are not watched, and a record is no signature."), this);
    about->setWordWrap(true);
    rows->addWidget(about);
    auto* form = new QFormLayout;
    const Project project = study_->project.value_or(Project{});
    const auto field = [&](const QString& label, const QString& text) {
        auto* edit = new QLineEdit(text, this);
        QString plain = label;
        edit->setAccessibleName(plain.remove(QLatin1Char('&')));
        form->addRow(label, edit);
        return edit;
    };
    author_ = field(tr("&Issued by"), words(project.author));
    checker_ = field(tr("C&hecked by"), words(project.checker));
    revision_ = field(tr("&Revision"), words(project.revision));
    date_ = field(tr("&Date"), QDate::currentDate().toString(Qt::ISODate));
    reason_ = new QPlainTextEdit(this);
    reason_->setPlaceholderText(tr("What it is issued for, such as “for the building control submission”."));
    reason_->setTabChangesFocus(true);
    reason_->setFixedHeight(fontMetrics().lineSpacing() * 3 + 14);
    form->addRow(tr("Rea&son"), reason_);
    rows->addLayout(form);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setTextFormat(Qt::PlainText);
    rows->addWidget(told_);
    bar_ = new QProgressBar(this);
    bar_->setRange(0, 0);
    bar_->hide();
    rows->addWidget(bar_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel, this);
    issue_ = buttons->addButton(tr("Iss&ue"), QDialogButtonBox::ActionRole);
    stop_ = buttons->addButton(tr("St&op"), QDialogButtonBox::ActionRole);
    stop_->setEnabled(false);
    issue_->setDefault(true);
    stop_->setAutoDefault(false);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(issue_, &QPushButton::clicked, this, &IssueDialog::issue);
    connect(stop_, &QPushButton::clicked, this, [this] {
        if (context_) context_->cancel();
        stop_->setEnabled(false);
    });
    setMinimumWidth(fontMetrics().averageCharWidth() * 76);
}

IssueDialog::~IssueDialog() {
    if (context_) context_->cancel();
}

QString IssueDialog::told() const { return told_->text(); }

void IssueDialog::reject() {
    if (context_) context_->cancel();
    QDialog::reject();
}

void IssueDialog::issue() {
    if (at_work()) return;
    const auto typed = [](const QLineEdit& edit) { return edit.text().trimmed().toStdString(); };
    const Issue issue{typed(*date_), typed(*author_), typed(*checker_), typed(*revision_), reason_->toPlainText().trimmed().toStdString()};
    if (issue.author.empty() || issue.reason.empty()) return told_->setText(tr("Say who issues it, and why."));
    if (!QDate::fromString(words(issue.date), Qt::ISODate).isValid()) return told_->setText(tr("The date is written like 2030-05-31."));
    context_ = std::make_shared<Context>();
    issue_->setEnabled(false);
    stop_->setEnabled(true);
    bar_->show();
    told_->setText(tr("All variants are worked out…"));
    work_.run([this, study = study_, issue, context = context_]() -> Background::Done {
        std::string record;
        QString problem;
        try {
            record = record_of(*study, issue, *context);
            context->check();
        } catch (const Cancelled&) {
            record.clear();
            problem = tr("Stopped; nothing is issued.");
        } catch (const InputFault& fault) {
            problem = tr("Nothing is issued. %1").arg(sentence(fault.faults()));
        } catch (const std::exception& failure) {
            problem = tr("Nothing is issued. %1").arg(words(failure.what()));
        }
        return [this, record, problem] {
            context_.reset();
            bar_->hide();
            issue_->setEnabled(true);
            stop_->setEnabled(false);
            told_->setText(problem);
            if (record.empty() || !isVisible()) return;  // closed meanwhile: not wanted any more
            record_ = record;
            accept();
        };
    });
}

// ---- what was issued -----------------------------------------------------------------------------------------------

RecordsDialog::RecordsDialog(std::shared_ptr<const Study> study, QWidget* parent) : QDialog(parent), study_(std::move(study)), all_(issued_records(*study_)) {
    setWindowTitle(tr("Issued records"));
    auto* rows = new QVBoxLayout(this);
    auto* parts = new QSplitter(Qt::Vertical, this);
    parts->setChildrenCollapsible(false);
    records_ = plain_table(tr("Records"), {tr("Date"), tr("Issued by"), tr("Checked by"), tr("Revision"), tr("Reason"), tr("Version"), tr("State")}, this);
    auto* below = new QWidget(this);
    auto* lines = new QVBoxLayout(below);
    lines->setContentsMargins(0, 0, 0, 0);
    detail_ = new QLabel(this);
    detail_->setWordWrap(true);
    detail_->setTextFormat(Qt::PlainText);
    detail_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    lines->addWidget(detail_);
    findings_ = plain_table(tr("Results as they were issued"), {tr("Variant"), tr("Result"), tr("As issued"), tr("Now"), tr("Worked out again")}, this);
    lines->addWidget(findings_, 1);
    parts->addWidget(records_);
    parts->addWidget(below);
    parts->setStretchFactor(1, 1);
    parts->setSizes({fontMetrics().height() * 8, fontMetrics().height() * 24});
    rows->addWidget(parts, 1);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setTextFormat(Qt::PlainText);
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    check_ = buttons->addButton(tr("Check &again"), QDialogButtonBox::ActionRole);
    check_->setToolTip(tr("Works the marked record out again from its own copy and holds it against what was issued. The study as it is now has no part in it."));
    stop_ = buttons->addButton(tr("St&op"), QDialogButtonBox::ActionRole);
    stop_->setEnabled(false);
    for (QPushButton* button : {check_, stop_}) button->setAutoDefault(false);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(check_, &QPushButton::clicked, this, &RecordsDialog::check_again);
    connect(stop_, &QPushButton::clicked, this, [this] {
        if (context_) context_->cancel();
        stop_->setEnabled(false);
    });
    connect(records_, &QTableWidget::currentCellChanged, this, [this] { show_marked(); });
    records_->setRowCount(static_cast<int>(all_.size()));
    for (std::size_t i = 0; i < all_.size(); ++i) {
        const int row = static_cast<int>(i);
        const Issue& issue = all_[i].issue;
        for (const auto& [column, text] : {std::pair(record_date, &issue.date), {record_author, &issue.author}, {record_checker, &issue.checker}, {record_revision, &issue.revision}, {record_reason, &issue.reason}, {record_program, &all_[i].program}})
            put_cell(*records_, row, column, words(*text));
        show_state(i);
    }
    records_->resizeColumnsToContents();
    records_->setColumnWidth(record_reason, std::min(records_->columnWidth(record_reason), fontMetrics().averageCharWidth() * 36));
    const QSize room = parent ? parent->screen()->availableSize() * 9 / 10 : QSize(1100, 700);
    resize(QSize(fontMetrics().averageCharWidth() * 140, fontMetrics().height() * 36).boundedTo(room));
    if (all_.empty()) told_->setText(tr("No result was issued in this study yet: File › Issue."));
    else records_->setCurrentCell(static_cast<int>(all_.size()) - 1, 0);
    show_marked();
}

RecordsDialog::~RecordsDialog() {
    if (context_) context_->cancel();
}

QString RecordsDialog::told() const { return told_->text(); }

void RecordsDialog::show_state(std::size_t number) {
    const IssuedRecord& record = all_[number];
    QString text = record.whole ? tr("whole") : record.program.empty() ? tr("cannot be read") : tr("ALTERED");
    if (const auto refused = refused_.find(number); refused != refused_.end()) text = tr("cannot be worked out");
    if (const auto checked = checked_.find(number); checked != checked_.end()) {
        const auto& findings = checked->second.findings;
        const bool equal = std::all_of(findings.begin(), findings.end(), [](const RecheckedFinding& of) { return of.state == Recheck::equal; });
        text += QStringLiteral("; ") + (checked->second.holds() ? (equal ? tr("equal") : tr("inside the brackets")) : tr("does not hold"));
    }
    put_cell(*records_, static_cast<int>(number), record_state, text);
}

void RecordsDialog::show_marked() {
    const int row = records_->currentRow();
    const bool marked = row >= 0 && static_cast<std::size_t>(row) < all_.size();
    check_->setEnabled(marked && !context_);
    findings_->setRowCount(0);
    detail_->clear();
    if (!marked) return;
    const auto number = static_cast<std::size_t>(row);
    const IssuedRecord& record = all_[number];
    const auto checked = checked_.find(number);
    QStringList lines{tr("Record %1. Hash: %2").arg(row + 1).arg(record.hash.empty() ? tr("none") : words(record.hash))};
    for (const Message& trouble : record.trouble) lines << sentence(trouble);
    if (const auto refused = refused_.find(number); refused != refused_.end()) lines << refused->second;
    if (checked != checked_.end())
        for (const Message& why : checked->second.why)
            if (std::find(record.trouble.begin(), record.trouble.end(), why) == record.trouble.end()) lines << sentence(why);
    detail_->setText(lines.join(QLatin1Char('\n')));
    // What was worked out again has the same order, and what is new behind it.
    const std::size_t count = std::max(record.findings.size(), checked == checked_.end() ? 0 : checked->second.findings.size());
    findings_->setRowCount(static_cast<int>(count));
    for (std::size_t i = 0; i < count; ++i) {
        const int line = static_cast<int>(i);
        if (i < record.findings.size()) {
            put_cell(*findings_, line, frozen_variant, words(record.findings[i].variant));
            put_cell(*findings_, line, frozen_what, words(record.findings[i].what));
            put_cell(*findings_, line, frozen_value, words(record.findings[i].value));
        }
    }
    if (checked != checked_.end())
        for (const RecheckedFinding& finding : checked->second.findings) {
            // By name: a list that grew shifts those behind it.
            int line = 0;
            while (line < findings_->rowCount() && !(findings_->item(line, frozen_what) && !findings_->item(line, frozen_state) && findings_->item(line, frozen_what)->text() == words(finding.what) && findings_->item(line, frozen_variant)->text() == words(finding.variant))) ++line;
            if (line == findings_->rowCount()) {
                for (line = 0; line < findings_->rowCount() && findings_->item(line, frozen_what);) ++line;
                if (line == findings_->rowCount()) findings_->insertRow(line);
                put_cell(*findings_, line, frozen_variant, words(finding.variant));
                put_cell(*findings_, line, frozen_what, words(finding.what));
                put_cell(*findings_, line, frozen_value, words(finding.then));
            }
            put_cell(*findings_, line, frozen_now, words(finding.now));
            put_cell(*findings_, line, frozen_state, found_again(finding.state));
        }
    findings_->setColumnHidden(frozen_now, checked == checked_.end());
    findings_->setColumnHidden(frozen_state, checked == checked_.end());
    findings_->resizeColumnsToContents();
    for (const int column : {int(frozen_value), int(frozen_what)}) findings_->setColumnWidth(column, std::min(findings_->columnWidth(column), fontMetrics().averageCharWidth() * 52));
}

void RecordsDialog::check_again() {
    const int row = records_->currentRow();
    if (context_ || row < 0 || static_cast<std::size_t>(row) >= all_.size()) return;
    const auto number = static_cast<std::size_t>(row);
    context_ = std::make_shared<Context>();
    check_->setEnabled(false);
    stop_->setEnabled(true);
    told_->setText(tr("Record %1 is worked out again from its own copy…").arg(row + 1));
    work_.run([this, study = study_, number, context = context_]() -> Background::Done {
        std::shared_ptr<const RecheckedRecord> found;
        QString problem;
        bool stopped = false;
        try {
            found = std::make_shared<const RecheckedRecord>(recheck_record(*study, number, *context));
            context->check();
        } catch (const Cancelled&) {
            found.reset();
            stopped = true;
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            problem = words(failure.what());
        }
        return [this, number, found, problem, stopped] {
            context_.reset();
            stop_->setEnabled(false);
            if (found) checked_.insert_or_assign(number, *found);
            if (!problem.isEmpty()) refused_.insert_or_assign(number, problem);
            show_state(number);
            show_marked();
            if (stopped) return told_->setText(tr("Stopped."));
            if (!found) return told_->setText(problem);
            const auto count = [&](Recheck state) { return std::count_if(found->findings.begin(), found->findings.end(), [&](const RecheckedFinding& of) { return of.state == state; }); };
            told_->setText(tr("Record %1: %2 results equal, %3 inside the brackets, %4 changed. %5").arg(number + 1).arg(count(Recheck::equal)).arg(count(Recheck::within_brackets)).arg(count(Recheck::changed)).arg(found->whole ? tr("Nothing that its results rest on was changed after it was issued; names, notes and evidence are not watched.") : tr("The record was ALTERED after it was issued.")));
        };
    });
}

}  // namespace wallfoot

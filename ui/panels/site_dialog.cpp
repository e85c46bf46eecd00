// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/site_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "core/foot/rules.hpp"
#include "core/study/site.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

SiteDialog::SiteDialog(const Study& study, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Site facts"));
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("State what is known, and from where. What is not known is left so: nothing stands for it, and the rules say what hangs on it."), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    auto* grid = new QGridLayout;
    grid->addWidget(new QLabel(tr("Fact"), this), 0, 0);
    grid->addWidget(new QLabel(tr("What is known"), this), 0, 1);
    grid->addWidget(new QLabel(tr("Source"), this), 0, 2);
    for (const SiteFact& fact : site_facts()) {
        const int line = grid->rowCount();
        const std::string key = fact.key;
        const auto known = site_value(study, key);
        Row row{key, nullptr, nullptr, nullptr};
        const QString question = words(site_question(key));
        QString name = words(site_fact_name(key));
        if (*fact.unit) name += QStringLiteral(", %1").arg(QString::fromUtf8(fact.unit));
        auto* label = new QLabel(name, this);
        label->setToolTip(question);
        QWidget* entry = nullptr;
        if (fact.kind == FactKind::number) {
            entry = row.number = new QLineEdit(known ? words(*known) : QString(), this);
            row.number->setPlaceholderText(tr("not known"));
            connect(row.number, &QLineEdit::textChanged, this, &SiteDialog::refresh);
        } else {
            entry = row.choice = new QComboBox(this);
            row.choice->addItem(tr("not known"));
            for (const std::string& word : fact.could_be) row.choice->addItem(words(site_value_text(key, word)), words(word));
            if (known) row.choice->setCurrentIndex(row.choice->findData(words(*known)));
        }
        row.source = new QLineEdit(words(site_source(study, key)), this);  // after its entry: the order of the keyboard
        entry->setAccessibleName(name);
        entry->setToolTip(question);
        row.source->setAccessibleName(tr("Source of %1").arg(name));
        label->setBuddy(entry);
        grid->addWidget(label, line, 0);
        grid->addWidget(entry, line, 1);
        grid->addWidget(row.source, line, 2);
        rows_.push_back(std::move(row));
    }
    grid->setColumnStretch(2, 1);
    rows->addLayout(grid);

    rules_ = new QComboBox(this);
    rules_->setAccessibleName(tr("Rules"));
    try {
        carried_ = study.kept.contains("rule_sets") ? std::optional(used_foot_rules(study).rules.id) : std::nullopt;
    } catch (const InputFault&) {
        // A set that cannot be used is replaced by the one chosen here.
    }
    for (const FootRuleFile& file : foot_rule_files()) rules_->addItem(file.overridden ? tr("%1 (own file)").arg(words(file.id)) : words(file.id), words(file.id));
    if (carried_ && rules_->findData(words(*carried_)) < 0) rules_->addItem(tr("%1 (in the study)").arg(words(*carried_)), words(*carried_));
    rules_->setCurrentIndex(std::max(0, rules_->findData(carried_ ? words(*carried_) : QStringLiteral("foot-general"))));
    auto* rules_row = new QGridLayout;
    auto* rules_label = new QLabel(tr("&Rules; a copy goes into the study"), this);
    rules_label->setBuddy(rules_);
    rules_row->addWidget(rules_label, 0, 0);
    rules_row->addWidget(rules_, 0, 1);
    rules_row->setColumnStretch(1, 1);
    rows->addLayout(rules_row);
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    rows->addWidget(problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    rows->addWidget(buttons_);
    if (rows_.front().choice) rows_.front().choice->setFocus();
    setMinimumWidth(fontMetrics().averageCharWidth() * 110);
    refresh();
}

std::optional<std::string> SiteDialog::value(const Row& row) const {
    const QString text = row.choice ? row.choice->currentData().toString() : row.number->text().trimmed().replace(QLatin1Char(','), QLatin1Char('.'));
    return text.isEmpty() ? std::nullopt : std::optional(text.toStdString());
}

void SiteDialog::refresh() {
    QString problem;
    for (const Row& row : rows_) {
        if (!row.number || !value(row)) continue;
        if (const auto wrong = check_site_fact(row.key, Fact{*value(row), "", {}})) problem = sentence(*wrong);
    }
    if (!problem_) return;
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

Study SiteDialog::applied(const Study& study) const {
    Study changed = study;
    for (const Row& row : rows_) {
        const auto entered = value(row);
        const std::string source = row.source->text().trimmed().toStdString();
        // What the building says already is not said again.
        const bool same = entered == site_value(study, row.key) && (!study.site.contains(row.key) ? source.empty() : source == site_source(study, row.key));
        if (!same) changed = set_site_fact(changed, row.key, entered, source);
    }
    const std::string rules = rules_->currentData().toString().toStdString();
    return rules == carried_ ? changed : carry_foot_rules(changed, rules);
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/rules_panel.hpp"

#include <QHBoxLayout>
#include <QPushButton>
#include <QScrollBar>
#include <QTreeWidget>
#include <QVBoxLayout>

#include "core/study/site.hpp"
#include "ui/panels/words.hpp"
#include "ui/panels/wrapping.hpp"

namespace wallfoot {

namespace {

constexpr int check_role = Qt::UserRole, row_role = Qt::UserRole + 1;
constexpr Verdict worst_first[] = {Verdict::does_not_meet, Verdict::undecided, Verdict::meets, Verdict::not_assessed};

/// Beside the word, so that a verdict is told without colour.
QString symbol(Verdict verdict) {
    switch (verdict) {
        case Verdict::meets: return QStringLiteral("✓");
        case Verdict::does_not_meet: return QStringLiteral("✗");
        case Verdict::undecided: return QStringLiteral("?");
        case Verdict::not_assessed: break;
    }
    return QStringLiteral("–");
}

QTreeWidgetItem* row(QTreeWidgetItem* parent, const QString& text) {
    auto* item = new QTreeWidgetItem(parent, {text});
    item->setToolTip(0, text);
    return item;
}

QString say(const char* code, std::map<std::string, std::string> args) { return sentence(Message{Severity::note, code, std::move(args), {}, ""}); }

}  // namespace

RulesPanel::RulesPanel(QWidget* parent) : QWidget(parent) {
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(0, 0, 0, 0);
    list_ = new QTreeWidget(this);
    list_->setAccessibleName(tr("Rules at the wall foot"));
    list_->setHeaderLabel(tr("Rules at the wall foot"));
    list_->setIndentation(fontMetrics().horizontalAdvance(QLatin1Char('M')));
    list_->setSelectionMode(QAbstractItemView::SingleSelection);
    wrap_rows(*list_);
    site_ = new QPushButton(tr("Site &facts…"), this);
    site_->setToolTip(tr("State what is known of the site, each with its source; what is not known stays open."));
    copy_ = new QPushButton(tr("&Copy the questions"), this);
    copy_->setToolTip(tr("Copies the open questions as text, the one that decides most first."));
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(site_);
    buttons->addWidget(copy_);
    rows->addWidget(list_, 1);
    rows->addLayout(buttons);
    const auto choose = [this](QTreeWidgetItem* item) {
        while (item && !item->data(0, check_role).isValid()) item = item->parent();
        if (!item || !report_) return;
        const Check& check = report_->checks[static_cast<std::size_t>(item->data(0, check_role).toInt())];
        if (check.places.empty()) return;
        place_ = item == last_ ? (place_ + 1) % check.places.size() : 0;
        last_ = item;
        emit place_chosen(check.places[place_]);
    };
    connect(list_, &QTreeWidget::itemClicked, this, choose);
    connect(list_, &QTreeWidget::itemActivated, this, choose);
    connect(site_, &QPushButton::clicked, this, &RulesPanel::site_wanted);
    connect(copy_, &QPushButton::clicked, this, &RulesPanel::copy_wanted);
    show_nothing({});
}

QTreeWidgetItem* RulesPanel::group(const QString& name) {
    auto* item = new QTreeWidgetItem(list_, {name});
    QFont bold = font();
    bold.setBold(true);
    item->setFont(0, bold);
    item->setExpanded(true);
    return item;
}

void RulesPanel::add(QTreeWidgetItem* group, const Check& check, int index) {
    auto* item = row(group, QStringLiteral("%1 %2: %3").arg(symbol(check.verdict), words(check.name), sentence(check.message)));
    item->setData(0, check_role, index);
    item->setData(0, row_role, words(check.rule + "/" + check.message.code + "/" + (check.pieces.empty() ? "" : check.pieces.front())));
    for (const End& end : check.ends)
        row(item, say("foot-end", {{"when", end.when}, {"verdict", verdict_text(end.verdict)}, {"then", english(end.message)}}));
    for (const Message& told : check.told) row(item, sentence(told));
    for (const FactUsed& fact : check.facts)
        if (!fact.value.empty())
            row(item, tr("Rests on %1").arg(say(fact.source.empty() ? "foot-fact" : "foot-fact-source", {{"fact", site_fact_name(fact.key)}, {"value", site_value_text(fact.key, fact.value)}, {"source", fact.source}})));
    for (const Decider& decider : check.deciders) row(item, say("foot-would-decide", {{"question", english(decider.question)}}));
    row(item, tr("Asked: %1").arg(words(check.asks)));
    for (const std::string& caution : check.cautions) row(item, words(caution));
    row(item, tr("Source: %1").arg(words(check.source)));
    item->setExpanded(open_.contains(item->data(0, row_role).toString()));
}

void RulesPanel::show_report(std::shared_ptr<const FootReport> report) {
    if (report == report_ && report) return;
    remember();
    report_ = std::move(report);
    list_->clear();
    last_ = nullptr;
    copy_->setEnabled(report_ && !report_->questions.empty());
    site_->setEnabled(report_ != nullptr);
    if (!report_) return;
    for (const Verdict verdict : worst_first) {
        int count = 0;
        for (const Check& check : report_->checks) count += check.verdict == verdict;
        if (count == 0) continue;
        auto* head = group(QStringLiteral("%1 %2 (%3)").arg(symbol(verdict), words(verdict_text(verdict))).arg(count));
        for (std::size_t i = 0; i < report_->checks.size(); ++i)
            if (report_->checks[i].verdict == verdict) add(head, report_->checks[i], static_cast<int>(i));
    }
    if (!report_->questions.empty()) {
        auto* head = group(tr("Questions that would decide"));
        for (const Question& question : report_->questions) {
            std::string rules;
            for (const std::string& rule : question.rules) rules += (rules.empty() ? "" : "; ") + rule;
            row(head, say(question.decides == 1 ? "foot-question-one" : "foot-question", {{"question", english(question.question)}, {"count", std::to_string(question.decides)}, {"rules", rules}}));
        }
    }
    if (!report_->rising_damp.empty()) {
        auto* head = group(tr("Estimates"));
        for (const RisingDampFinding& rise : report_->rising_damp) row(head, sentence(rise.message));
    }
    auto* head = group(tr("Rules asked"));
    row(head, say("foot-end-note", {{"rules", report_->rules_name}}));
    if (!report_->about.empty()) row(head, words(report_->about));
    for (const Message& note : report_->notes) row(head, sentence(note));
    list_->verticalScrollBar()->setValue(scrolled_);
}

void RulesPanel::remember() {
    if (!report_) return;
    open_.clear();
    for (QTreeWidgetItemIterator it(list_); *it; ++it)
        if ((*it)->isExpanded() && (*it)->data(0, row_role).isValid()) open_ << (*it)->data(0, row_role).toString();
    scrolled_ = list_->verticalScrollBar()->value();
}

void RulesPanel::show_nothing(const QString& why) {
    remember();
    report_.reset();
    last_ = nullptr;
    list_->clear();
    if (!why.isEmpty()) new QTreeWidgetItem(list_, {why});
    copy_->setEnabled(false);
    site_->setEnabled(!why.isEmpty());
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/report_view.hpp"

#include <QApplication>
#include <QComboBox>
#include <QLabel>
#include <QPointer>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QVBoxLayout>
#include <algorithm>

#include "solver/report/short_answer.hpp"
#include "ui/panels/flow_row.hpp"
#include "ui/panels/page_stack.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

ReportView::ReportView(QWidget* parent) : QWidget(parent) {
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(0, 0, 0, 0);
    auto* row = new FlowRow;
    row->setContentsMargins(8, 6, 8, 0);
    extent_ = new QComboBox(this);
    extent_->setAccessibleName(tr("What is shown"));
    extent_->addItems({tr("whole report"), tr("short answer")});
    paper_ = new QComboBox(this);
    paper_->setAccessibleName(tr("Paper"));
    paper_->addItems({QStringLiteral("A4"), QStringLiteral("A3")});
    zoom_ = new QComboBox(this);
    zoom_->setAccessibleName(tr("Size on the screen"));
    zoom_->addItem(tr("page width"), 0.0);
    for (const int percent : {50, 75, 100, 150, 200}) zoom_->addItem(QStringLiteral("%1 %").arg(percent), percent / 100.0);
    auto* save = new QPushButton(tr("&Save…"), this);
    auto* copy = new QPushButton(tr("&Copy the answer"), this);
    copy->setToolTip(tr("Copy the short answer as plain text, for an e-mail."));
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    row->addWidget(extent_);
    row->addWidget(new QLabel(tr("Paper:"), this));
    row->addWidget(paper_);
    row->addWidget(zoom_);
    row->addWidget(save);
    row->addWidget(copy);
    stack_ = new PageStack(pool_, this);
    scroll_ = new QScrollArea(this);
    scroll_->setWidgetResizable(true);
    scroll_->setWidget(stack_);
    scroll_->setBackgroundRole(QPalette::Mid);
    told_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    told_->setContentsMargins(8, 0, 8, 0);
    rows->addLayout(row);
    rows->addWidget(told_);
    rows->addWidget(scroll_, 1);
    connect(paper_, &QComboBox::currentIndexChanged, this, &ReportView::lay_out);
    connect(zoom_, &QComboBox::currentIndexChanged, this, &ReportView::zoom);
    connect(extent_, &QComboBox::currentIndexChanged, this, &ReportView::lay_out);
    connect(save, &QPushButton::clicked, this, &ReportView::save_wanted);
    connect(copy, &QPushButton::clicked, this, &ReportView::copy_wanted);
}

ReportView::~ReportView() {
    pool_.clear();
    pool_.waitForDone();
}

void ReportView::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    zoom();
}

void ReportView::zoom() {
    const double chosen = zoom_->currentData().toDouble();
    const double room = scroll_->width() - scroll_->verticalScrollBar()->sizeHint().width() - 32;
    stack_->set_zoom(chosen > 0 ? chosen : pages_ ? std::clamp(room / pages_->size().width(), 0.2, 1.5) : 1.0);
}

bool ReportView::a3() const { return paper_->currentIndex() == 1; }

bool ReportView::brief() const { return extent_->currentIndex() == 1; }

void ReportView::show_source(std::shared_ptr<const ReportSource> source, const QString& why) {
    source_ = std::move(source);
    told_->setText(why);
    lay_out();
}

void ReportView::lay_out() {
    ++asked_;
    if (!source_) {
        // What is wrong is told; the last report would be an old answer.
        pages_.reset();
        stack_->show_pages(nullptr);
        return;
    }
    pool_.start([source = source_, asked = asked_, paper = a3() ? QPageSize::A3 : QPageSize::A4, brief = brief(), self = QPointer(this)] {
        std::shared_ptr<const ReportPages> pages;
        QString reason;
        try {
            auto whole = std::make_shared<ReportSource>(*source);
            follow_up(*whole);
            if (brief) add_slopes(*whole);
            pages = std::make_shared<const ReportPages>(brief ? make_short_answer(*whole) : make_report(*whole), whole, paper);
        } catch (const InputFault& fault) {  // such as a rule set of the study that cannot be used
            reason = sentence(fault.faults());
        } catch (const std::exception& error) {
            reason = QString::fromUtf8(error.what());
        }
        QMetaObject::invokeMethod(qApp, [self, asked, pages, reason] {
            if (!self || self->asked_ != asked) return;
            if (!pages) {
                self->pages_.reset();
                self->stack_->show_pages(nullptr);
                self->told_->setText(tr("No report. %1").arg(reason));
                return;
            }
            self->pages_ = pages;
            self->stack_->show_pages(pages);
            self->zoom();
            self->told_->setText(tr("%1 pages, section at 1 : %2").arg(pages->count()).arg(pages->scale()));
            emit self->laid_out();
        });
    });
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/report_view.hpp"

#include <QApplication>
#include <QCheckBox>
#include <QClipboard>
#include <QComboBox>
#include <QLabel>
#include <QMenu>
#include <QMimeData>
#include <QPointer>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QVBoxLayout>
#include <algorithm>

#include "core/file/quantities.hpp"
#include "solver/report/short_answer.hpp"
#include "ui/panels/flow_row.hpp"
#include "ui/panels/page_stack.hpp"
#include "ui/panels/words.hpp"
#include "ui/report/copied.hpp"

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
    with_errors_ = new QCheckBox(tr("usual errors"), this);
    with_errors_->setToolTip(tr("Also what of the usual errors of drawing and reading stands in each variant, and what others would do; it takes some seconds more."));
    with_errors_->setChecked(true);
    auto* office = new QPushButton(tr("Template…"), this);
    office->setToolTip(tr("Logo, name, contact and texts of your own, on all your reports."));
    auto* part = new QPushButton(tr("Copy a &part"), this);
    part->setToolTip(tr("Copy one table, for a spreadsheet or a letter, or one picture."));
    parts_ = new QMenu(part);
    part->setMenu(parts_);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    row->addWidget(extent_);
    row->addWidget(new QLabel(tr("Paper:"), this));
    row->addWidget(paper_);
    row->addWidget(zoom_);
    row->addWidget(with_errors_);
    row->addWidget(office);
    row->addWidget(save);
    row->addWidget(copy);
    row->addWidget(part);
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
    connect(with_errors_, &QCheckBox::toggled, this, &ReportView::lay_out);
    connect(office, &QPushButton::clicked, this, &ReportView::template_wanted);
    connect(save, &QPushButton::clicked, this, &ReportView::save_wanted);
    connect(copy, &QPushButton::clicked, this, &ReportView::copy_wanted);
    connect(parts_, &QMenu::aboutToShow, this, &ReportView::list_parts);
}

void ReportView::list_parts() {
    parts_->clear();
    const auto pages = pages_;
    const auto parts = pages ? copyable_parts(pages->report()) : std::vector<CopyablePart>{};
    if (parts.empty()) parts_->addAction(tr("No table or picture is shown"))->setEnabled(false);
    constexpr int widest = 60;  // letters of a line of the menu
    const auto line = [](QString text) {
        if (text.size() > widest) text = text.left(widest - 1) + QStringLiteral("…");
        return text.replace(QLatin1Char('&'), QStringLiteral("&&"));
    };
    QMenu* below = nullptr;
    QString heading;
    for (const CopyablePart& part : parts) {
        if (!below || part.heading != heading) below = parts_->addMenu(line(part.heading));
        heading = part.heading;
        connect(below->addAction(line(part.name)), &QAction::triggered, this, [this, pages, part] { copy_part(pages, part); });
    }
}

void ReportView::copy_part(const std::shared_ptr<const ReportPages>& pages, const CopyablePart& part) {
    const ReportItem& item = pages->report().items[part.item];
    if (const auto* table = std::get_if<ReportTable>(&item)) {
        auto* data = new QMimeData;
        data->setText(table_as_text(*table));
        data->setHtml(table_as_html(*table));
        QApplication::clipboard()->setMimeData(data);
        told_->setText(tr("Copied: %1").arg(part.name));
        return;
    }
    told_->setText(tr("The picture is being painted…"));
    pool_.start([pages, part, self = QPointer(this)] {
        const QImage image = picture_as_image(pages->source(), std::get<ReportPicture>(pages->report().items[part.item]));
        QMetaObject::invokeMethod(qApp, [self, image, name = part.name] {
            if (!self) return;
            if (!image.isNull()) QApplication::clipboard()->setImage(image);
            self->told_->setText(image.isNull() ? tr("The picture is too large to be copied.") : tr("Copied: %1").arg(name));
        });
    });
}

ReportView::~ReportView() {
    if (running_) running_->cancel();
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

bool ReportView::errors() const { return with_errors_->isChecked(); }

ReportView::ErrorsOf ReportView::errors_of(const ReportSource& source) { return {source.findings, quantities(*source.study).junction}; }

std::vector<UsualErrors> ReportView::known_errors() const { return source_ && errors_of_ == errors_of(*source_) ? errors_ : std::vector<UsualErrors>{}; }

void ReportView::show_source(std::shared_ptr<const ReportSource> source, const QString& why) {
    source_ = std::move(source);
    told_->setText(why);
    lay_out();
}

void ReportView::lay_out() {
    ++asked_;
    if (running_) running_->cancel();
    running_ = std::make_shared<Context>();
    with_errors_->setEnabled(!brief());
    if (!source_) {
        // What is wrong is told; the last report would be an old answer.
        pages_.reset();
        stack_->show_pages(nullptr);
        return;
    }
    if (errors() && !brief() && known_errors().empty()) told_->setText(tr("Usual errors are being looked for…"));
    // The pages without usual errors come first: an earlier report would be an old answer all the while.
    const bool first = errors() && !brief() && known_errors().empty();
    pool_.start([source = source_, asked = asked_, paper = a3() ? QPageSize::A3 : QPageSize::A4, brief = brief(), errors = errors(), first, known = known_errors(), context = running_, self = QPointer(this)] {
        const auto show = [=](std::shared_ptr<const ReportPages> pages, std::vector<UsualErrors> found, const QString& reason, bool last) {
            QMetaObject::invokeMethod(qApp, [self, asked, pages = std::move(pages), reason, source, found = std::move(found), last] {
                if (self && self->asked_ == asked) self->take_pages(pages, source, found, reason, last);
            });
        };
        try {
            auto whole = std::make_shared<ReportSource>(*source);
            follow_up(*whole, *context);
            whole->errors = errors && !brief ? known : std::vector<UsualErrors>{};
            if (first) show(std::make_shared<const ReportPages>(make_report(*whole), std::make_shared<const ReportSource>(*whole), paper), {}, {}, false);
            if (brief) add_slopes(*whole, *context);
            else if (errors) add_usual_errors(*whole, *context);
            const auto found = whole->errors;
            show(std::make_shared<const ReportPages>(brief ? make_short_answer(*whole) : make_report(*whole), whole, paper, brief), found, {}, true);
        } catch (const Cancelled&) {
            // another layout is on its way
        } catch (const InputFault& fault) {  // such as a rule set of the study that cannot be used
            show(nullptr, {}, sentence(fault.faults()), true);
        } catch (const std::exception& error) {
            show(nullptr, {}, QString::fromUtf8(error.what()), true);
        }
    });
}

/// `last`: nothing more comes of this layout.
void ReportView::take_pages(std::shared_ptr<const ReportPages> pages, const std::shared_ptr<const ReportSource>& source, const std::vector<UsualErrors>& found, const QString& reason, bool last) {
    if (!found.empty()) {
        errors_of_ = errors_of(*source);
        errors_ = found;
    }
    pages_ = std::move(pages);
    stack_->show_pages(pages_);
    if (!pages_) return told_->setText(tr("No report. %1").arg(reason));
    zoom();
    if (last) told_->setText(tr("%1 pages, section at 1 : %2").arg(pages_->count()).arg(pages_->scale()));
    emit laid_out();
}

}  // namespace wallfoot

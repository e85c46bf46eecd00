// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/teach/hand_out.hpp"

#include <QFileInfo>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QSaveFile>
#include <QVBoxLayout>

#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QByteArray handed_out(LessonSource& source, const QString& what, std::size_t step, const Context& context, const MadeSoFar& so_far) {
    work_out(source, context);
    context.check();
    if (what == QStringLiteral("html")) return lesson_html(source, context, so_far);
    if (what.startsWith(QStringLiteral("pdf"))) return lesson_worksheets(source, what.endsWith(QStringLiteral("a3")), context, so_far);
    return lesson_step_picture(source, step, what == QStringLiteral("svg"));
}

}  // namespace

HandOut::HandOut(QWidget* parent) : QWidget(parent) {
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(0, 0, 0, 0);
    rows->addWidget(says_ = new QLabel(this));
    says_->setWordWrap(true);
    auto* row = new QHBoxLayout;
    row->addWidget(bar_ = new QProgressBar(this), 1);
    bar_->setAccessibleName(tr("Made so far"));
    row->addWidget(stop_ = new QPushButton(tr("Stop"), this));
    stop_->setAutoDefault(false);
    stop_->setToolTip(tr("Nothing is written then; a file that was there stays as it was"));
    rows->addLayout(row);
    connect(stop_, &QPushButton::clicked, this, &HandOut::stop);
    hide();
}

HandOut::~HandOut() {
    if (context_) context_->cancel();
}

void HandOut::stop() {
    if (!context_) return;
    context_->cancel();
    stop_->setEnabled(false);
    says_->setText(tr("Stopping…"));
}

void HandOut::show_progress(int done, int of) {
    if (bar_->maximum() != of) bar_->setRange(0, of);
    bar_->setValue(std::max(bar_->value(), done));  // smaller pictures begin anew; the bar does not
}

void HandOut::make(LessonSource source, const QString& what, std::size_t step, const QString& path) {
    if (busy()) return;
    context_ = std::make_shared<Context>();
    says_->setText(tr("%1 is being made…").arg(QFileInfo(path).fileName()));
    bar_->setRange(0, 0);  // until it is known how much there is to do
    stop_->setEnabled(true);
    show();
    emit busy_changed(true);
    making_.run([this, context = context_, source = std::move(source), what, step, path]() mutable -> Background::Done {
        QString why;
        bool ended = false;
        try {
            // The end of this object waits for the work, so that it is there as long as the work is.
            const auto so_far = [this, context](int done, int of) {
                QMetaObject::invokeMethod(
                    this,
                    [this, context, done, of] {
                        if (context_ == context && !context->cancelled()) show_progress(done, of);
                    },
                    Qt::QueuedConnection);
            };
            const QByteArray bytes = handed_out(source, what, step, *context, so_far);
            context->check();
            QSaveFile file(path);
            if (!file.open(QIODevice::WriteOnly) || file.write(bytes) != bytes.size() || !file.commit()) why = file.errorString();
        } catch (const Cancelled&) {
            ended = true;
        } catch (const InputFault& fault) {
            why = sentence(fault.faults());
        } catch (const std::exception& error) {
            why = QString::fromUtf8(error.what());
        }
        return [this, why, ended, path] {
            context_.reset();
            hide();
            emit busy_changed(false);
            if (ended) emit stopped(path);
            else if (why.isEmpty()) emit made(path);
            else emit failed(path, why);
        };
    });
}

}  // namespace wallfoot

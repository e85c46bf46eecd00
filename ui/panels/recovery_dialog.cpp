// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/recovery_dialog.hpp"

#include <QDialogButtonBox>
#include <QFileInfo>
#include <QLabel>
#include <QListWidget>
#include <QLocale>
#include <QPainter>
#include <QPushButton>
#include <QVBoxLayout>

#include "core/file/study_file.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

/// The first variant as it was drawn; empty where the copy cannot be read.
QPixmap picture_of(const QString& copy, QSize size, double ratio) {
    try {
        const Study study = load_study(copy.toStdString()).study;
        const Section& section = *study.variants.front().section;
        QPixmap picture(size * ratio);
        picture.setDevicePixelRatio(ratio);
        SectionLook look;
        look.labels = false;
        picture.fill(look.colours.paper);
        QPainter painter(&picture);
        painter.setRenderHint(QPainter::Antialiasing);
        paint_section(painter, View::fitting(section.cut, size), study, section, nullptr, look);
        return picture;
    } catch (const std::exception&) {
        return {};
    }
}

}  // namespace

RecoveryDialog::RecoveryDialog(const std::vector<Recovery::LeftBehind>& left, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Unsaved work"));
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("The program ended before this was saved. Open it to go on where you were; the study file itself is untouched until you save."), this);
    head->setWordWrap(true);
    list_ = new QListWidget(this);
    list_->setAccessibleName(windowTitle());
    const int side = fontMetrics().height() * 7;
    list_->setIconSize({side, side});
    for (const auto& one : left) {
        const QString name = one.study_path.isEmpty() ? tr("never saved") : QFileInfo(one.study_path).fileName();
        const QString folder = one.study_path.isEmpty() ? QString() : QStringLiteral("\n") + QFileInfo(one.study_path).path();
        const bool saved_later = !one.study_path.isEmpty() && QFileInfo(one.study_path).lastModified() > one.written;
        const QString later = saved_later ? tr("\nthe file was saved after this copy") : QString();
        list_->addItem(new QListWidgetItem(picture_of(one.copies.first(), {side, side}, devicePixelRatio()),
                                           tr("%1\ncopy of %2%3%4").arg(name, QLocale().toString(one.written, QLocale::ShortFormat), folder, later)));
    }
    list_->setCurrentRow(0);
    auto* buttons = new QDialogButtonBox(this);
    auto* go_on = buttons->addButton(tr("&Open"), QDialogButtonBox::AcceptRole);
    auto* discard = buttons->addButton(tr("&Discard"), QDialogButtonBox::DestructiveRole);
    buttons->addButton(tr("&Later"), QDialogButtonBox::RejectRole);
    go_on->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(discard, &QPushButton::clicked, this, [this] { done(RecoveryDialog::discard); });
    connect(list_, &QListWidget::itemActivated, this, &QDialog::accept);
    rows->addWidget(head);
    rows->addWidget(list_, 1);
    rows->addWidget(buttons);
    resize(fontMetrics().averageCharWidth() * 70, side * 3);
}

int RecoveryDialog::marked() const { return list_->currentRow(); }

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCloseEvent>
#include <QGuiApplication>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScreen>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/panels/words.hpp"
#include "ui/teach/lesson_player.hpp"

// A lesson over the whole screen, and its sizes.
namespace wallfoot {

void LessonPlayer::give_sizes() {
    const double base = QGuiApplication::font().pointSizeF();
    const double scale = presenting_ ? std::clamp(height() / 620.0, 1.0, 2.0) : 1.0;
    const auto size = [&](QWidget* of, double times, bool bold = false) {
        QFont font = of->font();
        font.setPointSizeF(base * times * scale);
        font.setBold(bold);
        of->setFont(font);
    };
    size(title_, 1.1, true);
    size(text_, 1.35);
    size(question_, 1.25, true);
    size(result_, 1.15);
    size(trial_words_, 1.1);
    size(units_, 0.95);
    size(keys_, 0.9);
    // With a style sheet a font is not handed on to what lies inside.
    for (QWidget* part : options_->findChildren<QWidget*>()) size(part, 1.15);
    for (QWidget* part : std::initializer_list<QWidget*>{typed_, reveal_, back_, next_, place_, reset_, present_}) size(part, 1.0);
    stage_->set_magnification(scale);
    side_scroll_->setMinimumWidth(presenting_ ? std::max(300, width() * 3 / 10) : 270);
    side_scroll_->setMaximumWidth(presenting_ ? std::max(300, width() * 3 / 10) : 300);
}

void LessonPlayer::present() {
    if (presenting_ || !present_step()) return;
    presenting_ = true;
    home_ = parentWidget();
    setParent(nullptr, Qt::Window);
    setWindowTitle(words(lesson_.title));
    present_->setText(tr("End (Esc)"));
    showFullScreen();
    give_sizes();
    stage_->setFocus();
    // On the other screen where there is one; else it lies behind, to be fetched.
    const auto screens = QGuiApplication::screens();
    if (screens.size() > 1) {
        for (QScreen* other : screens)
            if (other != screen()) notes_->setGeometry(other->availableGeometry().adjusted(40, 40, -40, -40));
        notes_->show();
    } else {
        notes_->showMinimized();
    }
    activateWindow();
}

void LessonPlayer::end_presenting() {
    if (!presenting_) return;
    presenting_ = false;
    notes_->hide();
    present_->setText(tr("Full screen"));
    if (home_) {
        // The place it came from takes it back at the end of its layout.
        setParent(home_);
        setWindowFlags(Qt::Widget);
        if (home_->layout()) home_->layout()->addWidget(this);
    }
    give_sizes();
    show();
    if (home_) home_->window()->activateWindow();
    stage_->setFocus();
}

void LessonPlayer::closeEvent(QCloseEvent* event) {
    if (presenting_ && home_) {
        event->ignore();
        end_presenting();
    } else {
        QWidget::closeEvent(event);
    }
}

void LessonPlayer::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    if (presenting_) give_sizes();
}

}  // namespace wallfoot

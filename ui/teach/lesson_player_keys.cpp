// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAbstractSpinBox>
#include <QApplication>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QSlider>
#include <QSpinBox>
#include <optional>

#include "ui/teach/lesson_player.hpp"

// A lesson by keyboard alone. What has a key is in act_of, and told by show_keys and all_keys.
namespace wallfoot {

namespace {

constexpr double near_step = 8, far_step = 40;  // pixels that an arrow key moves the pointer, without and with Shift

/// The way an arrow key goes, pixels; nothing for another key.
std::optional<QPointF> way_of(int key) {
    switch (key) {
        case Qt::Key_Left: return QPointF(-1, 0);
        case Qt::Key_Right: return QPointF(1, 0);
        case Qt::Key_Up: return QPointF(0, -1);
        case Qt::Key_Down: return QPointF(0, 1);
        default: return {};
    }
}

}  // namespace

std::function<void()> LessonPlayer::act_of_escape() {
    if (stage_->helping()) return [this] { stage_->show_help({}); };
    if (stage_->spotlighting()) return [this] { stage_->drop_spotlight(); };
    if (stage_->pointing_by_keys()) return [this] { stage_->drop_pointer(); };
    if (!stage_->profile().samples.empty()) return [this] { stage_->drop_line(); };
    if (QWidget* focus = QApplication::focusWidget(); focus && side_->isAncestorOf(focus)) return [this] { stage_->setFocus(); };
    if (presenting_) return [this] { end_presenting(); };
    return {};
}

std::function<void()> LessonPlayer::act_with_pointer(const QKeyEvent& event) {
    if (!stage_->pointing_by_keys()) return {};
    if (const auto way = way_of(event.key())) return [this, by = *way * (event.modifiers() & Qt::ShiftModifier ? far_step : near_step)] { stage_->move_pointer(by); };
    return {};
}

std::function<void()> LessonPlayer::act_of(const QKeyEvent& event) {
    const int key = event.key();
    const Qt::KeyboardModifiers held = event.modifiers() & ~(Qt::KeypadModifier | Qt::ShiftModifier);
    if (held == Qt::ControlModifier && stage_->divided() && (key == Qt::Key_Left || key == Qt::Key_Right))
        return [this, by = key == Qt::Key_Left ? -0.05 : 0.05] { stage_->move_divider(by); };
    if (held != Qt::NoModifier) return {};
    if (auto act = act_with_pointer(event)) return act;
    auto* button = qobject_cast<QPushButton*>(QApplication::focusWidget());
    switch (key) {
        case Qt::Key_Right:
        case Qt::Key_PageDown:
        case Qt::Key_Space: return [this] { next(); };
        case Qt::Key_Left:
        case Qt::Key_PageUp: return [this] { back(); };
        case Qt::Key_Up:
        case Qt::Key_Down: return [this, by = key == Qt::Key_Up ? 1 : -1] { move_trial_by_key(by); };
        case Qt::Key_Home: return [this] { reset(); };
        case Qt::Key_Enter:
        case Qt::Key_Return:
            if (button && isAncestorOf(button)) return [button] { button->click(); };
            return [this] { stage_->use_pointer(); };
        case Qt::Key_L: return [this] { stage_->begin_line(); };
        case Qt::Key_A: return [this] { reveal(); };
        case Qt::Key_G: return [this] { if (typed_->isVisible()) typed_->setFocus(Qt::ShortcutFocusReason); };
        case Qt::Key_P: return [this] { stage_->set_paused(!stage_->paused()); };
        case Qt::Key_F: return [this] { presenting_ ? end_presenting() : present(); };
        case Qt::Key_Plus:
        case Qt::Key_Equal: return [this] { stage_->zoom(1.25); };
        case Qt::Key_Minus: return [this] { stage_->zoom(0.8); };
        case Qt::Key_0: return [this] { stage_->fit(); };
        case Qt::Key_Backspace: return [this] { take_guess_back(); };
        case Qt::Key_Question: return [this] { stage_->show_help(stage_->helping() ? QStringList() : all_keys()); };
        case Qt::Key_Escape: return act_of_escape();
        default: break;
    }
    if (key >= Qt::Key_1 && key <= Qt::Key_9 && static_cast<std::size_t>(key - Qt::Key_1) < tally_.size()) return [this, option = static_cast<std::size_t>(key - Qt::Key_1)] { count_guess(option); };
    return {};
}

void LessonPlayer::move_trial_by_key(int by) {
    if (tried_->isVisible() && slider_->isEnabled()) {
        slider_->setValue(slider_->value() + by * std::max(1, slider_->pageStep() / 2));
    } else {
        QScrollBar* bar = side_scroll_->verticalScrollBar();
        bar->setValue(bar->value() - by * 3 * fontMetrics().lineSpacing());
    }
}

bool LessonPlayer::event(QEvent* event) {
    // Keys of the lesson come before the window's own of the same letter.
    if (event->type() == QEvent::ShortcutOverride && act_of(*static_cast<QKeyEvent*>(event))) {
        event->accept();
        return true;
    }
    return QWidget::event(event);
}

bool LessonPlayer::eventFilter(QObject* watched, QEvent* event) {
    // The keys of a presenter's hand-held switch go through the steps wherever the focus is.
    if (event->type() == QEvent::KeyPress) {
        const int key = static_cast<QKeyEvent*>(event)->key();
        if (key == Qt::Key_PageUp || key == Qt::Key_PageDown) {
            key == Qt::Key_PageUp ? back() : next();
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

void LessonPlayer::keyPressEvent(QKeyEvent* event) {
    if (const auto act = act_of(*event)) act();
    else QWidget::keyPressEvent(event);
}

void LessonPlayer::show_keys() {
    QStringList parts;
    if (!present_step()) return keys_->clear();
    if (stage_->pointing_by_keys()) {
        parts << tr("arrow keys: move the pointer, Shift: farther");
        if (stage_->spotlighting()) parts << tr("Enter: a corner of the spotlight, then the other");
        else if (stage_->laying_line()) parts << tr("Enter: the line ends here");
        else if (stage_->asking()) parts << tr("Enter: a guess, Backspace: take it back") << tr("A: the answer");
        else parts << tr("L: begin a line");
        parts << tr("+ and −: zoom") << tr("Esc: no pointer");
    } else {
        parts << tr("← →: steps");
        if (stage_->asking()) parts << tr("Enter: a pointer to guess with");
        if (holds_back() && tally_.size() > 0) parts << tr("1 to %1: count a guess").arg(tally_.size());
        if (holds_back() && present_step()->question->kind == QuestionKind::change) parts << tr("G: type guesses");
        if (holds_back()) parts << tr("A: the answer");
        if (trial_) parts << tr("↑ ↓: the slider");
        if (stage_->divided()) parts << tr("Ctrl and ← →: pull the line");
    }
    keys_->setText(tr("Keys – %1; ?: all").arg(parts.join(QStringLiteral("; "))));
}

QStringList LessonPlayer::all_keys() const {
    const auto line = [](const QString& keys, const QString& does) { return keys + QLatin1Char('\t') + does; };
    return {line(tr("←  →"), tr("the step before, the next one (also Page Up, Page Down, space bar)")),
            line(tr("Home"), tr("this step as the lesson has it: view, slider, guesses")),
            line(tr("Enter"), tr("a pointer on the picture: temperature, heat flux and material there")),
            line(tr("  arrow keys"), tr("move it, with Shift farther; past the border the section moves")),
            line(tr("  Enter"), tr("marks a guess, a corner of a spotlight, the end of a line")),
            line(tr("  L"), tr("begins a line: the temperature along it and the layers it crosses")),
            line(tr("1 … 9"), tr("one more in the room says this answer")),
            line(tr("Backspace"), tr("takes the last guess back")),
            line(tr("G"), tr("type guesses as numbers; Enter shows the answer")),
            line(tr("A"), tr("show the answer")),
            line(tr("↑  ↓"), tr("move the slider; without one, scroll the text")),
            line(tr("Ctrl and ←  →"), tr("pull the line between two variants")),
            line(tr("+  −  0"), tr("zoom in, zoom out, the view of the step")),
            line(tr("P"), tr("hold the tracers, or let them go on")),
            line(tr("F"), tr("full screen, and back")),
            line(tr("Tab"), tr("to the next field or button")),
            line(tr("Esc"), tr("no pointer, no line, no list of keys; then the end of full screen"))};
}

}  // namespace wallfoot

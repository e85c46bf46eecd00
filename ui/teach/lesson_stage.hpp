// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QTimer>
#include <QWidget>

#include "solver/lesson/heat_seen.hpp"
#include "ui/exchange/background.hpp"
#include "ui/teach/lesson_picture.hpp"

namespace wallfoot {

/// The picture of a step: zoomed, pulled, asked for temperatures. Painted by a thread of its own.
class LessonStage : public QWidget {
    Q_OBJECT
  public:
    explicit LessonStage(QWidget* parent = nullptr);

    /// Begins a step: its own view, nothing marked. `beside`: a second variant behind a line that is pulled; without findings none.
    /// What a line of tracers carries is the same on both sides of it, and in every state that a slider gives the step.
    void begin(const LessonStep& step, LessonPicture picture, LessonPicture beside = {});
    /// Another state of the same step (a slider moved): the view stays.
    void replace(LessonPicture picture);
    void show_nothing(const QString& why);

    const View& view() const { return view_; }
    double share() const { return share_; }  ///< W per metre run that each line of tracers carries; 0 = none shown
    double divider() const { return divider_; }
    bool painted() const { return background_.idle() && !image_.isNull(); }

    /// Where the room guessed, and the answer, mm; both empty = nothing marked.
    void set_marks(std::vector<QPointF> guesses, std::optional<QPointF> answer, std::vector<Rect> places);
    /// Clicks are guesses; else they lay a line across the section for its profile.
    void set_asking(bool asking);
    /// The next drag draws a spotlight instead.
    /// By mouse, or with the pointer that it puts up: Enter at one corner and at the other.
    void draw_spotlight();
    /// No spotlight is drawn after all; false: none was to be.
    bool drop_spotlight();
    /// No tracers drift while paused.
    void set_paused(bool paused);
    bool paused() const { return paused_; }
    /// A pointer that the arrow keys move, in the middle of what is seen.
    void put_pointer();
    bool drop_pointer();
    bool pointing_by_keys() const { return cross_.has_value(); }
    /// Moves it by pixels; what is seen goes along.
    void move_pointer(QPointF by);
    /// Enter: a guess, a corner of the spotlight, an end of the line.
    void use_pointer();
    /// A line from where the pointer stands; again: to where it stands now. Not while a place is asked for.
    void begin_line();
    bool laying_line() const { return cross_ && begun_ && !spotlighting_; }
    bool drop_line();
    bool asking() const { return asking_; }
    bool spotlighting() const { return spotlighting_; }
    bool divided() const { return beside_.findings != nullptr; }
    /// By a share of the width.
    void move_divider(double by);
    void zoom(double factor);
    /// The view of the step again.
    void fit();
    /// Lines over the picture until they are empty.
    void show_help(QStringList lines);
    bool helping() const { return !help_.isEmpty(); }
    const LineProfile& profile() const { return profile_; }
    /// The profile along a line, mm.
    void lay_line(QPointF from, QPointF to);
    QSizeF picture_size() const;
    /// How large letters and lines are painted: for a screen that is seen from afar.
    void set_magnification(double times);

  signals:
    void guessed(QPointF mm);
    void spotlight_drawn(Rect rect);
    void view_moved();
    void repainted();  ///< the picture is as asked for
    void pointer_changed();  ///< put up, dropped, or something begun with it

  protected:
    void paintEvent(QPaintEvent*) override;
    void resizeEvent(QResizeEvent*) override;
    void mousePressEvent(QMouseEvent*) override;
    void mouseMoveEvent(QMouseEvent*) override;
    void mouseReleaseEvent(QMouseEvent*) override;
    void wheelEvent(QWheelEvent*) override;
    void leaveEvent(QEvent*) override;
    void showEvent(QShowEvent*) override;
    void hideEvent(QHideEvent*) override;
    void focusInEvent(QFocusEvent*) override;
    void focusOutEvent(QFocusEvent*) override;

  private:
    enum class Drag { none, view, divider, line, spotlight };
    /// The variant under a place.
    const LessonPicture& under(QPointF pixels) const;
    void ask();
    /// The view as it is painted before it is magnified.
    View smaller(const View& view) const;
    void finish_spotlight(QPointF from_mm, QPointF to_mm);
    void paint_probe(QPainter& painter) const;
    void paint_cross(QPainter& painter) const;
    void paint_help(QPainter& painter) const;
    void paint_marks(QPainter& painter) const;
    void paint_profile(QPainter& painter) const;

    LessonStep step_;
    LessonPicture picture_, beside_;
    QString why_;
    View view_, painted_view_;
    QImage image_, beside_image_;
    std::vector<QPolygonF> paths_, beside_paths_;
    double share_ = 0, drift_ = 0, divider_ = 0.5, magnified_ = 1;
    Drag drag_ = Drag::none;
    bool asking_ = false, spotlighting_ = false;
    QPointF pressed_, pointer_;
    bool pointing_ = false;
    std::optional<QPointF> cross_;  ///< the pointer of the keyboard, mm
    std::optional<QPointF> begun_;  ///< where a line or a spotlight began with it, mm
    QStringList help_;
    std::vector<QPointF> guesses_;
    std::optional<QPointF> answer_;
    std::vector<Rect> places_;
    LineProfile profile_;
    std::optional<QLineF> line_;  ///< mm
    QTimer drifting_;
    bool paused_ = false;
    Background background_;
};

}  // namespace wallfoot

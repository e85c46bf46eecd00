// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/teach/lesson_stage.hpp"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/study/names.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/variant_picture.hpp"

namespace wallfoot {

namespace {

constexpr double stage_key_room = 62, grip = 14;  // pixels: below the picture; of the line that is pulled
constexpr int frame_ms = 40;

Point stage_point(QPointF mm) {
    const auto held = [](double value) { return from_mm(std::clamp(value, -5e5, 5e5)); };
    return {held(mm.x()), held(mm.y())};
}

}  // namespace

LessonStage::LessonStage(QWidget* parent) : QWidget(parent) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setMinimumSize(240, 180);
    setAccessibleName(tr("The section"));
    setAccessibleDescription(tr("Wheel or plus and minus zoom, dragging pulls the section, Shift and dragging lays a line whose temperatures are shown. Enter puts up a pointer for the arrow keys; the question mark lists all keys."));
    drifting_.setInterval(frame_ms);
    connect(&drifting_, &QTimer::timeout, this, [this] {
        drift_ = std::fmod(drift_ + 1, tracer_spacing);
        update();
    });
}

QSizeF LessonStage::picture_size() const { return {static_cast<double>(width()), std::max(40.0, height() - stage_key_room * magnified_)}; }

void LessonStage::set_magnification(double times) {
    if (times == magnified_) return;
    magnified_ = times;
    fit();
}

View LessonStage::smaller(const View& view) const {
    View small = view;
    small.pixels_per_mm /= magnified_;
    small.viewport /= magnified_;
    return small;
}

void LessonStage::begin(const LessonStep& step, LessonPicture picture, LessonPicture beside) {
    if (!(step_ == step)) drop_spotlight();
    step_ = step;
    picture_ = std::move(picture);
    beside_ = std::move(beside);
    if (picture_.layer == LessonLayer::flow) picture_.share = beside_.share = tracer_share(*picture_.findings, beside_.findings.get());
    cross_.reset();
    begun_.reset();
    help_.clear();
    why_.clear();
    divider_ = 0.5;
    guesses_.clear();
    answer_.reset();
    places_.clear();
    profile_ = {};
    line_.reset();
    image_ = beside_image_ = {};
    fit();
}

void LessonStage::replace(LessonPicture picture) {
    picture.share = picture_.share;
    picture_ = std::move(picture);
    if (line_) lay_line(line_->p1(), line_->p2());
    ask();
}

void LessonStage::draw_spotlight() {
    spotlighting_ = true;
    begun_.reset();
    put_pointer();
    emit pointer_changed();
}

bool LessonStage::drop_spotlight() {
    if (!std::exchange(spotlighting_, false)) return false;
    if (drag_ == Drag::spotlight) drag_ = Drag::none;
    begun_.reset();
    drop_pointer();
    update();
    return true;
}

void LessonStage::finish_spotlight(QPointF from_mm, QPointF to_mm) {
    drop_spotlight();
    const Point a = stage_point(from_mm), b = stage_point(to_mm);
    const Rect rect{std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
    if (rect.width() > 0 && rect.height() > 0) emit spotlight_drawn(rect);
}

void LessonStage::show_nothing(const QString& why) {
    picture_ = beside_ = {};
    image_ = beside_image_ = {};
    cross_.reset(), begun_.reset(), line_.reset();
    profile_ = {};
    help_.clear();
    paths_.clear(), beside_paths_.clear();
    drifting_.stop();
    share_ = 0;
    why_ = why;
    update();
}

void LessonStage::fit() {
    if (!picture_.findings) return;
    view_ = lesson_view(step_, *picture_.findings->section, picture_size());
    ask();
}

/// Images for the present view; the newest wish wins.
void LessonStage::ask() {
    if (!picture_.findings) return;
    background_.run_instead([this, view = view_, small = smaller(view_), ratio = devicePixelRatioF() * magnified_, one = picture_, two = beside_]() -> Background::Done {
        // What is stated holds on both sides of the divider, also where a slider lets so much more flow that its own share is chosen.
        const auto share_of = [](const LessonPicture& of) { return of.layer == LessonLayer::flow && of.findings && of.findings->solution ? heat_tracers(*of.findings->solution, of.findings->temperatures, 24, of.share).share : 0; };
        const double share = std::max(share_of(one), share_of(two));
        const auto tracers = [&](const LessonPicture& of) {
            return of.layer == LessonLayer::flow ? tracer_paths(small, *of.findings, cut_in_pixels(small, *of.findings->section) & QRectF(QPointF(), small.viewport), share) : std::vector<QPolygonF>();
        };
        QImage image = lesson_image(small, ratio, one), other = two.findings ? lesson_image(small, ratio, two) : QImage();
        auto paths = tracers(one), other_paths = two.findings ? tracers(two) : std::vector<QPolygonF>();
        return [this, view, image, other, paths, other_paths, share] {
            if (!picture_.findings) return;
            painted_view_ = view;
            image_ = image;
            beside_image_ = other;
            paths_ = paths;
            beside_paths_ = other_paths;
            share_ = share;
            set_paused(paused_);
            update();
            emit repainted();
        };
    });
}

void LessonStage::set_paused(bool paused) {
    paused_ = paused;
    if (paused || share_ == 0 || !isVisible()) drifting_.stop();
    else drifting_.start();
}

void LessonStage::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    if (share_ > 0 && !paused_) drifting_.start();
}

void LessonStage::hideEvent(QHideEvent* event) {
    drifting_.stop();
    QWidget::hideEvent(event);
}

void LessonStage::set_marks(std::vector<QPointF> guesses, std::optional<QPointF> answer, std::vector<Rect> places) {
    guesses_ = std::move(guesses);
    answer_ = answer;
    places_ = std::move(places);
    update();
}

void LessonStage::set_asking(bool asking) {
    asking_ = asking;
    setCursor(asking ? Qt::CrossCursor : Qt::ArrowCursor);
}

void LessonStage::lay_line(QPointF from, QPointF to) {
    if (!picture_.findings) return;
    line_ = QLineF(from, to);
    profile_ = line_profile(*picture_.findings, stage_point(from), stage_point(to));
    update();
}

const LessonPicture& LessonStage::under(QPointF pixels) const { return divided() && pixels.x() > divider_ * width() ? beside_ : picture_; }

void LessonStage::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    fit();
}

void LessonStage::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !picture_.findings) return;
    pressed_ = pointer_ = event->position();
    begun_.reset();
    drop_pointer();  // the mouse does it now
    if (spotlighting_) drag_ = Drag::spotlight;
    else if ((event->modifiers() & Qt::ShiftModifier) && !asking_) drag_ = Drag::line;
    else if (divided() && std::abs(pressed_.x() - divider_ * width()) < grip) drag_ = Drag::divider;
    else drag_ = Drag::view;
}

void LessonStage::mouseMoveEvent(QMouseEvent* event) {
    const QPointF before = std::exchange(pointer_, event->position());
    pointing_ = true;
    if (drag_ == Drag::view && (pointer_ - pressed_).manhattanLength() > 5) {
        view_.centre_mm = view_.to_mm(QPointF(view_.viewport.width() / 2, view_.viewport.height() / 2) - (pointer_ - before));
        ask();
        emit view_moved();
    } else if (drag_ == Drag::divider) {
        divider_ = std::clamp(pointer_.x() / width(), 0.0, 1.0);
    } else if (drag_ == Drag::line) {
        lay_line(view_.to_mm(pressed_), view_.to_mm(pointer_));
    }
    update();
}

void LessonStage::mouseReleaseEvent(QMouseEvent* event) {
    const Drag drag = std::exchange(drag_, Drag::none);
    if (event->button() != Qt::LeftButton || !picture_.findings) return;
    const QPointF at = event->position();
    if (drag == Drag::spotlight) {
        finish_spotlight(view_.to_mm(pressed_), view_.to_mm(at));
    } else if (drag == Drag::view && (at - pressed_).manhattanLength() <= 5 && asking_) {
        emit guessed(view_.to_mm(at));
    } else if (drag == Drag::view && (at - pressed_).manhattanLength() <= 5 && line_) {
        drop_line();  // a click lets the line go
    }
    update();
}

void LessonStage::wheelEvent(QWheelEvent* event) {
    if (!picture_.findings) return;
    const double factor = std::pow(1.0015, event->angleDelta().y());
    if (view_.pixels_per_mm * factor > 0.001 && view_.pixels_per_mm * factor < 200) {
        view_ = view_.zoomed_at(event->position(), factor);
        ask();
        emit view_moved();
    }
    event->accept();
}


void LessonStage::focusInEvent(QFocusEvent* event) {
    QWidget::focusInEvent(event);
    update();
}

void LessonStage::focusOutEvent(QFocusEvent* event) {
    QWidget::focusOutEvent(event);
    update();
}

void LessonStage::leaveEvent(QEvent*) {
    pointing_ = false;
    update();
}

void LessonStage::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), Qt::white);
    const SheetColours colours = SheetColours::light();
    const auto paint_focus = [&](QPainter& on) {
        if (!hasFocus()) return;
        on.setBrush(Qt::NoBrush);
        on.setPen(QPen(colours.selection, 3));
        on.drawRect(QRectF(rect()).adjusted(1.5, 1.5, -1.5, -1.5));
    };
    if (!picture_.findings || image_.isNull()) {
        paint_focus(painter);
        painter.setPen(colours.ink);
        painter.setFont(sheet_font(18));
        painter.drawText(rect().adjusted(30, 30, -30, -30), Qt::AlignCenter | Qt::TextWordWrap, why_.isEmpty() ? tr("Being painted…") : why_);
        return;
    }
    const QSizeF size = picture_size();
    // Until the new picture is there the one before stands where it belongs.
    const double scale = view_.pixels_per_mm / painted_view_.pixels_per_mm;
    const QPointF corner = view_.to_pixels(painted_view_.to_mm(QPointF()).x(), painted_view_.to_mm(QPointF()).y());
    const QRectF where(corner, painted_view_.viewport * scale);
    const double x = divided() ? std::round(divider_ * width()) : width();
    const auto side = [&](const QImage& image, const std::vector<QPolygonF>& paths, const LessonPicture& of, const QRectF& part, bool left) {
        painter.save();
        painter.setClipRect(part);
        painter.drawImage(where, image);
        if (painted_view_ == view_) {
            painter.save();
            painter.scale(magnified_, magnified_);
            paint_tracers(painter, paths, drift_);
            painter.restore();
        }
        if (divided()) {
            const QFont font = sheet_font(18 * magnified_, true);
            // Names that begin alike are told apart by their ends: they are broken into lines, not cut off.
            const QString name = QString::fromStdString(of.findings->variant_name);
            constexpr int broken = Qt::AlignLeft | Qt::TextWordWrap;
            const QSizeF room = QFontMetricsF(font).boundingRect(QRectF(0, 0, std::max(60.0, part.width() - 28), size.height() / 2), broken, name).size() + QSizeF(9, 4);
            const QRectF back(QPointF(left ? 8 : size.width() - room.width() - 8, 8), room);
            painter.setPen(Qt::NoPen);
            painter.setBrush(colours.label_back);
            painter.drawRoundedRect(back, 3, 3);
            painter.setPen(colours.ink);
            painter.setFont(font);
            painter.drawText(back.adjusted(4, 2, -4, -2), broken, name);
        }
        painter.restore();
    };
    side(image_, paths_, picture_, QRectF(0, 0, x, size.height()), true);
    if (divided()) {
        side(beside_image_, beside_paths_, beside_, QRectF(x, 0, width() - x, size.height()), false);
        for (const auto& [colour, pen] : {std::pair(QColor(Qt::white), 7.0), std::pair(colours.accent, 3.0)}) {
            painter.setPen(QPen(colour, pen));
            painter.drawLine(QPointF(x, 0), QPointF(x, size.height()));
        }
        painter.setBrush(Qt::white);
        painter.drawRoundedRect(QRectF(x - 12, size.height() / 2 - 18, 24, 36), 5, 5);
    }
    paint_marks(painter);
    if (drag_ == Drag::spotlight || (spotlighting_ && begun_ && cross_)) {
        const bool keys = drag_ != Drag::spotlight;
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(colours.selection, 2, Qt::DashLine));
        painter.drawRect(QRectF(keys ? view_.to_pixels(begun_->x(), begun_->y()) : pressed_, keys ? view_.to_pixels(cross_->x(), cross_->y()) : pointer_).normalized());
    }
    painter.fillRect(QRectF(0, size.height(), width(), height() - size.height()), Qt::white);
    const View small = smaller(view_);
    painter.save();
    painter.scale(magnified_, magnified_);
    if (picture_.layer != LessonLayer::materials) paint_key(painter, QRectF(12, small.viewport.height() + 8, std::min(420.0, small.viewport.width() * 0.6), stage_key_room - 14), picture_.range, colours);
    paint_scale_bar(painter, QPointF(small.viewport.width() - scale_bar_rect(QPointF(), small).width() - 12, height() / magnified_ - 10), small, colours);
    painter.restore();
    if (!profile_.samples.empty()) paint_profile(painter);
    paint_probe(painter);
    paint_cross(painter);
    paint_help(painter);
    paint_focus(painter);
}

void LessonStage::paint_marks(QPainter& painter) const {
    const SheetColours colours = SheetColours::light();
    painter.setBrush(Qt::NoBrush);
    if (!places_.empty()) {
        QPainterPath area;
        for (const Rect& place : places_) area.addRect(QRectF(view_.to_pixels(Point{place.left, place.top}), view_.to_pixels(Point{place.right, place.bottom})));
        painter.setPen(QPen(Qt::white, 6));
        painter.drawPath(area.simplified());
        painter.setPen(QPen(colours.fault, 3));
        painter.drawPath(area.simplified());
    }
    int number = 0;
    for (const QPointF& guess : guesses_) {
        const QPointF p = view_.to_pixels(guess.x(), guess.y());
        for (const auto& [colour, width] : {std::pair(QColor(Qt::white), 6.0), std::pair(colours.selection, 2.5)}) {
            painter.setPen(QPen(colour, width));
            painter.drawLine(p - QPointF(8, 8), p + QPointF(8, 8));
            painter.drawLine(p - QPointF(8, -8), p + QPointF(8, -8));
        }
        if (guesses_.size() > 1) painter.drawText(p + QPointF(11, -4), QString::number(++number));
    }
    if (answer_) {
        const QPointF p = view_.to_pixels(answer_->x(), answer_->y());
        for (const auto& [colour, width] : {std::pair(QColor(Qt::white), 7.0), std::pair(colours.fault, 3.0)}) {
            painter.setPen(QPen(colour, width));
            painter.drawEllipse(p, 13, 13);
        }
    }
}

void LessonStage::paint_probe(QPainter& painter) const {
    const QPointF pointer = cross_ ? view_.to_pixels(cross_->x(), cross_->y()) : pointer_;
    if ((!pointing_ && !cross_) || asking_ || drag_ != Drag::none ||  // asked first, told afterwards
        pointer.y() > picture_size().height()) return;
    const Findings& findings = *under(pointer).findings;
    const QPointF mm = view_.to_mm(pointer);
    if (!findings.solution || !findings.section->cut.contains(stage_point(mm))) return;
    QStringList parts;
    const Piece* piece = piece_seen(*findings.section, mm.x() * 1000, mm.y() * 1000);
    if (piece && piece->fill == Fill::material) parts << QString::fromStdString(shown_name(*piece));
    if (const auto t = findings.solution->temperature_at(mm.x() * 1000, mm.y() * 1000, findings.temperatures)) parts << tr("%1 °C").arg(*t, 0, 'f', 1);
    if (const auto q = findings.solution->flux_at(mm.x() * 1000, mm.y() * 1000, findings.temperatures)) parts << tr("%1 W/m²").arg(std::hypot((*q)[0], (*q)[1]), 0, 'f', 1);
    if (parts.isEmpty()) return;
    const QFont font = sheet_font(15 * magnified_, true);
    const QString text = parts.join(QStringLiteral("   "));
    QRectF where(pointer + QPointF(16, -16 - 18 * magnified_), label_size(font, text));
    if (where.right() > width()) where.moveRight(pointer.x() - 12);
    if (where.left() < 0) where.moveLeft(0);
    if (where.top() < 0) where.moveTop(pointer.y() + 18);
    paint_label(painter, where, text, font, SheetColours::light().ink, SheetColours::light().label_back);
}

/// The line on the section, and below it what it crosses with the temperature along it.
void LessonStage::paint_profile(QPainter& painter) const {
    const SheetColours colours = SheetColours::light();
    const QPointF a = view_.to_pixels(line_->x1(), line_->y1()), b = view_.to_pixels(line_->x2(), line_->y2());
    for (const auto& [colour, width] : {std::pair(QColor(Qt::white), 6.0), std::pair(colours.selection, 2.5)}) {
        painter.setPen(QPen(colour, width));
        painter.drawLine(a, b);
    }
    painter.save();
    painter.scale(magnified_, magnified_);
    const QSizeF room = picture_size() / magnified_;
    const QRectF box(12, room.height() * 0.62, room.width() - 24.0, room.height() * 0.36);
    painter.setPen(QPen(colours.faint, 1));
    painter.setBrush(Qt::white);
    painter.drawRoundedRect(box, 6, 6);
    const QRectF plot = box.adjusted(56, 40, -16, -26);
    const double length = profile_.samples.back().at;
    const auto x_of = [&](double at) { return plot.left() + at / length * plot.width(); };
    const auto y_of = [&](double t) { return plot.bottom() - (t - picture_.range.low) / std::max(1e-9, picture_.range.high - picture_.range.low) * plot.height(); };
    painter.setFont(sheet_font(13));
    int turn = 0;
    for (const CrossedLayer& layer : profile_.layers) {
        const QRectF band(QPointF(x_of(layer.from), plot.top()), QPointF(x_of(layer.to), plot.bottom()));
        painter.fillRect(band, layer.name.empty() ? QColor(Qt::white) : ++turn % 2 ? QColor(0xec, 0xee, 0xe8) : QColor(0xdc, 0xe2, 0xde));
        painter.setPen(QPen(colours.faint, 1));
        painter.drawLine(band.topLeft(), band.bottomLeft());
        const QString name = QFontMetricsF(painter.font()).elidedText(layer.name.empty() ? tr("air") : QString::fromStdString(layer.name), Qt::ElideRight, band.width() - 4);
        painter.setPen(colours.ink);
        // Too narrow for its name it is still seen as a band.
        if (band.width() > 34) painter.drawText(QRectF(band.left(), box.top() + 20, band.width(), 18), Qt::AlignCenter, name);
        const QString fall = layer.fall ? tr("%1 K").arg(number(std::abs(*layer.fall), 1)) : QString();
        if (QFontMetricsF(painter.font()).horizontalAdvance(fall) + 4 < band.width()) painter.drawText(QRectF(band.left(), plot.top() + 1, band.width(), 18), Qt::AlignCenter, fall);
    }
    painter.setPen(colours.ink);
    painter.drawText(QRectF(box.left() + 8, box.top() + 2, box.width() - 16, 18), Qt::AlignLeft | Qt::AlignVCenter, (divided() ? QString::fromStdString(picture_.findings->variant_name) + QStringLiteral(": ") : QString()) + tr("temperature along the line, °C, and how far it falls in each layer; a click or Esc lets it go"));
    for (const double t : {picture_.range.low, (picture_.range.low + picture_.range.high) / 2, picture_.range.high})
        painter.drawText(QRectF(box.left() + 4, y_of(t) - 9, 46, 18), Qt::AlignRight | Qt::AlignVCenter, number(t, 1));
    painter.drawText(QRectF(plot.left(), plot.bottom() + 4, plot.width(), 18), Qt::AlignRight, tr("%1 mm").arg(length, 0, 'f', 0));
    painter.drawText(QRectF(plot.left(), plot.bottom() + 4, plot.width(), 18), Qt::AlignLeft, QStringLiteral("0"));
    painter.setPen(QPen(colours.fault, 2.5));
    for (std::size_t i = 0; i + 1 < profile_.samples.size(); ++i) {
        const auto &one = profile_.samples[i], &next = profile_.samples[i + 1];
        if (one.temperature && next.temperature) painter.drawLine(QPointF(x_of(one.at), y_of(*one.temperature)), QPointF(x_of(next.at), y_of(*next.temperature)));
    }
    painter.restore();
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/sheet.hpp"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QTimer>
#include <QToolTip>
#include <cmath>

#include "core/study/edits.hpp"
#include "ui/sheet/entry_box.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

constexpr double least_scale = 1e-4, most_scale = 400;  // pixels per mm

}  // namespace

Sheet::Sheet(Document& document, QWidget* parent)
    : QWidget(parent), document_(document), heat_layer_(new HeatLayer(this)),
      underlays_([this](const QString& name, const QString& trouble) { underlay_arrived(name, trouble); }), entry_(new EntryBox(this)) {
    setMouseTracking(true);
    setAcceptDrops(true);
    setFocusPolicy(Qt::StrongFocus);
    setAttribute(Qt::WA_OpaquePaintEvent);
    setMinimumSize(240, 180);
    setAccessibleName(tr("Sheet"));
    setAccessibleDescription(tr("The drawing of the section. Its pieces are also listed in the contents panel."));
    connect(&document_, &Document::changed, this, &Sheet::after_study_change);
    connect(&document_, &Document::opened, this, [this] {
        set_picked({});
        drop_asked();
        heat_layer_->clear();
        fit();
    });
    connect(heat_layer_, &HeatLayer::ready, this, [this] { update(); });
    connect(entry_, &EntryBox::typed, this, [this](int field, const QString& text) {
        if (!outline_) return;
        outline_->type(static_cast<OutlineTool::Field>(field), text.toStdString());
        tell_entry();
        update();
    });
    connect(entry_, &EntryBox::committed, this, &Sheet::commit_entry);
    connect(entry_, &EntryBox::left, this, &Sheet::close_entry);
}

Sheet::~Sheet() = default;

std::shared_ptr<const Section> Sheet::shown() const {
    if (drag_ && drag_->preview) return drag_->preview;
    return document_.has_study() ? document_.variant().section : nullptr;
}

bool Sheet::heat_shown() const { return activity_ == Activity::heat && findings_ && findings_->solution; }

// ---- what is shown --------------------------------------------------------------------------------------------------

void Sheet::set_activity(Activity activity) {
    activity_ = activity;
    update();
}

void Sheet::set_findings(std::shared_ptr<const Findings> findings, bool current) {
    findings_ = std::move(findings);
    current_ = current;
    if (findings_ && !findings_->temperatures.empty()) {
        const auto [low, high] = std::minmax_element(findings_->temperatures.begin(), findings_->temperatures.end());
        range_ = {*low, *high};
        if (range_.high - range_.low < 0.01) range_ = {*low - 1, *high + 1};
    }
    if (!findings_ || !findings_->solution) heat_layer_->clear();
    update();
}

void Sheet::set_water(std::shared_ptr<const WaterReport> water) {
    water_ = std::move(water);
    update();
}

void Sheet::set_foot(std::shared_ptr<const FootReport> foot) {
    foot_ = std::move(foot);
    update();
}

void Sheet::set_marks(std::vector<Mark> marks) {
    marks_ = std::move(marks);
    update();
}

void Sheet::set_dark(bool dark) {
    dark_ = dark;
    update();
}

void Sheet::set_difference_marks(bool shown) {
    difference_marks_ = shown;
    update();
}

void Sheet::set_isotherms(bool shown) {
    isotherms_ = shown;
    update();
}

void Sheet::set_flow_lines(bool shown) {
    flow_lines_ = shown;
    update();
}

void Sheet::set_picked(const Picked& wanted) {
    const Picked picked = shown() ? with_groups(*shown(), wanted) : wanted;
    if (picked == picked_) return;
    const bool of_hole = picked_.hole.has_value();
    picked_ = picked;
    handle_.reset();
    clicked_.reset();
    emit picked_changed(picked_);
    if (picked_.hole || of_hole) emit told(picked_.hole ? tr("A hole is picked: Del fills it, and the piece stays.") : QString());
    update();
}

void Sheet::after_study_change() {
    const auto section = document_.has_study() ? document_.variant().section : nullptr;
    if (drag_ && drag_->base != section) end_drag(false);
    if (section != last_section_) {
        const auto before = std::exchange(last_section_, section);
        const bool same_variant = last_variant_ == document_.active();
        handle_.reset();
        // A piece outlives its hole, and the same place in its list may be another one's now.
        if (section && picked_.hole) set_picked(before ? carried(*before, *section, picked_, same_variant) : Picked{picked_.kind, picked_.id});
        if (section && !is_there(*section, picked_)) set_picked({});
    }
    last_variant_ = document_.active();
    update();
}

// ---- view -----------------------------------------------------------------------------------------------------------

void Sheet::set_view(const View& view) {
    view_ = view;
    view_.viewport = size();
    update();
}

void Sheet::fit() {
    fitted_ = true;
    // Lengths of elements stand beside the section.
    if (document_.has_study()) set_view(lengths_ ? View::fitting(document_.section().cut, size(), 0.1) : View::fitting(document_.section().cut, size()));
}

void Sheet::zoom(double factor) {
    const QPointF at = hovering_ ? hover_pixels_ : QPointF(width() / 2.0, height() / 2.0);
    factor = std::clamp(view_.pixels_per_mm * factor, least_scale, most_scale) / view_.pixels_per_mm;
    fitted_ = false;
    set_view(view_.zoomed_at(at, factor));
}

void Sheet::pan_by(QPointF pixels) {
    fitted_ = false;
    View moved = view_;
    moved.centre_mm -= QPointF(pixels.x() / view_.pixels_per_mm, -pixels.y() / view_.pixels_per_mm);
    set_view(moved);
}

void Sheet::show_place(Point p) {
    const QPointF at = view_.to_pixels(p);
    if (!QRectF(rect()).adjusted(40, 40, -40, -40).contains(at)) {
        View moved = view_;
        moved.centre_mm = {to_mm(p.x), to_mm(p.y)};
        fitted_ = false;
        set_view(moved);
    }
    pointed_at_ = p;
    QTimer::singleShot(1500, this, [this] {
        pointed_at_.reset();
        update();
    });
    update();
}

void Sheet::resizeEvent(QResizeEvent*) {
    if (fitted_) fit();
    else set_view(view_);
}

void Sheet::wheelEvent(QWheelEvent* event) {
    hover_pixels_ = event->position();
    hovering_ = true;
    const double steps = event->angleDelta().y() / 120.0;
    if (steps != 0) zoom(std::pow(1.25, steps));
    hover_to(event->position(), event->modifiers());
    event->accept();
}

// ---- keys -----------------------------------------------------------------------------------------------------------

void Sheet::keyPressEvent(QKeyEvent* event) {
    const QString text = event->text();
    if (outline_ && text.size() == 1 && QStringLiteral("0123456789.,-(").contains(text) && !(event->modifiers() & Qt::ControlModifier)) {
        open_entry(text);
        return;
    }
    switch (event->key()) {
        case Qt::Key_Escape:
            if (drop_asked()) return;
            if (boxing_) box_from_.reset(), boxing_ = false, update();
            else if (drag_) end_drag(false);
            else if (outline_) drop_outline();
            else set_picked({});
            return;
        case Qt::Key_Return:
        case Qt::Key_Enter:
            if (outline_ && outline_->close() == OutlineTool::Step::closed) finish_outline();
            else if (outline_) emit told(tool_ == Tool::membrane ? tr("A membrane needs two corners or more.") : tool_ == Tool::polygon ? tr("A piece needs three corners or more.") : hint());
            return;
        case Qt::Key_Backspace: take_back(); return;
        case Qt::Key_Space:
            if (!event->isAutoRepeat()) space_held_ = true;
            update_cursor();
            return;
        default: QWidget::keyPressEvent(event);
    }
}

void Sheet::keyReleaseEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Space && !event->isAutoRepeat()) {
        space_held_ = false;
        update_cursor();
        return;
    }
    QWidget::keyReleaseEvent(event);
}

void Sheet::focusOutEvent(QFocusEvent* event) {
    space_held_ = false;
    QWidget::focusOutEvent(event);
    update();
}

bool Sheet::take_back() {
    if (drag_ && drag_->begun) {
        end_drag(false);
        return true;
    }
    if (outline_ && outline_->drawing()) {
        close_entry();
        outline_->take_back();
        update();
        return true;
    }
    return false;
}

bool Sheet::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        const auto* help = static_cast<QHelpEvent*>(event);
        const auto places = mark_places();
        for (std::size_t i = 0; i < marks_.size(); ++i) {
            const Mark& mark = marks_[i];
            const QPointF at = places[i];
            if (std::hypot(at.x() - help->pos().x(), at.y() - help->pos().y()) > 16) continue;
            QToolTip::showText(help->globalPos(), QStringLiteral("%1. %2").arg(mark.number).arg(mark.text), this);
            return true;
        }
        QToolTip::hideText();
        return true;
    }
    return QWidget::event(event);
}

}  // namespace wallfoot

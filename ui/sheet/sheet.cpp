// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/sheet.hpp"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QLineEdit>
#include <QMouseEvent>
#include <QTimer>
#include <QToolTip>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/sheet/entry_box.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

constexpr double least_scale = 1e-4, most_scale = 400;  // pixels per mm

QString sentence(const std::string& code) { return QString::fromStdString(english(Message{Severity::fault, code, {}, {}, {}})); }
QString sentence(const std::vector<Message>& messages) {
    return messages.empty() ? QString() : QString::fromStdString(english(messages.front()));
}

double distance_to_line(QPointF p, QPointF a, QPointF b) {
    const QPointF d = b - a;
    const double length2 = QPointF::dotProduct(d, d);
    const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(p - a, d) / length2, 0.0, 1.0) : 0.0;
    const QPointF off = p - (a + t * d);
    return std::hypot(off.x(), off.y());
}

}  // namespace

Sheet::Sheet(Document& document, QWidget* parent)
    : QWidget(parent), document_(document), heat_layer_(new HeatLayer(this)), entry_(new EntryBox(this)) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setAttribute(Qt::WA_OpaquePaintEvent);
    setMinimumSize(240, 180);
    setAccessibleName(tr("Sheet"));
    setAccessibleDescription(tr("The drawing of the section. Its pieces are also listed in the contents panel."));
    connect(&document_, &Document::changed, this, &Sheet::after_study_change);
    connect(&document_, &Document::opened, this, [this] {
        set_picked({});
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

// ---- what is shown -------------------------------------------------------------------------------------------------

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

void Sheet::set_marks(std::vector<Mark> marks) {
    marks_ = std::move(marks);
    update();
}

void Sheet::set_dark(bool dark) {
    dark_ = dark;
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

void Sheet::set_picked(const Picked& picked) {
    if (picked == picked_) return;
    picked_ = picked;
    handle_.reset();
    emit picked_changed(picked_);
    update();
}

void Sheet::after_study_change() {
    const auto section = document_.has_study() ? document_.variant().section : nullptr;
    if (drag_ && drag_->base != section) end_drag(false);
    if (section != last_section_) {
        last_section_ = section;
        handle_.reset();
        if (section && picked_.kind == PickedKind::piece && !find_piece(*section, picked_.id.toStdString())) set_picked({});
    }
    update();
}

// ---- view ----------------------------------------------------------------------------------------------------------

void Sheet::set_view(const View& view) {
    view_ = view;
    view_.viewport = size();
    update();
}

void Sheet::fit() {
    fitted_ = true;
    if (document_.has_study()) set_view(View::fitting(document_.section().cut, size()));
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

// ---- pointing ------------------------------------------------------------------------------------------------------

Snap Sheet::snap_at(QPointF pixels, Qt::KeyboardModifiers keys) {
    const QPointF mm = view_.to_mm(pixels);
    if (keys & (Qt::ControlModifier | Qt::AltModifier)) return {free_point(mm), SnapKind::free};
    if (outline_ && outline_->drawing()) {
        const QPointF first = view_.to_pixels(outline_->corners().front());
        if (std::hypot(first.x() - pixels.x(), first.y() - pixels.y()) <= 9) return {outline_->corners().front(), SnapKind::corner};
    }
    const auto section = drag_ ? drag_->base : shown();
    if (!section) return {free_point(mm), SnapKind::free};
    if (!snapper_ || snapper_of_ != section) {
        snapper_.emplace(*section, drag_ ? drag_->moving : std::vector<Point>{});
        snapper_of_ = section;
    }
    return snapper_->snap(mm, reach_mm(), grid_step_mm(view_.pixels_per_mm));
}

std::optional<Sheet::Drag> Sheet::handle_at(QPointF pixels) const {
    const auto section = shown();
    if (!section || picked_.kind != PickedKind::piece) return {};
    const Piece* piece = find_piece(*section, picked_.id.toStdString());
    if (!piece) return {};
    std::vector<const Outline*> outlines{&piece->outline};
    for (const auto& hole : piece->holes) outlines.push_back(&hole);
    std::optional<Drag> found;
    double best = 9;
    for (const auto* outline : outlines)
        for (const Point p : *outline) {
            const QPointF at = view_.to_pixels(p);
            const double d = std::hypot(at.x() - pixels.x(), at.y() - pixels.y());
            if (d <= best) {
                best = d;
                found = Drag{p, p, true, false, {p}, section, nullptr, p, {}};
            }
        }
    if (found) return found;
    best = 6;
    for (const auto* outline : outlines)
        for (std::size_t i = 0; i < outline->size(); ++i) {
            const Point a = (*outline)[i], b = (*outline)[(i + 1) % outline->size()];
            const double d = distance_to_line(pixels, view_.to_pixels(a), view_.to_pixels(b));
            if (d <= best) {
                best = d;
                found = Drag{a, b, false, false, {}, section, nullptr, a, {}};
            }
        }
    if (found) found->moving = points_moved_with_edge(*section, found->a, found->b);
    return found;
}

void Sheet::pick_at(QPointF pixels) {
    const auto section = shown();
    if (!section) return;
    const auto pieces = pieces_at(*section, free_point(view_.to_mm(pixels)));
    std::vector<Picked> under;
    for (const auto& membrane : section->membranes)
        for (std::size_t i = 1; i < membrane.path.size(); ++i)
            if (distance_to_line(pixels, view_.to_pixels(membrane.path[i - 1]), view_.to_pixels(membrane.path[i])) <= 4) {
                under.push_back({PickedKind::membrane, QString::fromStdString(membrane.id)});
                break;
            }
    for (const auto i : pieces) under.push_back({PickedKind::piece, QString::fromStdString(section->pieces[i].id)});
    const auto present = std::find(under.begin(), under.end(), picked_);
    if (under.empty()) set_picked({});
    else if (present == under.end()) set_picked(under.front());
    else set_picked(*(present + 1 == under.end() ? under.begin() : present + 1));
}

void Sheet::hover_to(QPointF pixels, Qt::KeyboardModifiers keys) {
    hovering_ = true;
    hover_pixels_ = pixels;
    hover_ = snap_at(pixels, keys);
    if (outline_) {
        outline_->hover(hover_);
        if (entry_->isVisible()) tell_entry();
    } else if (!drag_) {
        handle_ = handle_at(pixels);
    }
    update_cursor();
    emit hovered(tool_ == Tool::pick && !drag_ ? view_.to_mm(pixels) : QPointF(to_mm(hover_.at.x), to_mm(hover_.at.y)), name_of(hover_.kind));
    update();
}

void Sheet::update_cursor() {
    if (panning_) setCursor(Qt::ClosedHandCursor);
    else if (space_held_) setCursor(Qt::OpenHandCursor);
    else if (tool_ != Tool::pick) setCursor(Qt::CrossCursor);
    else if (drag_ || handle_) setCursor((drag_ ? drag_ : handle_)->corner ? Qt::SizeAllCursor : Qt::PointingHandCursor);
    else setCursor(Qt::ArrowCursor);
}

void Sheet::mousePressEvent(QMouseEvent* event) {
    press_pixels_ = event->position();
    if (event->button() == Qt::MiddleButton || (event->button() == Qt::LeftButton && space_held_)) {
        panning_ = true;
        update_cursor();
        return;
    }
    if (!document_.has_study()) return;
    if (event->button() == Qt::RightButton && outline_) {
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        else drop_outline();
        return;
    }
    if (event->button() != Qt::LeftButton) return;
    hover_to(event->position(), event->modifiers());
    if (outline_) {
        outline_step(outline_->commit());
    } else if ((handle_ = handle_at(event->position()))) {
        drag_ = handle_;
    }
}

void Sheet::mouseMoveEvent(QMouseEvent* event) {
    if (panning_) {
        pan_by(event->position() - hover_pixels_);
        hover_pixels_ = event->position();
        return;
    }
    if (drag_ && !drag_->begun && (event->position() - press_pixels_).manhattanLength() > 4) {
        drag_->begun = true;
        snapper_.reset();
        emit told(drag_->corner ? tr("Move corner; Esc leaves it where it was.") : tr("Move edge; Esc leaves it where it was."));
    }
    hover_to(event->position(), event->modifiers());
    if (drag_ && drag_->begun) drag_to(event->position(), event->modifiers());
}

void Sheet::mouseReleaseEvent(QMouseEvent* event) {
    if (panning_ && event->button() != Qt::RightButton) {
        panning_ = false;
        update_cursor();
        return;
    }
    if (event->button() != Qt::LeftButton || tool_ != Tool::pick || !document_.has_study()) return;
    if (drag_ && drag_->begun) {
        end_drag(true);
        return;
    }
    drag_.reset();
    if ((event->position() - press_pixels_).manhattanLength() <= 4) pick_at(event->position());
    hover_to(event->position(), event->modifiers());
}

void Sheet::mouseDoubleClickEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !document_.has_study()) return;
    if (outline_) {
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        return;
    }
    const auto handle = handle_at(event->position());
    if (!handle || handle->corner) return;
    // On the edge itself, wherever the cursor was exactly.
    const QPointF a(to_mm(handle->a.x), to_mm(handle->a.y)), b(to_mm(handle->b.x), to_mm(handle->b.y));
    const Point wished = snap_at(event->position(), event->modifiers()).at;
    const QPointF w(to_mm(wished.x), to_mm(wished.y));
    const double t = QPointF::dotProduct(w - a, b - a) / QPointF::dotProduct(b - a, b - a);
    const QPointF on = a + std::clamp(t, 0.0, 1.0) * (b - a);
    emit told(sentence(document_.edit(tr("Insert corner"), [&](const Section& s) { return insert_corner(s, {from_mm(on.x()), from_mm(on.y())}); })));
}

void Sheet::leaveEvent(QEvent*) {
    hovering_ = false;
    emit hovered(QPointF(NAN, NAN), {});
    update();
}

// ---- dragging ------------------------------------------------------------------------------------------------------

void Sheet::drag_to(QPointF pixels, Qt::KeyboardModifiers keys) {
    const Snap snap = snap_at(pixels, keys);
    Drag& drag = *drag_;
    Point to = snap.at;
    if (!drag.corner) {
        // An edge moves square to itself.
        const double ex = to_mm(drag.b.x - drag.a.x), ey = to_mm(drag.b.y - drag.a.y);
        const double length = std::hypot(ex, ey);
        const double across = (-to_mm(to.x - drag.a.x) * ey + to_mm(to.y - drag.a.y) * ex) / length;
        to = {drag.a.x + from_mm(-across * ey / length), drag.a.y + from_mm(across * ex / length)};
    }
    if (drag.to == to) return;
    drag.to = to;
    try {
        const Section& base = *drag.base;
        auto preview = std::make_shared<const Section>(drag.corner ? move_corner(base, drag.a, to)
                                                                   : move_edge(base, drag.a, drag.b, to.x - drag.a.x, to.y - drag.a.y));
        drag.preview = preview;
        emit told(tr("dx %1  dy %2").arg(QString::fromStdString(length_text(to_mm(to.x - drag.a.x))), QString::fromStdString(length_text(to_mm(to.y - drag.a.y)))));
        emit previewed(preview);
    } catch (const InputFault& fault) {
        emit told(sentence(fault.faults()));
    }
    update();
}

void Sheet::end_drag(bool commit) {
    if (!drag_) return;
    const Drag drag = *std::exchange(drag_, std::nullopt);
    snapper_.reset();
    handle_.reset();
    emit previewed(nullptr);
    if (commit && drag.preview && document_.variant().section == drag.base)
        emit told(sentence(document_.edit(drag.corner ? tr("Move corner") : tr("Move edge"), [&](const Section&) { return *drag.preview; })));
    update_cursor();
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

// ---- drawing a piece -----------------------------------------------------------------------------------------------

void Sheet::set_tool(Tool tool) {
    end_drag(false);
    close_entry();
    outline_.reset();
    handle_.reset();
    tool_ = tool;
    if (tool != Tool::pick) {
        outline_.emplace(tool == Tool::polygon ? OutlineTool::Shape::polygon : OutlineTool::Shape::rectangle);
        outline_->hover(hover_);
        emit told(tr("First corner: click, or type x and y."));
        setFocus(Qt::OtherFocusReason);
    } else {
        emit told({});
    }
    update_cursor();
    emit tool_changed(tool_);
    update();
}

void Sheet::outline_step(OutlineTool::Step step) {
    if (step == OutlineTool::Step::closed) {
        finish_outline();
        return;
    }
    if (step == OutlineTool::Step::refused) {
        const std::string problem = outline_->problem();
        emit told(problem.empty() ? tr("There is a corner already, or the size is zero: choose another place.") : sentence(problem));
        return;
    }
    close_entry();
    if (outline_->shape() == OutlineTool::Shape::rectangle) emit told(tr("Opposite corner: click, or type dx and dy (Tab goes on)."));
    else if (outline_->corners().size() < 3) emit told(tr("Next corner: click, or type a length in the direction of the mouse (Tab: angle, dx, dy)."));
    else emit told(tr("Next corner; Enter, double click or a click on the first corner closes the piece. Backspace takes a corner back."));
    update();
}

void Sheet::finish_outline() {
    Piece piece;
    piece.outline = outline_->corners();
    piece.filled_with = material_.toStdString();
    if (const Material* material = document_.study()->find_material(piece.filled_with)) piece.name = material->name;
    std::string id;
    const auto refusals = document_.edit(tr("Draw piece"), [&](const Section& section) {
        Section with = add_piece(section, piece);
        id = with.pieces.back().id;
        return with;
    });
    if (!refusals.empty()) {
        emit told(sentence(refusals));
        return;
    }
    set_tool(Tool::pick);
    set_picked({PickedKind::piece, QString::fromStdString(id)});
}

void Sheet::drop_outline() {
    close_entry();
    if (outline_->drawing()) outline_->reset();
    else set_tool(Tool::pick);
    update();
}

void Sheet::open_entry(const QString& first) {
    const QPointF cursor = outline_->drawing() && !hovering_ ? view_.to_pixels(outline_->corners().back()) : hover_pixels_;
    outline_->clear_typed();
    entry_->begin(*outline_, cursor.toPoint(), first);
    tell_entry();
}

void Sheet::close_entry() {
    if (!entry_->isVisible()) return;
    entry_->hide();
    if (outline_) outline_->clear_typed();
    setFocus(Qt::OtherFocusReason);
    update();
}

void Sheet::tell_entry() {
    const std::string problem = outline_->problem();
    if (!problem.empty()) {
        entry_->tell(sentence(problem), true);
        return;
    }
    const Point to = outline_->target();
    const auto text = [](Micrometres v) { return QString::fromStdString(number_text(to_mm(v))); };
    if (!outline_->drawing()) {
        entry_->tell(tr("= corner at x %1, y %2 mm").arg(text(to.x), text(to.y)), false);
        return;
    }
    const Point last = outline_->corners().back();
    const double dx = to_mm(to.x - last.x), dy = to_mm(to.y - last.y);
    entry_->tell(tr("= dx %1, dy %2 mm, length %3 mm").arg(text(to.x - last.x), text(to.y - last.y), QString::fromStdString(number_text(std::hypot(dx, dy)))), false);
}

void Sheet::commit_entry() {
    if (!outline_) return;
    if (!outline_->typed()) {
        close_entry();
        if (outline_->close() == OutlineTool::Step::closed) finish_outline();
        return;
    }
    const auto step = outline_->commit();
    if (step == OutlineTool::Step::refused) tell_entry();
    outline_step(step);
}

// ---- keys ----------------------------------------------------------------------------------------------------------

void Sheet::keyPressEvent(QKeyEvent* event) {
    const QString text = event->text();
    if (outline_ && text.size() == 1 && QStringLiteral("0123456789.,-(").contains(text) && !(event->modifiers() & Qt::ControlModifier)) {
        open_entry(text);
        return;
    }
    switch (event->key()) {
        case Qt::Key_Escape:
            if (drag_) end_drag(false);
            else if (outline_) drop_outline();
            else set_picked({});
            return;
        case Qt::Key_Return:
        case Qt::Key_Enter:
            if (outline_ && outline_->close() == OutlineTool::Step::closed) finish_outline();
            else if (outline_) emit told(tr("A piece needs three corners or more."));
            return;
        case Qt::Key_Backspace: take_back(); return;
        case Qt::Key_Space:
            if (!event->isAutoRepeat()) space_held_ = true;
            update_cursor();
            return;
        case Qt::Key_Left: pan_by({40, 0}); return;
        case Qt::Key_Right: pan_by({-40, 0}); return;
        case Qt::Key_Up: pan_by({0, 40}); return;
        case Qt::Key_Down: pan_by({0, -40}); return;
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

bool Sheet::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        const auto* help = static_cast<QHelpEvent*>(event);
        for (const Mark& mark : marks_) {
            const QPointF at = view_.to_pixels(mark.at);
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

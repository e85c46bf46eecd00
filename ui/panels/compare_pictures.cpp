// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/compare_pictures.hpp"

#include <QApplication>
#include <QComboBox>
#include <QKeyEvent>
#include <QLabel>
#include <QMouseEvent>
#include <QPainter>
#include <QPointer>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/paint/difference_marks.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/panels/flow_row.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr double key_strip = 60;                       // pixels below the pictures
constexpr double small_step = 0.01, large_step = 0.1;  // of the width, by arrow key

/// What both cuts take up.
Rect around_both(const Rect& a, const Rect& b) { return {std::min(a.left, b.left), std::min(a.bottom, b.bottom), std::max(a.right, b.right), std::max(a.top, b.top)}; }

QImage blank(const View& view, double ratio) {
    QImage image((view.viewport * ratio).toSize(), QImage::Format_RGB32);
    image.setDevicePixelRatio(ratio);
    image.fill(Qt::white);
    return image;
}

/// `against`: what differs from it is marked; null = nothing.
QImage variant_image(const View& view, double ratio, const Compared& of, bool heat, TemperatureRange range, const Compared* against = nullptr) {
    QImage image = blank(view, ratio);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF shown = cut_in_pixels(view, *of.section);
    painter.setClipRect(shown);
    paint_variant(painter, view, *of.study, *of.findings, heat, range, SheetColours::light(), shown, ratio);
    if (against) {
        LabelPlaces places(shown);
        paint_difference_marks(painter, view, marked_differences(*against->study, *against->section, *of.study, *of.section), shown, SheetColours::light(), places);
    }
    return image;
}

/// The sentences whose numbers stand on the right picture.
QString marked_text(const Compared& left, const Compared& right) {
    constexpr std::size_t most_said = 6;
    const std::vector<Message> said = differences(*left.study, *left.section, *right.study, *right.section);
    QStringList lines;
    for (std::size_t i = 0; i < said.size() && i < most_said; ++i) lines << QStringLiteral("%1  %2").arg(i + 1).arg(sentence(said[i]));
    if (said.size() > most_said) lines << ComparePictures::tr("and %1 more, in the table").arg(said.size() - most_said);
    return said.empty() ? ComparePictures::tr("The drawings are the same.") : lines.join(QStringLiteral(" · "));
}

/// The difference under the outlines of the variant.
QImage difference_image(const View& view, double ratio, const Compared& of, const Compared& base, DifferenceScale& scale) {
    QImage image = blank(view, ratio);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF shown = cut_in_pixels(view, *of.section) & cut_in_pixels(view, *base.section);
    painter.setClipRect(shown);
    const TemperatureDifference difference = temperature_difference(view, ratio, *of.findings, *base.findings);
    scale = difference_scale(difference.largest);
    painter.drawImage(0, 0, difference_map(difference, scale));
    SectionLook look;
    look.hatches = false;
    look.faults = false;
    paint_section(painter, view, *of.study, *of.section, &of.findings->arrangement, look);
    return image;
}

}  // namespace

DividedPicture::DividedPicture(QWidget* parent) : QWidget(parent) {
    setFocusPolicy(Qt::StrongFocus);
    setMinimumSize(240, 160);
    setAccessibleName(tr("Two pictures with a line between them"));
    setAccessibleDescription(tr("Arrow keys move the line, with Shift by larger steps; Home and End take it to the edges."));
}

QSizeF DividedPicture::picture_size() const { return {static_cast<double>(width()), std::max(40.0, height() - key_strip)}; }

void DividedPicture::show_pictures(Shown shown) {
    shown_ = std::move(shown);
    setCursor(divided() ? Qt::SplitHCursor : Qt::ArrowCursor);
    update();
}

void DividedPicture::set_share(double share) {
    share = std::clamp(share, 0.0, 1.0);
    if (share == share_) return;
    share_ = share;
    update();
    emit share_changed(share_);
}

void DividedPicture::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    emit resized();
}

void DividedPicture::mousePressEvent(QMouseEvent* event) {
    if (divided() && event->button() == Qt::LeftButton) set_share(event->position().x() / width());
}

void DividedPicture::mouseMoveEvent(QMouseEvent* event) {
    if (divided() && (event->buttons() & Qt::LeftButton)) set_share(event->position().x() / width());
}

void DividedPicture::keyPressEvent(QKeyEvent* event) {
    const double step = event->modifiers() & Qt::ShiftModifier ? large_step : small_step;
    switch (event->key()) {
        case Qt::Key_Left: return set_share(share_ - step);
        case Qt::Key_Right: return set_share(share_ + step);
        case Qt::Key_Home: return set_share(0);
        case Qt::Key_End: return set_share(1);
        default: QWidget::keyPressEvent(event);
    }
}

void DividedPicture::paint_line(QPainter& painter, double x) const {
    const double middle = picture_size().height() / 2;
    const QColor ink = hasFocus() ? SheetColours::light().accent : QColor(Qt::black);
    painter.setPen(QPen(Qt::white, 5));
    painter.drawLine(QPointF(x, 0), QPointF(x, picture_size().height()));
    painter.setPen(QPen(ink, 2));
    painter.drawLine(QPointF(x, 0), QPointF(x, picture_size().height()));
    painter.setBrush(Qt::white);
    painter.drawRoundedRect(QRectF(x - 11, middle - 14, 22, 28), 4, 4);
    painter.setBrush(ink);
    painter.setPen(Qt::NoPen);
    for (const double way : {-1.0, 1.0}) painter.drawPolygon(QPolygonF{{x + way * 8, middle}, {x + way * 3, middle - 5}, {x + way * 3, middle + 5}});
}

void DividedPicture::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), Qt::white);
    if (shown_.left.isNull()) return;
    const QSizeF size = picture_size();
    const double x = divided() ? std::round(share_ * width()) : width();
    const SheetColours colours = SheetColours::light();
    const QFont font = sheet_font(13, true);
    const auto side = [&](const QImage& image, const QString& name, const QRectF& part, bool at_left) {
        painter.save();
        painter.setClipRect(part);
        painter.drawImage(QRectF(QPointF(), QSizeF(image.size()) / image.devicePixelRatio()), image);
        const QString text = QFontMetricsF(font).elidedText(name, Qt::ElideRight, size.width() * (divided() ? 0.45 : 0.95));
        const QSizeF room = label_size(font, text);
        paint_label(painter, QRectF(QPointF(at_left ? 6 : size.width() - room.width() - 6, 6), room), text, font, colours.ink, colours.label_back);
        painter.restore();
    };
    side(shown_.left, shown_.left_name, QRectF(0, 0, x, size.height()), true);
    if (divided()) {
        side(shown_.right, shown_.right_name, QRectF(x, 0, width() - x, size.height()), false);
        paint_line(painter, x);
    }
    const QRectF key(12, size.height() + 8, std::min(420.0, width() * 0.6), key_strip - 12);
    if (shown_.scale) paint_difference_key(painter, key, *shown_.scale, colours);
    else if (shown_.heat) paint_key(painter, key, shown_.range, colours);
    paint_scale_bar(painter, QPointF(width() - scale_bar_rect(QPointF(), shown_.view).width() - 12, height() - 10), shown_.view, colours);
}

ComparePictures::ComparePictures(QWidget* parent) : QWidget(parent) {
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(8, 6, 8, 0);
    auto* row = new FlowRow;
    row->setContentsMargins(0, 0, 0, 0);
    const auto box = [&](const QString& name) {
        auto* of = new QComboBox(this);
        of->setAccessibleName(name);
        of->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        of->setMinimumContentsLength(11);
        of->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
        row->addWidget(of);
        return of;
    };
    left_ = box(tr("Left picture"));
    row->addWidget(new QLabel(tr("beside"), this));
    right_ = box(tr("Right picture"));
    shows_ = box(tr("What the pictures show"));
    shows_->addItems({tr("heat maps, divided"), tr("sections, divided"), tr("right less left, as temperatures")});
    rows->addLayout(row);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    rows->addWidget(told_);
    picture_ = new DividedPicture(this);
    rows->addWidget(picture_, 1);
    for (QComboBox* of : {left_, right_, shows_}) connect(of, &QComboBox::currentIndexChanged, this, &ComparePictures::paint);
    connect(right_, &QComboBox::activated, this, [this] { right_chosen_ = true; });
    connect(picture_, &DividedPicture::resized, this, &ComparePictures::paint);
}

ComparePictures::~ComparePictures() {
    pool_.clear();
    pool_.waitForDone();
}

void ComparePictures::show_variants(std::vector<Compared> variants, const QString& base) {
    std::erase_if(variants, [](const Compared& of) { return !of.findings; });
    variants_ = std::move(variants);
    const auto refill = [&](QComboBox& box, const QString& offered, int otherwise) {
        const QString before = box.currentData().toString();
        const QSignalBlocker quiet(box);
        box.clear();
        for (const Compared& of : variants_) box.addItem(of.shown(), of.key());
        int index = box.findData(before.isEmpty() ? offered : before);
        if (index < 0) index = std::clamp(otherwise, 0, std::max(0, box.count() - 1));
        box.setCurrentIndex(index);
    };
    refill(*left_, base, 0);
    refill(*right_, {}, left_->currentIndex() == 0 ? 1 : 0);
    // A variant is set beside itself only by whoever asks for it.
    if (!right_chosen_ && right_->count() > 1 && right_->currentIndex() == left_->currentIndex()) {
        const QSignalBlocker quiet(right_);
        right_->setCurrentIndex(left_->currentIndex() == 0 ? 1 : 0);
    }
    paint();
}

void ComparePictures::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    paint();
}

void ComparePictures::paint() {
    ++asked_;
    if (!isVisible()) return;
    const int l = left_->currentIndex(), r = right_->currentIndex();
    if (l < 0 || r < 0) {
        told_->setText(tr("Being worked out…"));
        return picture_->show_pictures({});
    }
    const Compared left = variants_[static_cast<std::size_t>(l)], right = variants_[static_cast<std::size_t>(r)];
    const auto show = static_cast<Show>(shows_->currentIndex());
    told_->setText(show == difference ? tr("%1 less %2: where it is warmer or colder, as far as both are solid in the same place.").arg(right.shown(), left.shown())
                                      : tr("Pull the line across, or move it with the arrow keys. Both in one scale%1.").arg(show == heat ? tr(" and with the same colours for the same temperatures") : QString()) +
                                          (show == sections ? QLatin1Char('\n') + marked_text(left, right) : QString()));
    busy_ = true;
    const View view = View::fitting(around_both(left.section->cut, right.section->cut), picture_->picture_size(), 0.02);
    pool_.clear();
    pool_.start([left, right, show, view, ratio = devicePixelRatioF(), asked = asked_, self = QPointer(this)] {
        DividedPicture::Shown shown;
        shown.view = view;
        shown.heat = show == heat;
        shown.left_name = left.shown();
        shown.right_name = right.shown();
        shown.range = range_of(std::vector{left.findings, right.findings});
        if (show == difference) {
            DifferenceScale scale;
            shown.left = difference_image(view, ratio, right, left, scale);
            shown.scale = scale;
            shown.left_name = ComparePictures::tr("%1 less %2").arg(right.shown(), left.shown());
        } else {
            shown.left = variant_image(view, ratio, left, show == heat, shown.range);
            shown.right = variant_image(view, ratio, right, show == heat, shown.range, show == sections ? &left : nullptr);
        }
        QMetaObject::invokeMethod(qApp, [self, shown, asked] {
            if (!self || self->asked_ != asked) return;
            self->busy_ = false;
            self->picture_->show_pictures(shown);
        });
    });
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QFont>
#include <QList>
#include <QPainter>
#include <QRectF>
#include <QString>
#include <map>
#include <optional>
#include <string>

#include "ui/paint/paint.hpp"

namespace wallfoot {

/// Keeps labels apart from each other and inside the picture during one pass of painting.
class LabelPlaces {
  public:
    explicit LabelPlaces(QRectF bounds) : bounds_(bounds) {}
    QRectF bounds() const { return bounds_; }
    /// Takes the first of `centres` at which a label of `size` fits; nothing when none does.
    std::optional<QRectF> take(QSizeF size, const QList<QPointF>& centres);
    /// Same, but when none fits the first centre is used, shifted inside the bounds.
    QRectF take_anyway(QSizeF size, const QList<QPointF>& centres);
    /// Keeps an area free of later labels.
    void reserve(QRectF rect) { taken_.append(rect); }
    bool free(QRectF rect) const;

  private:
    QRectF bounds_;
    QList<QRectF> taken_;
};

/// The sheet's font at a size in device-independent pixels.
QFont sheet_font(double pixels = 12, bool bold = false);
/// Size of a one-line label with its background.
QSizeF label_size(const QFont& font, const QString& text);
/// Text on a background that keeps it readable over hatches and heat.
void paint_label(QPainter& painter, QRectF where, const QString& text, const QFont& font, QColor ink, QColor back);

/// Shown name of a space: its name, else its kind, with the id where several of a kind have no name.
QString space_name(const Section& section, const Space& space);
/// A sentence of the catalogue (resources/texts).
QString caption(const std::string& code, std::map<std::string, std::string> args = {});
/// A number without needless zeros and with a real minus sign; the same in every locale.
QString number(double value, int decimals);

}  // namespace wallfoot

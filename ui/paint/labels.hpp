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
#include <vector>

#include "ui/paint/paint.hpp"

namespace wallfoot {

/// One height mark: where it stands and what it is of. `side`: given for that side alone.
struct LevelMark {
    LevelKind kind;
    std::optional<Side> side;
    Side at;  ///< end of the section it is drawn at
    Micrometres height;
};

/// A painted name that the hand can take hold of: of a level, or of a space at one of its marks.
struct Named {
    std::optional<LevelMark> level;
    std::string space;
    Point at;
    QRectF where;
};

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
    void name(Named named) { named_.push_back(std::move(named)); }
    const std::vector<Named>& named() const { return named_; }

  private:
    QRectF bounds_;
    QList<QRectF> taken_;
    std::vector<Named> named_;
};

/// Keys of layers: height of a row, width of a sample, margin; device-independent pixels.
inline constexpr double key_row = 22, key_sample = 40, key_margin = 8;

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

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QObject>
#include <memory>
#include <optional>

#include "ui/exchange/background.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// Paints the heat map away from the window's thread; the newest wish wins. Until it is there the sheet shows the earlier
/// image, moved to where it belongs.
class HeatLayer : public QObject {
    Q_OBJECT
  public:
    struct Wish {
        View view;
        double ratio = 1;
        std::shared_ptr<const Findings> findings;
        TemperatureRange range;
        bool same(const Wish& other) const {
            return view == other.view && ratio == other.ratio && findings == other.findings && range.low == other.range.low && range.high == other.range.high;
        }
    };

    explicit HeatLayer(QObject* parent = nullptr) : QObject(parent) {}
    /// Asks for an image unless it is already there or on its way.
    void want(const Wish& wish);
    void clear();
    /// Paints what there is, moved to `view`.
    void paint(QPainter& painter, const View& view) const;
    bool up_to_date() const { return shown_ && wanted_ && shown_->same(*wanted_); }

  signals:
    void ready();

  private:
    std::optional<Wish> wanted_, shown_;
    QImage image_;  ///< of shown_
    Background background_;
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

class QLabel;
class QSlider;

namespace wallfoot {

/// A slider from a quarter to four times, in the middle when nobody holds it: for trying a conductivity. By mouse it
/// springs back when let go, by keys when the focus leaves.
class TrialSlider : public QWidget {
    Q_OBJECT
  public:
    explicit TrialSlider(QWidget* parent = nullptr);
    QSlider* slider() const { return slider_; }
    double factor() const;
    /// Back to the middle; told only when it was not there.
    void end();

  signals:
    void moved(double factor);  ///< 1 when it is back

  protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

  private:
    QSlider* slider_;
    QLabel* shown_;
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QThreadPool>
#include <QWidget>
#include <vector>

#include "ui/paint/difference_map.hpp"
#include "ui/panels/compared.hpp"

class QComboBox;
class QLabel;

namespace wallfoot {

/// Two pictures of one size in one place, divided by an upright line that is pulled by the mouse or by the arrow keys; or one
/// picture alone. The strip below them holds keys.
class DividedPicture : public QWidget {
    Q_OBJECT
  public:
    /// What is painted; images have the size of picture_size() in device pixels.
    struct Shown {
        QImage left, right;  ///< right: null = the left one alone
        QString left_name, right_name;
        View view;
        TemperatureRange range;                 ///< of the key of temperatures, where there is one
        std::optional<DifferenceScale> scale;   ///< of the key of differences, where there is one
        bool heat = true;
    };

    explicit DividedPicture(QWidget* parent = nullptr);
    void show_pictures(Shown shown);
    QSizeF picture_size() const;
    /// Where the line stands, 0 = at the left edge, 1 = at the right one.
    double share() const { return share_; }
    void set_share(double share);

  signals:
    void resized();
    void share_changed(double share);

  protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

  private:
    bool divided() const { return !shown_.right.isNull(); }
    void paint_line(QPainter& painter, double x) const;

    Shown shown_;
    double share_ = 0.5;
};

/// Two variants picture against picture, in one scale and one colour scale, or the difference of their temperatures.
class ComparePictures : public QWidget {
    Q_OBJECT
  public:
    enum Show { heat, sections, difference };
    explicit ComparePictures(QWidget* parent = nullptr);
    ~ComparePictures() override;

    /// Those with findings; `base` is offered on the left.
    void show_variants(std::vector<Compared> variants, const QString& base);
    DividedPicture& picture() { return *picture_; }
    QComboBox& left() { return *left_; }
    QComboBox& right() { return *right_; }
    QComboBox& shows() { return *shows_; }
    QLabel& told() { return *told_; }
    bool busy() const { return busy_; }

  protected:
    void showEvent(QShowEvent* event) override;

  private:
    void paint();

    std::vector<Compared> variants_;
    int asked_ = 0;
    bool busy_ = false;
    bool right_chosen_ = false;  ///< by the user
    QThreadPool pool_;
    QComboBox *left_, *right_, *shows_;
    QLabel* told_;
    DividedPicture* picture_;
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/panels/property_box.hpp"

class QCheckBox;
class QLabel;
class QListWidget;
class QSlider;

namespace wallfoot {

/// Place, size and show of an underlay.
class UnderlayBox : public PropertyBox {
    Q_OBJECT
  public:
    UnderlayBox(Document& document, QWidget* parent);
    void show_underlay(const Underlay& underlay);

    QLineEdit* x() const { return x_; }
    QLineEdit* y() const { return y_; }
    QLineEdit* scale() const { return scale_; }
    QLineEdit* rotation() const { return rotation_; }
    QSlider* opacity() const { return opacity_; }
    QCheckBox* visible() const { return visible_; }
    QCheckBox* locked() const { return locked_; }
    QCheckBox* not_to_scale() const { return not_to_scale_; }
    QListWidget* unwritten() const { return unwritten_; }

  private:
    void change(const QString& text, const std::function<void(Underlay&)>& edit);
    void number_typed(QLineEdit* field);

    std::string id_;
    QLabel *name_, *scale_label_, *note_;
    QLineEdit *x_, *y_, *scale_, *rotation_;
    QSlider* opacity_;
    QListWidget* unwritten_;
    QCheckBox *visible_, *locked_, *not_to_scale_;
};

/// Its file's name, else its id.
QString underlay_name(const Study& study, const Underlay& underlay);
/// What the lists say of it: kind, and what is to be known of it.
QString underlay_words(const Study& study, const Underlay& underlay);

/// Which edges have no written dimension, a line for each piece that has such.
QStringList unwritten_words(const Section& section);

}  // namespace wallfoot

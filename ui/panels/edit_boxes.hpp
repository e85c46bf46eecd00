// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/panels/property_box.hpp"

class QLabel;

namespace wallfoot {

/// A named measure: its value, which way it moves what, its range.
class StretchBox : public PropertyBox {
    Q_OBJECT
  public:
    StretchBox(Document& document, QWidget* parent);
    void show_stretch(const Stretch& stretch);
    QLineEdit* name() const { return name_; }
    QLineEdit* value() const { return value_; }
    QComboBox* moves() const { return moves_; }
    QLineEdit* least() const { return least_; }
    QLineEdit* most() const { return most_; }

  private:
    void value_typed();
    void changed(const QString& text, const std::function<void(Stretch&)>& change);
    void range_typed(QLineEdit& field, std::optional<Micrometres> Stretch::* limit);

    std::string id_;
    QLineEdit *name_ = nullptr, *value_ = nullptr, *least_ = nullptr, *most_ = nullptr;
    QComboBox* moves_ = nullptr;
};

/// A dimension: its length, which of its ends moves when that is changed, what it measures, a text behind it.
class DimensionBox : public PropertyBox {
    Q_OBJECT
  public:
    DimensionBox(Document& document, QWidget* parent);
    void show_dimension(const Dimension& dimension);
    QLineEdit* value() const { return value_; }
    QComboBox* side() const { return side_; }
    QComboBox* along() const { return along_; }

  private:
    void value_typed();
    void changed(const QString& text, const std::function<void(Dimension&)>& change);

    std::string id_;
    QLineEdit *value_ = nullptr, *text_ = nullptr;
    QComboBox *side_ = nullptr, *along_ = nullptr;
};

/// A text on the drawing.
class NoteBox : public PropertyBox {
    Q_OBJECT
  public:
    NoteBox(Document& document, QWidget* parent);
    void show_note(const Note& note);
    QLineEdit* text() const { return text_; }

  private:
    std::string id_;
    QLineEdit* text_ = nullptr;
};

}  // namespace wallfoot

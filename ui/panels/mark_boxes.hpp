// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/panels/property_box.hpp"
#include "ui/sheet/picked.hpp"

class QLabel;
class QPushButton;

namespace wallfoot {

/// Kind, laps and corners of a membrane.
class MembraneBox : public PropertyBox {
    Q_OBJECT
  public:
    MembraneBox(Document& document, QWidget* parent);
    void show_membrane(const Membrane& membrane);
    QComboBox* kind() const { return kind_; }
    QComboBox* laps() const { return laps_; }
    CornerTable* corners() const { return corners_; }

  private:
    std::string id_;
    QComboBox* kind_ = nullptr;
    QComboBox* laps_ = nullptr;
    CornerTable* corners_ = nullptr;
};

/// Name, kind and temperature of a space, and which of two dwellings it belongs to.
class SpaceBox : public PropertyBox {
    Q_OBJECT
  public:
    SpaceBox(Document& document, QWidget* parent);
    void show_space(const Space& space);
    QLineEdit* name() const { return name_; }
    QComboBox* kind() const { return kind_; }
    QLineEdit* temperature() const { return temperature_; }
    QPushButton* balance() const { return balance_; }
    QComboBox* side() const { return side_; }

  private:
    void balance_wanted();
    void name_typed();
    void temperature_typed();
    std::string id_;
    QLineEdit* name_ = nullptr;
    QComboBox* kind_ = nullptr;
    QLineEdit* temperature_ = nullptr;
    QPushButton* balance_ = nullptr;
    QComboBox* side_ = nullptr;
};

/// Heights of one level: for both sides, or one each.
class LevelBox : public PropertyBox {
    Q_OBJECT
  public:
    LevelBox(Document& document, QWidget* parent);
    void show_level(LevelKind kind);
    QLineEdit* both() const { return fields_[0]; }
    QLineEdit* left() const { return fields_[1]; }
    QLineEdit* right() const { return fields_[2]; }

  private:
    void typed(int field);
    LevelKind kind_ = LevelKind::floor;
    QLabel* name_ = nullptr;
    QLineEdit* fields_[3] = {};
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <memory>

#include "ui/sheet/sheet.hpp"

class QComboBox;
class QFormLayout;
class QLabel;
class QLineEdit;
class QTableWidget;

namespace wallfoot {

/// What the picked piece is: name, material, moisture condition, the conductivity in use, its corners as a table.
class PiecePanel : public QWidget {
    Q_OBJECT
  public:
    explicit PiecePanel(Document& document, QWidget* parent = nullptr);
    /// `findings` may be null or belong to an earlier drawing (`current` false).
    void show_picked(const Picked& picked, std::shared_ptr<const Findings> findings, bool current);

    QComboBox* material() const { return material_; }
    QComboBox* moisture() const { return moisture_; }
    QLineEdit* name() const { return name_; }
    QTableWidget* corners() const { return corners_; }
    QLineEdit* temperature() const { return temperature_; }

  signals:
    void told(const QString& text);

  private:
    void fill_piece(const Piece& piece);
    void fill_space(const Space& space);
    void fill_corners(const Piece& piece);
    void show_conductivity(const Piece& piece);
    void corner_typed(int row, int column);
    void temperature_typed();
    void report(const std::vector<Message>& refusals);

    Document& document_;
    Picked picked_;
    std::shared_ptr<const Findings> findings_;
    bool current_ = false;
    bool filling_ = false;
    QLabel* hint_ = nullptr;
    QWidget* piece_box_ = nullptr;
    QWidget* space_box_ = nullptr;
    QLineEdit* name_ = nullptr;
    QComboBox* material_ = nullptr;
    QComboBox* moisture_ = nullptr;
    QLabel* conductivity_ = nullptr;
    QTableWidget* corners_ = nullptr;
    QLabel* space_kind_ = nullptr;
    QLineEdit* temperature_ = nullptr;
};

/// Fills a list of materials: name, with the id as data.
void fill_materials(QComboBox& list, const Study& study);

}  // namespace wallfoot

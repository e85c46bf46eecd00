// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <memory>

#include "ui/sheet/sheet.hpp"

class QComboBox;
class QFormLayout;
class QLabel;
class QLineEdit;
class QPushButton;
class QTableWidget;

namespace wallfoot {

class CornerTable;
class DimensionBox;
class ElementBox;
class HiddenBox;
class LevelBox;
class MembraneBox;
class NoteBox;
class SectionBox;
class SpaceBox;
class StretchBox;
class TrialSlider;
class UnderlayBox;

/// What is picked: of a piece its name, filling, moisture condition, the conductivity in use and its corners as a table;
/// the properties of a membrane, a space, a level, a hidden surface, a flanking element; with nothing picked, where the section is cut.
class PiecePanel : public QWidget {
    Q_OBJECT
  public:
    explicit PiecePanel(Document& document, QWidget* parent = nullptr);
    /// `findings` may be null or belong to an earlier drawing (`current` false).
    void show_picked(const Picked& picked, std::shared_ptr<const Findings> findings, bool current);

    QComboBox* material() const { return material_; }
    QComboBox* moisture() const { return moisture_; }
    QLineEdit* name() const { return name_; }
    QTableWidget* corners() const;
    QLineEdit* temperature() const;
    MembraneBox& membrane() const { return *membrane_box_; }
    SpaceBox& space() const { return *space_box_; }
    LevelBox& level() const { return *level_box_; }
    SectionBox& section() const { return *section_box_; }
    StretchBox& stretch() const { return *stretch_box_; }
    DimensionBox& dimension() const { return *dimension_box_; }
    NoteBox& note() const { return *note_box_; }
    HiddenBox& hidden() const { return *hidden_box_; }
    ElementBox& element() const { return *element_box_; }
    QLineEdit* course_from() const { return course_from_; }
    QLineEdit* course_height() const { return course_height_; }
    UnderlayBox& underlay() const { return *underlay_box_; }
    QPushButton* fill_hole() const { return fill_hole_; }
    TrialSlider& trial() const { return *trial_; }

  signals:
    void told(const QString& text);
    void fill_hole_wanted();
    void material_used(const QString& id);
    /// The picked piece's material is tried with other conductivities while a slider is held; 1 = the trial is over.
    void tried(const QString& material, double factor);

  private:
    void fill_piece(const Piece& piece);
    void fill_fillings(const Piece& piece);
    void filling_chosen();
    void show_conductivity(const Piece& piece);
    void corner_typed(int row, Point to);
    void courses_typed();
    void report(const std::vector<Message>& refusals);

    Document& document_;
    Picked picked_;
    std::shared_ptr<const Findings> findings_;
    bool current_ = false;
    bool filling_ = false;
    QLabel* hint_ = nullptr;
    QWidget* piece_box_ = nullptr;
    MembraneBox* membrane_box_ = nullptr;
    SpaceBox* space_box_ = nullptr;
    LevelBox* level_box_ = nullptr;
    SectionBox* section_box_ = nullptr;
    StretchBox* stretch_box_ = nullptr;
    DimensionBox* dimension_box_ = nullptr;
    NoteBox* note_box_ = nullptr;
    HiddenBox* hidden_box_ = nullptr;
    ElementBox* element_box_ = nullptr;
    QLineEdit *course_height_ = nullptr, *course_from_ = nullptr;
    UnderlayBox* underlay_box_ = nullptr;
    QLineEdit* name_ = nullptr;
    QComboBox* material_ = nullptr;
    QComboBox* moisture_ = nullptr;
    QLabel* conductivity_ = nullptr;
    TrialSlider* trial_ = nullptr;
    QWidget* hole_row_ = nullptr;
    QLabel* hole_text_ = nullptr;
    QPushButton* fill_hole_ = nullptr;
    CornerTable* corners_ = nullptr;
};

/// Fills a list of materials: name, with the id as data.
void fill_materials(QComboBox& list, const Study& study);

}  // namespace wallfoot

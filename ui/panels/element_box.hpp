// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <memory>

#include "solver/findings/findings.hpp"
#include "ui/panels/property_box.hpp"

class QLabel;
class QPushButton;

namespace wallfoot {

/// A flanking element: its U, the places that its length is measured to, what its U is corrected by.
class ElementBox : public PropertyBox {
    Q_OBJECT
  public:
    ElementBox(Document& document, QWidget* parent);
    /// `findings`: those that hold the element, as they are shown; null where there are none.
    void show_element(const std::string& id, std::shared_ptr<const Findings> findings, bool current);
    QLineEdit* x(LengthSystem lengths) const { return rows_[static_cast<std::size_t>(lengths)].x; }
    QLineEdit* y(LengthSystem lengths) const { return rows_[static_cast<std::size_t>(lengths)].y; }
    QLabel* transmittance() const { return U_; }
    QPushButton* by_drawing() const { return by_drawing_; }
    QPushButton* corrections() const { return corrections_; }

  signals:
    /// The place that the element is measured to in these lengths is to be shown on the sheet.
    void place_wanted(const QString& element, wallfoot::CutSide cut, wallfoot::LengthSystem lengths);
    void corrections_wanted(const QString& element);

  private:
    struct Row {
        QLabel* length = nullptr;
        QLineEdit *x = nullptr, *y = nullptr;
        QPushButton* pick = nullptr;
        std::optional<Point> shown = {};
    };
    void typed(LengthSystem lengths);

    std::string id_;
    CutSide cut_ = CutSide::top;
    QLabel *U_ = nullptr, *note_ = nullptr;
    std::array<Row, 2> rows_;  ///< by LengthSystem
    QPushButton *by_drawing_ = nullptr, *corrections_ = nullptr;
    std::string variant_;  ///< that the element is shown of
};

}  // namespace wallfoot

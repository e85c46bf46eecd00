// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <vector>

#include "core/file/quantities.hpp"

class QDialogButtonBox;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// An element whose area is asked for.
struct AskedElement {
    std::string id;
    QString hint;  ///< what is known of it, such as its U
};

/// Asks for the length of the junction in the building and for the areas of what meets there. Empty fields stay not given.
class QuantitiesDialog : public QDialog {
    Q_OBJECT
  public:
    QuantitiesDialog(const Quantities& given, const std::vector<AskedElement>& elements, const QString& lengths, QWidget* parent = nullptr);

    /// As entered; sound once the dialog is accepted.
    Quantities quantities() const;
    QLineEdit& junction() { return *junction_; }
    QLineEdit& area(std::size_t element) { return *areas_[element].second; }

  private:
    void refresh();

    QLineEdit* junction_;
    std::vector<std::pair<std::string, QLineEdit*>> areas_;
    QLabel* problem_;
    QDialogButtonBox* buttons_;
};

}  // namespace wallfoot

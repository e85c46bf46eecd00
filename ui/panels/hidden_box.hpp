// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <optional>
#include <string>

#include "ui/panels/property_box.hpp"

class QDialogButtonBox;
class QLabel;

namespace wallfoot {

/// A stretch of surface that is left out of the lowest surface temperature: its reason and its corners.
class HiddenBox : public PropertyBox {
    Q_OBJECT
  public:
    HiddenBox(Document& document, QWidget* parent);
    void show_hidden(const HiddenSurface& hidden);
    QLineEdit* reason() const { return reason_; }
    CornerTable* corners() const { return corners_; }

  private:
    std::string id_;
    QLineEdit* reason_ = nullptr;
    CornerTable* corners_ = nullptr;
};

/// Asks why nobody sees a stretch of surface; Ok is there once a reason is given.
class HiddenReasonDialog : public QDialog {
    Q_OBJECT
  public:
    explicit HiddenReasonDialog(QWidget* parent = nullptr);
    QComboBox& reason() { return *reason_; }
    QString text() const;

  private:
    void refresh();
    QComboBox* reason_ = nullptr;
    QLabel* problem_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
};
/// The reason; nothing when the user gives up.
std::optional<std::string> ask_hidden_reason(QWidget* parent);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <optional>

#include "core/geometry/point.hpp"

class QCheckBox;
class QComboBox;
class QDialogButtonBox;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// Asks where a section is to be stretched and by how much.
class StretchDialog : public QDialog {
    Q_OBJECT
  public:
    /// `at`: the place offered, such as the middle of the picked piece.
    explicit StretchDialog(Point at, QWidget* parent = nullptr, const QString& name = {});

    bool upright() const;
    bool beyond() const;
    std::optional<Micrometres> at() const;
    std::optional<Micrometres> by() const;
    /// The name under which the line stays as a measure of the section; nothing = this once only.
    std::optional<QString> keep_as() const;

  private:
    void refresh();

    Point offered_;
    QComboBox* side_;
    QLineEdit *at_, *by_, *name_;
    QCheckBox* keep_;
    QLabel* problem_;
    QDialogButtonBox* buttons_;
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <string>
#include <vector>

#include "core/exchange/drawing.hpp"

class QCheckBox;
class QComboBox;
class QDialogButtonBox;
class QLabel;
class QLineEdit;
class QListWidget;

namespace wallfoot {

/// What is taken of a DXF: its unit with the size that follows, its layers, where it lies, and what its lines close.
class DrawingDialog : public QDialog {
    Q_OBJECT
  public:
    /// `read`: what read_dxf makes of `bytes`; they are read again for another unit.
    DrawingDialog(std::string bytes, Drawing read, const QString& name, QWidget* parent = nullptr);

    /// What was chosen, in mm.
    Drawing drawing() const;
    bool pieces_wanted() const;
    /// The closed outlines on the grid.
    std::vector<Outline> outlines() const;

    QComboBox* unit() const { return unit_; }
    QListWidget* layers() const { return layers_; }
    QLineEdit* gap() const { return gap_; }
    QListWidget* open_ends() const { return open_; }
    QListWidget* left_out() const { return left_out_; }
    QCheckBox* to_origin() const { return to_origin_; }
    QCheckBox* pieces() const { return pieces_; }
    QLabel* size_label() const { return size_; }
    QDialogButtonBox* buttons() const { return buttons_; }

  private:
    double mm_per_unit() const;
    std::vector<bool> wanted() const;
    void read_again();
    void refresh();

    std::string bytes_;
    Drawing read_;
    Joined joined_;
    QComboBox* unit_;
    QLabel* size_;
    QListWidget* layers_;
    QCheckBox* to_origin_;
    QLineEdit* gap_;
    QLabel* closed_;
    QListWidget* open_;
    QCheckBox* pieces_;
    QListWidget* left_out_;
    QLabel* problem_;
    QDialogButtonBox* buttons_;
};

}  // namespace wallfoot

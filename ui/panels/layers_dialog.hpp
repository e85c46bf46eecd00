// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <optional>
#include <vector>

#include "core/study/layers.hpp"

class QDialogButtonBox;
class QLabel;
class QTableWidget;

namespace wallfoot {

/// Asks for a build-up as a list of layers: thickness typed, material chosen or left open.
class LayersDialog : public QDialog {
    Q_OBJECT
  public:
    LayersDialog(const Study& study, const std::vector<Layer>& begin, QWidget* parent = nullptr);
    /// The layers as typed; rows without a thickness are left out.
    std::vector<Layer> layers() const;
    QTableWidget* table() const { return table_; }

  protected:
    bool eventFilter(QObject*, QEvent*) override;

  private:
    void add_row(const Layer& layer);
    void move_row(int by);
    void remove_row();
    void set_rows(const std::vector<Layer>& layers);
    std::optional<Layer> layer_in(int row, QString* problem) const;
    void refresh();

    const Study& study_;
    QTableWidget* table_;
    QLabel* total_;
    QDialogButtonBox* buttons_;
};

}  // namespace wallfoot

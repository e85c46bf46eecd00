// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

#include "ui/sheet/sheet.hpp"

class QComboBox;
class QLabel;
class QStackedWidget;

namespace wallfoot {

/// Below the tools: what the tool in hand draws. One list is shown at a time.
class ToolChoice : public QWidget {
    Q_OBJECT
  public:
    explicit ToolChoice(QWidget* parent);
    void show_tool(Tool tool);
    /// Fills the lists that follow the study, keeping what is chosen.
    void show_study(const Study& study, const Section& section);
    /// The layers that are laid along the next line.
    void set_layers(const std::vector<Layer>& layers);
    Next next() const;

    QComboBox* material() const { return material_; }
    QComboBox* membrane() const { return membrane_; }
    QComboBox* space() const { return space_; }
    QComboBox* level() const { return level_; }
    QComboBox* side() const { return side_; }

  signals:
    void chosen();

  private:
    QComboBox* add_list(const QString& name, const QString& tip);
    void show_spaces(const Section& section);

    QLabel* label_ = nullptr;
    QStackedWidget* lists_ = nullptr;
    QComboBox* material_ = nullptr;
    QComboBox* membrane_ = nullptr;
    QComboBox* space_ = nullptr;
    QComboBox* level_ = nullptr;
    QComboBox* side_ = nullptr;
    std::vector<Layer> layers_;
};

}  // namespace wallfoot

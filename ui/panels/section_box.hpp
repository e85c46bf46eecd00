// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>

#include "ui/panels/property_box.hpp"

namespace wallfoot {

/// Where the section is cut off and what lies beyond each side.
class SectionBox : public PropertyBox {
    Q_OBJECT
  public:
    SectionBox(Document& document, QWidget* parent);
    void show_section(const Section& section);
    QLineEdit* cut(CutSide side) const { return rows_.at(side).cut; }
    QComboBox* beyond(CutSide side) const { return rows_.at(side).beyond; }

  private:
    struct Row {
        QLineEdit* cut = nullptr;
        QComboBox* beyond = nullptr;
    };
    void cut_typed(CutSide side);
    void beyond_typed(CutSide side);
    std::map<CutSide, Row> rows_;
};

}  // namespace wallfoot

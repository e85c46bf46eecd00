// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <vector>

#include "core/study/material_entry.hpp"

class QComboBox;
class QLabel;
class QTableWidget;

namespace wallfoot {

/// The parts of a material that is built of others: which, and what share of the area that the heat crosses.
class MixTable : public QWidget {
    Q_OBJECT
  public:
    /// `others`: what may be a part.
    MixTable(const std::vector<MixEntry>& begin, std::vector<Material> others, QWidget* parent);

    std::vector<MixEntry> parts() const;
    /// Shows what is wrong with them: faults with pointers "/mix…"; others are none of its own.
    void tell(const std::vector<Message>& faults);
    QTableWidget& table() { return *table_; }
    QComboBox& part(int row);
    void add_part(const MixEntry& part);
    bool possible() const { return !others_.empty(); }

  signals:
    void changed();

  private:
    std::vector<Material> others_;
    QTableWidget* table_ = nullptr;
    QLabel *sum_ = nullptr, *fault_ = nullptr;
    bool filling_ = false;
};

}  // namespace wallfoot

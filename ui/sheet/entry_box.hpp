// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QFrame>
#include <vector>

#include "ui/sheet/outline_tool.hpp"

class QLabel;
class QLineEdit;

namespace wallfoot {

/// The fields at the cursor for typed lengths. Tab goes through them, Enter commits, Esc leaves.
class EntryBox : public QFrame {
    Q_OBJECT
  public:
    explicit EntryBox(QWidget* parent);
    /// Shows the fields of the tool's step near `cursor` and puts `first` into the first field.
    void begin(const OutlineTool& tool, QPoint cursor, const QString& first);
    /// One line below the fields: what was understood, or what is wrong.
    void tell(const QString& text, bool is_problem);
    QLineEdit* field(OutlineTool::Field field) const { return edits_[field]; }

  signals:
    void typed(int field, const QString& text);
    void committed();
    void left();

  protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

  private:
    void step_focus(QObject* from, int by);
    std::vector<QLabel*> labels_;
    std::vector<QLineEdit*> edits_;
    QLabel* understood_ = nullptr;
};

}  // namespace wallfoot

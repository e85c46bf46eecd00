// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QTreeWidget>

#include "ui/sheet/sheet.hpp"

namespace wallfoot {

/// What the section holds: spaces, pieces (topmost first), membranes, levels, measures, dimensions, texts. The picked thing is marked here and on the sheet.
class ContentsPanel : public QTreeWidget {
    Q_OBJECT
  public:
    explicit ContentsPanel(QWidget* parent = nullptr);
    void show_section(const Study& study, std::shared_ptr<const Section> section);
    void mark(const Picked& picked);

  signals:
    void chosen(const wallfoot::Picked& picked);

  private:
    void add(QTreeWidgetItem* group, const QString& name, const QString& detail, const Picked& picked);
    std::shared_ptr<const Section> section_;
    Picked marked_;
};

}  // namespace wallfoot

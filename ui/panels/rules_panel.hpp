// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <memory>

#include "core/foot/foot_report.hpp"

class QPushButton;
class QTreeWidget;
class QTreeWidgetItem;

namespace wallfoot {

/// What the rules at the wall foot say, worst first; each row opens to what is asked, on what it rests and what would
/// decide it. Below it the way to state what is known of the site, and to copy the questions that are open.
class RulesPanel : public QWidget {
    Q_OBJECT
  public:
    explicit RulesPanel(QWidget* parent = nullptr);
    void show_report(std::shared_ptr<const FootReport> report);
    /// While there is none: `why` is said instead.
    void show_nothing(const QString& why);
    QTreeWidget& list() { return *list_; }
    QPushButton& site_button() { return *site_; }
    QPushButton& copy_button() { return *copy_; }

  signals:
    void place_chosen(const wallfoot::Point& place);
    void site_wanted();
    void copy_wanted();

  private:
    QTreeWidgetItem* group(const QString& name);
    void add(QTreeWidgetItem* group, const Check& check, int index);
    void remember();

    std::shared_ptr<const FootReport> report_;
    QStringList open_;  ///< rows that were opened, and how far the list was scrolled: kept while another report is made
    int scrolled_ = 0;
    std::size_t place_ = 0;
    QTreeWidgetItem* last_ = nullptr;  ///< clicked last: a second click goes to the next of its places
    QTreeWidget* list_;
    QPushButton *site_, *copy_;
};

}  // namespace wallfoot

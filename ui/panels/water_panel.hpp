// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <memory>

#include "core/water/report.hpp"

class QPushButton;
class QTreeWidget;
class QTreeWidgetItem;

namespace wallfoot {

/// What the water's way says of every piece, worst first, with the smallest membrane that would keep a piece dry and one
/// button that draws it.
class WaterPanel : public QWidget {
    Q_OBJECT
  public:
    explicit WaterPanel(QWidget* parent = nullptr);
    void show_report(std::shared_ptr<const WaterReport> report);
    /// While there is none: `why` is said instead.
    void show_nothing(const QString& why);
    QTreeWidget& list() { return *list_; }
    QPushButton& add_button() { return *add_; }
    QPushButton& state_button() { return *state_; }

  signals:
    void place_chosen(const wallfoot::Point& place);
    void piece_chosen(const QString& id);
    void add_wanted(int piece);
    void damp_wanted();
    void state_wanted();  ///< where water comes from

  private:
    QTreeWidgetItem* group(const QString& name);
    void add_piece(QTreeWidgetItem* group, const PieceWater& piece);
    int marked_piece() const;
    void remember();
    void refresh_button();

    std::shared_ptr<const WaterReport> report_;
    std::string marked_;  ///< id of the piece marked last, and how far the list was scrolled: kept while another report is made
    int scrolled_ = 0;
    QTreeWidget* list_;
    QPushButton *add_, *state_, *damp_;
};

}  // namespace wallfoot

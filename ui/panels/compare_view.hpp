// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QSet>
#include <QWidget>
#include <memory>
#include <vector>

#include "ui/panels/compare_table.hpp"

class QAction;
class QCheckBox;
class QComboBox;
class QLabel;
class QMenu;
class QPushButton;
class QTabWidget;
class QToolButton;

namespace wallfoot {

class CompareCharts;
class ComparePictures;
class OtherStudy;

/// The comparison: variants of the study, and of others beside it, as a table, as charts and picture against picture; sorted,
/// filtered, copied.
class CompareView : public QWidget {
    Q_OBJECT
  public:
    explicit CompareView(QWidget* parent = nullptr);
    ~CompareView() override;

    void show_variants(std::shared_ptr<const Study> study, std::vector<Compared> variants);
    /// Another study is in the window: nothing is hidden, its first variant is what others are compared with.
    void begin_anew();
    /// Reads another study and sets its variants beside these; nothing is written to it.
    void set_beside(const QString& path);
    void take_away();

    CompareTable* table() const { return table_; }
    QComboBox* base() const { return base_; }
    QComboBox* sorted_by() const { return sorted_by_; }
    QToolButton* descending() const { return descending_; }
    QCheckBox* only_differing() const { return only_differing_; }
    QMenu* variants_menu() const { return variants_menu_; }
    CompareCharts* charts() const { return charts_; }
    ComparePictures* pictures() const { return pictures_; }
    QTabWidget* tabs() const { return tabs_; }
    /// Those of the study in the window that have findings.
    std::vector<Compared> answered() const;
    QLabel* told() const { return told_; }
    void copy() const;

  signals:
    void chosen(const QString& variant_id);  ///< a column of the study in the window was double-clicked
    void quantities_wanted();                ///< lengths and areas in the building are to be entered
    void equal_wanted();                     ///< the wall or floor of a variant is to be made equal to that of another

  private:
    void lay_out();
    void fill();
    void sort_by_row(int row);
    void fill_menu();
    std::vector<Compared> sorted(const CompareTable::Columns& columns) const;
    void tell();

    std::shared_ptr<const Study> study_;
    std::vector<Compared> variants_;  ///< of the study in the window
    QString base_key_;
    QSet<QString> hidden_;  ///< keys of variants that are not shown
    std::unique_ptr<OtherStudy> other_;
    QComboBox *base_, *shows_, *sorted_by_;
    QToolButton *descending_, *variants_shown_;
    QMenu* variants_menu_;
    QCheckBox* only_differing_;
    QPushButton* stop_;
    QAction* away_;
    QLabel* told_;
    QTabWidget* tabs_;
    CompareTable* table_;
    CompareCharts* charts_;
    ComparePictures* pictures_;
};

}  // namespace wallfoot

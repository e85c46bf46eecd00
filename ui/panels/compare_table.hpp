// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QTableWidget>
#include <QThreadPool>
#include <memory>
#include <optional>
#include <vector>

#include "ui/panels/compared.hpp"

namespace wallfoot {

/// Variants side by side: a column each, pictures in one scale and one colour scale, figures, and what each has otherwise than
/// the one they are compared with.
class CompareTable : public QTableWidget {
    Q_OBJECT
  public:
    enum Row { picture, psi, psi_change, factor, lowest, mould, rules, flow, flanking, loss, loss_change, differs, row_count };
    enum Pictures { heat_maps, sections, temperature_differences };
    /// What is shown: the columns in their order; `base` need not be among them. `study`: its lengths and areas count for all.
    struct Columns {
        std::vector<Compared> shown;
        std::optional<Compared> base;
        std::shared_ptr<const Study> study;
    };

    explicit CompareTable(QWidget* parent = nullptr);
    ~CompareTable() override;

    void show_columns(Columns columns);
    void set_pictures(Pictures pictures);
    void set_only_differing(bool only);
    /// Marks the row the columns are sorted by; picture = none.
    void mark_sorted(Row row, bool descending);
    static QString row_name(Row row);
    /// What a column is sorted by in a row: its number, or how many things differ; nothing where it has none.
    static std::optional<double> sort_value(Row row, const Compared& of, const Columns& columns);

    /// What is seen of the table, without pictures: as lines of fields divided by tabs, and as a table for letters.
    QString as_text() const;
    QString as_html() const;

  signals:
    void chosen(const QString& key);  ///< a column was double-clicked
    void sort_wanted(int row);        ///< the name of a row was clicked

  private:
    void fill_column(int column, const Compared& of);
    void hide_alike();
    void paint_pictures();
    void ask_rules();
    std::vector<QStringList> seen() const;

    Columns columns_;
    Pictures pictures_ = heat_maps;
    bool only_differing_ = false;
    Row sorted_ = picture;
    bool descending_ = false;
    int asked_ = 0;  ///< pictures asked for
    int rules_asked_ = 0;
    QThreadPool pool_;
    QThreadPool rules_pool_;
};

}  // namespace wallfoot

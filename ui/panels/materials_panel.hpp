// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <optional>

#include "core/file/material_table.hpp"
#include "core/study/study.hpp"

class QAction;
class QComboBox;
class QGridLayout;
class QLineEdit;
class QTreeWidget;
class QTreeWidgetItem;

namespace wallfoot {

class Document;

/// The materials to build with: those used last, in this study or another, those of the study, the general table below. A row can be dragged onto a piece;
/// Enter or a double click gives it to the picked one.
class MaterialsPanel : public QWidget {
    Q_OBJECT
  public:
    explicit MaterialsPanel(Document& document, QWidget* parent = nullptr);

    /// A button under the list; the first one spans more.
    void add_button(QAction* action);
    void refresh();
    void set_dark(bool dark);
    void find();  ///< puts the cursor into the search field
    void mark(const std::string& id);  ///< a material of the study
    /// One of the study was used just now: it leads those used last, which are kept for the next study.
    void used(const std::string& id);
    /// One of the study was changed just now: where it is among those used last, it is so as it is now.
    void edited(const Material& before);

    struct Marked {
        Material material;
        bool of_study = true;  ///< false: of the general table, or used last in another study
    };
    std::optional<Marked> marked() const;
    /// Of a row that was dragged.
    std::optional<Marked> material_of(const QString& key) const;

    QLineEdit* search() const { return search_; }
    QComboBox* kinds() const { return kinds_; }
    QTreeWidget* list() const { return list_; }

  signals:
    void give_wanted();

  private:
    int add_rows(QTreeWidgetItem* group, const std::vector<Material>& materials, const QString& prefix);
    bool add_row(QTreeWidgetItem* group, const Material& material, const QString& key);
    /// Where a material used last stands now: in the study, in the table, or nowhere but in the settings.
    QString key_of_recent(const Material& material) const;
    void read_recent();
    bool fits(const Material& material) const;
    QIcon swatch(const Material& material) const;

    Document& document_;
    MaterialTable table_;
    std::vector<Material> recent_;      ///< latest first
    std::map<std::string, int> turns_;  ///< hatches as on the sheet
    bool dark_ = false;
    QLineEdit* search_ = nullptr;
    QComboBox* kinds_ = nullptr;
    QTreeWidget* list_ = nullptr;
    QGridLayout* buttons_ = nullptr;
};

}  // namespace wallfoot

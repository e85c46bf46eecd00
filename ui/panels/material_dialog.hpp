// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <array>
#include <functional>
#include <map>
#include <set>

#include "core/study/material_entry.hpp"

class QCheckBox;
class QComboBox;
class QFormLayout;
class QLabel;
class QLineEdit;
class QStackedWidget;
class QTreeWidget;

namespace wallfoot {

class MixTable;

/// A material as the paper in hand says it: what it is built of, or one conductivity, resistance of a unit, or unit with its mortar joints per moisture condition. What is not typed
/// is not declared. A fault is told at its field; the dialog stays until all is sound or it is cancelled.
class MaterialDialog : public QDialog {
    Q_OBJECT
  public:
    /// Takes the material into the study; refusals keep the dialog open.
    using Take = std::function<std::vector<Message>(const Material&)>;
    /// `others`: materials that it may be built of.
    MaterialDialog(const QString& title, const Material& before, Take take, std::vector<Material> others, QWidget* parent = nullptr);

    void accept() override;
    /// Own conductivity (0), or built of others (1).
    QComboBox& built() { return *built_; }
    MixTable& mix() { return *mix_; }

  private:
    struct Row {
        bool up = false;
        std::size_t condition = 0;
    };
    QWidget* make_head();
    QWidget* make_conductivities();
    QWidget* make_value_form();
    QWidget* make_use();
    QLineEdit* add_line(QFormLayout* form, const QString& label, const char* field);
    void put_with_fault(QFormLayout* form, const QString& label, QWidget* widget, const char* field);
    void fill_rows();
    void show_row();
    void typed();
    void left(const QString& field);
    void same_in_all();
    void tell();
    Row row() const;
    ConductivityEntry& entry(Row row) { return (row.up ? typed_.up : typed_.across)[row.condition]; }
    /// Pointer of a field of the row that is shown, or of the head.
    std::string pointer(const QString& field) const;

    Material before_;
    Take take_;
    MaterialEntry typed_;
    std::vector<Message> refused_;       ///< by the study, until the next key
    std::set<std::string> left_;         ///< fields that were left: their faults are told
    bool all_told_ = false;              ///< OK was tried: every fault is told
    bool filling_ = false;
    std::map<QString, QWidget*> fields_;
    std::map<QString, QLabel*> faults_;
    QLineEdit *name_ = nullptr, *density_ = nullptr, *strength_ = nullptr, *aggregate_ = nullptr;
    QLineEdit *coefficient_ = nullptr, *from_ = nullptr, *to_ = nullptr, *ageing_ = nullptr;
    QComboBox *kind_ = nullptr, *capillary_ = nullptr, *built_ = nullptr;
    QStackedWidget* pages_ = nullptr;
    MixTable* mix_ = nullptr;
    QTreeWidget* rows_ = nullptr;
    QCheckBox* second_axis_ = nullptr;
    QLabel *of_ = nullptr, *echo_ = nullptr;
    QComboBox *stated_as_ = nullptr, *basis_ = nullptr, *by_ = nullptr;
    std::array<QLineEdit*, 5> joints_ = {};  ///< length and height of the unit, bed joint, perpend, mortar
    QLineEdit *value_ = nullptr, *thickness_ = nullptr, *moisture_ = nullptr, *low_ = nullptr, *high_ = nullptr, *fractile_ = nullptr,
              *source_ = nullptr;
};

}  // namespace wallfoot

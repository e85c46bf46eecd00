// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <map>
#include <memory>

#include "core/details/detail.hpp"

class QCheckBox;
class QComboBox;
class QGridLayout;
class QGroupBox;
class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;
class QScrollArea;

namespace wallfoot {

class DetailPicture;

/// Starter details with their dimensions and site faults, and a picture that follows each change. What is typed wrong is
/// told at its field; the picture then keeps what was right before, and OK waits.
class DetailDialog : public QDialog {
    Q_OBJECT
  public:
    explicit DetailDialog(StarterDetails details, QWidget* parent = nullptr);

    /// What OK takes: null while something is wrong.
    std::shared_ptr<const Study> study() const { return wrong_.empty() ? study_ : nullptr; }

    void accept() override;

  private:
    QLayout* make_left();
    QLayout* make_right();
    void show_detail(int index);
    QWidget* add_number(QGridLayout* grid, const DetailParameter& parameter);
    QWidget* add_choice(QGridLayout* grid, const DetailParameter& parameter);
    QWidget* add_fault(const DetailSwitch& fault);
    void set(const std::string& id, const std::string& text);
    void tick(const std::string& id, bool on);
    /// Makes the study; `shown` is the variant to be looked at, empty = the one looked at before.
    void make(const std::string& shown = {});
    void look();
    const Detail& detail() const;

    StarterDetails details_;
    DetailSettings settings_;
    std::map<std::string, QString> wrong_;  ///< by parameter; "" = the section itself
    std::shared_ptr<const Study> study_;

    QListWidget* list_ = nullptr;
    QLabel *about_ = nullptr, *told_ = nullptr;
    QScrollArea* fields_ = nullptr;
    QGroupBox* site_ = nullptr;
    std::map<std::string, QLabel*> faults_;  ///< below the field of a parameter
    QComboBox* variant_ = nullptr;
    DetailPicture* picture_ = nullptr;
    QPushButton *ok_ = nullptr, *costs_ = nullptr;
};

}  // namespace wallfoot

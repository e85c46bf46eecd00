// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>

#include "core/context/context.hpp"
#include "solver/findings/partner.hpp"

class QComboBox;
class QLabel;
class QListWidget;
class QPlainTextEdit;
class QPushButton;
class QSpinBox;

namespace wallfoot {

class ParameterChoice;

/// The equal partner: which value of one parameter, or how many whole courses of another block, make this variant as good as
/// another, in psi, fRsi or both; beside it what heat does not decide.
class EqualDialog : public QDialog {
    Q_OBJECT
  public:
    /// `piece`: id of the piece offered first, if any.
    EqualDialog(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& piece, QWidget* parent = nullptr);
    ~EqualDialog() override;

    QComboBox& target() { return *target_; }
    QComboBox& by() { return *by_; }
    QComboBox& way() { return *way_; }
    QComboBox& block() { return *block_; }
    QListWidget& leaves() { return *leaves_; }
    ParameterChoice& choice() { return *choice_; }
    QPushButton& start() { return *start_; }
    QPlainTextEdit& answer() { return *answer_; }
    bool busy() const { return busy_; }

  private:
    QWidget* courses_box(const Variant& variant);
    bool by_courses() const;
    std::vector<std::string> chosen_leaves() const;
    void choice_changed();
    void run();
    void ended(const QString& text, bool found);

    std::shared_ptr<const Study> study_;
    std::string variant_id_;
    std::shared_ptr<Context> running_;
    int asked_ = 0;
    bool busy_ = false;
    QThreadPool pool_;
    ParameterChoice* choice_ = nullptr;
    QComboBox *target_ = nullptr, *by_ = nullptr, *way_ = nullptr, *block_ = nullptr;
    QListWidget* leaves_ = nullptr;
    QSpinBox* most_ = nullptr;
    QWidget* courses_ = nullptr;
    QPushButton *start_ = nullptr, *stop_ = nullptr, *copy_ = nullptr;
    QPlainTextEdit* answer_ = nullptr;
};

}  // namespace wallfoot

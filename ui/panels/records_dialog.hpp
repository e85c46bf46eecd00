// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <map>
#include <memory>

#include "core/study/study.hpp"
#include "solver/record/record.hpp"
#include "ui/exchange/background.hpp"

class QLabel;
class QLineEdit;
class QPlainTextEdit;
class QProgressBar;
class QPushButton;
class QTableWidget;

namespace wallfoot {

/// Asks who issues the results of a study and why, and freezes them (record_of) while the window stays alive. Stopped or refused, there
/// is no record.
class IssueDialog : public QDialog {
    Q_OBJECT
  public:
    explicit IssueDialog(std::shared_ptr<const Study> study, QWidget* parent = nullptr);
    ~IssueDialog() override;

    /// Of the study given; "" unless accepted.
    const std::string& record() const { return record_; }
    void issue();
    bool at_work() const { return !work_.idle(); }
    QLineEdit& author() { return *author_; }
    QPlainTextEdit& reason() { return *reason_; }
    QString told() const;
    void reject() override;

  private:
    std::shared_ptr<const Study> study_;
    std::string record_;
    std::shared_ptr<Context> context_;
    QLineEdit *author_ = nullptr, *checker_ = nullptr, *revision_ = nullptr, *date_ = nullptr;
    QPlainTextEdit* reason_ = nullptr;
    QLabel* told_ = nullptr;
    QProgressBar* bar_ = nullptr;
    QPushButton *issue_ = nullptr, *stop_ = nullptr;
    Background work_;  ///< last: waits for what is under way
};

/// The records that a study holds, what each froze, and on request each worked out again from its own copy. Changes nothing.
class RecordsDialog : public QDialog {
    Q_OBJECT
  public:
    explicit RecordsDialog(std::shared_ptr<const Study> study, QWidget* parent = nullptr);
    ~RecordsDialog() override;

    void check_again();
    bool at_work() const { return context_ != nullptr; }
    QTableWidget& records() { return *records_; }
    QTableWidget& findings() { return *findings_; }
    QString told() const;

  private:
    void show_marked();
    void show_state(std::size_t number);

    std::shared_ptr<const Study> study_;
    std::vector<IssuedRecord> all_;
    std::map<std::size_t, RecheckedRecord> checked_;
    std::map<std::size_t, QString> refused_;  ///< why one could not be worked out again
    std::shared_ptr<Context> context_;
    QTableWidget *records_ = nullptr, *findings_ = nullptr;
    QLabel *detail_ = nullptr, *told_ = nullptr;
    QPushButton *check_ = nullptr, *stop_ = nullptr;
    Background work_;  ///< last: waits for what is under way
};

}  // namespace wallfoot

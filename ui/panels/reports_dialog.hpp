// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <memory>

#include "ui/exchange/background.hpp"
#include "ui/report/report_batch.hpp"

class QCheckBox;
class QLabel;
class QLineEdit;
class QProgressBar;
class QPushButton;
class QTableWidget;

namespace wallfoot {

/// Reports of all studies below a folder (make_reports), written while the window goes on: how far it is, Stop, what became of each
/// study. Closing it stops.
class ReportsDialog : public QDialog {
    Q_OBJECT
  public:
    ReportsDialog(const QString& folder, std::shared_ptr<const OfficeTemplate> office, QWidget* parent = nullptr);
    ~ReportsDialog() override;

    void set_folders(const QString& studies, const QString& reports);
    void start();
    bool at_work() const { return !work_.idle(); }
    QTableWidget& table() { return *table_; }
    QString told() const;
    QPushButton& stop() { return *stop_; }
    /// Whether that form of report is wanted.
    QCheckBox& form(const QString& ending);

  private:
    struct Run;
    void show_rows();
    void finish(const QString& text);

    std::shared_ptr<const OfficeTemplate> office_;
    QLineEdit *studies_ = nullptr, *reports_ = nullptr;
    std::vector<std::pair<QString, QCheckBox*>> forms_;
    QCheckBox *brief_ = nullptr, *errors_ = nullptr;
    QTableWidget* table_ = nullptr;
    QProgressBar* bar_ = nullptr;
    QLabel* told_ = nullptr;
    QPushButton *start_ = nullptr, *stop_ = nullptr, *show_ = nullptr;
    QString index_;
    std::shared_ptr<Run> run_;
    Background work_;  ///< last: waits for what is under way
};

}  // namespace wallfoot

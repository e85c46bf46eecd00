// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>

#include "core/context/context.hpp"
#include "core/details/detail.hpp"

class QLabel;
class QPushButton;
class QTableWidget;

namespace wallfoot {

/// What every site fault of a detail costs, the highest rise of psi first.
class FaultsDialog : public QDialog {
    Q_OBJECT
  public:
    FaultsDialog(const Detail& detail, const DetailSettings& settings, QWidget* parent = nullptr);
    ~FaultsDialog() override;
    QTableWidget& table() { return *table_; }
    bool busy() const { return busy_; }

  private:
    std::shared_ptr<Context> context_ = std::make_shared<Context>();
    bool busy_ = true;
    QThreadPool pool_;
    QLabel *head_ = nullptr, *told_ = nullptr;
    QTableWidget* table_ = nullptr;
    QPushButton* copy_ = nullptr;
    QString text_;
};

}  // namespace wallfoot

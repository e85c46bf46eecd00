// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <functional>
#include <map>

#include "core/dwelling/dwelling.hpp"

class QLabel;
class QLineEdit;
class QTableWidget;

namespace wallfoot {

/// The envelope of a dwelling, and what the user states of climate, prices and factors. What is typed in part is told
/// and waits until it is whole.
class EnvelopePage : public QWidget {
    Q_OBJECT
  public:
    explicit EnvelopePage(QWidget* parent = nullptr);

    /// Shows a dwelling; what was typed in part is gone then.
    void load(const Dwelling& dwelling);
    /// What is typed, on top of `dwelling`; parts that are not whole are as they are there.
    Dwelling applied(const Dwelling& dwelling) const;
    /// What is not whole yet, or "".
    QString problem() const;

    QTableWidget& table() { return *table_; }
    /// By name: "degree_days", "degree_days.base", "degree_days.source", "currency", "efficiency", "price", "price.date",
    /// "price.source", "carbon", "carbon.date", "carbon.source".
    QLineEdit& field(const QString& name) { return *fields_.at(name); }

  signals:
    void edited();

  private:
    QString text(const char* name) const;
    std::optional<double> number(const char* name) const;
    std::optional<DatedValue> dated(const char* name, const std::optional<DatedValue>& before) const;
    void told();
    void add_row();
    void remove_row();

    QTableWidget* table_ = nullptr;
    std::map<QString, QLineEdit*> fields_;
    QLabel* problem_ = nullptr;
    bool loading_ = false;
};

}  // namespace wallfoot

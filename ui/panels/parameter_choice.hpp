// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <memory>
#include <optional>

#include "solver/findings/sweep.hpp"

class QComboBox;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// Which parameter of a variant a sweep goes through, and by which steps.
class ParameterChoice : public QWidget {
    Q_OBJECT
  public:
    /// What may be chosen: there may be none; or numbers only, without conditions.
    enum class Offered { one, one_or_none, numbers };
    /// `piece`: id of the piece offered first.
    ParameterChoice(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& title, Offered offered, const QString& piece, QWidget* parent = nullptr);

    /// Nothing where none is wanted, or something is wrong: see problem().
    std::optional<SweepChange> change() const;
    /// What is typed wrong, in words; empty when nothing is.
    QString problem() const;
    /// "Cavity width, mm"
    QString title() const;

    QComboBox& what() { return *what_; }
    QComboBox& of() { return *of_; }
    QLineEdit& from() { return *from_; }
    QLineEdit& to() { return *to_; }
    QLineEdit& steps() { return *steps_; }

  signals:
    void changed();

  private:
    struct Offer {
        Parameter parameter;
        QString name, in_title;  ///< in the list; in titles, where there is less room
    };
    void offer();
    void show_what();
    void show_of();
    const Offer* chosen() const;
    std::vector<std::string> declared_conditions(const Parameter& parameter) const;
    /// Of from, to and steps; the first problem, or nothing.
    QString read_numbers(double& from, double& to, int& steps) const;

    std::shared_ptr<const Study> study_;
    const Variant* variant_;
    Offered offered_;
    QString piece_;
    std::vector<Offer> offers_;
    QComboBox *what_ = nullptr, *of_ = nullptr;
    QLineEdit *from_ = nullptr, *to_ = nullptr, *steps_ = nullptr;
    QLabel* through_ = nullptr;
    std::vector<QWidget*> for_numbers_;
    QLabel* unit_ = nullptr;
};

/// How the window names a kind of parameter, and its unit.
QString name_of(ParameterWhat what);
QString unit_of(ParameterWhat what);
/// A value of a change as it is shown.
QString shown_value(const SweepChange& change, std::size_t n);

}  // namespace wallfoot

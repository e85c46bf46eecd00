// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <memory>

#include "solver/findings/findings.hpp"

class QLabel;
class QToolButton;
class QHBoxLayout;

namespace wallfoot {

/// The answer, always in sight: psi with its bracket, fRsi with the place of the lowest surface temperature; or that there is
/// no answer and why, with a way there. Never an old number.
class AnswerStrip : public QWidget {
    Q_OBJECT
  public:
    explicit AnswerStrip(QWidget* parent = nullptr);
    /// Room at the left for the activities.
    QHBoxLayout* left() const { return left_; }

    void show_nothing();
    void show_working();
    void show_faults(int count);
    /// `of`: whose they are, where that is not the variant in view.
    void show_findings(const Findings& findings, bool at_rest, const QString& of = {});
    /// A sentence in the place of numbers.
    void show_said(const QString& text);
    QString text() const;  ///< as a reader hears it

  signals:
    void faults_wanted();
    void place_wanted(const wallfoot::Point& place);

  private:
    void arrange(const QString& psi, const QString& fRsi, const QString& faults);
    QHBoxLayout* left_ = nullptr;
    QLabel* psi_ = nullptr;
    QToolButton* fRsi_ = nullptr;
    QToolButton* faults_ = nullptr;
    Point place_;
};

}  // namespace wallfoot

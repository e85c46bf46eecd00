// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <memory>

#include "solver/report/office_template.hpp"

class QLabel;
class QLineEdit;
class QPlainTextEdit;

namespace wallfoot {

/// The template that this user keeps for all studies, in a file of the data folder; null where there is none or it cannot be
/// used, then `trouble` says why.
std::shared_ptr<const OfficeTemplate> kept_office(QString* trouble = nullptr);
/// Keeps one for good; an empty one is none. The reason where that fails, and then what was kept stays.
QString keep_office(const OfficeTemplate& office);

/// Logo, name, contact, texts and foot of the user's reports: typed here, or opened from a template file. It is kept for the user,
/// never in the study.
class OfficeDialog : public QDialog {
    Q_OBJECT
  public:
    explicit OfficeDialog(const OfficeTemplate& office, QWidget* parent = nullptr);

    /// As it stands in the fields.
    OfficeTemplate office() const;
    /// Takes over a template file; says why where it cannot, and the fields stay.
    void open_template(const QString& path);
    void take_logo(const QString& path);
    QString told() const;
    QLineEdit& name() { return *name_; }
    QPlainTextEdit& contact() { return *contact_; }
    /// Refuses, and says so, what cannot be printed in full.
    void accept() override;

  private:
    /// Why the fields make no template that can be used; empty when they do.
    QString trouble() const;
    void show_office(const OfficeTemplate& office);
    void show_logo();

    std::optional<OfficeLogo> logo_;
    QLineEdit *name_ = nullptr, *foot_ = nullptr;
    QPlainTextEdit *contact_ = nullptr, *before_ = nullptr, *end_ = nullptr;
    QLabel *picture_ = nullptr, *told_ = nullptr;
};

}  // namespace wallfoot

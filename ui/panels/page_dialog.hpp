// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <optional>

class QComboBox;
class QDialogButtonBox;
class QLabel;
class QSpinBox;

namespace wallfoot {

class PdfFile;

/// Which page of a PDF, and at what scale it is drawn.
class PageDialog : public QDialog {
    Q_OBJECT
  public:
    PageDialog(const PdfFile& file, const QString& name, QWidget* parent = nullptr);

    int page() const;
    /// n of 1 : n; nothing while what is typed is none.
    std::optional<double> scale() const;
    QSpinBox* page_field() const { return page_; }
    QComboBox* scale_field() const { return scale_; }
    QDialogButtonBox* buttons() const { return buttons_; }

  private:
    void show_page();
    void refresh();

    const PdfFile& file_;
    QSpinBox* page_;
    QComboBox* scale_;
    QLabel *picture_, *size_, *problem_;
    QDialogButtonBox* buttons_;
    QString trouble_;
};

}  // namespace wallfoot

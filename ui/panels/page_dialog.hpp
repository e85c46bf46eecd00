// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QImage>
#include <atomic>
#include <memory>
#include <optional>

#include "ui/exchange/background.hpp"

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
    /// Pages are painted on `background`: nothing else may use the file while this is open.
    PageDialog(std::shared_ptr<const PdfFile> file, Background& background, const QString& name, QWidget* parent = nullptr);

    int page() const;
    /// Of that page, in points; empty while it is being loaded or cannot be shown.
    QSizeF page_size() const { return shown_.size; }
    /// n of 1 : n; nothing while what is typed is none.
    std::optional<double> scale() const;
    QSpinBox* page_field() const { return page_; }
    QComboBox* scale_field() const { return scale_; }
    QDialogButtonBox* buttons() const { return buttons_; }

  private:
    struct Shown {
        QSizeF size;      ///< points
        QImage picture;
        QString trouble;  ///< why there is none
    };
    void ask_page();
    void show_page(const Shown& shown);
    void refresh();

    std::shared_ptr<const PdfFile> file_;
    Background& background_;
    std::shared_ptr<std::atomic<int>> wanted_;  ///< the page that is to be seen
    bool loading_ = true;
    Shown shown_;
    QSpinBox* page_;
    QComboBox* scale_;
    QLabel *picture_, *size_, *problem_;
    QDialogButtonBox* buttons_;
};

}  // namespace wallfoot

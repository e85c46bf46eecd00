// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>
#include <vector>

#include "core/file/find_studies.hpp"

class QLabel;
class QLineEdit;
class QPushButton;
class QTableWidget;

namespace wallfoot {

/// Earlier studies below a folder, found by any words in them: block, detail, soil, enquiry number. Read away from the window's
/// thread; the folder is kept for the next time.
class FindDialog : public QDialog {
    Q_OBJECT
  public:
    /// `folder`: where to look first.
    explicit FindDialog(const QString& folder, QWidget* parent = nullptr);
    ~FindDialog() override;

    /// The file to be opened, "" where none was chosen.
    QString chosen() const { return chosen_; }
    QString folder() const { return folder_; }
    void look_in(const QString& folder);
    bool busy() const { return running_ != nullptr; }

    QLineEdit& words() { return *words_; }
    QTableWidget& table() { return *table_; }
    QLabel& told() { return *told_; }

    void accept() override;

  private:
    void show_found();
    void show_marked();

    std::shared_ptr<const FoundStudies> found_;
    std::vector<std::size_t> shown_;  ///< indices into found_, by row
    std::shared_ptr<Context> running_;
    QThreadPool pool_;
    QString folder_, chosen_;
    QLineEdit *folder_field_ = nullptr, *words_ = nullptr;
    QTableWidget* table_ = nullptr;
    QLabel *detail_ = nullptr, *told_ = nullptr;
    QPushButton* open_ = nullptr;
};

}  // namespace wallfoot

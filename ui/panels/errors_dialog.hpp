// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <memory>

#include "core/context/context.hpp"
#include "solver/findings/usual_errors.hpp"

class QLabel;
class QPlainTextEdit;
class QPushButton;
class QTableWidget;

namespace wallfoot {

/// Usual errors that stand in the drawing, what others would do to it, and the one step that mends one. Worked out away from the
/// window's thread.
class ErrorsDialog : public QDialog {
    Q_OBJECT
  public:
    ErrorsDialog(std::shared_ptr<const Study> study, std::size_t variant, QWidget* parent = nullptr);
    ~ErrorsDialog() override;

    /// The drawing as "Mend it" leaves it; nothing where it was not asked for.
    const std::optional<Section>& mended() const { return mended_; }
    bool busy() const { return busy_; }
    QTableWidget& table() { return *table_; }
    QLabel& told() { return *told_; }
    QPushButton& mend() { return *mend_; }

  private:
    void show_errors();
    void show_marked();

    std::shared_ptr<Context> context_ = std::make_shared<Context>();
    std::shared_ptr<const UsualErrors> found_;
    std::optional<Section> mended_;
    bool busy_ = true;
    QThreadPool pool_;
    QTableWidget* table_ = nullptr;
    QLabel *why_ = nullptr, *told_ = nullptr;
    QPlainTextEdit* derived_ = nullptr;  ///< how the size of the marked one was worked out
    QPushButton *mend_ = nullptr, *copy_ = nullptr;
};

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QThreadPool>
#include <functional>
#include <memory>
#include <vector>

#include "core/context/context.hpp"
#include "core/dwelling/balance.hpp"
#include "core/study/study.hpp"
#include "ui/exchange/kept_copy.hpp"

class QComboBox;
class QLabel;
class QLineEdit;
class QPlainTextEdit;
class QProgressBar;
class QPushButton;
class QTableWidget;
class QTabWidget;
class QTimer;

namespace wallfoot {

class EnvelopePage;
struct Updated;

/// The study in the window beside, as a row may be made of it.
struct StudyInWindow {
    QString path;                        ///< "" where it was never saved
    std::shared_ptr<const Study> study;  ///< null where there is none
    std::string variant;                 ///< id of the one in view
    bool saved = true;                   ///< the file is as the window shows it
};

/// A dwelling: its junctions with their lengths and values, what is open or out of date, the sums as they are typed, and the
/// sheet for a calculation. Studies are looked at and solved away from the window's thread.
class DwellingDialog : public QDialog {
    Q_OBJECT
  public:
    /// `copies`: folder for copies of unsaved changes; "" = none are kept.
    explicit DwellingDialog(std::function<StudyInWindow()> beside, QWidget* parent = nullptr, const QString& copies = {});
    ~DwellingDialog() override;

    /// Offers what a program that is gone has left of a dwelling. True when a copy was opened.
    bool offer_left_behind();
    /// Opens a copy of unsaved changes: it counts as changed and is saved to `path`.
    bool recover(const QString& copy, const QString& path);
    /// False, and said why, when it cannot be read; what is open stays then.
    bool open_file(const QString& path);
    bool save_to(const QString& path);
    /// Asks where changes would be lost. True when the dwelling may be left.
    bool may_leave();

    const Dwelling& dwelling() const { return history_[at_]; }
    QString path() const { return path_; }
    bool changed() const;
    /// Makes an act, to be taken back; false and said why where it could not stand in the file.
    bool change(Dwelling next);
    void undo();
    void redo();
    /// A row of the study beside, worked out at once; false and said why where that cannot be.
    bool add_study_row(const std::string& variant, const std::string& kind, std::optional<double> length, const std::string& name = "");
    /// Solves what is not up to date.
    void update_values();
    void stop();
    bool busy() const { return looking_ > 0 || running_ != nullptr; }

    QTableWidget& table() { return *table_; }
    QTableWidget& measures() { return *measures_; }
    /// Writes the copy of unsaved changes now.
    void keep_copy_now();
    void finish_copy() { copy_.finish(); }
    EnvelopePage& envelope() { return *envelope_; }
    QLabel& told() { return *told_; }
    QLabel& sums() { return *sums_; }
    QPlainTextEdit& sheet() { return *sheet_; }
    QPlainTextEdit& worked_out() { return *worked_out_; }
    QComboBox& sheet_template() { return *template_; }

  protected:
    void reject() override;  ///< also what closing leads to
    bool event(QEvent* event) override;

  private:
    QWidget* make_head();
    QWidget* make_junctions();
    QWidget* make_measures();
    QWidget* make_sheet();
    void begin(Dwelling dwelling, const QString& path);
    void refresh();
    void fill_table(const Balance& sums);
    void fill_measures(const Balance& sums);
    void edit_measure(std::optional<std::size_t> index);
    void remove_measure();
    void fill_sheet(const Balance& sums);
    /// Looks at the studies again, away from here.
    void look();
    void take(const Updated& updated);
    void cell_changed(int row, int column);
    void add_study();
    void add_elsewhere();
    void edit_row();
    void remove_row();
    void not_there();
    bool ask_and_save(bool as);
    void ask_and_open();
    QString folder() const;
    /// Index of the row of the table, or none for an open kind.
    std::optional<std::size_t> picked() const;
    std::string picked_kind() const;

    std::function<StudyInWindow()> beside_;
    std::vector<Dwelling> history_{Dwelling{}};
    std::size_t at_ = 0;
    Dwelling saved_;
    bool refused_ = false;  ///< what stands on the page of the envelope could not be taken
    QString path_;
    StudiesNow studies_;
    int looking_ = 0;
    std::shared_ptr<Context> running_;  ///< of an update under way
    std::uint64_t life_ = 0;            ///< of the dwelling that is open: what was begun for another ends nowhere
    QThreadPool pool_;
    QString copies_;
    KeptCopy copy_;
    QTimer* keep_soon_ = nullptr;
    Dwelling in_file_;  ///< as it was read or saved last

    QTabWidget* pages_ = nullptr;
    QLineEdit* name_ = nullptr;
    QComboBox *lengths_ = nullptr, *template_ = nullptr;
    QTableWidget *table_ = nullptr, *measures_ = nullptr;
    EnvelopePage* envelope_ = nullptr;
    QPlainTextEdit *sheet_ = nullptr, *worked_out_ = nullptr;
    QPushButton *edit_ = nullptr, *remove_ = nullptr, *not_there_ = nullptr, *ask_again_ = nullptr, *edit_measure_ = nullptr, *remove_measure_ = nullptr, *add_measure_ = nullptr, *update_ = nullptr, *stop_ = nullptr, *undo_ = nullptr, *redo_ = nullptr;
    QProgressBar* progress_ = nullptr;
    QLabel *absent_ = nullptr, *told_ = nullptr, *sums_ = nullptr;
};

}  // namespace wallfoot

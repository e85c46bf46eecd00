// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPointer>
#include <QWidget>
#include <cstdint>
#include <optional>
#include <utility>

#include "core/lesson/lesson.hpp"
#include "ui/teach/lesson_player.hpp"

class QComboBox;
class QMenu;
class QLabel;
class QLineEdit;
class QListWidget;
class QPlainTextEdit;
class QPushButton;

namespace wallfoot {

class HandOut;

/// The activity Teach: the lessons of the study, shown and set up. Edits are told as acts; the study is changed elsewhere.
class TeachView : public QWidget {
    Q_OBJECT
  public:
    explicit TeachView(QWidget* parent = nullptr);
    ~TeachView() override;

    /// `active`: the variant in view, for new steps. `findings` by variant, null where one is not worked out; `refused` says why
    /// where it cannot be.
    void show_study(std::shared_ptr<const Study> study, std::size_t active, std::vector<std::shared_ptr<const Findings>> findings, std::vector<QString> refused = {});
    /// What was typed and not told yet is told now.
    void flush();

    LessonPlayer& player() { return *player_; }
    const std::vector<Lesson>& lessons() const { return lessons_; }
    std::size_t lesson() const { return lesson_; }
    std::shared_ptr<const Study> study() const { return study_; }
    /// The findings the lesson is shown with.
    const std::vector<std::shared_ptr<const Findings>>& findings() const { return findings_; }
    QComboBox& chosen() { return *chosen_; }
    QListWidget& steps() { return *steps_; }
    QPlainTextEdit& text() { return *text_; }
    QLineEdit& title() { return *title_; }
    QLineEdit& asked() { return *asked_; }
    QPlainTextEdit& options() { return *options_; }
    /// What was asked of the solver under this number, and all before it, has been told whole.
    void set_told(std::uint64_t asked) { told_ = asked; }
    std::uint64_t told() const { return told_; }
    QComboBox& layer() { return *layer_; }
    QComboBox& question() { return *question_; }
    QPushButton& button(const QString& name) const { return *buttons_.at(name); }
    QPushButton& hand_out_button() { return *export_; }
    /// What is being made to be handed out.
    HandOut& hand_out() { return *hand_out_; }

  signals:
    void changed(const QString& act, const std::vector<Lesson>& lessons);
    /// html | pdf-a4 | pdf-a3 | png | svg
    void save_wanted(const QString& what);

  protected:
    void hideEvent(QHideEvent*) override;

  private:
    QWidget* make_list();
    QWidget* make_form();
    QPushButton* add_button(const QString& name, const QString& text, std::function<void()> act);
    Lesson* present_lesson() { return lesson_ < lessons_.size() ? &lessons_[lesson_] : nullptr; }
    LessonStep* present_step();
    void commit(const QString& act);
    void fill_lists();
    void fill_form();
    void take_form();
    void add_lesson();
    void remove_lesson();
    void add_step();
    void remove_step();
    void move_step(int by);
    void ready_question(int index);
    void show_player();

    std::shared_ptr<const Study> study_;
    std::size_t active_ = 0;
    std::vector<std::shared_ptr<const Findings>> findings_;
    std::vector<QString> refused_;
    std::uint64_t told_ = 0;
    std::vector<Lesson> lessons_;
    std::size_t lesson_ = 0;
    std::size_t form_step_ = 0;  ///< the one the fields are of
    std::optional<std::pair<std::size_t, std::size_t>> form_shows_;  ///< lesson and step that the fields were last filled with
    bool filling_ = false, damaged_ = false;
    QTimer typed_;  ///< what is typed is told when it pauses

    std::map<QString, QPushButton*> buttons_;
    QComboBox *chosen_, *variant_, *layer_, *beside_, *trial_, *trial_piece_, *question_, *other_;
    QPushButton *ready_, *export_;
    QLineEdit *title_, *asked_;
    QListWidget* steps_;
    QPlainTextEdit *text_, *note_, *options_, *answer_;
    QLabel* trouble_;
    HandOut* hand_out_;
    QWidget* home_;
    QPointer<LessonPlayer> player_;
};

}  // namespace wallfoot

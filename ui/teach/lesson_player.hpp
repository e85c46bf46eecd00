// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPointer>
#include <QWidget>
#include <functional>

#include "solver/lesson/lesson_answer.hpp"
#include "ui/teach/lesson_stage.hpp"

class QButtonGroup;
class QGroupBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QScrollArea;
class QSlider;
class QSpinBox;
class QVBoxLayout;

namespace wallfoot {

/// What the presenter alone sees: the note of the step and what comes next. For a second screen.
class NotesWindow : public QWidget {
    Q_OBJECT
  public:
    explicit NotesWindow(QWidget* parent = nullptr);
    void show_step(const Lesson& lesson, std::size_t step);
    QLabel& note() { return *note_; }
    QLabel& next() { return *next_; }

  signals:
    void step_wanted(int by);
    void end_wanted();

  protected:
    void keyPressEvent(QKeyEvent*) override;

  private:
    QLabel *place_, *note_, *next_;
};

/// Shows a lesson step by step: picture, text, question, slider. Never changes the study: what is tried here is gone with
/// the step, or at once by reset().
class LessonPlayer : public QWidget {
    Q_OBJECT
  public:
    explicit LessonPlayer(QWidget* parent = nullptr);
    ~LessonPlayer() override;

    /// `findings` by variant; null where one is not worked out yet, or cannot be: then `refused` says why. The step stays where there is one of its number; what is
    /// tried or guessed goes only where the step or its findings changed.
    void set_source(std::shared_ptr<const Study> study, Lesson lesson, std::vector<std::shared_ptr<const Findings>> findings, std::vector<QString> refused = {});
    std::size_t step() const { return step_; }
    void go_to(std::size_t step);
    void next() { move(1); }
    void back() { move(-1); }
    /// The step as the lesson says it.
    void reset();
    /// Full screen, with the notes on a second window; back into its place with Esc.
    void present();
    void end_presenting();
    bool presenting() const { return presenting_; }

    LessonStage& stage() { return *stage_; }
    NotesWindow& notes() { return *notes_; }
    QLabel& text() { return *text_; }
    QLabel& result() { return *result_; }
    QLabel& trial_words() { return *trial_words_; }
    QLabel& units() { return *units_; }
    QSlider& slider() { return *slider_; }
    QLineEdit& typed() { return *typed_; }
    QPushButton& reveal_button() { return *reveal_; }
    const std::vector<QSpinBox*>& tally() const { return tally_; }
    const std::vector<QPointF>& clicks() const { return clicks_; }
    /// No solve and no painting is under way.
    bool idle() const { return solving_.idle() && stage_->painted(); }
    /// The answer as it was told; nothing before.
    const std::optional<LessonAnswer>& answer() const { return answer_; }
    /// The keys that serve now, in words.
    QLabel& keys() { return *keys_; }
    /// Something is asked and not answered yet: what would tell the answer is held back.
    bool holds_back() const;
    /// Of what is on the screen, as tried where the slider was moved; null where there is nothing.
    std::shared_ptr<const Findings> shown_findings() const;
    bool tried() const { return found_in_trial_ != nullptr; }

  signals:
    void step_changed(std::size_t step);
    void shown_changed();  ///< other findings are on the screen, or they may be told now

  protected:
    bool event(QEvent*) override;
    bool eventFilter(QObject* watched, QEvent* event) override;
    void keyPressEvent(QKeyEvent*) override;
    void closeEvent(QCloseEvent*) override;
    void resizeEvent(QResizeEvent*) override;

  private:
    void move(int by);
    void show_step();
    void show_question();
    void show_trial();
    void show_units(const Findings& findings);
    void reveal();
    /// One more for an option of the question.
    void count_guess(std::size_t option);
    void take_guess_back();
    void show_guesses();
    void trial_moved(int position);
    /// What a key does now; nothing where it does nothing.
    std::function<void()> act_of(const QKeyEvent& event);
    std::function<void()> act_with_pointer(const QKeyEvent& event);
    std::function<void()> act_of_escape();
    void move_trial_by_key(int by);
    void show_keys();
    QStringList all_keys() const;
    /// The slider as it begins, and the picture as drawn.
    void put_trial_back();
    void give_sizes();
    const LessonStep* present_step() const { return step_ < lesson_.steps.size() ? &lesson_.steps[step_] : nullptr; }
    std::shared_ptr<const Findings> findings_of(const std::string& variant) const;
    std::optional<std::size_t> index_of(const std::string& variant) const;
    LessonPicture picture_of(std::shared_ptr<const Findings> findings, const LessonStep& step) const;

    std::shared_ptr<const Study> study_;
    Lesson lesson_;
    std::vector<std::shared_ptr<const Findings>> findings_;
    std::vector<QString> refused_;
    std::vector<std::shared_ptr<const Findings>> shown_of_;  ///< what the step on the screen was made of
    std::size_t step_ = 0;
    bool presenting_ = false;
    TemperatureRange range_;
    std::vector<QPointF> clicks_;
    std::vector<std::size_t> counted_;  ///< options counted by key, the last one last
    std::optional<LessonAnswer> answer_;
    std::optional<TrialRange> trial_;
    int trial_asked_ = 0;
    std::shared_ptr<const Findings> found_in_trial_;  ///< of the place where the slider stands; null: as drawn
    Background solving_;

    QLabel *title_, *text_, *question_, *result_, *units_, *trial_words_, *place_, *keys_;
    LessonStage* stage_;
    QWidget *asked_, *tried_, *options_, *side_;
    QVBoxLayout* option_rows_;
    QScrollArea* side_scroll_;
    std::vector<QSpinBox*> tally_;
    QLineEdit* typed_;
    QPushButton *reveal_, *back_, *next_, *reset_, *present_;
    QSlider* slider_;
    QPointer<NotesWindow> notes_;
    QPointer<QWidget> home_;  ///< it goes back there when the presentation ends
};

}  // namespace wallfoot

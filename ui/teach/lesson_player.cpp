// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/teach/lesson_player.hpp"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QSlider>
#include <QSpinBox>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "solver/findings/numbers.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr int slider_steps = 200;  // of a conductivity

QLabel* wrapped_label(QWidget* parent) {
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextFormat(Qt::PlainText);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    label->setFocusPolicy(Qt::NoFocus);
    return label;
}

QString said(const std::vector<Message>& messages) {
    QStringList lines;
    for (const Message& message : messages) lines << sentence(message);
    // A unit is not broken at its stroke.
    return lines.join(QLatin1Char('\n')).replace(QStringLiteral("W/("), QStringLiteral("W/\u2060("));
}

}  // namespace

NotesWindow::NotesWindow(QWidget* parent) : QWidget(parent, Qt::Window) {
    setWindowTitle(tr("Presenter's notes"));
    auto* rows = new QVBoxLayout(this);
    rows->addWidget(place_ = wrapped_label(this));
    rows->addWidget(note_ = wrapped_label(this), 1);
    rows->addWidget(next_ = wrapped_label(this));
    note_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    QFont large = font();
    large.setPointSizeF(large.pointSizeF() * 1.6);
    note_->setFont(large);
    resize(640, 420);
}

void NotesWindow::show_step(const Lesson& lesson, std::size_t step) {
    if (step >= lesson.steps.size()) return;
    place_->setText(tr("%1, step %2 of %3").arg(words(lesson.title)).arg(step + 1).arg(lesson.steps.size()));
    note_->setText(lesson.steps[step].note.empty() ? tr("No note for this step.") : words(lesson.steps[step].note));
    next_->setText(step + 1 < lesson.steps.size() ? tr("Next: %1").arg(words(lesson.steps[step + 1].text)) : tr("This is the last step."));
}

void NotesWindow::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Right || event->key() == Qt::Key_PageDown || event->key() == Qt::Key_Space) emit step_wanted(1);
    else if (event->key() == Qt::Key_Left || event->key() == Qt::Key_PageUp) emit step_wanted(-1);
    else if (event->key() == Qt::Key_Escape) emit end_wanted();
    else QWidget::keyPressEvent(event);
}

LessonPlayer::LessonPlayer(QWidget* parent) : QWidget(parent) {
    setAccessibleName(tr("Lesson"));
    auto* columns = new QHBoxLayout(this);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(0);
    columns->addWidget(stage_ = new LessonStage(this), 1);
    side_scroll_ = new QScrollArea(this);
    side_scroll_->setWidgetResizable(true);
    side_scroll_->setFrameShape(QFrame::NoFrame);
    side_scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    side_ = new QWidget(side_scroll_);
    auto* rows = new QVBoxLayout(side_);
    rows->addWidget(title_ = wrapped_label(side_));
    rows->addWidget(text_ = wrapped_label(side_));
    asked_ = new QWidget(side_);
    auto* asked_rows = new QVBoxLayout(asked_);
    asked_rows->setContentsMargins(0, 8, 0, 0);
    asked_rows->addWidget(question_ = wrapped_label(asked_));
    options_ = new QWidget(asked_);
    option_rows_ = new QVBoxLayout(options_);
    option_rows_->setContentsMargins(0, 0, 0, 0);
    asked_rows->addWidget(options_);
    asked_rows->addWidget(typed_ = new QLineEdit(asked_));
    typed_->setPlaceholderText(tr("Guesses, such as 0.02 0.05"));
    typed_->setAccessibleName(tr("Guesses in W/(m·K)"));
    asked_rows->addWidget(reveal_ = new QPushButton(tr("Show the answer"), asked_));
    asked_rows->addWidget(result_ = wrapped_label(asked_));
    rows->addWidget(asked_);
    tried_ = new QWidget(side_);
    auto* tried_rows = new QVBoxLayout(tried_);
    tried_rows->setContentsMargins(0, 8, 0, 0);
    tried_rows->addWidget(trial_words_ = wrapped_label(tried_));
    tried_rows->addWidget(slider_ = new QSlider(Qt::Horizontal, tried_));
    slider_->setAccessibleName(tr("Try another value"));
    rows->addWidget(tried_);
    rows->addWidget(units_ = wrapped_label(side_));
    rows->addStretch(1);
    side_scroll_->setWidget(side_);
    auto* right = new QWidget(this);
    auto* right_rows = new QVBoxLayout(right);
    right_rows->setContentsMargins(6, 6, 6, 6);
    right_rows->addWidget(side_scroll_, 1);
    right_rows->addWidget(keys_ = wrapped_label(right));
    keys_->setAccessibleName(tr("Keys"));
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(back_ = new QPushButton(tr("‹ Back"), right));
    buttons->addWidget(place_ = new QLabel(right), 1, Qt::AlignCenter);
    buttons->addWidget(next_ = new QPushButton(tr("Next ›"), right));
    right_rows->addLayout(buttons);
    auto* more = new QHBoxLayout;
    more->addWidget(reset_ = new QPushButton(tr("Reset this step"), right));
    more->addWidget(present_ = new QPushButton(tr("Full screen"), right));
    right_rows->addLayout(more);
    columns->addWidget(right);
    reset_->setToolTip(tr("View, slider and guesses as the lesson has them (Home)"));
    back_->setToolTip(tr("Left or Page Up"));
    next_->setToolTip(tr("Right, Page Down or the space bar"));
    for (QPushButton* button : {back_, next_, reset_, present_, reveal_}) {
        button->setFocusPolicy(Qt::TabFocus);
        button->setAutoDefault(false);
    }
    // A click on the slider must not take the keys that go through the steps; Tab leads there.
    slider_->setFocusPolicy(Qt::TabFocus);
    slider_->installEventFilter(this);
    side_scroll_->setFocusPolicy(Qt::NoFocus);
    connect(back_, &QPushButton::clicked, this, &LessonPlayer::back);
    connect(next_, &QPushButton::clicked, this, &LessonPlayer::next);
    connect(reset_, &QPushButton::clicked, this, &LessonPlayer::reset);
    connect(present_, &QPushButton::clicked, this, [this] { presenting_ ? end_presenting() : present(); });
    connect(reveal_, &QPushButton::clicked, this, &LessonPlayer::reveal);
    connect(typed_, &QLineEdit::returnPressed, this, &LessonPlayer::reveal);
    connect(slider_, &QSlider::valueChanged, this, &LessonPlayer::trial_moved);
    connect(stage_, &LessonStage::guessed, this, [this](QPointF mm) {
        if (answer_) return;
        clicks_.push_back(mm);
        show_guesses();
    });
    connect(stage_, &LessonStage::pointer_changed, this, &LessonPlayer::show_keys);
    connect(stage_, &LessonStage::repainted, this, [this] {
        if (const auto* step = present_step())
            if (const auto findings = found_in_trial_ ? found_in_trial_ : findings_of(step->variant)) show_units(*findings);
    });
    notes_ = new NotesWindow(this);
    connect(notes_, &NotesWindow::step_wanted, this, &LessonPlayer::move);
    connect(notes_, &NotesWindow::end_wanted, this, &LessonPlayer::end_presenting);
    give_sizes();
}

LessonPlayer::~LessonPlayer() { delete notes_; }

std::optional<std::size_t> LessonPlayer::index_of(const std::string& variant) const {
    if (!study_) return {};
    for (std::size_t v = 0; v < study_->variants.size(); ++v)
        if (study_->variants[v].id == variant || study_->variants[v].name == variant) return v;
    return {};
}

std::shared_ptr<const Findings> LessonPlayer::findings_of(const std::string& variant) const {
    const auto index = index_of(variant);
    return index && *index < findings_.size() ? findings_[*index] : nullptr;
}

LessonPicture LessonPlayer::picture_of(std::shared_ptr<const Findings> findings, const LessonStep& step) const {
    return {study_, std::move(findings), step.layer, range_, step.spotlight, false};
}

void LessonPlayer::set_source(std::shared_ptr<const Study> study, Lesson lesson, std::vector<std::shared_ptr<const Findings>> findings, std::vector<QString> refused) {
    const auto used = [&](const std::vector<std::shared_ptr<const Findings>>& all) {
        std::vector<std::shared_ptr<const Findings>> of;
        if (const auto* step = step_ < lesson.steps.size() ? &lesson.steps[step_] : nullptr)
            for (const auto& id : {step->variant, step->beside, step->question ? step->question->other : std::string()}) {
                const auto variant = std::find_if(study->variants.begin(), study->variants.end(), [&](const Variant& one) { return one.id == id; });
                const auto index = static_cast<std::size_t>(variant - study->variants.begin());
                of.push_back(index < all.size() ? all[index] : nullptr);
            }
        return of;
    };
    const auto now = used(findings);
    // Of a copied variant findings come under another name each time they are fetched; they are the same for all that.
    const auto alike = [](const std::shared_ptr<const Findings>& a, const std::shared_ptr<const Findings>& b) {
        return a == b || (a && b && a->solution && a->solution == b->solution && a->variant_id == b->variant_id && a->variant_name == b->variant_name);
    };
    const bool same = study_ && step_ < lesson_.steps.size() && step_ < lesson.steps.size() && lesson_.steps[step_] == lesson.steps[step_] && std::equal(now.begin(), now.end(), shown_of_.begin(), shown_of_.end(), alike) && refused == refused_;
    study_ = std::move(study);
    lesson_ = std::move(lesson);
    findings_ = std::move(findings);
    refused_ = std::move(refused);
    if (step_ >= lesson_.steps.size()) step_ = 0;
    title_->setText(words(lesson_.title));
    notes_->show_step(lesson_, step_);
    place_->setText(lesson_.steps.empty() ? QString() : tr("%1 of %2").arg(step_ + 1).arg(lesson_.steps.size()));
    if (same) return;
    shown_of_ = now;
    show_step();
}

void LessonPlayer::go_to(std::size_t step) {
    if (step >= lesson_.steps.size() || step == step_) return;
    step_ = step;
    const auto* shown = present_step();
    shown_of_ = {findings_of(shown->variant), findings_of(shown->beside), shown->question ? findings_of(shown->question->other) : nullptr};
    show_step();
    emit step_changed(step_);
}

void LessonPlayer::move(int by) {
    if (by < 0 && step_ == 0) return;
    go_to(step_ + static_cast<std::size_t>(by));
}

void LessonPlayer::reset() { show_step(); }

void LessonPlayer::show_step() {
    const LessonStep* step = present_step();
    clicks_.clear();
    counted_.clear();
    answer_.reset();
    trial_.reset();
    found_in_trial_.reset();
    ++trial_asked_;
    for (QWidget* part : {asked_, tried_}) part->setVisible(false);
    units_->clear();
    for (QPushButton* button : {reset_, present_}) button->setEnabled(step != nullptr);
    back_->setEnabled(step && step_ > 0);
    next_->setEnabled(step && step_ + 1 < lesson_.steps.size());
    place_->setText(step ? tr("%1 of %2").arg(step_ + 1).arg(lesson_.steps.size()) : QString());
    text_->setText(step ? words(step->text) : QString());
    emit shown_changed();
    show_keys();
    if (!step) return stage_->show_nothing(tr("No step yet. Set up a view and press \"Add a step\"."));
    notes_->show_step(lesson_, step_);
    const auto index = index_of(step->variant);
    if (!index) return stage_->show_nothing(sentence(Message{Severity::caution, "lesson-unknown-variant", {{"variant", step->variant}, {"step", std::to_string(step_ + 1)}}, {}, {}}));
    const auto findings = findings_of(step->variant);
    if (!findings && *index < refused_.size() && !refused_[*index].isEmpty()) return stage_->show_nothing(words(study_->variants[*index].name) + QStringLiteral(": ") + refused_[*index]);
    if (!findings) return stage_->show_nothing(tr("%1 is being worked out…").arg(words(study_->variants[*index].name)));
    if (findings->has_fault()) return stage_->show_nothing(sentence(faults_of(findings->messages)));
    const auto beside = step->beside.empty() ? nullptr : findings_of(step->beside);
    std::vector<std::shared_ptr<const Findings>> scale{findings};
    if (beside && !beside->has_fault()) scale.push_back(beside);
    range_ = range_of(scale);
    stage_->begin(*step, picture_of(findings, *step), scale.size() > 1 ? picture_of(beside, *step) : LessonPicture{});
    show_question();
    show_trial();
    show_units(*findings);
    show_keys();
}

bool LessonPlayer::holds_back() const {
    const LessonStep* step = present_step();
    return step && step->question && !answer_;
}

std::shared_ptr<const Findings> LessonPlayer::shown_findings() const {
    const LessonStep* step = present_step();
    return !step ? nullptr : found_in_trial_ ? found_in_trial_ : findings_of(step->variant);
}

void LessonPlayer::show_guesses() {
    stage_->set_marks(clicks_, {}, {});
    result_->setText(clicks_.empty() ? tr("No guess is marked.") : tr("Guesses marked: %1. Click again, or press Enter, for another one of the room.").arg(clicks_.size()));
}

void LessonPlayer::count_guess(std::size_t option) {
    if (answer_ || option >= tally_.size()) return;
    tally_[option]->setValue(tally_[option]->value() + 1);
    counted_.push_back(option);
}

void LessonPlayer::take_guess_back() {
    if (answer_) return;
    if (!counted_.empty()) {
        QSpinBox* count = tally_[counted_.back()];
        count->setValue(count->value() - 1);
        counted_.pop_back();
    } else if (!clicks_.empty()) {
        clicks_.pop_back();
        show_guesses();
    }
}

void LessonPlayer::show_question() {
    const LessonStep& step = *present_step();
    asked_->setVisible(step.question.has_value());
    stage_->set_asking(step.question && (step.question->kind == QuestionKind::coldest || step.question->kind == QuestionKind::fault));
    qDeleteAll(options_->findChildren<QWidget*>(QString(), Qt::FindDirectChildrenOnly));
    while (QLayoutItem* item = option_rows_->takeAt(0)) delete item;
    tally_.clear();
    result_->clear();
    typed_->clear();
    if (!step.question) return;
    const auto name = [&](const std::string& id) {
        const auto index = index_of(id);
        return index ? study_->variants[*index].name : id;
    };
    question_->setText(words(question_text(*step.question, name(step.variant), name(step.question->other))));
    reveal_->setEnabled(true);
    const auto options = question_options(*step.question, name(step.variant), name(step.question->other));
    for (std::size_t i = 0; i < options.size(); ++i) {
        auto* row = new QWidget(options_);
        auto* line = new QHBoxLayout(row);
        line->setContentsMargins(0, 2, 0, 2);
        auto* count = new QSpinBox(row);
        count->setRange(0, 999);
        count->setAccessibleName(tr("How many say: %1").arg(words(options[i])));
        count->setToolTip(tr("How many in the room say so"));
        count->installEventFilter(this);
        line->addWidget(count, 0, Qt::AlignTop);
        auto* label = wrapped_label(row);
        label->setText(QStringLiteral("%1. %2").arg(i + 1).arg(words(options[i])));  // the key that counts one more
        line->addWidget(label, 1);
        option_rows_->addWidget(row);
        tally_.push_back(count);
    }
    if (stage_->asking()) result_->setText(tr("Click on the picture; or press Enter for a pointer, lead it with the arrow keys and press Enter again."));
    options_->setVisible(!options.empty());
    give_sizes();
    typed_->setVisible(step.question->kind == QuestionKind::change);
}

void LessonPlayer::reveal() {
    const LessonStep* step = present_step();
    if (!step || !step->question || answer_) return;
    const auto findings = findings_of(step->variant), other = findings_of(step->question->other);
    if (!findings) return;
    std::vector<double> typed;
    try {
        typed = typed_guesses(typed_->text().toStdString());
    } catch (const InputFault& fault) {
        result_->setText(sentence(fault.faults()));
        return;
    }
    put_trial_back();  // the answer is that of the section as drawn
    answer_ = lesson_answer(*step->question, *findings, other && other->has_fault() ? nullptr : other.get());
    say_everyday_difference(*study_, *findings, *answer_);
    QStringList lines{said(answer_->says)};
    std::vector<Place> places;
    for (const QPointF& click : clicks_) places.push_back({click.x(), click.y()});
    if (const auto told = click_guesses(*answer_, places); !told.empty()) lines << said(told);
    if (const auto told = number_guesses(*answer_, typed); !told.empty()) lines << said(told);
    std::vector<int> counts;
    for (QSpinBox* count : tally_) counts.push_back(count->value());
    if (answer_->option && std::any_of(counts.begin(), counts.end(), [](int count) { return count > 0; })) lines << sentence(option_guesses(*answer_, counts));
    result_->setText(lines.join(QLatin1Char('\n')));
    stage_->set_asking(false);
    stage_->set_marks(clicks_, answer_->at ? std::optional(QPointF(answer_->at->x, answer_->at->y)) : std::nullopt, answer_->places);
    reveal_->setEnabled(false);
    QTimer::singleShot(0, this, [this] { side_scroll_->ensureWidgetVisible(result_, 0, 0); });  // once it has its room
    stage_->drop_pointer();
    show_units(*findings);
    show_keys();
    emit shown_changed();
}

void LessonPlayer::show_trial() {
    const LessonStep& step = *present_step();
    if (!step.trial) return;
    const auto findings = findings_of(step.variant);
    tried_->setVisible(true);
    try {
        trial_ = trial_range(*study_, *findings, *step.trial);
    } catch (const InputFault& fault) {
        trial_words_->setText(sentence(fault.faults()));
        slider_->setEnabled(false);
        return;
    }
    slider_->setEnabled(true);
    const QSignalBlocker quiet(slider_);
    if (step.trial->what == TrialWhat::moisture) {
        slider_->setRange(0, static_cast<int>(trial_->conditions.size()) - 1);
        slider_->setPageStep(1);
        // It begins at the condition whose value holds now, as near as one is.
        const Material* material = nullptr;
        const auto off = [&](std::size_t i) { return std::abs(material->lambda.by_condition.at(trial_->conditions[i]).value * trial_->factor - trial_->now); };
        for (const Piece& piece : findings->section->pieces)
            if (piece.id == step.trial->piece || piece.name == step.trial->piece) material = study_->find_material(piece.filled_with);
        int at = 0;
        for (std::size_t i = 0; material && i < trial_->conditions.size(); ++i)
            if (off(i) < off(static_cast<std::size_t>(at))) at = static_cast<int>(i);
        slider_->setValue(at);
    } else {
        slider_->setRange(0, slider_steps);
        slider_->setPageStep(slider_steps / 10);
        slider_->setValue(static_cast<int>(std::lround((trial_->now - trial_->least) / (trial_->most - trial_->least) * slider_steps)));
    }
    trial_words_->setText(tr("%1: move it and see what follows.").arg(words(trial_->piece)));
}

void LessonPlayer::put_trial_back() {
    const LessonStep* step = present_step();
    if (!step || !step->trial || !trial_) return;
    ++trial_asked_;  // what is under way is not waited for
    show_trial();
    const auto findings = findings_of(step->variant);
    if (found_in_trial_ && findings) {
        found_in_trial_.reset();
        stage_->replace(picture_of(findings, *step));
        emit shown_changed();
    }
}

void LessonPlayer::trial_moved(int position) {
    const LessonStep* step = present_step();
    const auto index = step ? index_of(step->variant) : std::nullopt;
    if (!step || !step->trial || !trial_ || !index) return;
    const bool moisture = step->trial->what == TrialWhat::moisture;
    const double at = moisture ? position : trial_->least + (trial_->most - trial_->least) * position / slider_steps;
    const QString where = moisture ? name_of(trial_->conditions[static_cast<std::size_t>(position)]) : tr("%1 W/(m·K)").arg(at, 0, 'f', 3);
    const QString stop = position == slider_->minimum() ? sentence(trial_->at_least) : position == slider_->maximum() ? sentence(trial_->at_most) : QString();
    const auto tell = [piece = words(trial_->piece), where, stop](const QString& psi) {
        QStringList lines{QStringLiteral("%1: %2").arg(piece, where), psi, stop};
        lines.removeAll(QString());
        return lines.join(QLatin1Char('\n'));
    };
    const int asked = ++trial_asked_;
    trial_words_->setText(tell(holds_back() ? QString() : tr("psi follows…")));
    solving_.run_instead([this, study = study_, variant = *index, trial = *step->trial, range = *trial_, at, asked, tell]() -> Background::Done {
        std::shared_ptr<const Findings> found;
        QString why;
        std::shared_ptr<const Study> tried;
        try {
            tried = std::make_shared<const Study>(trial_study(*study, variant, trial, range, at));
            FindingsOptions options;
            options.tolerance = dragging_tolerance;
            found = wallfoot::find(*tried, tried->variants[variant], options);
        } catch (const InputFault& fault) {
            why = sentence(fault.faults());
        } catch (const std::exception& error) {
            why = QString::fromUtf8(error.what());
        }
        return [this, found, why, tried, asked, tell] {
            const LessonStep* now = present_step();
            if (asked != trial_asked_ || !now) return;
            if (!found || found->has_fault()) return trial_words_->setText(tell(found ? sentence(faults_of(found->messages)) : why));
            const Psi* psi = holds_back() ? nullptr : found->headline_psi();  // what is asked is not told here either
            QStringList lines;
            if (psi && psi->value) lines << tr("psi %1").arg(bracket_words(*psi->value, "W/(m·K)"));
            if (const auto* surface = holds_back() ? nullptr : found->headline_surface(); surface && surface->fRsi) lines << tr("fRsi %1, coldest %2 °C").arg(*surface->fRsi, 0, 'f', 3).arg(surface->lowest, 0, 'f', 1);
            trial_words_->setText(tell(lines.join(QLatin1Char('\n'))));
            found_in_trial_ = found;
            LessonPicture picture = picture_of(found, *now);
            picture.study = tried;
            stage_->replace(std::move(picture));
            emit shown_changed();
        };
    });
}

void LessonPlayer::show_units(const Findings& findings) {
    QStringList lines;
    const LessonStep* step = present_step();
    if (stage_->share() > 0) lines << sentence(Message{Severity::note, "lesson-tracers", {{"share", number(stage_->share(), 4).toStdString()}}, {}, {}});
    if (!holds_back()) {
        const auto beside = step && !step->beside.empty() ? findings_of(step->beside) : nullptr;
        if (const auto told = everyday_says(*study_, {&findings, beside.get()}); !told.empty()) lines << said(told);
    }
    units_->setText(lines.join(QLatin1Char('\n')));
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/teach/teach_view.hpp"

#include <QComboBox>
#include <QFormLayout>
#include <QGridLayout>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QMenu>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>
#include <tuple>

#include "core/resources/resources.hpp"
#include "core/study/names.hpp"
#include "ui/panels/words.hpp"
#include "ui/teach/hand_out.hpp"

namespace wallfoot {

namespace {

std::string field_text(const QString& text) { return text.trimmed().toStdString(); }

QComboBox* narrow_box(QWidget* parent) {
    auto* box = new QComboBox(parent);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    box->setMinimumContentsLength(8);
    box->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    return box;
}

QPushButton* menu_button(QWidget* parent, const QString& text) {
    auto* button = new QPushButton(text, parent);
    button->setAutoDefault(false);
    button->setMenu(new QMenu(button));
    return button;
}

QPlainTextEdit* small_text(QWidget* parent, int lines) {
    auto* text = new QPlainTextEdit(parent);
    text->setTabChangesFocus(true);
    text->setFixedHeight(text->fontMetrics().lineSpacing() * lines + 12);
    return text;
}

/// A label that gives way instead of widening its column.
QLabel* form_label(const QString& text, QWidget* buddy) {
    auto* label = new QLabel(text, buddy->parentWidget());
    label->setWordWrap(true);
    label->setBuddy(buddy);
    return label;
}

/// What the field of answers says: the options of a choice, at least two, and which is right.
std::pair<std::vector<std::string>, std::size_t> typed_options(const QString& text) {
    std::vector<std::string> options;
    std::size_t right = 0;
    for (QString option : text.split(QLatin1Char('\n'), Qt::SkipEmptyParts)) {
        option = option.trimmed();
        if (option.startsWith(QLatin1Char('*'))) {
            right = options.size();
            option = option.mid(1).trimmed();
        }
        if (!option.isEmpty()) options.push_back(option.toStdString());
    }
    while (options.size() < 2) options.push_back((options.empty() ? TeachView::tr("Yes") : TeachView::tr("No")).toStdString());
    return {options, std::min(right, options.size() - 1)};
}

QJsonArray ready_questions() { return QJsonDocument::fromJson(QByteArray::fromStdString(resource("lessons/questions.json"))).array(); }

}  // namespace

TeachView::TeachView(QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Ignored);  // unseen, it must not widen the window
    auto* columns = new QHBoxLayout(this);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(0);
    auto* scroll = new QScrollArea(this);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    auto* left = new QWidget(scroll);
    auto* rows = new QVBoxLayout(left);
    rows->setContentsMargins(8, 6, 8, 6);
    rows->addWidget(make_list());
    rows->addWidget(make_form());
    rows->addStretch(1);
    scroll->setWidget(left);
    scroll->setFixedWidth(26 * fontMetrics().horizontalAdvance(QLatin1Char('M')));
    columns->addWidget(scroll);
    home_ = new QWidget(this);
    auto* home = new QVBoxLayout(home_);
    home->setContentsMargins(0, 0, 0, 0);
    home->addWidget(player_ = new LessonPlayer(home_));
    columns->addWidget(home_, 1);
    typed_.setSingleShot(true);
    typed_.setInterval(400);
    connect(&typed_, &QTimer::timeout, this, &TeachView::flush);
    connect(player_, &LessonPlayer::step_changed, this, [this](std::size_t step) {
        flush();
        const QSignalBlocker quiet(steps_);
        steps_->setCurrentRow(static_cast<int>(step));
        fill_form();
    });
    connect(&player_->stage(), &LessonStage::spotlight_drawn, this, [this](Rect rect) {
        if (auto* step = present_step()) {
            step->spotlight = rect;
            commit(tr("Spotlight"));
        }
    });
    fill_form();
}

TeachView::~TeachView() {
    // While it fills a screen it is nobody's child.
    if (player_ && player_->presenting()) delete player_;
}

QPushButton* TeachView::add_button(const QString& name, const QString& text, std::function<void()> act) {
    auto* button = new QPushButton(text, this);
    button->setAutoDefault(false);
    button->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);  // two share the width of the column
    connect(button, &QPushButton::clicked, this, [this, act = std::move(act)] {
        flush();
        act();
    });
    buttons_[name] = button;
    return button;
}

QWidget* TeachView::make_list() {
    auto* part = new QWidget(this);
    auto* rows = new QVBoxLayout(part);
    rows->setContentsMargins(0, 0, 0, 0);
    rows->addWidget(chosen_ = narrow_box(part));
    chosen_->setAccessibleName(tr("Lesson"));
    auto* grid = new QGridLayout;
    grid->addWidget(add_button(QStringLiteral("add-lesson"), tr("New lesson"), [this] { add_lesson(); }), 0, 0);
    grid->addWidget(add_button(QStringLiteral("remove-lesson"), tr("Delete lesson"), [this] { remove_lesson(); }), 0, 1);
    rows->addLayout(grid);
    rows->addWidget(title_ = new QLineEdit(part));
    title_->setPlaceholderText(tr("Title of the lesson"));
    title_->setAccessibleName(tr("Title of the lesson"));
    rows->addWidget(steps_ = new QListWidget(part));
    steps_->setAccessibleName(tr("Steps"));
    steps_->setFixedHeight(130);
    steps_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    steps_->setTextElideMode(Qt::ElideRight);
    auto* acts = new QGridLayout;
    acts->addWidget(add_button(QStringLiteral("add-step"), tr("Add a step"), [this] { add_step(); }), 0, 0);
    acts->addWidget(add_button(QStringLiteral("remove-step"), tr("Delete step"), [this] { remove_step(); }), 0, 1);
    acts->addWidget(add_button(QStringLiteral("up"), tr("Earlier"), [this] { move_step(-1); }), 1, 0);
    acts->addWidget(add_button(QStringLiteral("down"), tr("Later"), [this] { move_step(1); }), 1, 1);
    rows->addLayout(acts);
    buttons_.at(QStringLiteral("add-step"))->setToolTip(tr("A step behind this one, with the view that is shown"));
    // A menu, not a list: every entry can be reached by key before one is chosen.
    rows->addWidget(export_ = menu_button(part, tr("Hand out…")));
    for (const auto& [what, name] : {std::pair("html", tr("Lesson as a page in one file (HTML)")), std::pair("pdf-a4", tr("Worksheets, A4 (PDF)")), std::pair("pdf-a3", tr("Worksheets, A3 (PDF)")), std::pair("png", tr("Picture of this step (PNG)")), std::pair("svg", tr("Picture of this step, tracers move (SVG)"))})
        connect(export_->menu()->addAction(name), &QAction::triggered, this, [this, what = QString::fromLatin1(what)] {
            flush();
            emit save_wanted(what);
        });
    rows->addWidget(hand_out_ = new HandOut(part));
    connect(hand_out_, &HandOut::busy_changed, export_, &QWidget::setDisabled);
    rows->addWidget(trouble_ = new QLabel(part));
    trouble_->setWordWrap(true);
    trouble_->setTextFormat(Qt::PlainText);
    connect(chosen_, &QComboBox::activated, this, [this](int index) {
        flush();
        lesson_ = static_cast<std::size_t>(std::max(0, index));
        fill_lists();
        player_->go_to(0);
        show_player();
        fill_form();
    });
    connect(steps_, &QListWidget::currentRowChanged, this, [this](int row) {
        if (filling_ || row < 0) return;
        flush();
        player_->go_to(static_cast<std::size_t>(row));
        fill_form();
    });
    connect(title_, &QLineEdit::textEdited, this, [this] { typed_.start(); });
    return part;
}

QWidget* TeachView::make_form() {
    auto* part = new QWidget(this);
    auto* form = new QFormLayout(part);
    form->setContentsMargins(0, 6, 0, 0);
    form->setRowWrapPolicy(QFormLayout::WrapAllRows);
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    text_ = small_text(part, 4);
    form->addRow(form_label(tr("Text on the screen"), text_), text_);
    note_ = small_text(part, 3);
    form->addRow(form_label(tr("Presenter's note"), note_), note_);
    variant_ = narrow_box(part);
    form->addRow(form_label(tr("Variant"), variant_), variant_);
    layer_ = narrow_box(part);
    form->addRow(form_label(tr("Shown over it"), layer_), layer_);
    for (const QString& name : {tr("Materials"), tr("Temperatures"), tr("Temperatures with isotherms"), tr("The heat's way, with tracers")}) layer_->addItem(name);
    beside_ = narrow_box(part);
    form->addRow(form_label(tr("Beside it, behind a line to be pulled"), beside_), beside_);
    auto* view = new QWidget(part);
    auto* grid = new QGridLayout(view);
    grid->setContentsMargins(0, 0, 0, 0);
    grid->addWidget(add_button(QStringLiteral("take-view"), tr("Take this view"), [this] {
        if (auto* step = present_step()) {
            const View& shown = player_->stage().view();
            step->centre = Point{from_mm(std::round(shown.centre_mm.x())), from_mm(std::round(shown.centre_mm.y()))};
            step->width = from_mm(std::max(1.0, std::round(std::min(shown.viewport.width(), shown.viewport.height() * 1.6) / shown.pixels_per_mm)));
            commit(tr("View of the step"));
        }
    }), 0, 0);
    grid->addWidget(add_button(QStringLiteral("whole-view"), tr("Whole section"), [this] {
        if (auto* step = present_step()) {
            step->centre.reset(), step->width.reset();
            commit(tr("View of the step"));
        }
    }), 0, 1);
    grid->addWidget(add_button(QStringLiteral("spotlight"), tr("Draw spotlight"), [this] {
        player_->stage().setFocus();  // so that its keys serve
        player_->stage().draw_spotlight();
    }), 1, 0);
    grid->addWidget(add_button(QStringLiteral("no-spotlight"), tr("No spotlight"), [this] {
        if (auto* step = present_step()) {
            step->spotlight.reset();
            commit(tr("Spotlight"));
        }
    }), 1, 1);
    buttons_.at(QStringLiteral("spotlight"))->setToolTip(tr("Then drag a rectangle over the section, or lead the pointer with the arrow keys and press Enter at two corners; Esc drops it"));
    form->addRow(view);
    trial_ = narrow_box(part);
    form->addRow(form_label(tr("Slider"), trial_), trial_);
    for (const QString& name : {tr("None"), tr("Conductivity of a piece"), tr("Moisture condition of a piece")}) trial_->addItem(name);
    trial_piece_ = narrow_box(part);
    form->addRow(form_label(tr("of the piece"), trial_piece_), trial_piece_);
    question_ = narrow_box(part);
    form->addRow(form_label(tr("Question"), question_), question_);
    for (const QString& name : {tr("None"), tr("Where is it coldest?"), tr("Which loses more?"), tr("How much does psi change?"), tr("Spot the fault"), tr("One of several answers")}) question_->addItem(name);
    ready_ = menu_button(part, tr("Take one…"));
    form->addRow(form_label(tr("Ready question"), ready_), ready_);
    const QJsonArray ready = ready_questions();
    for (qsizetype i = 0; i < ready.size(); ++i)
        connect(ready_->menu()->addAction(ready[i].toObject().value(QStringLiteral("name")).toString()), &QAction::triggered, this, [this, i] { ready_question(static_cast<int>(i)); });
    other_ = narrow_box(part);
    form->addRow(form_label(tr("compared with (of a fault: as designed)"), other_), other_);
    asked_ = new QLineEdit(part);
    form->addRow(form_label(tr("Words of the question (empty: the usual ones)"), asked_), asked_);
    options_ = small_text(part, 4);
    form->addRow(form_label(tr("Answers to choose from, one a line, * before the right one"), options_), options_);
    answer_ = small_text(part, 3);
    form->addRow(form_label(tr("Said with the answer"), answer_), answer_);
    for (QComboBox* box : {variant_, layer_, beside_, trial_, trial_piece_, question_, other_})
        connect(box, &QComboBox::activated, this, [this] {
            take_form();
            commit(tr("Step of a lesson"));
        });
    for (QPlainTextEdit* box : {text_, note_, options_, answer_})
        connect(box, &QPlainTextEdit::textChanged, this, [this] {
            if (!filling_) typed_.start();
        });
    connect(asked_, &QLineEdit::textEdited, this, [this] { typed_.start(); });
    return part;
}

LessonStep* TeachView::present_step() {
    Lesson* lesson = present_lesson();
    return lesson && form_step_ < lesson->steps.size() ? &lesson->steps[form_step_] : nullptr;
}

void TeachView::show_study(std::shared_ptr<const Study> study, std::size_t active, std::vector<std::shared_ptr<const Findings>> findings, std::vector<QString> refused) {
    study_ = std::move(study);
    active_ = active;
    findings_ = std::move(findings);
    refused_ = std::move(refused);
    std::vector<Lesson> lessons;
    QString trouble;
    damaged_ = false;
    try {
        lessons = lessons_of(*study_);
        for (const Message& gap : lesson_gaps(*study_, lessons)) trouble += (trouble.isEmpty() ? QString() : QStringLiteral("\n")) + sentence(gap);
    } catch (const InputFault& fault) {
        // What cannot be read is not written over.
        damaged_ = true;
        for (const Message& message : fault.faults()) trouble += QString::fromStdString(one_line(message, {})) + QLatin1Char('\n');
    }
    trouble_->setText(trouble.trimmed());
    trouble_->setVisible(!trouble.isEmpty());
    // What is being typed waits, unless the study says something else by now (an act was taken back).
    const bool same = lessons == lessons_;
    if (!typed_.isActive() || !same) {
        typed_.stop();
        lessons_ = std::move(lessons);
        if (lesson_ >= lessons_.size()) lesson_ = 0;
        fill_lists();
        show_player();
        if (!same || !text_->hasFocus()) fill_form();
    } else {
        show_player();
    }
}

void TeachView::show_player() {
    player_->set_source(study_, lesson_ < lessons_.size() ? lessons_[lesson_] : Lesson{}, findings_, refused_);
    const QSignalBlocker quiet(steps_);
    steps_->setCurrentRow(steps_->count() > 0 ? static_cast<int>(player_->step()) : -1);
}

void TeachView::fill_lists() {
    filling_ = true;
    chosen_->clear();
    for (const Lesson& lesson : lessons_) chosen_->addItem(lesson.title.empty() ? tr("Lesson without a title") : words(lesson.title));
    if (lessons_.empty()) chosen_->addItem(tr("No lesson yet"));
    chosen_->setCurrentIndex(static_cast<int>(lesson_));
    chosen_->setEnabled(!lessons_.empty());
    steps_->clear();
    if (const Lesson* lesson = present_lesson())
        for (std::size_t s = 0; s < lesson->steps.size(); ++s) {
            const QString text = words(lesson->steps[s].text).section(QLatin1Char('\n'), 0, 0);
            steps_->addItem(QStringLiteral("%1  %2").arg(s + 1).arg(text.isEmpty() ? tr("(no text)") : text));
        }
    filling_ = false;
}

void TeachView::fill_form() {
    filling_ = true;
    form_step_ = player_->step();
    const Lesson* lesson = present_lesson();
    const LessonStep* step = present_step();
    const std::pair shows{lesson_, form_step_};
    const bool another = form_shows_ != shows;
    form_shows_ = shows;
    // A field that says the same already is left alone: somebody may be typing in it.
    const auto set_line = [another](QLineEdit* line, const std::string& text) {
        if (another || field_text(line->text()) != text) line->setText(words(text));
    };
    set_line(title_, lesson ? lesson->title : std::string());
    title_->setEnabled(lesson && !damaged_);
    for (auto& [name, button] : buttons_) button->setEnabled(!damaged_ && study_ && (name == QStringLiteral("add-lesson") || name == QStringLiteral("add-step") || (name == QStringLiteral("remove-lesson") ? lesson != nullptr : step != nullptr)));
    const auto set_text = [](QPlainTextEdit* box, const std::string& text) {
        if (field_text(box->toPlainText()) != text) box->setPlainText(words(text));
    };
    const LessonQuestion question = step && step->question ? *step->question : LessonQuestion{};
    for (QWidget* box : std::initializer_list<QWidget*>{text_, note_, variant_, layer_, beside_, trial_, question_, ready_}) box->setEnabled(step && !damaged_);
    set_text(text_, step ? step->text : std::string());
    set_text(note_, step ? step->note : std::string());
    for (QComboBox* box : {variant_, beside_, other_}) {
        box->clear();
        if (box == beside_) box->addItem(tr("None"), QString());
        for (std::size_t v = 0; study_ && v < study_->variants.size(); ++v) box->addItem(words(study_->variants[v].name), words(study_->variants[v].id));
    }
    const auto choose = [](QComboBox* box, const std::string& id) { box->setCurrentIndex(box->findData(words(id))); };
    choose(variant_, step ? step->variant : std::string());
    choose(beside_, step ? step->beside : std::string());
    choose(other_, question.other);
    layer_->setCurrentIndex(step ? static_cast<int>(step->layer) : 0);
    trial_piece_->clear();
    const Variant* shown = study_ && step ? study_->find_variant(step->variant) : nullptr;
    if (shown)
        for (const Piece& piece : shown->section->pieces)
            if (piece.fill == Fill::material) trial_piece_->addItem(words(shown_name(piece)), words(piece.id));
    trial_->setCurrentIndex(step && step->trial ? step->trial->what == TrialWhat::conductivity ? 1 : 2 : 0);
    if (step && step->trial) choose(trial_piece_, step->trial->piece);
    trial_piece_->setEnabled(step && step->trial && !damaged_);
    question_->setCurrentIndex(step && step->question ? static_cast<int>(question.kind) + 1 : 0);
    const bool asks = step && step->question && !damaged_;
    other_->setEnabled(asks && (question.kind == QuestionKind::loses_more || question.kind == QuestionKind::change || question.kind == QuestionKind::fault));
    options_->setEnabled(asks && question.kind == QuestionKind::choice);
    asked_->setEnabled(asks);
    answer_->setEnabled(asks);
    set_line(asked_, question.text);
    QString options;
    for (std::size_t i = 0; i < question.options.size(); ++i) options += (i > 0 ? QStringLiteral("\n") : QString()) + (i == question.right ? QStringLiteral("* ") : QString()) + words(question.options[i]);
    const bool being_typed = !another && options_->hasFocus() && question.kind == QuestionKind::choice && typed_options(options_->toPlainText()) == std::pair(question.options, question.right);
    if (!being_typed && options_->toPlainText() != options) options_->setPlainText(options);
    set_text(answer_, question.answer);
    filling_ = false;
}

/// What the fields say becomes the step, as far as it can be kept: a choice keeps at least two options.
void TeachView::take_form() {
    Lesson* lesson = present_lesson();
    if (!lesson || damaged_) return;
    lesson->title = field_text(title_->text());
    LessonStep* step = present_step();
    if (!step) return;
    step->text = field_text(text_->toPlainText());
    step->note = field_text(note_->toPlainText());
    if (variant_->currentIndex() >= 0) step->variant = variant_->currentData().toString().toStdString();
    if (beside_->currentIndex() >= 0) step->beside = beside_->currentData().toString().toStdString();
    step->layer = static_cast<LessonLayer>(std::max(0, layer_->currentIndex()));
    if (trial_->currentIndex() <= 0) {
        step->trial.reset();
    } else {
        LessonTrial trial = step->trial.value_or(LessonTrial{});
        trial.what = trial_->currentIndex() == 1 ? TrialWhat::conductivity : TrialWhat::moisture;
        if (trial_piece_->currentIndex() >= 0) trial.piece = trial_piece_->currentData().toString().toStdString();
        step->trial = trial;
    }
    if (question_->currentIndex() <= 0) {
        step->question.reset();
        return;
    }
    LessonQuestion question = step->question.value_or(LessonQuestion{});
    question.kind = static_cast<QuestionKind>(question_->currentIndex() - 1);
    question.text = field_text(asked_->text());
    question.answer = field_text(answer_->toPlainText());
    if (other_->currentIndex() >= 0) question.other = other_->currentData().toString().toStdString();
    if (question.other.empty() && study_)  // the first that is not shown
        for (const Variant& variant : study_->variants)
            if (question.other.empty() || question.other == step->variant) question.other = variant.id;
    if (question.kind == QuestionKind::choice) {
        std::tie(question.options, question.right) = typed_options(options_->toPlainText());
    } else {
        question.options.clear();
        question.right = 0;
    }
    step->question = std::move(question);
}

void TeachView::commit(const QString& act) {
    typed_.stop();
    const auto row = steps_->currentRow();
    fill_lists();
    {
        const QSignalBlocker quiet(steps_);
        steps_->setCurrentRow(row);
    }
    show_player();
    fill_form();
    emit changed(act, lessons_);
}

void TeachView::flush() {
    if (!typed_.isActive()) {
        typed_.stop();
        if (sender() != &typed_) return;
    }
    typed_.stop();
    const auto before = lessons_;
    take_form();
    if (!(lessons_ == before)) commit(tr("Text of a lesson"));
}

void TeachView::hideEvent(QHideEvent* event) {
    flush();
    if (!event->spontaneous()) player_->end_presenting();
    QWidget::hideEvent(event);
}

void TeachView::add_lesson() {
    lessons_.push_back({tr("Lesson %1").arg(lessons_.size() + 1).toStdString(), {}, {}});
    lesson_ = lessons_.size() - 1;
    commit(tr("New lesson"));
}

void TeachView::remove_lesson() {
    if (!present_lesson()) return;
    lessons_.erase(lessons_.begin() + static_cast<std::ptrdiff_t>(lesson_));
    lesson_ = lesson_ > 0 ? lesson_ - 1 : 0;
    commit(tr("Delete lesson"));
}

void TeachView::add_step() {
    if (!study_ || study_->variants.empty()) return;
    if (!present_lesson()) lessons_.push_back({tr("Lesson 1").toStdString(), {}, {}}), lesson_ = 0;
    auto& steps = present_lesson()->steps;
    LessonStep step;
    step.variant = study_->variants[std::min(active_, study_->variants.size() - 1)].id;
    step.layer = LessonLayer::isotherms;
    std::size_t at = 0;
    if (const auto* now = present_step()) {
        step.variant = now->variant;
        step.layer = now->layer;
        at = player_->step() + 1;
        const View& shown = player_->stage().view();
        if (now->centre || now->width) step.centre = now->centre, step.width = now->width;
        if (shown.viewport.width() > 0 && player_->stage().painted()) {
            step.centre = Point{from_mm(std::round(shown.centre_mm.x())), from_mm(std::round(shown.centre_mm.y()))};
            step.width = from_mm(std::max(1.0, std::round(std::min(shown.viewport.width(), shown.viewport.height() * 1.6) / shown.pixels_per_mm)));
        }
    }
    steps.insert(steps.begin() + static_cast<std::ptrdiff_t>(std::min(at, steps.size())), std::move(step));
    fill_lists();
    show_player();
    player_->go_to(at);
    fill_form();
    commit(tr("Add a step"));
    text_->setFocus();
}

void TeachView::remove_step() {
    if (!present_step()) return;
    auto& steps = present_lesson()->steps;
    const std::size_t at = player_->step();
    steps.erase(steps.begin() + static_cast<std::ptrdiff_t>(at));
    fill_lists();
    show_player();
    if (!steps.empty()) player_->go_to(std::min(at, steps.size() - 1));
    commit(tr("Delete step"));
}

void TeachView::move_step(int by) {
    if (!present_step()) return;
    auto& steps = present_lesson()->steps;
    const std::size_t at = player_->step();
    if ((by < 0 && at == 0) || (by > 0 && at + 1 >= steps.size())) return;
    const std::size_t to = at + static_cast<std::size_t>(by);
    std::swap(steps[at], steps[to]);
    fill_lists();
    player_->go_to(to);
    commit(tr("Order of the steps"));
}

void TeachView::ready_question(int index) {
    LessonStep* step = present_step();
    const QJsonArray all = ready_questions();
    if (!step || index < 0 || index >= all.size()) return;
    flush();
    step = present_step();
    const QJsonObject entry = all[index].toObject();
    LessonQuestion question;
    question.kind = QuestionKind::choice;
    question.text = entry.value(QStringLiteral("text")).toString().toStdString();
    for (const auto& option : entry.value(QStringLiteral("options")).toArray()) question.options.push_back(option.toString().toStdString());
    question.right = static_cast<std::size_t>(std::max(0, entry.value(QStringLiteral("right")).toInt()));
    question.answer = entry.value(QStringLiteral("answer")).toString().toStdString();
    if (question.options.size() < 2) return;
    question.right = std::min(question.right, question.options.size() - 1);
    step->question = std::move(question);
    commit(tr("Ready question"));
}

}  // namespace wallfoot

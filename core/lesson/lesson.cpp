// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/lesson/lesson.hpp"

#include <algorithm>

#include "core/file/fields.hpp"

namespace wallfoot {

namespace {

using namespace file;

LessonQuestion read_question(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    LessonQuestion question;
    question.kind = fields.need_word("kind", question_kind_words);
    question.text = fields.text("text");
    question.other = fields.text("other");
    question.answer = fields.text("answer");
    fields.each("options", [&](const json::Value& item, const Where& place) { question.options.push_back(read_text(found, item, place).value_or("")); });
    const bool choice = question.kind == QuestionKind::choice;
    if (choice && question.options.size() < 2) found.fault("lesson-choice-needs-options", fields.at("options"));
    const double right = fields.number("right", {0, 1000}).value_or(0);
    question.right = static_cast<std::size_t>(right);
    if (choice && (static_cast<double>(question.right) != right || question.right >= question.options.size())) found.fault("lesson-no-such-option", fields.at("right"));
    if (question.other.empty() && (question.kind == QuestionKind::loses_more || question.kind == QuestionKind::change || question.kind == QuestionKind::fault))
        found.fault("lesson-needs-other", fields.at("other"));
    question.extra = fields.rest();
    return question;
}

LessonTrial read_trial(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    LessonTrial trial;
    trial.what = fields.need_word("what", trial_words);
    if (const auto* piece = fields.need("piece")) trial.piece = read_text(found, *piece, fields.at("piece")).value_or("");
    trial.extra = fields.rest();
    return trial;
}

LessonStep read_step(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    LessonStep step;
    step.variant = fields.text("variant");
    step.layer = fields.word("layer", lesson_layer_words).value_or(LessonLayer::materials);
    if (const auto* centre = fields.find("centre")) step.centre = read_point(found, *centre, fields.at("centre"));
    step.width = fields.length("width", some_length);
    if (const auto* spot = fields.find("spotlight")) {
        const auto corners = read_points(found, *spot, fields.at("spotlight"));
        if (corners && corners->size() == 2) {
            const auto [a, b] = std::pair((*corners)[0], (*corners)[1]);
            step.spotlight = Rect{std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
        }
        if (corners && (corners->size() != 2 || step.spotlight->width() == 0 || step.spotlight->height() == 0)) {
            step.spotlight.reset();
            found.fault("lesson-spotlight", fields.at("spotlight"));
        }
    }
    step.beside = fields.text("beside");
    if (const auto* trial = fields.find("trial")) step.trial = read_trial(found, *trial, fields.at("trial"));
    step.text = fields.text("text");
    step.note = fields.text("note");
    if (const auto* question = fields.find("question")) step.question = read_question(found, *question, fields.at("question"));
    step.extra = fields.rest();
    return step;
}

json::Value point_value(Point p) { return json::Array{write_length(p.x), write_length(p.y)}; }

json::Value write_question(const LessonQuestion& question) {
    json::Object object{{"kind", word_of(question_kind_words, question.kind)}};
    put_text(object, "text", question.text);
    put_text(object, "other", question.other);
    put_text(object, "answer", question.answer);
    if (!question.options.empty()) {
        json::Array options;
        for (const auto& option : question.options) options.push_back(option);
        object["options"] = std::move(options);
    }
    if (question.kind == QuestionKind::choice) object["right"] = static_cast<double>(question.right);
    put_extra(object, question.extra);
    return object;
}

json::Value write_step(const LessonStep& step) {
    json::Object object{{"layer", word_of(lesson_layer_words, step.layer)}};
    put_text(object, "variant", step.variant);
    if (step.centre) object["centre"] = point_value(*step.centre);
    if (step.width) object["width"] = write_length(*step.width);
    if (step.spotlight) object["spotlight"] = json::Array{point_value({step.spotlight->left, step.spotlight->bottom}), point_value({step.spotlight->right, step.spotlight->top})};
    put_text(object, "beside", step.beside);
    if (step.trial) {
        json::Object trial{{"what", word_of(trial_words, step.trial->what)}, {"piece", step.trial->piece}};
        put_extra(trial, step.trial->extra);
        object["trial"] = std::move(trial);
    }
    put_text(object, "text", step.text);
    put_text(object, "note", step.note);
    if (step.question) object["question"] = write_question(*step.question);
    put_extra(object, step.extra);
    return object;
}

}  // namespace

std::vector<Lesson> lessons_of(const Study& study) {
    std::vector<Lesson> lessons;
    const auto kept = study.kept.find("lessons");
    if (kept == study.kept.end() || kept->second.empty()) return lessons;
    Found found;
    const json::Value value = json::parse(kept->second);
    const Where root(""), list(root, "lessons");
    const auto* items = read_list(found, value, list);
    for (std::size_t i = 0; items && i < items->size(); ++i) {
        Fields fields(found, (*items)[i], Where(list, i));
        Lesson lesson;
        lesson.title = fields.text("title");
        lesson.about = fields.text("about");
        fields.each("steps", [&](const json::Value& item, const Where& place) { lesson.steps.push_back(read_step(found, item, place)); });
        lesson.extra = fields.rest();
        lessons.push_back(std::move(lesson));
    }
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return lessons;
}

Study with_lessons(Study study, const std::vector<Lesson>& lessons) {
    json::Array list;
    for (const Lesson& lesson : lessons) {
        json::Object object;
        put_text(object, "title", lesson.title);
        put_text(object, "about", lesson.about);
        json::Array steps;
        for (const LessonStep& step : lesson.steps) steps.push_back(write_step(step));
        if (!steps.empty()) object["steps"] = std::move(steps);
        put_extra(object, lesson.extra);
        list.push_back(std::move(object));
    }
    if (list.empty()) study.kept.erase("lessons");
    else study.kept["lessons"] = json::print_line(list);
    return study;
}

std::vector<Message> lesson_gaps(const Study& study, const std::vector<Lesson>& lessons) {
    std::vector<Message> gaps;
    for (std::size_t i = 0; i < lessons.size(); ++i)
        for (std::size_t s = 0; s < lessons[i].steps.size(); ++s) {
            const LessonStep& step = lessons[i].steps[s];
            const std::string place = "/lessons/" + std::to_string(i) + "/steps/" + std::to_string(s);
            const auto variant = [&](const std::string& id, const char* field) -> const Variant* {
                const Variant* known = study.find_variant(id);
                if (!known) gaps.push_back({Severity::caution, "lesson-unknown-variant", {{"variant", id}, {"step", std::to_string(s + 1)}}, {}, place + field});
                return known;
            };
            const Variant* shown = variant(step.variant, "/variant");
            if (!step.beside.empty()) variant(step.beside, "/beside");
            if (step.question && !step.question->other.empty()) variant(step.question->other, "/question/other");
            if (!step.trial || !shown) continue;
            const auto& pieces = shown->section->pieces;
            if (std::none_of(pieces.begin(), pieces.end(), [&](const Piece& piece) { return (piece.id == step.trial->piece || piece.name == step.trial->piece) && piece.fill == Fill::material; }))
                gaps.push_back({Severity::caution, "lesson-unknown-piece", {{"piece", step.trial->piece}, {"step", std::to_string(s + 1)}}, {}, place + "/trial/piece"});
        }
    return gaps;
}

}  // namespace wallfoot

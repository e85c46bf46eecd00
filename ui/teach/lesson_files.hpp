// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QByteArray>
#include <QStringList>
#include <functional>
#include <memory>
#include <vector>

#include "core/context/context.hpp"
#include "core/lesson/lesson.hpp"
#include "solver/report/report.hpp"

namespace wallfoot {

// What is handed out: pages in one file, worksheets, pictures.

/// What a lesson is made of. Findings by variant of the study; those the lesson speaks of are there and sound.
struct LessonSource {
    std::shared_ptr<const Study> study;
    Lesson lesson;
    std::vector<std::shared_ptr<const Findings>> findings;
};
/// Works out what the lesson speaks of and is not there. Throws InputFault (lesson_gaps, faults of a drawing), Cancelled.
void work_out(LessonSource& source, const Context& context = {});

/// How far the making has come; called between its parts.
using MadeSoFar = std::function<void(int done, int of)>;

/// The lesson as a page in one file, which answers to mouse and keyboard. Throws InputFault "lesson-page-too-large", Cancelled.
QByteArray lesson_html(const LessonSource& source, const Context& context = {}, const MadeSoFar& so_far = {});
/// Worksheets as PDF: a blank section to scale, the same with isotherms, words, a tally sheet, the answers. Throws Cancelled.
QByteArray lesson_worksheets(const LessonSource& source, bool a3, const Context& context = {}, const MadeSoFar& so_far = {});
/// One step as SVG (tracers move in it) or PNG, 1600 × 1100.
QByteArray lesson_step_picture(const LessonSource& source, std::size_t step, bool svg);

/// The report as a page in one file, with what it takes to look closer: every variant, and the piece whose moisture does most to
/// psi in each of its declared conditions. Of many variants the first, as many as a page has room for; the page says which are
/// left out and why, and so do `notes` where they are given.
QByteArray report_page(const Report& report, const std::shared_ptr<const ReportSource>& source, const std::function<std::string(const ReportPicture&)>& picture, const Context& context = {}, std::vector<Message>* notes = nullptr);

/// `wallfoot lesson FILE --out x.html|pdf|png|svg [--lesson N] [--step N] [--paper A4|A3]`; exit status of the command line.
int lesson_command(const QStringList& arguments);
inline constexpr const char* lesson_endings[] = {"html", "pdf", "png", "svg"};

}  // namespace wallfoot

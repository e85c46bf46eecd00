// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "solver/lesson/lesson_answer.hpp"
#include "solver/lesson/heat_seen.hpp"
#include "solver/report/report.hpp"

namespace wallfoot {

// A page in one file that answers to mouse and keyboard and works without a network. Without scripts everything in it can
// still be read, one thing below the other.

/// Most bytes of a page, and cells of one grid of temperatures.
constexpr std::size_t most_page_bytes = 5'000'000;
constexpr int most_grid_cells = 24'000;

/// One picture with the temperatures that lie under it.
struct PagePicture {
    std::string name;    ///< heading, such as the variant's
    std::string image;   ///< data: address
    std::string words;   ///< what it shows, for who cannot see it
    std::string line;    ///< psi and fRsi, in words; may be empty; told with the answer where a step asks
    Rect shown;          ///< what the picture spans
    std::string grid;    ///< key into the grids of the page; "" = no read-out
};

/// Precomputed states that a slider goes through.
struct PageSlider {
    std::string name;
    std::vector<PagePicture> steps;
    std::size_t begin = 0;
    std::string at_least, at_most;  ///< why it ends there
};

struct PageQuestion {
    QuestionKind kind = QuestionKind::coldest;
    std::string text;
    std::vector<std::string> options;
    LessonAnswer answer;
};

struct PageStep {
    std::string text, note;
    PagePicture picture;
    std::optional<PagePicture> beside;
    std::optional<PageSlider> slider;
    std::optional<PageQuestion> question;
    std::string units;   ///< everyday units, tracers
};

using PageGrids = std::map<std::string, TemperatureGrid>;

/// A lesson as a page.
struct LessonPage {
    std::string title, about, program;
    std::vector<PageStep> steps;
    PageGrids grids;
};
std::string lesson_page_html(const LessonPage& page);

/// What a report's page lets the reader look at more closely.
struct ReportPage {
    std::vector<PagePicture> variants;
    std::optional<PageSlider> slider;
    PageGrids grids;
    std::vector<Message> left_out = {};  ///< what there was no room for, and why
    std::optional<std::size_t> most_bytes = most_page_bytes;  ///< nothing: it is handed out whatever its size is
};
/// The report's HTML with a part to look closer in. `picture` as in report_html.
std::string report_page_html(const Report& report, const std::function<std::string(const ReportPicture&)>& picture, const ReportPage& page);

/// The same with as many of the first variants as its size allows, and without the slider where one of them or it has no room;
/// `page` becomes what is handed out, `left_out` with it.
std::string report_page_that_fits(const Report& report, const std::function<std::string(const ReportPicture&)>& picture, ReportPage& page);

/// psi with its bracket and fRsi, as one line.
std::string page_line(const Findings& findings);

}  // namespace wallfoot

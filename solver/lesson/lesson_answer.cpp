// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/lesson/lesson_answer.hpp"

#include <algorithm>
#include <cmath>

#include "core/study/names.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/lesson/heat_seen.hpp"

namespace wallfoot {

namespace {

Message note(const char* code, std::map<std::string, std::string> args = {}) { return {Severity::note, code, std::move(args), {}, {}}; }

std::string with_sign(double value, int decimals) { return (value > 0 ? "+" : "") + fixed(value, decimals); }

/// The spaces between which a psi stands, by what they are called; empty where they are not there.
std::pair<std::string, std::string> psi_spaces(const Findings& findings, const Psi& psi) {
    const auto called = [&](int space) {
        if (!findings.section || space < 0 || static_cast<std::size_t>(space) >= findings.section->spaces.size()) return std::string();
        return shown_name(*findings.section, findings.section->spaces[static_cast<std::size_t>(space)]);
    };
    return {called(psi.a), called(psi.b)};
}

struct PsiChange {
    Bracketed difference;  ///< other less shown
    bool psi = false;      ///< else L2D
};

/// psi of both headlines, else the first L2D of both.
std::optional<PsiChange> compared(const Findings& shown, const Findings& other, bool psi_only) {
    const Psi *a = shown.headline_psi(), *b = other.headline_psi();
    if (a && b && a->value && b->value) return PsiChange{difference(*b->value, *a->value), true};
    if (psi_only || shown.couplings.empty() || other.couplings.empty()) return {};
    const auto &c = shown.couplings.front().value, &d = other.couplings.front().value;
    if (!c || !d) return {};
    return PsiChange{difference(*d, *c), false};
}

std::string difference_words(const PsiChange& of) {
    const int decimals = std::min(4, supported_decimals(of.difference.width() / 2));
    return with_sign(of.difference.value, decimals);
}

void say_coldest(const Findings& shown, LessonAnswer& answer) {
    const SurfaceFinding* surface = shown.headline_surface();
    if (!surface) {
        answer.says.push_back(note("lesson-no-surface"));
        return;
    }
    answer.at = Place{surface->at[0] / 1000, surface->at[1] / 1000};
    answer.says.push_back(note("lesson-answer-coldest", {{"temperature", fixed(surface->lowest, 1)}, {"x", fixed(answer.at->x, 0)}, {"y", fixed(answer.at->y, 0)}}));
}

void say_loses_more(const Findings& shown, const Findings& other, LessonAnswer& answer) {
    const auto both = compared(shown, other, false);
    if (!both) {
        answer.says.push_back(note("lesson-not-comparable"));
        return;
    }
    if (both->difference.lower <= 0 && both->difference.upper >= 0) {
        answer.says.push_back(note("lesson-too-close"));
        return;
    }
    answer.option = both->difference.value > 0 ? 1 : 0;
    const PsiChange size{{std::abs(both->difference.value), 0, both->difference.width()}, both->psi};
    answer.says.push_back(note(both->psi ? "lesson-answer-more-psi" : "lesson-answer-more", {{"variant", *answer.option == 1 ? other.variant_name : shown.variant_name}, {"difference", difference_words(size).substr(1)}}));
}

void say_change(const Findings& shown, const Findings& other, LessonAnswer& answer) {
    const auto both = compared(shown, other, true);
    if (!both) {
        answer.says.push_back(note("lesson-not-comparable"));
        return;
    }
    answer.number = both->difference;
    answer.says.push_back(note("lesson-answer-change", {{"from", shown.variant_name}, {"to", other.variant_name}, {"difference", difference_words(*both)}}));
    // With more than two temperatures one psi alone is not the whole loss.
    const Psi* headline = shown.headline_psi();
    for (const Psi& one : shown.psi)
        for (const Psi& two : other.psi) {
            const bool same = one.lengths == two.lengths && one.lengths == headline->lengths && psi_spaces(shown, one) == psi_spaces(other, two) && psi_spaces(shown, one) != psi_spaces(shown, *headline);
            if (!same || !one.value || !two.value) continue;
            const auto [from, to] = psi_spaces(shown, one);
            answer.says.push_back(note("lesson-answer-change-pair", {{"from", from}, {"to", to}, {"difference", difference_words({difference(*two.value, *one.value), true})}}));
        }
}

void say_fault(const Findings& shown, const Findings& other, LessonAnswer& answer) {
    if (shown.section && other.section) answer.places = differing_places(*shown.section, *other.section);
    if (answer.places.empty()) {
        answer.says.push_back(note("lesson-no-fault-seen"));
        return;
    }
    answer.says.push_back(note("lesson-answer-fault"));
    // From as designed to as built: what the fault costs, with its sign.
    if (const auto both = compared(other, shown, true)) {
        answer.cost = both->difference;
        answer.says.push_back(note("lesson-fault-psi", {{"difference", difference_words(*both)}}));
    }
    const SurfaceFinding *as_built = shown.headline_surface(), *designed = other.headline_surface();
    if (as_built && designed && as_built->fRsi && designed->fRsi) {
        const double change = *as_built->fRsi - *designed->fRsi;
        answer.says.push_back(note(change < 0 ? "lesson-fault-colder" : "lesson-fault-warmer", {{"difference", with_sign(change, 3)}}));
    }
}

/// One thing of a grid cell that can be told apart.
std::string seen_at(const Section& section, double x, double y) {
    const Piece* piece = piece_seen(section, x, y);
    if (!piece) return {};
    return std::to_string(static_cast<int>(piece->fill)) + "\n" + piece->filled_with + "\n" + (piece->moisture ? to_string(*piece->moisture) : std::string());
}

void add_membranes(const Section& from, const Section& not_in, Micrometres half, std::vector<Rect>& places) {
    for (const Membrane& membrane : from.membranes) {
        const bool same = std::any_of(not_in.membranes.begin(), not_in.membranes.end(), [&](const Membrane& other) { return other.kind == membrane.kind && other.path == membrane.path; });
        for (std::size_t i = 0; !same && i + 1 < membrane.path.size(); ++i) {
            const Point a = membrane.path[i], b = membrane.path[i + 1];
            places.push_back({std::min(a.x, b.x) - half, std::min(a.y, b.y) - half, std::max(a.x, b.x) + half, std::max(a.y, b.y) + half});
        }
    }
}

double distance_to(const Rect& rect, Place p) {
    const double dx = std::max({to_mm(rect.left) - p.x, 0.0, p.x - to_mm(rect.right)}), dy = std::max({to_mm(rect.bottom) - p.y, 0.0, p.y - to_mm(rect.top)});
    return std::hypot(dx, dy);
}

}  // namespace

std::string psi_name(const Findings& findings, const Psi& psi) {
    const auto pair = psi_spaces(findings, psi);
    const bool alone = pair.first.empty() || std::all_of(findings.psi.begin(), findings.psi.end(), [&](const Psi& one) { return psi_spaces(findings, one) == pair; });
    return alone ? "psi" : "psi " + pair.first + "–" + pair.second;
}

LessonAnswer lesson_answer(const LessonQuestion& question, const Findings& shown, const Findings* other) {
    LessonAnswer answer;
    answer.kind = question.kind;
    const bool needs_other = question.kind == QuestionKind::loses_more || question.kind == QuestionKind::change || question.kind == QuestionKind::fault;
    if (question.kind == QuestionKind::coldest) say_coldest(shown, answer);
    else if (question.kind == QuestionKind::choice) {
        if (question.right < question.options.size()) {
            answer.option = question.right;
            answer.says.push_back(note("lesson-answer-choice", {{"option", question.options[question.right]}}));
        }
    } else if (needs_other && !other) answer.says.push_back(note("lesson-not-comparable"));
    else if (question.kind == QuestionKind::loses_more) say_loses_more(shown, *other, answer);
    else if (question.kind == QuestionKind::change) say_change(shown, *other, answer);
    else say_fault(shown, *other, answer);
    if (!question.answer.empty()) answer.says.push_back(note("lesson-says", {{"text", question.answer}}));
    return answer;
}

std::string question_text(const LessonQuestion& question, const std::string& shown, const std::string& other) {
    if (!question.text.empty()) return question.text;
    const auto usual = [&](const char* code) { return english(note(code, {{"shown", shown}, {"other", other}})); };
    switch (question.kind) {
        case QuestionKind::coldest: return usual("lesson-ask-coldest");
        case QuestionKind::loses_more: return usual("lesson-ask-loses-more");
        case QuestionKind::change: return usual("lesson-ask-change");
        case QuestionKind::fault: return usual("lesson-ask-fault");
        default: return usual("lesson-ask-choice");
    }
}

std::vector<std::string> question_options(const LessonQuestion& question, const std::string& shown, const std::string& other) {
    if (question.kind == QuestionKind::loses_more) return {shown, other};
    return question.kind == QuestionKind::choice ? question.options : std::vector<std::string>{};
}

std::optional<double> click_distance(const LessonAnswer& answer, Place guess) {
    if (!std::isfinite(guess.x) || !std::isfinite(guess.y)) return {};
    if (answer.at) return std::hypot(guess.x - answer.at->x, guess.y - answer.at->y);
    std::optional<double> nearest;
    for (const Rect& place : answer.places) nearest = std::min(nearest.value_or(distance_to(place, guess)), distance_to(place, guess));
    return nearest;
}

std::vector<Message> click_guesses(const LessonAnswer& answer, const std::vector<Place>& guesses) {
    std::vector<double> away;
    for (const Place& guess : guesses)
        if (const auto distance = click_distance(answer, guess)) away.push_back(*distance);
    if (away.empty()) return {};
    std::sort(away.begin(), away.end());
    const auto mm = [](double distance) { return fixed(distance, 0); };
    if (away.size() == 1) return {away[0] < 1 ? note("lesson-guess-found") : note("lesson-guess-away", {{"mm", mm(away[0])}})};
    const std::size_t half = away.size() / 2;
    const double middle = away.size() % 2 == 1 ? away[half] : (away[half - 1] + away[half]) / 2;
    return {note("lesson-guesses-away", {{"count", std::to_string(away.size())}, {"nearest", mm(away.front())}, {"middle", mm(middle)}, {"farthest", mm(away.back())}})};
}

std::vector<Message> number_guesses(const LessonAnswer& answer, std::vector<double> guesses) {
    std::erase_if(guesses, [](double guess) { return !std::isfinite(guess); });
    if (!answer.number || guesses.empty()) return {};
    std::sort(guesses.begin(), guesses.end());
    const std::size_t half = guesses.size() / 2;
    const double middle = guesses.size() % 2 == 1 ? guesses[half] : (guesses[half - 1] + guesses[half]) / 2, right = answer.number->value;
    const double nearest = *std::min_element(guesses.begin(), guesses.end(), [&](double a, double b) { return std::abs(a - right) < std::abs(b - right); });
    const auto off = [&](double guess) { return with_sign(guess - right, 3); };
    if (guesses.size() == 1) return {note("lesson-guess-number", {{"guess", with_sign(guesses[0], 3)}, {"off", off(guesses[0])}})};
    return {note("lesson-guess-numbers", {{"count", std::to_string(guesses.size())}, {"nearest", with_sign(nearest, 3)}, {"off", off(nearest)}, {"middle", with_sign(middle, 3)}, {"middle_off", off(middle)}, {"least", with_sign(guesses.front(), 3)}, {"most", with_sign(guesses.back(), 3)}})};
}

std::vector<double> typed_guesses(const std::string& text) {
    std::vector<double> guesses;
    std::size_t at = 0;
    constexpr const char* parting = " \t\r\n;";
    while ((at = text.find_first_not_of(parting, at)) != std::string::npos) {
        const std::size_t end = std::min(text.find_first_of(parting, at), text.size());
        const std::string word = text.substr(at, end - at);
        const Entry entry = parse_number(word);
        if (!entry) throw InputFault(Message{Severity::fault, "lesson-not-a-number", {{"word", word}}, {}, {}});
        guesses.push_back(*entry.value);
        at = end;
    }
    return guesses;
}

Message option_guesses(const LessonAnswer& answer, const std::vector<int>& counts) {
    int all = 0;
    for (const int count : counts) all += std::max(0, count);
    const int right = answer.option && *answer.option < counts.size() ? std::max(0, counts[*answer.option]) : 0;
    return note("lesson-guess-options", {{"right", std::to_string(right)}, {"count", std::to_string(all)}});
}

std::vector<Rect> differing_places(const Section& shown, const Section& other) {
    std::vector<Rect> places;
    const Rect& cut = shown.cut;
    if (cut.width() <= 0 || cut.height() <= 0) return places;
    const Micrometres cell = std::max<Micrometres>(1, cut.width() / 240);
    const Micrometres rows = std::min<Micrometres>(2000, cut.height() / cell + 1);
    for (Micrometres r = 0; r < rows; ++r) {
        const double y = static_cast<double>(cut.bottom + r * cell) + static_cast<double>(cell) / 2;
        std::optional<Micrometres> from;
        for (Micrometres k = 0; k <= 241; ++k) {
            const double x = static_cast<double>(cut.left + k * cell) + static_cast<double>(cell) / 2;
            const bool unlike = k <= 240 && seen_at(shown, x, y) != seen_at(other, x, y);
            if (unlike && !from) from = k;
            if (!unlike && from) {
                places.push_back({cut.left + *from * cell, cut.bottom + r * cell, cut.left + k * cell, cut.bottom + (r + 1) * cell});
                from.reset();
            }
        }
    }
    add_membranes(shown, other, cell, places);
    add_membranes(other, shown, cell, places);
    return places;
}

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/variant_grid.hpp"

#include <algorithm>
#include <set>

#include "core/study/courses.hpp"
#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "core/study/variants.hpp"
#include "core/study/words.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

/// What combinations begin from.
struct GridStart {
    std::string name, note;
    std::shared_ptr<const Section> section;
};

/// One combination; an index of -1: as it is.
struct Combination {
    std::size_t start = 0;
    int block = -1, condition = -1, courses = -1;
};

std::string told_in_name(const std::string& code, std::map<std::string, std::string> args) { return english(Message{Severity::note, code, std::move(args), {}, {}}); }

std::string shown_variant(const Variant& variant) { return variant.name.empty() ? variant.id : variant.name; }

/// Nothing but pairs.
bool only_pairs(const GridChoices& choices) { return choices.blocks.empty() && choices.conditions.empty() && choices.courses.empty(); }

void check_choices(const Study& study, const GridChoices& choices) {
    if (only_pairs(choices) ? choices.pairs.empty() : choices.variants.empty() && choices.pairs.empty()) edit::refuse("grid-nothing-chosen");
    if (choices.pieces.empty() && !only_pairs(choices)) edit::refuse("grid-needs-piece");
    if (!choices.courses.empty() && choices.blocks.empty()) edit::refuse("grid-needs-block");
    const std::size_t count = grid_combinations(choices);
    if (count > most_in_grid) edit::refuse("grid-too-many", {{"count", std::to_string(count)}, {"most", std::to_string(most_in_grid)}});
    for (const std::string& id : choices.blocks)
        if (!study.find_material(id)) edit::refuse("equal-unknown-material", {{"material", id}});
    for (const std::string& id : choices.variants) {
        const Variant* variant = study.find_variant(id);
        if (!variant) edit::refuse("sweep-unknown-variant", {{"name", id}});
        for (const std::string& piece : choices.pieces)
            if (!find_piece(*variant->section, piece)) edit::refuse("sweep-unknown-piece", {{"name", piece}, {"variant", shown_variant(*variant)}});
    }
}

std::vector<GridStart> starts_of(const Study& study, const GridChoices& choices, std::vector<Message>& apart) {
    std::vector<GridStart> starts;
    if (!only_pairs(choices))
        for (const std::string& id : choices.variants) {
            const Variant& variant = *study.find_variant(id);
            starts.push_back({shown_variant(variant), variant.note, variant.section});
        }
    for (const auto& [one, other] : choices.pairs) {
        const Variant *first = study.find_variant(one), *second = study.find_variant(other);
        if (!first || !second) edit::refuse("sweep-unknown-variant", {{"name", first ? other : one}});
        const std::string name = shown_variant(*first) + " + " + shown_variant(*second);
        try {
            starts.push_back({name, "", std::make_shared<const Section>(combined(*study.variants.front().section, *first->section, *second->section))});
        } catch (const InputFault& fault) {
            apart.push_back({Severity::note, "grid-pair-apart", {{"pair", name}, {"why", english(fault.faults().front())}}, {}, {}});
        }
    }
    return starts;
}

std::vector<Combination> combinations_of(std::size_t starts, const GridChoices& choices) {
    std::vector<Combination> all;
    const auto each = [](std::size_t count, auto act) {
        if (count == 0) act(-1);
        for (std::size_t i = 0; i < count; ++i) act(static_cast<int>(i));
    };
    for (std::size_t v = 0; v < starts; ++v)
        each(choices.blocks.size(), [&](int block) {
            each(choices.courses.size(), [&](int courses) { each(choices.conditions.size(), [&](int condition) { all.push_back({v, block, condition, courses}); }); });
        });
    return all;
}

Section section_of(const Section& from, const GridChoices& choices, const Combination& one) {
    Section section = from;
    std::vector<std::string> pieces = choices.pieces;
    if (one.courses >= 0) {
        auto courses = courses_of(section, choices.pieces, choices.course_height);
        std::stable_sort(courses.begin(), courses.end(), [&](const Course& a, const Course& b) { return choices.from_top ? a.top > b.top : a.bottom < b.bottom; });
        const auto wanted = static_cast<std::size_t>(choices.courses[static_cast<std::size_t>(one.courses)]);
        if (wanted > courses.size()) edit::refuse("grid-too-few-courses", {{"count", std::to_string(wanted)}, {"there", std::to_string(courses.size())}});
        for (std::size_t c = 0; c < wanted; ++c) {
            std::string id;
            section = with_course(section, courses[c], choices.blocks[static_cast<std::size_t>(one.block)], &id);
            pieces.push_back(id);
        }
    } else if (one.block >= 0) {
        for (const std::string& piece : pieces) section = set_material(section, piece, choices.blocks[static_cast<std::size_t>(one.block)]);
    }
    if (one.condition >= 0)
        for (const std::string& piece : pieces) section = set_moisture(section, piece, choices.conditions[static_cast<std::size_t>(one.condition)]);
    return section;
}

/// "Base, 2 courses of Light block, below the DPC"
std::string name_of_combination(const Study& study, const GridStart& from, const GridChoices& choices, const Combination& one) {
    std::string name = from.name;
    const auto add = [&](const std::string& part) { name += ", " + part; };
    const std::string block = one.block < 0 ? "" : shown_name(*study.find_material(choices.blocks[static_cast<std::size_t>(one.block)]));
    if (one.courses >= 0) {
        const int count = choices.courses[static_cast<std::size_t>(one.courses)];
        add(told_in_name(count == 1 ? "grid-name-course" : "grid-name-courses", {{"count", std::to_string(count)}, {"block", block}}));
    } else if (one.block >= 0) {
        add(block);
    }
    if (one.condition >= 0) {
        const auto& condition = choices.conditions[static_cast<std::size_t>(one.condition)];
        add(condition ? told_in_name("grid-name-" + word_of(condition_words, *condition), {}) : told_in_name("grid-name-by-place", {}));
    }
    return name;
}

}  // namespace

std::size_t grid_combinations(const GridChoices& choices) {
    if (only_pairs(choices)) return choices.pairs.size();
    std::size_t count = choices.variants.size() + choices.pairs.size();
    for (const std::size_t ways : {choices.blocks.size(), choices.conditions.size(), choices.courses.size()}) count *= std::max<std::size_t>(1, ways);
    return count;
}

Grid make_grid(const Study& study, const GridChoices& choices) {
    check_choices(study, choices);
    Grid grid{study, {}, 0, {}};
    const std::vector<GridStart> starts = starts_of(study, choices, grid.apart);
    std::set<std::string> ids, names;
    for (const Variant& variant : study.variants) {
        ids.insert(variant.id);
        names.insert(variant.name);
    }
    int number = 1;
    for (const Combination& one : combinations_of(starts.size(), choices)) {
        const GridStart& from = starts[one.start];
        Section section = section_of(*from.section, choices, one);
        if (std::any_of(grid.study.variants.begin(), grid.study.variants.end(), [&](const Variant& variant) { return *variant.section == section; })) {
            ++grid.alike;
            continue;
        }
        Variant made;
        while (ids.contains("v" + std::to_string(number))) ++number;
        made.id = *ids.insert("v" + std::to_string(number)).first;
        const std::string name = name_of_combination(study, from, choices, one);
        made.name = name;
        for (int n = 2; !names.insert(made.name).second; ++n) made.name = name + " " + std::to_string(n);
        made.note = from.note;
        made.section = std::make_shared<const Section>(std::move(section));
        grid.made.push_back(made.name);
        grid.study.variants.push_back(std::move(made));
    }
    return grid;
}

}  // namespace wallfoot

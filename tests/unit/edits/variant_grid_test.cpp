// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/variant_grid.hpp"

#include <gtest/gtest.h>

#include <functional>
#include <set>

#include "core/details/detail.hpp"
#include "core/file/study_file.hpp"
#include "core/study/courses.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;

namespace {

constexpr Micrometres mm = um_per_mm;

Study sample() { return load_study(in_tree("samples/slab-insulation-below.wallfoot")).study; }

std::string refusal(const std::function<void()>& act) {
    try {
        act();
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
    return "";
}

GridChoices foot_choices() {
    GridChoices choices;
    choices.variants = {"foam", "aggregate"};
    choices.pieces = {"foot-above", "foot-below"};
    choices.blocks = {"foam-strong", "aggregate-dense", "concrete"};
    choices.conditions = {std::nullopt, Condition::dry};
    return choices;
}

const Section& section_named(const Grid& grid, const std::string& name) {
    for (const Variant& variant : grid.study.variants)
        if (variant.name == name) return *variant.section;
    throw std::logic_error("no variant " + name);
}

}  // namespace

TEST(VariantGrid, MakesEveryCombinationOnceAndLeavesWhatIsThere) {
    const Study study = sample();
    const GridChoices choices = foot_choices();
    EXPECT_EQ(grid_combinations(choices), 12u);
    const Grid grid = make_grid(study, choices);
    EXPECT_EQ(grid.made.size() + grid.alike, 12u);
    EXPECT_EQ(grid.study.variants.size(), study.variants.size() + grid.made.size());
    for (std::size_t v = 0; v < study.variants.size(); ++v) {
        EXPECT_EQ(grid.study.variants[v].id, study.variants[v].id);
        EXPECT_EQ(grid.study.variants[v].section, study.variants[v].section) << "the very same";
    }
    std::set<std::string> ids, names;
    for (const Variant& variant : grid.study.variants) {
        EXPECT_TRUE(ids.insert(variant.id).second) << variant.id;
        EXPECT_TRUE(names.insert(variant.name).second) << variant.name;
    }
    for (std::size_t a = 0; a < grid.study.variants.size(); ++a)
        for (std::size_t b = 0; b < a; ++b) EXPECT_FALSE(*grid.study.variants[a].section == *grid.study.variants[b].section) << a << " " << b;
    // What its name says is what it has.
    const std::string base = study.find_variant("foam")->name, block = study.find_material("concrete")->name;
    const Section& made = section_named(grid, base + ", " + block + ", dry");
    Section by_hand = *study.find_variant("foam")->section;
    for (const std::string& id : choices.pieces) by_hand = set_moisture(set_material(by_hand, id, "concrete"), id, Condition::dry);
    EXPECT_EQ(made, by_hand);
    // It can be written and read again.
    EXPECT_EQ(read_study(write_study(grid.study)).study.variants.size(), grid.study.variants.size());
}

TEST(VariantGrid, CountsCoursesFromTheTopOrTheFoot) {
    Study study = sample();
    GridChoices choices;
    choices.variants = {"aggregate"};
    choices.pieces = {"leaf"};  // from 150 to 1500, six courses of 225
    choices.blocks = {"foam-strong"};
    choices.courses = {0, 1, 2};
    ASSERT_EQ(courses_of(*study.find_variant("aggregate")->section, {"leaf"}, 225 * mm).size(), 6u);
    const std::string base = study.find_variant("aggregate")->name, block = study.find_material("foam-strong")->name;
    const Grid down = make_grid(study, choices);
    EXPECT_EQ(down.made, (std::vector<std::string>{base + ", 1 course of " + block, base + ", 2 courses of " + block}));
    EXPECT_EQ(down.alike, 1u) << "none is the variant itself";
    choices.from_top = false;
    const Grid up = make_grid(study, choices);
    const auto courses_in = [&](const Section& section) {
        std::set<Micrometres> bottoms;
        for (const Piece& piece : section.pieces)
            if (piece.filled_with == "foam-strong") bottoms.insert(std::min_element(piece.outline.begin(), piece.outline.end(), [](Point a, Point b) { return a.y < b.y; })->y);
        return bottoms;
    };
    EXPECT_EQ(courses_in(section_named(down, base + ", 2 courses of " + block)), (std::set<Micrometres>{1275 * mm, 1050 * mm}));
    EXPECT_EQ(courses_in(section_named(up, base + ", 2 courses of " + block)), (std::set<Micrometres>{150 * mm, 375 * mm}));
}

// The site faults of a starter detail are variants of the study made of it, so they are one of the ways.
TEST(VariantGrid, CrossesTheSiteFaultsOfADetailWithBlocks) {
    const StarterDetails all = starter_details();
    const Detail& detail = all.get("cavity-wall-insulation-below-slab");
    ASSERT_GE(detail.switches.size(), 2u);
    DetailSettings settings;
    for (const DetailSwitch& fault : detail.switches) add_switch(detail, settings, fault.id);
    const Study study = make_study(detail, settings);
    GridChoices choices;
    for (const Variant& variant : study.variants) choices.variants.push_back(variant.id);
    for (const Piece& piece : study.variants.front().section->pieces)
        if (const Material* material = study.find_material(piece.filled_with); material && material->kind == MaterialKind::masonry && choices.pieces.empty()) choices.pieces = {piece.id};
    for (const Material& material : study.materials)
        if (material.kind == MaterialKind::masonry) choices.blocks.push_back(material.id);
    ASSERT_GE(choices.blocks.size(), 2u);
    const Grid grid = make_grid(study, choices);
    EXPECT_EQ(grid.made.size() + grid.alike, study.variants.size() * choices.blocks.size());
    EXPECT_GE(grid.made.size(), study.variants.size()) << "every fault with at least one other block";
    const std::string fault_name = detail.switches.front().name;
    EXPECT_TRUE(std::any_of(grid.made.begin(), grid.made.end(), [&](const std::string& name) { return name.starts_with(fault_name + ", "); }));
}

TEST(VariantGrid, SaysWhatItCannotMake) {
    const Study study = sample();
    const auto refused = [&](auto change) {
        GridChoices choices = foot_choices();
        change(choices);
        return refusal([&] { make_grid(study, choices); });
    };
    EXPECT_EQ(refused([](GridChoices&) {}), "");
    EXPECT_EQ(refused([](GridChoices& c) { c.variants.clear(); }), "grid-nothing-chosen");
    EXPECT_EQ(refused([](GridChoices& c) { c.blocks.clear(), c.conditions.clear(); }), "grid-nothing-chosen");
    EXPECT_EQ(refused([](GridChoices& c) { c.pieces.clear(); }), "grid-needs-piece");
    EXPECT_EQ(refused([](GridChoices& c) { c.blocks.clear(), c.courses = {1}; }), "grid-needs-block");
    EXPECT_EQ(refused([](GridChoices& c) { c.courses = {9}; }), "grid-too-few-courses");
    EXPECT_EQ(refused([](GridChoices& c) { c.blocks = {"nothing"}; }), "equal-unknown-material");
    EXPECT_EQ(refused([](GridChoices& c) { c.pieces = {"nothing"}; }), "sweep-unknown-piece");
    EXPECT_EQ(refused([](GridChoices& c) { c.variants = {"nothing"}; }), "sweep-unknown-variant");
    EXPECT_EQ(refused([](GridChoices& c) { c.courses = {1}, c.course_height = 0; }), "equal-course-height");
    EXPECT_EQ(refused([](GridChoices& c) {
                  c.pieces = {"leaf"};
                  c.course_height = 10 * mm;
                  for (int n = 0; n < 10; ++n) c.courses.push_back(n);  // 2 × 3 × 2 × 10
              }), "grid-too-many");
}

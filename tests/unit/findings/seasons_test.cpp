// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/standards/iso13370.hpp"
#include "solver/findings/season_work.hpp"
#include "tests/unit/findings/drafts.hpp"

namespace wallfoot {
namespace {

Study foot_in(double mean, double swing, double coldest) {
    Study study = drafts::junction({.inside = 20, .outside = 0}).study();
    study.climate.emplace();
    study.climate->year = YearWave{.outside_mean = mean, .outside_amplitude = swing, .coldest_month = coldest};
    return study;
}

std::shared_ptr<const Findings> through_year(const Study& study) {
    FindingsOptions options;
    options.seasons = true;
    return find(study, study.variants.front(), options);
}

Climate twelve_months(const YearWave& wave) {
    Climate climate;
    for (std::size_t m = 0; m < months_of_a_year; ++m)
        climate.months.push_back({.outside = wave.outside_mean - wave.outside_amplitude * std::cos(std::numbers::pi / 6 * (double(m) + 1 - wave.coldest_month)), .humidity = 0.8, .inside = {}});
    climate.indoor = IndoorAir{.humidity_class = 3, .humidity = {}};
    return climate;
}

TEST(Seasons, first_wave_of_twelve_months) {
    std::array<double, months_of_a_year> values{};
    for (std::size_t m = 0; m < values.size(); ++m) values[m] = 10 - 8 * std::cos(std::numbers::pi / 6 * (double(m) - 0.5));
    YearOf year = year_of(values);
    EXPECT_NEAR(year.mean, 10, 1e-12);
    EXPECT_NEAR(std::abs(year.wave), 8, 1e-12);
    EXPECT_NEAR(year.most_off, 0, 1e-12);
    values[3] += 2;  // one month out of line by 2 K: the mean takes 1/12 of it, the wave 2/12
    year = year_of(values);
    EXPECT_NEAR(year.mean, 10 + 2.0 / 12, 1e-12);
    EXPECT_NEAR(year.most_off, 2 * (1 - 3.0 / 12), 1e-12);
}

// What is stored goes to nothing with the heat capacity: then every month is followed at once, as by the steady field.
TEST(Seasons, without_heat_capacity_the_year_is_the_steady_field_of_every_month) {
    Study study = foot_in(10, 8, 1);
    study.climate = twelve_months(*study.climate->year);
    for (Material& material : study.materials) material.density = 1e-3, material.heat_capacity = 1;
    const auto found = through_year(study);
    ASSERT_TRUE(found->seasons && found->seasons->surface);
    const Seasons& seasons = *found->seasons;
    for (std::size_t m = 0; m < months_of_a_year; ++m) EXPECT_NEAR(seasons.surface->by_month[m], seasons.surface->steady_by_month[m], 1e-6);
    const auto* steady = found->headline_surface();
    EXPECT_NEAR(seasons.surface->by_month[0], 2 + *steady->fRsi * 18, 18 * steady->estimate + 2e-3);
    const double coupling = found->couplings.at(0).value->value;
    EXPECT_NEAR(seasons.flows.at(0).by_outside.size, coupling, 1e-3 * coupling);
    EXPECT_NEAR(seasons.flows.at(0).by_inside.size, coupling, 1e-3 * coupling);
    EXPECT_NEAR(*seasons.flows.at(0).mean, 10 * coupling, 1e-2 * coupling);
    ASSERT_EQ(seasons.checks.size(), 2u);
    for (std::size_t i = 0; i < 2; ++i)
        for (const SurfaceVerdict& verdict : found->verdicts)
            if (verdict.demand == seasons.checks[i].demand) {
                EXPECT_EQ(verdict.verdict, seasons.checks[i].verdict);
                EXPECT_NEAR(*verdict.margin_K, *seasons.checks[i].margin_K, 0.02);
            }
    EXPECT_TRUE(seasons.assumed.empty());
}

TEST(Seasons, the_ground_lags_and_dampens) {
    const auto found = through_year(foot_in(10, 8, 1));
    ASSERT_TRUE(found->seasons && found->seasons->surface && found->seasons->floor);
    const Seasons& seasons = *found->seasons;
    const double coupling = found->couplings.at(0).value->value;
    // Storage keeps a part of the swing from passing; what enters from inside grows by what is stored.
    EXPECT_LT(seasons.flows.at(0).by_outside.size, coupling);
    EXPECT_GT(seasons.flows.at(0).by_inside.size, coupling);
    EXPECT_GT(seasons.flows.at(0).by_outside.months, 0);
    EXPECT_LT(seasons.flows.at(0).by_outside.months, 3);
    EXPECT_LT(seasons.flows.at(0).by_inside.months, 1.5);
    EXPECT_GT(seasons.surface->lowest, seasons.surface->steady_by_month[0]);
    EXPECT_FALSE(seasons.assumed.empty());
    // The numbers of the standard again, by hand: λ 1.5, ρc 2.0e6 assumed, d_f of the floor.
    const SeasonFloor& floor = *seasons.floor;
    EXPECT_NEAR(floor.depth, std::sqrt(3.15e7 * 1.5 / (std::numbers::pi * 2e6)), 1e-9);
    EXPECT_NEAR(floor.by_standard_outside.size, 0.37 * 1.5 * std::log(floor.depth / floor.equivalent_thickness + 1), 1e-9);
    // The simple formula and the field agree in kind.
    EXPECT_NEAR(floor.by_standard_outside.size / floor.solved_outside.size, 1, 0.5);
    for (const SeasonRow& row : season_rows(*found)) {
        EXPECT_EQ((row.what + row.value).find('{'), std::string::npos) << row.what << ": " << row.value;
        EXPECT_EQ(row.what.find(" in in "), std::string::npos) << row.what;
        EXPECT_EQ(row.value.find("± 0.000001"), std::string::npos) << row.value;
    }
    EXPECT_NE(season_json(*found).find("\"floor\""), std::string::npos);
}

// Turning the year round by two months turns every answer round and changes nothing else.
TEST(Seasons, a_later_year_is_the_same_year_later) {
    const auto one = through_year(foot_in(9, 7, 1)), two = through_year(foot_in(9, 7, 3));
    ASSERT_TRUE(one->seasons->surface && two->seasons->surface);
    EXPECT_NEAR(one->seasons->surface->lowest, two->seasons->surface->lowest, 1e-9);
    EXPECT_EQ((one->seasons->surface->month + 2) % 12, two->seasons->surface->month);
    EXPECT_NEAR(one->seasons->surface->swing.months, two->seasons->surface->swing.months, 1e-9);
    EXPECT_NEAR(std::fmod(one->seasons->flows[0].in_year->months + 2, 12), two->seasons->flows[0].in_year->months, 1e-9);
}

TEST(Seasons, no_soil_no_year_and_no_climate_only_per_kelvin) {
    const auto wall = drafts::Draft().material("wall", 0.4).piece("wall", 300, 0, 600, 1000).space("in", "inside", 100, 500, 20).space("out", "outside", 800, 500, 0).study();
    EXPECT_FALSE(through_year(wall)->seasons);
    const auto found = through_year(drafts::junction({}).study());
    ASSERT_TRUE(found->seasons);
    EXPECT_FALSE(found->seasons->surface || found->seasons->outside);
    EXPECT_FALSE(found->seasons->flows.empty());
    EXPECT_TRUE(found->seasons->checks.empty());
}

/// A room and a hall on both sides of a wall that meets an outer wall of soil which stores nothing; the hall's outer wall `hall_mm` thick.
Study room_beside_hall(double hall_celsius, double hall_mm) {
    drafts::Draft d;
    d.cut = "[0, 0, 800, 1000]";
    d.material("wall", 0.6, "soil");
    d.piece("wall", 300, 500, 600, 1000).piece("wall", 600 - hall_mm, 0, 600, 500).piece("wall", 0, 450, 600, 550);
    d.space("in", "inside", 100, 800, 20, R"(, "side": "own")").space("hall", "inside", 100, 200, hall_celsius).space("out", "outside", 700, 500, 0);
    Study study = d.study();
    study.materials.front().density = 1e-3, study.materials.front().heat_capacity = 1;
    study.climate.emplace().year = YearWave{.outside_mean = 10, .outside_amplitude = 8, .coldest_month = 1};
    return study;
}

// Nothing is stored: the swing of the room drives what couples it with all that stays as it is. The first version let the hall swing too.
TEST(Seasons, a_room_at_another_temperature_stays_at_it) {
    const Study study = room_beside_hall(12, 300);
    FindingsOptions options;
    options.seasons = true;
    for (const int version : {1, 2}) {
        if (version == 1) options.formulas = FormulaVersions::recorded({});
        else options.formulas = {};
        const auto found = find(study, study.variants.front(), options);
        ASSERT_TRUE(found->seasons) << english(found->messages.front());
        const auto coupling = [&](int a, int b) {
            for (const Coupling& of : found->couplings)
                if ((of.a == a && of.b == b) || (of.a == b && of.b == a)) return of.value->value;
            return 0.0;
        };
        const double expected = coupling(0, 2) + (version == 1 ? 0 : coupling(0, 1));
        EXPECT_NEAR(found->seasons->flows.at(0).by_inside.size, expected, 2e-3 * expected) << version;
    }
}

TEST(Seasons, a_coldest_surface_of_another_room_is_told) {
    Study study = room_beside_hall(20, 100);
    study.climate->indoor = IndoorAir{.humidity_class = {}, .humidity = 0.5, .margin = 0};
    FindingsOptions options;
    options.seasons = true;
    const auto found = find(study, study.variants.front(), options);
    ASSERT_TRUE(found->seasons && found->headline_surface());
    EXPECT_EQ(found->headline_surface()->space, 1);
    EXPECT_TRUE(found->seasons->checks.empty());
    EXPECT_TRUE(drafts::says(*found, "season-other-space"));
    study.climate->indoor.reset();
    EXPECT_FALSE(drafts::says(*find(study, study.variants.front(), options), "season-other-space")) << "no months are judged";
}

TEST(Seasons, heat_capacities_are_stated_or_told) {
    Study study = drafts::junction({}).study();
    std::vector<std::string> assumed;
    Material material;
    material.id = "soil", material.kind = MaterialKind::soil;
    EXPECT_EQ(heat_capacity_of(study, material, assumed), 2.0e6);
    study.site["soil"] = {"\"clay\"", "trial pit", {}};
    EXPECT_EQ(heat_capacity_of(study, material, assumed), 3.0e6);
    EXPECT_EQ(assumed.size(), 2u);
    material.density = 1800, material.heat_capacity = 900;
    EXPECT_EQ(heat_capacity_of(study, material, assumed), 1800 * 900.0);
    EXPECT_EQ(assumed.size(), 2u);
}

}  // namespace
}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/standards/iso13370.hpp"
#include "tests/unit/findings/drafts.hpp"

namespace wallfoot {
namespace {

/// Three upright layers of 100 mm each between inside and outside; the first is built of `parts` where there are any.
drafts::Draft three_layers(const std::string& first, const std::string& elements = "") {
    drafts::Draft d;
    d.item(d.materials, first);
    d.material("block", 0.15).material("mortar", 0.88).material("batts", 0.032).material("brick", 0.77);
    d.item(d.materials, R"({"id": "steel", "name": "steel", "kind": "metal", "lambda": 50})");
    const auto layer = [&](const std::string& id, const std::string& material, double x) {
        d.outline(id, R"("material": ")" + material + R"(", "moisture": "dry")", {{x, 0}, {x + 100, 0}, {x + 100, 1000}, {x, 1000}});
    };
    layer("inner", "first", 300), layer("fill", "batts", 400), layer("outer", "brick", 500);
    d.space("in", "inside", 100, 500, 20).space("out", "outside", 800, 500, 0);
    if (!elements.empty()) d.more = R"(, "elements": [)" + elements + "]";
    return d;
}

std::string first_of(const std::string& parts) { return R"({"id": "first", "name": "first", "kind": "masonry", "mix": [)" + parts + "]}"; }

double input_of(const Findings& findings, const std::string& of, const std::string& name) {
    for (const Derivation& derivation : findings.derivations)
        if (derivation.of == of)
            for (const auto& input : derivation.inputs)
                if (input.name == name) return input.value;
    ADD_FAILURE() << "no " << name << " in " << of;
    return 0;
}

// ISO 6946 combined method by hand: units 440 × 215 in 10 mm joints (6.57 % mortar), R_si 0.13, R_se 0.04: R′ 4.0500, R″ 3.9301,
// R_T 3.9900, U 0.2506. The plain wall keeps psi 0 (RULES: the field takes what makes the plane layers equal R_T).
TEST(MixedLayers, masonry_in_a_cavity_wall_by_the_combined_method) {
    const double mortar = 1 - 440.0 * 215 / (450 * 225);
    std::ostringstream parts;
    parts.precision(12);
    parts << R"({"material": "block", "fraction": )" << 1 - mortar << R"(}, {"material": "mortar", "fraction": )" << mortar << "}";
    const auto found = three_layers(first_of(parts.str())).solved();
    ASSERT_FALSE(found->has_fault()) << english(found->messages.front());
    EXPECT_NEAR(*found->elements.at(0).U, 0.2506, 5e-5);
    EXPECT_NEAR(input_of(*found, "layers built of parts, top", "R′"), 4.0500, 5e-5);
    EXPECT_NEAR(input_of(*found, "layers built of parts, top", "R″"), 3.9301, 5e-5);
    EXPECT_NEAR(input_of(*found, "layers built of parts, top", "R_T"), 3.9900, 1e-4);
    EXPECT_NEAR(input_of(*found, "layers built of parts, top", "e"), (4.0500 - 3.9301) / (2 * 3.99), 1e-4);
    EXPECT_NEAR(found->headline_psi()->value->value, 0, 1e-8);
}

TEST(MixedLayers, outside_the_limits_of_the_method_the_parts_are_to_be_drawn) {
    const auto code_of = [](const std::string& parts) {
        const auto found = three_layers(first_of(parts)).solved();
        for (const Message& message : found->messages)
            if (message.severity == Severity::fault) return message.code + (message.at ? " at its place" : "");
        return std::string("none");
    };
    EXPECT_EQ(code_of(R"({"material": "batts", "fraction": 0.99}, {"material": "steel", "fraction": 0.01})"), "combined-method-metal at its place");
    EXPECT_EQ(code_of(R"({"material": "block", "fraction": 0.9})"), "mix-not-whole at its place");
    drafts::Draft thin = three_layers(first_of(R"({"material": "batts", "fraction": 0.8}, {"material": "brick", "fraction": 0.2})"));
    const std::string fill = R"("material": "batts", "moisture": "dry")";
    thin.pieces.replace(thin.pieces.find(fill), fill.size(), R"("material": "brick", "moisture": "dry")");
    const auto found = thin.solved();  // R′ = 1.5 R″ and more where the layer is all the insulation there is
    ASSERT_TRUE(found->has_fault());
    EXPECT_EQ(found->messages.back().code, "combined-method-ratio");
}

// ISO 6946 annex F by hand: U 0.2759, 2.5 ties of 12.5 mm² per m² in 100 mm λ 0.032: stainless (17) 0.0032, 1.1 % and left out; carbon
// steel (50) 0.0093, 3.4 % and counted. psi is what it was.
TEST(MixedLayers, fixings_correct_U_beside_psi) {
    const std::string plain = R"({"id": "first", "name": "first", "kind": "masonry", "lambda": 0.5})";
    const auto with = [&](const std::string& lambda, const std::string& layer) {
        return three_layers(plain, R"({"id": "top", "cut": "top", "corrections": {"fixings": [{"layer": ")" + layer + R"(", "conductivity": )" + lambda + R"(, "area": 12.5, "per_m2": 2.5}]}})").solved();
    };
    const auto stainless = with("17", "fill"), carbon = with("50", "fill");
    ASSERT_TRUE(stainless->elements.at(0).corrected_U && carbon->elements.at(0).corrected_U);
    EXPECT_NEAR(input_of(*stainless, "corrected U top", "ΔU"), 0.0032, 5e-5);
    EXPECT_EQ(*stainless->elements[0].corrected_U, *stainless->elements[0].U);
    EXPECT_NEAR(*carbon->elements[0].corrected_U - *carbon->elements[0].U, 0.0093, 5e-5);
    EXPECT_NEAR(carbon->headline_psi()->value->value, 0, 1e-8);
    const auto wrong = with("17", "nowhere");
    EXPECT_FALSE(wrong->elements.at(0).corrected_U);
    EXPECT_TRUE(std::any_of(wrong->messages.begin(), wrong->messages.end(), [](const Message& m) { return m.code == "correction-no-layer"; }));
}

// ISO 10456: λ₂ = λ₁·exp(f_T·ΔT)·F_a; 0.5 at 10 °C used at 20 °C with 0.004 1/K and aged by 1.1: 0.5·1.0408·1.1.
TEST(MixedLayers, temperature_and_age_of_use_change_the_field) {
    const auto found = three_layers(R"({"id": "first", "name": "first", "kind": "masonry", "lambda": 0.5, "temperature": {"coefficient": 0.004, "from": 10, "to": 20}, "ageing": 1.1})").solved();
    const double lambda = 0.5 * std::exp(0.04) * 1.1;
    EXPECT_NEAR(1 / *found->elements.at(0).U, 0.13 + 0.1 / lambda + 3.125 + 0.1 / 0.77 + 0.04, 1e-9);
    EXPECT_TRUE(std::any_of(found->messages.begin(), found->messages.end(), [](const Message& m) { return m.code == "conductivity-for-use"; }));
}

// A basement 2 m deep drawn in full; the formulas of ISO 13370 (from memory) once more with what was drawn.
TEST(MixedLayers, a_basement_is_told_by_iso13370) {
    drafts::Draft d;
    d.cut = "[-4000, -12000, 20000, 1500]";
    d.material("ground", 2.0, "soil").material("wall", 0.5).material("slab", 1.0);
    d.piece("ground", -4000, -12000, 20000, 0).outline("room", R"("space": "in")", {{-4000, -2000}, {0, -2000}, {0, 1500}, {-4000, 1500}});
    d.piece("wall", 0, -2200, 300, 1500).piece("slab", -4000, -2200, 0, -2000);
    d.space("in", "inside", -2000, 0, 20).space("out", "outside", 10000, 1000, 0);
    d.more = R"(, "levels": {"floor": -2000, "ground": 0})";
    const auto found = d.solved();
    ASSERT_FALSE(found->has_fault()) << english(found->messages.front());
    const std::string of = "heated basement by ISO 13370";
    const double soil = 2.0, df = 0.3 + soil * (0.17 + 0.2 + 0.04), dw = soil * (0.13 + 0.3 / 0.5 + 0.04), z = 2, B = 8, pi = std::numbers::pi;
    EXPECT_NEAR(input_of(*found, of, "d_f"), df, 1e-9);
    EXPECT_NEAR(input_of(*found, of, "d_w"), dw, 1e-9);
    EXPECT_NEAR(input_of(*found, of, "U_floor"), 2 * soil / (pi * B + df + z / 2) * std::log(pi * B / (df + z / 2) + 1), 1e-9);
    EXPECT_NEAR(input_of(*found, of, "U_wall"), 2 * soil / (pi * z) * (1 + 0.5 * df / (df + z)) * std::log(z / dw + 1), 1e-9);
    const double rest = found->couplings.at(0).value->value - 1.5 / (0.13 + 0.6 + 0.04) - z * input_of(*found, of, "U_wall") - 4 * input_of(*found, of, "U_floor");
    EXPECT_NEAR(input_of(*found, of, "psi with floor and wall by ISO 13370"), rest, 1e-6);
    EXPECT_LT(std::abs(rest), 0.5);
}

// A heated layer between two plain ones: inside 0.13, 0.1/0.5; outside 0.1/0.77, 0.04 by hand. Nothing passes it between the rooms.
TEST(MixedLayers, a_heated_layer_is_told_apart_from_psi) {
    drafts::Draft d;
    d.material("block", 0.5).material("brick", 0.77).piece("block", 300, 0, 400, 1000).piece("brick", 420, 0, 520, 1000);
    d.outline("pipes", R"("space": "heated")", {{400, 0}, {420, 0}, {420, 1000}, {400, 1000}});
    d.space("in", "inside", 100, 500, 20).space("out", "outside", 800, 500, 0);
    d.item(d.spaces, R"({"id": "heated", "kind": "other", "temperature": 28, "surface_resistance": 0})");
    const auto found = d.solved();
    ASSERT_FALSE(found->has_fault()) << english(found->messages.front());
    const double coupling = 1 / (0.1 / 0.77 + 0.04);
    EXPECT_NEAR(input_of(*found, "heated layer heated", "L2D, layer to outside"), coupling, 1e-4);
    EXPECT_NEAR(input_of(*found, "heated layer heated", "more than at the room's temperature"), 8 * coupling, 1e-3);
    EXPECT_TRUE(std::any_of(found->messages.begin(), found->messages.end(), [](const Message& m) { return m.code == "heated-layer"; }));
}

// Two pieces of one built-up material side by side are one layer of the element: U is that of the combined method, by hand.
TEST(MixedLayers, neighbours_of_one_material_are_resolved_together) {
    Study study = three_layers(first_of(R"({"material": "block", "fraction": 0.9}, {"material": "mortar", "fraction": 0.1})")).study();
    auto section = std::make_shared<Section>(*study.variants.front().section);
    Piece half = section->pieces.front();
    half.id = "inner-half";
    for (Point& corner : half.outline) corner.x = std::min<Micrometres>(corner.x, 350'000);
    section->pieces.push_back(half);
    study.variants.front().section = section;
    const auto found = find(study, study.variants.front());
    ASSERT_FALSE(found->has_fault()) << english(found->messages.front());
    const double rest = 0.13 + 0.1 / 0.032 + 0.1 / 0.77 + 0.04;
    const double upper = 1 / (0.9 / (rest + 0.1 / 0.15) + 0.1 / (rest + 0.1 / 0.88)), lower = rest + 0.1 / (0.9 * 0.15 + 0.1 * 0.88);
    EXPECT_NEAR(*found->elements.at(0).U, 2 / (upper + lower), 1e-9);
    EXPECT_NEAR(found->headline_psi()->value->value, 0, 1e-8);
    EXPECT_FALSE(drafts::says(*found, "mix-by-area"));
    FindingsOptions as_first;
    as_first.formulas = FormulaVersions::recorded({{"iso6946-parts", 1}});
    EXPECT_GT(std::abs(*find(study, study.variants.front(), as_first)->elements.at(0).U - 2 / (upper + lower)), 1e-4) << "the first version resolved one of them";
}

// A flat roof: heat goes along the height, where the block has 0.30; combined method by hand.
TEST(MixedLayers, parts_count_by_the_axis_that_heat_follows) {
    drafts::Draft d;
    d.item(d.materials, R"({"id": "hollow", "name": "hollow", "kind": "masonry", "lambda": 0.15, "lambda_up": 0.30})");
    d.item(d.materials, first_of(R"({"material": "hollow", "fraction": 0.9}, {"material": "mortar", "fraction": 0.1})"));
    d.material("mortar", 0.88).material("batts", 0.032);
    for (const auto& [id, material, y] : {std::tuple("slab", "first", 300), std::tuple("lid", "batts", 400)})
        d.outline(id, R"("material": ")" + std::string(material) + R"(", "moisture": "dry")", {{0, y}, {1000, y}, {1000, y + 100}, {0, y + 100}});
    d.space("in", "inside", 500, 100, 20).space("out", "outside", 500, 800, 0);
    const auto found = d.solved();
    ASSERT_FALSE(found->has_fault()) << english(found->messages.front());
    const double rest = 0.10 + 0.1 / 0.032 + 0.04;
    const double upper = 1 / (0.9 / (rest + 0.1 / 0.30) + 0.1 / (rest + 0.1 / 0.88)), lower = rest + 0.1 / (0.9 * 0.30 + 0.1 * 0.88);
    EXPECT_NEAR(*found->elements.at(0).U, 2 / (upper + lower), 1e-9);
    EXPECT_NEAR(found->headline_psi()->value->value, 0, 1e-8);
}

}  // namespace
}  // namespace wallfoot

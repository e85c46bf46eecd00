// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/conductivities.hpp"
#include "core/file/study_file.hpp"
#include "tests/unit/tree.hpp"
#include "tests/unit/water/drafts.hpp"

// `auto` moisture after the water's way, RULES 11.

namespace wallfoot {
namespace {

using namespace water_drafts;

/// A wall whose foot lies below ground and whose pieces find their own condition.
Draft found(const std::string& name) {
    Draft d = wall(name);
    d.section.ground.both = 0;
    d.section.dpc.both = from_mm(150);
    for (Piece& piece : d.section.pieces) piece.moisture.reset();
    for (Material& m : d.study.materials) m.lambda.by_condition[Condition::protected_].value = 0.5;
    return d;
}

struct Read {
    std::map<std::string, std::vector<Condition>> asked;  ///< by piece, face by face
    std::vector<Message> messages;
    int notes(const std::string& code) const {
        return static_cast<int>(std::count_if(messages.begin(), messages.end(), [&](const Message& m) { return m.code == code; }));
    }
};

Read read(const Draft& d) {
    Read result;
    const Arrangement arrangement = arrange(d.study, d.section);
    const auto all = conductivities(d.study, d.section, arrangement, result.messages);
    for (std::size_t f = 0; f < all.size(); ++f)
        if (arrangement.faces[f].kind == FaceKind::solid)
            result.asked[d.section.pieces[arrangement.faces[f].piece].id].push_back(all[f].asked);
    for (auto& [id, conditions] : result.asked) std::sort(conditions.begin(), conditions.end());
    return result;
}

using Conditions = std::vector<Condition>;

TEST(AutoMoisture, what_water_reaches_keeps_what_the_levels_say) {
    const Read bare = read(found("bare"));
    EXPECT_EQ(bare.asked.at("foot"), Conditions{Condition::below_ground});
    EXPECT_EQ(bare.asked.at("upper"), (Conditions{Condition::exposed, Condition::below_dpc}));
    EXPECT_EQ(bare.notes("water-keeps-dry"), 0);
}

TEST(AutoMoisture, what_is_kept_dry_below_the_levels_is_as_above_them_and_says_why) {
    const Read dry = read(found("dpc").membrane("dpc", {{0, -100}, {100, -100}}));
    EXPECT_EQ(dry.asked.at("foot"), Conditions{Condition::protected_});
    EXPECT_EQ(dry.asked.at("upper"), (Conditions{Condition::exposed, Condition::exposed}));
    ASSERT_EQ(dry.notes("water-keeps-dry"), 2);
    const auto note = std::find_if(dry.messages.begin(), dry.messages.end(), [](const Message& m) { return m.args.contains("name") && m.code == "water-keeps-dry" && m.args.at("name") == "foot"; });
    ASSERT_NE(note, dry.messages.end());
    EXPECT_EQ(note->args.at("old"), "below-ground");
    EXPECT_EQ(note->args.at("new"), "protected");
    EXPECT_EQ(note->args.at("membranes"), "\"dpc\"");
    EXPECT_TRUE(note->at);
}

TEST(AutoMoisture, is_not_drier_without_proof) {
    const auto stays = [](const Draft& d) { EXPECT_EQ(read(d).asked.at("foot"), Conditions{Condition::below_ground}) << d.name; };
    const Draft dry = found("dpc").membrane("dpc", {{0, -100}, {100, -100}});
    Draft silent = dry;
    silent.name = "nothing said about rain";
    silent.section.water->rain.reset();
    stays(silent);
    Draft covered = found("covered").membrane("dpc", {{0, -100}, {100, -100}}, MembraneKind::dpc, true);
    covered.membrane("cover", {{100, -100}, {100, 1000}}, MembraneKind::tanking, true);
    EXPECT_EQ(read(covered).asked.at("foot"), Conditions{Condition::protected_}) << "whatever the weather";
    for (auto member : {&Water::soil, &Water::rain, &Water::cavity_foot}) {
        Draft less = covered;
        ((*less.section.water).*member).reset();
        stays(less);
    }
    Draft nothing = dry;
    nothing.name = "nothing said about water";
    nothing.section.water.reset();
    stays(nothing);
    stays(found("lap not proven").membrane("a", {{0, -100}, {60, -100}}).membrane("b", {{40, -100}, {100, -100}}));
    stays(found("short").membrane("dpc", {{0, -100}, {99.999, -100}}));
    stays(found("half of the face").membrane("dpc", {{0, -50}, {100, -50}}));
    stays(found("enclosed").membrane("a", {{0, -100}, {100, -100}}).membrane("b", {{0, 0}, {100, 0}}).piece("l", "foam", -100, -100, 0, 0).piece("r", "foam", 100, -100, 200, 0));
    Draft given = dry;
    given.section.pieces[1].moisture = Condition::saturated;
    EXPECT_EQ(read(given).asked.at("foot"), Conditions{Condition::saturated}) << "a stated condition stands";
}

// The samples' masonry below the levels is reached by water, so their psi are those of the levels.
TEST(AutoMoisture, of_the_samples_is_that_of_the_levels) {
    for (const char* name : {"plain-wall", "slab-insulation-above", "slab-insulation-below", "suspended-beam-floor"}) {
        const Study study = load_study(in_tree("samples/" + std::string(name) + ".wallfoot")).study;
        for (const Variant& variant : study.variants) {
            Section silent = *variant.section;
            silent.water.reset();
            const Arrangement arrangement = arrange(study, silent);
            std::vector<Message> messages;
            const auto by_levels = conductivities(study, silent, arrangement, messages);
            const auto by_water = conductivities(study, *variant.section, arrangement, messages);
            for (std::size_t f = 0; f < by_levels.size(); ++f) EXPECT_EQ(by_levels[f].asked, by_water[f].asked) << name << " " << variant.id;
        }
    }
}

}  // namespace
}  // namespace wallfoot

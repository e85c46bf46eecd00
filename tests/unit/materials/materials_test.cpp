// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/materials.hpp"

#include <gtest/gtest.h>

#include <functional>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"
#include "tests/unit/file/sample_study.hpp"

namespace wallfoot {
namespace {

Study study() { return read_study(test::small_study()).study; }

Message refusal(const std::function<void()>& edit) {
    try {
        edit();
    } catch (const InputFault& fault) {
        return fault.faults().front();
    }
    return Message{Severity::note, "nothing refused", {}, {}, {}};
}

Material board() {
    Material material;
    material.name = "Räum board, 50 mm!";
    material.kind = MaterialKind::insulation;
    material.lambda.by_condition[Condition::dry].value = 0.03;
    return material;
}

TEST(Materials, one_is_added_with_a_free_id_and_the_old_study_stays) {
    const Study before = study();
    const Study once = add_material(before, board());
    EXPECT_EQ(before.materials.size(), 3u);
    ASSERT_EQ(once.materials.size(), 4u);
    EXPECT_EQ(once.materials.back().id, "r-um-board-50-mm");
    Material again = board();
    again.name = "raum board 50 mm";
    again.id = "block";
    EXPECT_EQ(add_material(once, again).materials.back().id, "raum-board-50-mm");
    again.name = "r um board 50 mm";
    EXPECT_EQ(add_material(once, again).materials.back().id, "r-um-board-50-mm-2");
    EXPECT_EQ(read_study(write_study(once)).study.materials, once.materials);
}

TEST(Materials, a_name_is_needed_and_is_not_given_twice) {
    const Study before = study();
    Material none = board(), taken = board();
    none.name = "  ";
    taken.name = "Light block";
    EXPECT_EQ(refusal([&] { add_material(before, none); }).code, "material-without-name");
    EXPECT_EQ(refusal([&] { add_material(before, taken); }).code, "material-name-taken");
    EXPECT_EQ(refusal([&] { add_material(before, taken); }).pointer, "/name");
    Material clay = *before.find_material("clay");
    EXPECT_EQ(replace_material(before, clay).materials, before.materials) << "a material may stay without a name";
    clay.name = "Light block";
    EXPECT_EQ(refusal([&] { replace_material(before, clay); }).code, "material-name-taken");
    clay.id = "sand";
    EXPECT_EQ(refusal([&] { replace_material(before, clay); }).code, "unknown-material");
}

// The window keeps findings by the address of the section they belong to.
TEST(Materials, a_change_renews_the_sections_that_use_it_and_no_others) {
    Study before = duplicate_variant(study(), 0);
    before.variants[1].section = std::make_shared<const Section>(delete_piece(*before.variants[1].section, "leaf"));
    Material block = *before.find_material("block");
    block.lambda.by_condition[Condition::dry].value = 0.2;
    const Study after = replace_material(before, block);
    EXPECT_NE(after.variants[0].section, before.variants[0].section);
    EXPECT_EQ(*after.variants[0].section, *before.variants[0].section);
    EXPECT_EQ(after.variants[1].section, before.variants[1].section);
    EXPECT_NE(input_hash(after, after.variants[0]), input_hash(before, before.variants[0]));
}

TEST(Materials, a_change_reaches_the_pieces_of_a_mix) {
    Study before = study();
    Material inner = board(), mix;
    inner.id = "inner";
    mix.id = mix.name = "mix";
    mix.mix = {MixPart{"inner", 0.5, {}}, MixPart{"slab", 0.5, {}}};
    before = add_material(add_material(before, inner), mix);
    before = give_material(before, 0, "leaf", before.materials.back());
    inner.lambda.by_condition[Condition::dry].value = 0.2;
    EXPECT_NE(replace_material(before, inner).variants[0].section, before.variants[0].section);
    EXPECT_EQ(refusal([&] { remove_material(before, "inner"); }).args.at("where"), "mix mix");
}

TEST(Materials, a_used_one_is_not_removed_and_the_refusal_says_where) {
    const Study before = duplicate_variant(study(), 0);
    const Message message = refusal([&] { remove_material(before, "block"); });
    EXPECT_EQ(message.code, "material-in-use");
    EXPECT_EQ(message.args.at("where"), "Base: Wall; Base 2: Wall");
    const Study copied = duplicate_material(before, "block");
    ASSERT_EQ(copied.materials[1].name, "Light block 2");
    EXPECT_EQ(copied.materials[1].id, "light-block-2");
    EXPECT_EQ(copied.materials[1].lambda, before.materials[0].lambda);
    EXPECT_EQ(remove_material(copied, "light-block-2").materials, before.materials);
}

TEST(Materials, one_from_outside_is_copied_into_the_study_once) {
    const Study before = study();
    Material own = board();
    own.id = "board";
    const Study once = give_material(before, 0, "leaf", own);
    ASSERT_EQ(once.materials.size(), 4u);
    EXPECT_EQ(once.materials.back(), own);
    EXPECT_EQ(find_piece(*once.variants[0].section, "leaf")->filled_with, "board");
    EXPECT_EQ(give_material(once, 0, "floor", own).materials.size(), 4u);
    // Once it was changed in the study, the one from outside is another material.
    Material changed = once.materials.back();
    changed.density = 30;
    const Study other = give_material(replace_material(once, changed), 0, "floor", own);
    ASSERT_EQ(other.materials.size(), 5u);
    EXPECT_EQ(other.materials.back().name, own.name + " 2");
    EXPECT_EQ(find_piece(*other.variants[0].section, "floor")->filled_with, other.materials.back().id);
    EXPECT_EQ(find_piece(*other.variants[0].section, "leaf")->filled_with, "board");
    EXPECT_NO_THROW(read_study(write_study(other)));
}

}  // namespace
}  // namespace wallfoot

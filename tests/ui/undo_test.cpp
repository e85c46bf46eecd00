// SPDX-License-Identifier: GPL-3.0-or-later
// The random edits of the unit tests, made through the history: each taken back and done again gives the study as it is
// saved to the byte, and so does the whole way back and forth.
#include <gtest/gtest.h>

#include <map>

#include "core/study/edits_elements.hpp"
#include "tests/unit/edits/random_edits.hpp"
#include "ui/window/document.hpp"

namespace wallfoot::testing {
namespace {

TEST(RandomEdits, are_taken_back_and_done_again_to_the_byte) {
    std::map<std::string, int> made;
    for (unsigned seed = 1; seed <= 20; ++seed) {
        Hand hand(seed);
        Study study = begun_study();
        const bool all = seed % 2 == 0;  // of two variants, one of which has a piece more
        if (all) {
            study = duplicate_variant(study, 0);
            study = with_section(study, 1, add_piece(*study.variants[1].section, solid("", box(200, 700, 400, 900))));
        }
        Document document;
        QUndoStack& stack = document.undo_stack();
        document.set_study(std::make_shared<const Study>(study), {});
        document.set_edits_all(all);
        const auto saved = [&] { return write_study(*document.study()); };
        std::vector<std::string> states{saved()};
        for (int done = 0; done < 50;) {
            const auto [name, edit] = draw_edit(hand, document.section());
            const std::string where = "seed " + std::to_string(seed) + ", edit " + std::to_string(done) + ", " + name;
            const auto before = document.study();
            const auto refusals = document.edit(QString::fromStdString(name), edit);
            if (document.study() == before) {
                ASSERT_EQ(stack.count(), done) << where << ": what changes nothing is no step";
                continue;
            }
            ASSERT_TRUE(refusals.empty()) << where;
            ASSERT_EQ(stack.index(), ++done) << where;
            const std::string after = saved();
            ASSERT_NE(after, states.back()) << where;
            stack.undo();
            ASSERT_EQ(saved(), states.back()) << where << ", taken back";
            stack.redo();
            ASSERT_EQ(saved(), after) << where << ", done again";
            states.push_back(after);
            ++made[name];
        }
        for (std::size_t i = states.size() - 1; i > 0; --i) {
            stack.undo();
            ASSERT_EQ(saved(), states[i - 1]) << "seed " << seed << ", back to " << i - 1;
        }
        EXPECT_FALSE(stack.canUndo());
        EXPECT_TRUE(document.is_clean());
        for (std::size_t i = 1; i < states.size(); ++i) {
            stack.redo();
            ASSERT_EQ(saved(), states[i]) << "seed " << seed << ", forth to " << i;
        }
        EXPECT_FALSE(stack.canRedo());
    }
    EXPECT_GE(made.size(), 24u) << "every kind of edit";
}

TEST(EditsOfAllVariants, what_is_hidden_is_called_alike_in_all_or_left_out) {
    Study study = duplicate_variant(begun_study(), 0);
    const auto hide = [](const Section& s) { return add_hidden(s, {"", {mm(0, 300), mm(300, 300)}, "skirting", {}}); };
    study = with_section(study, 1, hide(*study.variants[1].section));  // "h1" is another stretch there
    Document document;
    document.set_study(std::make_shared<const Study>(study), {});
    document.set_edits_all(true);
    QStringList left;
    QObject::connect(&document, &Document::left_out, [&](const QStringList& names) { left = names; });
    EXPECT_TRUE(document.edit(QStringLiteral("Hide"), hide).empty());
    EXPECT_EQ(document.study()->variants[0].section->hidden.size(), 1u);
    EXPECT_EQ(document.study()->variants[1].section->hidden.size(), 1u);
    EXPECT_EQ(left.size(), 1);
}

}  // namespace
}  // namespace wallfoot::testing

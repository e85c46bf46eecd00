// SPDX-License-Identifier: GPL-3.0-or-later
#include <QSlider>
#include <cmath>

#include "core/study/materials.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/trial_slider.hpp"

using namespace wallfoot;

// Held by keys: the answer follows within its bracket, and everything is as before when the focus leaves.
TEST_F(WindowTest, a_conductivity_is_tried_without_changing_the_study) {
    open_small();
    const double before = psi();
    const auto study = window->document().study();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    QSlider* slider = window->piece_panel().trial().slider();
    slider->setFocus();
    for (int i = 0; i < 5; ++i) QTest::keyClick(slider, Qt::Key_PageDown);
    EXPECT_NEAR(window->piece_panel().trial().factor(), 0.5, 1e-12);
    ASSERT_TRUE(QTest::qWaitFor([&] { return std::abs(psi() - before) > 0.005; }, 30'000));
    QTest::qWait(300);  // the last of several trials
    const auto half = find(with_conductivity_times(*study, "dense", 0.5), study->variants.front());
    const auto shown = window->findings()->headline_psi()->value;
    EXPECT_LE(shown->lower, half->headline_psi()->value->upper);
    EXPECT_GE(shown->upper, half->headline_psi()->value->lower);
    EXPECT_EQ(window->document().study(), study);
    EXPECT_TRUE(window->document().is_clean());
    window->sheet().setFocus();
    ASSERT_TRUE(QTest::qWaitFor([&] { return window->at_rest(); }, 30'000));
    EXPECT_EQ(psi(), before) << "the kept answer, to the last bit";
}

// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QtTest/QTest>
#include <atomic>
#include <semaphore>

#include "core/study/edits.hpp"
#include "ui/window/worker.hpp"

using namespace wallfoot;

namespace {

Study study_with(int variants) {
    Study study;
    for (int i = 0; i < variants; ++i) {
        Variant variant;
        variant.id = std::string(1, static_cast<char>('a' + i));
        variant.section = std::make_shared<const Section>();
        study.variants.push_back(variant);
    }
    return study;
}

std::shared_ptr<const Study> edited(const Study& study, std::size_t variant, Micrometres mark) {
    Section section = *study.variants[variant].section;
    section.cut.left = mark;
    return std::make_shared<const Study>(with_section(study, variant, section));
}

/// A solver that waits at two gates, so that the order of events is the test's and not the machine's.
struct GatedSolver {
    std::counting_semaphore<100> coarse{0}, fine{0};
    std::atomic<int> begun{0}, cancelled{0}, finished{0};

    /// False when cancelled. Asks that first: a cancelled solve must not use up the opening meant for the next one.
    bool passes(std::counting_semaphore<100>& gate, const Context& context) {
        do {
            if (context.cancelled()) {
                ++cancelled;
                return false;
            }
        } while (!gate.try_acquire_for(std::chrono::milliseconds(1)));
        return true;
    }

    std::shared_ptr<const Findings> operator()(const Study&, const Variant& variant, const FindingsOptions& options, const Context& context) {
        ++begun;
        auto findings = std::make_shared<Findings>();
        findings->variant_id = variant.id;
        findings->section = variant.section;
        if (!passes(coarse, context)) throw Cancelled();
        if (options.on_coarse) options.on_coarse(findings);
        if (!passes(fine, context)) return findings;
        ++finished;
        auto refined = std::make_shared<Findings>(*findings);
        refined->converged = true;
        return refined;
    }
};

Worker::Find by(GatedSolver& solver) {
    return [&solver](const Study& s, const Variant& v, const FindingsOptions& o, const Context& c) { return solver(s, v, o, c); };
}

}  // namespace

TEST(Worker, a_coarse_answer_that_has_begun_is_told_and_the_latest_wish_wins) {
    GatedSolver solver;
    std::vector<Answer> told;
    Worker worker(by(solver));
    QObject::connect(&worker, &Worker::answered, [&](const Answer& answer) { told.push_back(answer); });
    const Study base = study_with(1);
    const auto first = worker.ask(edited(base, 0, 1), 0);
    ASSERT_TRUE(QTest::qWaitFor([&] { return solver.begun == 1; }));
    for (Micrometres edit = 2; edit <= 9; ++edit) worker.ask(edited(base, 0, edit), 0);
    const auto last = worker.ask(edited(base, 0, 10), 0);
    EXPECT_EQ(solver.cancelled, 0);  // not before its coarse answer
    solver.coarse.release();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !told.empty(); }));
    EXPECT_EQ(told.front().revision, first);
    EXPECT_FALSE(told.front().at_rest);
    solver.coarse.release();
    solver.fine.release();
    ASSERT_TRUE(QTest::qWaitFor([&] { return told.back().at_rest; }));
    EXPECT_EQ(told.back().revision, last);
    EXPECT_EQ(told.back().section->cut.left, 10);
    EXPECT_EQ(solver.begun, 2);  // the wishes between were never begun
    EXPECT_EQ(solver.cancelled, 1);
    for (std::size_t i = 1; i < told.size(); ++i) EXPECT_GE(told[i].revision, told[i - 1].revision);
}

TEST(Worker, other_variants_follow_and_give_way_at_once) {
    GatedSolver solver;
    std::vector<std::string> told;
    Worker worker(by(solver));
    QObject::connect(&worker, &Worker::answered, [&](const Answer& answer) {
        if (answer.at_rest) told.push_back(answer.variant_id);
    });
    const Study base = study_with(3);
    const auto study = std::make_shared<const Study>(base);
    worker.ask(study, 1);
    solver.coarse.release();
    solver.fine.release();
    ASSERT_TRUE(QTest::qWaitFor([&] { return told == std::vector<std::string>{"b"} && solver.begun == 2; }));
    // Variant a waits before its coarse answer; an edit of b goes first all the same.
    worker.ask(edited(base, 1, 5), 1);
    ASSERT_TRUE(QTest::qWaitFor([&] { return solver.cancelled == 1 && solver.begun == 3; }));
    solver.coarse.release(3);
    solver.fine.release(3);
    ASSERT_TRUE(QTest::qWaitFor([&] { return told.size() == 4; }));
    EXPECT_EQ(told, (std::vector<std::string>{"b", "b", "a", "c"}));
}

TEST(Worker, while_dragging_brackets_are_wider_and_nothing_is_kept) {
    std::vector<double> tolerances;
    bool at_rest = true;
    Worker worker([&](const Study&, const Variant& variant, const FindingsOptions& options, const Context&) {
        tolerances.push_back(options.tolerance);
        auto findings = std::make_shared<Findings>();
        findings->variant_id = variant.id;
        return findings;
    });
    QObject::connect(&worker, &Worker::answered, [&](const Answer& answer) { at_rest = answer.at_rest; });
    QSignalSpy idle(&worker, &Worker::idle);
    const auto study = std::make_shared<const Study>(study_with(2));
    worker.ask(study, 0, Wish::while_dragging);
    ASSERT_TRUE(idle.wait());
    EXPECT_EQ(tolerances, std::vector<double>{dragging_tolerance});
    EXPECT_FALSE(at_rest);
    EXPECT_EQ(worker.kept(*study, 0), nullptr);
    worker.ask(study, 0);
    ASSERT_TRUE(idle.wait());
    EXPECT_EQ(tolerances, (std::vector<double>{dragging_tolerance, tolerance_at_rest, tolerance_at_rest}));
    EXPECT_NE(worker.kept(*study, 0), nullptr);
}

TEST(Worker, an_answer_at_rest_is_kept_for_undo) {
    GatedSolver solver;
    Worker worker(by(solver));
    QSignalSpy idle(&worker, &Worker::idle);
    const auto before = std::make_shared<const Study>(study_with(1));
    const auto after = edited(*before, 0, 3);
    for (const auto& study : {before, after}) {
        solver.coarse.release();
        solver.fine.release();
        worker.ask(study, 0);
        ASSERT_TRUE(idle.wait());
    }
    ASSERT_NE(worker.kept(*before, 0), nullptr);
    EXPECT_EQ(worker.kept(*before, 0)->section, before->variants[0].section);
    worker.ask(before, 0);
    ASSERT_TRUE(idle.wait());
    EXPECT_EQ(solver.begun, 2);
    Study other = *before;
    other.floor_width = 5'000'000;  // the same drawing with other inputs is another question
    EXPECT_EQ(worker.kept(other, 0), nullptr);
}

TEST(Worker, a_failure_is_an_answer_not_a_crash) {
    Worker worker([](const Study&, const Variant&, const FindingsOptions&, const Context&) -> std::shared_ptr<const Findings> {
        throw std::bad_alloc();
    });
    std::vector<Answer> told;
    QObject::connect(&worker, &Worker::answered, [&](const Answer& answer) { told.push_back(answer); });
    worker.ask(std::make_shared<const Study>(study_with(1)), 0);
    ASSERT_TRUE(QTest::qWaitFor([&] { return !told.empty(); }));
    ASSERT_EQ(told.front().faults.size(), 1u);
    EXPECT_EQ(told.front().faults.front().code, "solve-failed");
}

TEST(Worker, goes_away_in_the_middle_of_its_work) {
    GatedSolver solver;
    {
        Worker worker(by(solver));
        worker.ask(std::make_shared<const Study>(study_with(1)), 0);
        ASSERT_TRUE(QTest::qWaitFor([&] { return solver.begun == 1; }));
    }
    EXPECT_EQ(solver.cancelled, 1);
}

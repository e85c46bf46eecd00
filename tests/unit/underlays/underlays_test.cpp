// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/file/attachment.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/study/underlays.hpp"
#include "tests/unit/file/sample_study.hpp"

namespace wallfoot {
namespace {

Study two_variants() { return duplicate_variant(read_study(test::small_study()).study, 0); }
AttachedFile some_file(const std::string& bytes = "a picture") { return attached_file("image/png", "foot.png", bytes); }

template <class Act>
std::string refusal(Act act) {
    try {
        act();
        return "";
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
}

TEST(Underlays, an_underlay_with_its_file_is_read_back_as_it_was_written) {
    Underlay underlay;
    underlay.kind = UnderlayKind::pdf;
    underlay.page = 2;
    underlay.origin = {-1'500'250, 1};
    underlay.scale = 25.4 / 72 * 10;
    underlay.rotation = 12.5;
    underlay.mirrored = true;
    underlay.opacity = 0.3;
    underlay.locked = false;
    underlay.not_to_scale = true;
    std::string bytes;
    for (int i = 0; i < 1000; ++i) bytes += static_cast<char>(i * 7);
    const Study study = add_underlay(two_variants(), 0, underlay, some_file(bytes));
    const ReadStudy again = read_study(write_study(study));
    ASSERT_EQ(again.study.variants[0].section->underlays.size(), 1u);
    EXPECT_EQ(again.study.variants[0].section->underlays, study.variants[0].section->underlays);
    EXPECT_EQ(again.study.variants[0].section->underlays[0].id, "u1");
    ASSERT_EQ(again.study.attachments.size(), 1u);
    EXPECT_EQ(again.study.attachments.begin()->second->bytes, bytes);
    EXPECT_TRUE(again.study.variants[1].section->underlays.empty());
    for (const Message& warning : again.warnings) EXPECT_EQ(warning.code, "convention-from-program");
}

TEST(Underlays, the_input_hash_does_not_know_them) {
    const Study study = two_variants();
    const Study with = add_underlay(study, 0, {}, some_file());
    EXPECT_EQ(input_hash(with, with.variants[0]), input_hash(study, study.variants[0]));
}

TEST(Underlays, the_last_user_takes_the_file_along) {
    Study study = add_underlay(two_variants(), 0, {}, some_file());
    study = add_underlay(study, 0, {}, some_file());  // the same file twice is kept once
    study = add_underlay(study, 1, {}, some_file());
    ASSERT_EQ(study.attachments.size(), 1u);
    study = remove_underlay(study, 0, "u1");
    study = remove_underlay(study, 0, "u2");
    EXPECT_EQ(study.attachments.size(), 1u);
    EXPECT_EQ(remove_underlay(study, 1, "u1").attachments.size(), 0u);
    EXPECT_EQ(remove_variant(study, 1).attachments.size(), 0u);
    EXPECT_EQ(without_underlays(study).attachments.size(), 0u);
    EXPECT_TRUE(without_underlays(study).variants[1].section->underlays.empty());
}

TEST(Underlays, a_file_of_unknown_use_stays) {
    Study study = two_variants();
    const AttachedFile other = some_file("of something later");
    study.attachments[other.hash] = other.attachment;
    study = add_underlay(study, 0, {}, some_file());
    EXPECT_EQ(without_underlays(study).attachments.size(), 1u);
    EXPECT_EQ(remove_underlay(study, 0, "u1").attachments.count(other.hash), 1u);
}

TEST(Underlays, another_file_takes_the_place_of_its_own) {
    const Study study = add_underlay(two_variants(), 0, {}, some_file());
    Underlay underlay = study.variants[0].section->underlays[0];
    underlay.scale = 2;
    const Study changed = set_underlay_file(study, 0, underlay, some_file("straightened"));
    ASSERT_EQ(changed.attachments.size(), 1u);
    EXPECT_EQ(changed.attachments.begin()->second->bytes, "straightened");
    EXPECT_EQ(changed.variants[0].section->underlays[0].scale, 2);
}

TEST(Underlays, limits_hold) {
    const Study study = two_variants();
    EXPECT_EQ(refusal([&] { add_underlay(study, 0, {}, some_file(std::string(20'000'001, 'x'))); }), "attachment-too-large");
    Study full = study;
    for (const char* name : {"a", "b"}) full = add_underlay(full, 0, {}, some_file(name + std::string(19'999'999, 'x')));
    EXPECT_EQ(refusal([&] { add_underlay(full, 0, {}, some_file(std::string(19'999'999, 'x'))); }), "attachments-too-large");
    Underlay wrong;
    wrong.id = "u1";
    const Section section = *add_underlay(study, 0, wrong, some_file()).variants[0].section;
    for (const double scale : {0.0, -1.0, std::nan(""), std::numeric_limits<double>::infinity()}) {
        wrong.scale = scale;
        EXPECT_EQ(refusal([&] { set_underlay(section, wrong); }), "underlay-placement") << scale;
    }
    EXPECT_EQ(refusal([&] { move_underlay(section, "u1", 1, 0); }), "underlay-locked");
    EXPECT_EQ(refusal([&] { move_underlay(section, "u9", 1, 0); }), "edit-unknown-id");
}

TEST(Underlays, moved_and_back_is_as_it_was) {
    Underlay loose;
    loose.locked = false;
    const Section section = *add_underlay(two_variants(), 0, loose, some_file()).variants[0].section;
    const Section moved = move_underlay(section, "u1", 12'000, -7);
    EXPECT_EQ(moved.underlays[0].origin, (Point{12'000, -7}));
    EXPECT_EQ(move_underlay(moved, "u1", -12'000, 7), section);
    EXPECT_EQ(mirror_section(mirror_section(section)), section);
}

// Two places 250 mm apart on the sheet are known to be 1000 mm apart: everything is 4 times as large about the first.
TEST(Underlays, a_known_length_sets_the_scale) {
    Underlay underlay;
    underlay.origin = {100'000, 50'000};
    underlay.scale = 0.5;
    underlay.rotation = 30;
    const Place first = unplaced(underlay, 300, 400), second = unplaced(underlay, 450, 600);
    const Underlay after = calibrated(underlay, {300, 400}, {450, 600}, 1000);
    EXPECT_DOUBLE_EQ(after.scale, 2);
    const Place a = placed(after, first.x, first.y), b = placed(after, second.x, second.y);
    EXPECT_NEAR(a.x, 300, 1e-3);
    EXPECT_NEAR(a.y, 400, 1e-3);
    EXPECT_NEAR(b.x, 900, 2e-3);   // 300 + 4 · 150
    EXPECT_NEAR(b.y, 1200, 2e-3);  // 400 + 4 · 200
    const double inf = std::numeric_limits<double>::infinity();
    for (const double length : {0.0, -5.0, std::nan(""), inf})
        EXPECT_EQ(refusal([&] { calibrated(underlay, {0, 0}, {1, 0}, length); }), "calibration-impossible") << length;
    EXPECT_EQ(refusal([&] { calibrated(underlay, {3, 4}, {3, 4}, 100); }), "calibration-impossible");
    EXPECT_EQ(refusal([&] { calibrated(underlay, {inf, 4}, {3, 4}, 100); }), "calibration-impossible");
    EXPECT_EQ(refusal([&] { calibrated(underlay, {0, 0}, {1e-300, 0}, 1e300); }), "calibration-impossible");
}

TEST(Underlays, mirroring_takes_every_place_of_it_along) {
    Underlay underlay;
    underlay.origin = {100'000, 50'000};
    underlay.scale = 0.5;
    underlay.rotation = 30;
    const Section section = *add_underlay(two_variants(), 0, underlay, some_file()).variants[0].section;
    const double sum = to_mm(section.cut.left + section.cut.right);
    const Place before = placed(section.underlays[0], 17, 5), after = placed(mirror_section(section).underlays[0], 17, 5);
    EXPECT_NEAR(after.x, sum - before.x, 1e-9);
    EXPECT_NEAR(after.y, before.y, 1e-9);
    const Place back = unplaced(mirror_section(section).underlays[0], after.x, after.y);
    EXPECT_NEAR(back.x, 17, 1e-9);
    EXPECT_NEAR(back.y, 5, 1e-9);
}

TEST(Underlays, a_missing_or_altered_file_is_told_and_the_study_opens) {
    std::string text = write_study(add_underlay(two_variants(), 0, {}, some_file()));
    const std::string data = base64_of("a picture");
    std::string altered = text;
    altered.replace(altered.find(data), 4, "AAAA");
    const auto codes = [](const std::string& study) {
        std::vector<std::string> found;
        for (const Message& warning : read_study(study).warnings) found.push_back(warning.code);
        return found;
    };
    EXPECT_NE(std::ranges::count(codes(altered), "attachment-altered"), 0);
    std::string missing = text;
    const std::string hash = some_file().hash;
    missing.replace(missing.find(hash), 4, "0000");  // its key among the attachments comes first
    EXPECT_NE(std::ranges::count(codes(missing), "underlay-without-attachment"), 0);
}

// Test vectors of RFC 4648, section 10 (from memory); SHA-256 of "abc" from FIPS 180-4's examples (from memory).
TEST(Underlays, base64_and_hash_follow_their_standards) {
    const std::pair<const char*, const char*> vectors[] = {{"", ""}, {"f", "Zg=="}, {"fo", "Zm8="}, {"foo", "Zm9v"}, {"foob", "Zm9vYg=="}, {"fooba", "Zm9vYmE="}, {"foobar", "Zm9vYmFy"}};
    for (const auto& [bytes, text] : vectors) {
        EXPECT_EQ(base64_of(bytes), text);
        EXPECT_EQ(bytes_of_base64(text), bytes);
    }
    for (const char* wrong : {"Z", "Zg=", "Zg==Zg==", "Zm9*", "====", "Z===", "=Zg="}) EXPECT_FALSE(bytes_of_base64(wrong)) << wrong;
    EXPECT_EQ(sha256_of("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

}  // namespace
}  // namespace wallfoot

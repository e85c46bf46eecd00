// SPDX-License-Identifier: GPL-3.0-or-later
// Ten thousand study files made by changing good ones: each is read or refused with a reason, nothing else. What is read
// is written the same twice, and every drawing that the change touched is arranged and solved coarsely. No outside
// numbers: what is checked holds for every study.
// One alone, printed as well:  WALLFOOT_SEED=1234 build/tests/unit_tests --gtest_filter='*Mutation*'
#include <gtest/gtest.h>
#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <set>
#include <sstream>

#include "core/arrangement/arrangement.hpp"
#include "core/file/study_file.hpp"
#include "solver/findings/findings.hpp"
#include "tests/hardening/mutate.hpp"
#include "tests/unit/bytes.hpp"
#include "tests/unit/file/sample_study.hpp"
#include "tests/unit/sanitized.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot::hardening {
namespace {

constexpr std::uint64_t seeds_per_part = 1000;
const std::uint64_t tried_per_part = sanitized() ? 300 : seeds_per_part;
const std::uint64_t solved_every = sanitized() ? 10 : 1;  // with sanitizers every file is read and one in so many is solved

/// Every field of the format in a study that can be solved: the full study with another drawing in it.
std::string full_and_solvable() {
    const Json drawing = Json::parse(R"json({
      "cut": [-1500, -1200, 900, 1500], "beyond": { "left": 4000, "right": "auto", "bottom": "auto" },
      "levels": { "floor": 0, "ground": [ { "side": "left", "at": -150 }, { "side": "right", "at": -150.25 } ], "dpc": 0 },
      "spaces": [
        { "id": "in", "kind": "inside", "name": "Room", "at": [-700, 600], "temperature": 20, "side": "own" },
        { "id": "out", "kind": "outside", "at": [[700, 600], [700, 900]] },
        { "id": "duct", "kind": "other", "temperature": 40, "surface_resistance": 0.1, "side": "neighbour" },
        { "id": "pipe", "kind": "unheated", "temperature": 8, "surface_resistance": { "up": 0.1, "horizontal": 0.13, "down": 0.17 } } ],
      "pieces": [
        { "id": "gravel", "material": "g", "outline": [[-710,-1010],[-590,-1010],[-590,-890],[-710,-890]] },
        { "id": "ground", "material": "s", "outline": [[-1500,-1200],[900,-1200],[900,-150],[-1500,-150]], "holes": [[[-700,-1000],[-600,-1000],[-600,-900]]] },
        { "id": "floor", "material": "c", "outline": [[-1500,-150],[0,-150],[0,0],[-1500,0]] },
        { "id": "leaf", "name": "Leaf", "material": "ab", "moisture": "auto", "outline": [[0,-600],[100.125,-600],[100.125,1500],[0,1500]], "courses": { "from": 0, "height": 225 } },
        { "id": "cavity", "material": "a", "outline": [[40,200],[70,200],[70,800],[40,800]] },
        { "id": "screed", "material": "mortar", "moisture": "protected", "outline": [[-1500,0],[0,0],[0,50],[-1500,50]] },
        { "id": "recess", "space": "duct", "outline": [[-900,-140],[-800,-140],[-800,-60],[-900,-60]] },
        { "id": "pipe", "space": "pipe", "outline": [[-1200,-600],[-1100,-600],[-1100,-500]] },
        { "id": "slit", "cutout": true, "outline": [[20,900],[60,900],[60,1000]] } ] })json");
    Json full = Json::parse(test::full_study());
    full["variants"].erase(1);
    full["variants"][0]["section"].update(drawing);
    return full.dump();
}

const std::vector<std::string>& bases() {
    static const std::vector<std::string> all = [] {
        std::vector<std::string> texts{test::small_study(), test::full_study(), full_and_solvable()};
        std::vector<std::filesystem::path> samples;
        for (const auto& entry : std::filesystem::directory_iterator(in_tree("samples")))
            if (entry.path().extension() == ".wallfoot") samples.push_back(entry.path());
        std::sort(samples.begin(), samples.end());
        for (const auto& path : samples) texts.push_back(test::bytes_of(path));
        return texts;
    }();
    return all;
}

void check_ordered(const Bracketed& b, const std::string& what) {
    EXPECT_TRUE(std::isfinite(b.value) && std::isfinite(b.lower) && std::isfinite(b.upper)) << what;
    EXPECT_LE(b.lower, b.value) << what;
    EXPECT_LE(b.value, b.upper) << what;
}

/// A null stands only where a reason stands beside it, or for the heat flow of touching fixed temperatures.
void check_nulls(const Json& json, const std::string& place) {
    if (!json.is_structured()) return;
    for (const auto& [name, part] : json.items()) {
        const bool may_be = !part.is_null() || (name == "value" && json.contains("reason")) || place.ends_with("/heat_flow");
        EXPECT_TRUE(may_be) << place << "/" << name;
        check_nulls(part, place + "/" + name);
    }
}

void check_findings(const Study& study, const std::shared_ptr<const Findings>& findings) {
    for (const auto& flow : findings->heat_flow) check_ordered(flow, "heat flow");
    for (const auto& coupling : findings->couplings)
        if (coupling.value) check_ordered(*coupling.value, "L2D");
    for (const auto& psi : findings->psi) {
        if (psi.value) check_ordered(*psi.value, "psi");
        if (psi.other_reading) check_ordered(*psi.other_reading, "other reading");
        for (const auto& off : psi.taken_off)
            if (off.floor_alone) check_ordered(*off.floor_alone, "floor alone");
    }
    for (const auto& found : findings->surface) {
        EXPECT_TRUE(std::isfinite(found.lowest) && std::isfinite(found.estimate) && std::isfinite(found.fRsi.value_or(0)));
        EXPECT_GE(found.estimate, 0);
        if (found.mean) check_ordered(*found.mean, "mean");
    }
    check_nulls(Json::parse(to_json(study, "", {findings})), "");
    std::istringstream words(to_table(study, {findings}));
    for (std::string word; words >> word;) EXPECT_FALSE(word == "nan" || word == "-nan" || word == "inf" || word == "-inf") << to_table(study, {findings});
}

struct Tally {
    int read = 0, drawings = 0, arranged = 0, solved = 0;
    std::size_t most_triangles = 0;
};

/// Arranges and solves one drawing as far as the first, coarse answer.
void check_drawing(const Study& study, const Variant& variant, Tally& tally) {
    ++tally.drawings;
    const auto arrangement = arrange(study, *variant.section);
    EXPECT_EQ(validate(arrangement), std::vector<std::string>{});
    for (const Message& message : arrangement.messages) EXPECT_NE(message.code, "arrangement-guard");
    if (!arrangement.sound()) return;
    ++tally.arranged;
    Context context;
    FindingsOptions options;
    options.on_coarse = [&](const auto&) { context.cancel(); };
    const auto findings = find(study, variant, options, context);
    if (findings->has_fault()) return;
    ++tally.solved;
    tally.most_triangles = std::max(tally.most_triangles, findings->solution->triangles.size());
    check_findings(study, findings);
}

void check_faults(const InputFault& fault) {
    EXPECT_FALSE(fault.faults().empty());
    for (const Message& message : fault.faults()) {
        EXPECT_EQ(message.severity, Severity::fault);
        EXPECT_NE(english(message).find(' '), std::string::npos) << "no sentence for " << message.code;
    }
}

void check_study(const std::string& text, bool solve, std::set<std::string>& known, Tally& tally) {
    Study study;
    try {
        study = read_study(text).study;
    } catch (const InputFault& fault) {
        return check_faults(fault);
    }
    ++tally.read;
    const std::string written = write_study(study);
    const Study again = read_study(written).study;
    EXPECT_EQ(write_study(again), written);
    ASSERT_EQ(again.variants.size(), study.variants.size());
    for (std::size_t i = 0; i < study.variants.size(); ++i) {
        const std::string hash = input_hash(study, study.variants[i]);
        EXPECT_EQ(input_hash(again, again.variants[i]), hash);
        if (!solve || !known.insert(hash).second) continue;  // what the same input gives was seen
        try {
            check_drawing(study, study.variants[i], tally);
        } catch (const InputFault& fault) {
            check_faults(fault);
        }
    }
}

class StudyMutation : public ::testing::TestWithParam<int> {};

TEST_P(StudyMutation, IsReadOrRefusedAndNeverMore) {
    const rlimit memory{4'000'000'000, 4'000'000'000};  // no small file may eat more: it would fail as bad_alloc
    if (!sanitized()) {
        ASSERT_EQ(setrlimit(RLIMIT_AS, &memory), 0);
    }
    const char* const alone = std::getenv("WALLFOOT_SEED");
    Tally tally;
    std::set<std::string> known;
    for (const std::string& base : bases()) {
        const Study study = read_study(base).study;
        for (const Variant& variant : study.variants) known.insert(input_hash(study, variant));
    }
    for (std::uint64_t i = 0; i < tried_per_part; ++i) {
        const std::uint64_t seed = seeds_per_part * static_cast<std::uint64_t>(GetParam()) + i;
        if (alone && std::to_string(seed) != alone) continue;
        const std::string text = Mutator(seed)(bases());
        std::printf("%llu%c", static_cast<unsigned long long>(seed), i % 20 == 19 ? '\n' : ' ');  // after a crash the last one is the culprit
        std::fflush(stdout);
        if (alone) std::printf("\n%s\n", text.c_str());
        SCOPED_TRACE("WALLFOOT_SEED=" + std::to_string(seed));
        try {
            check_study(text, seed % solved_every == 0, known, tally);
        } catch (const std::exception& error) {
            ADD_FAILURE() << "neither read nor refused: " << error.what();
        }
    }
    std::printf("read %d; drawings changed %d, arranged without fault %d, solved %d; most triangles %zu\n", tally.read, tally.drawings, tally.arranged,
                tally.solved, tally.most_triangles);
    if (alone) return;
    // Mutations that are all refused, or all read, would test little. With sanitizers too few are solved for a share to hold.
    EXPECT_GT(tally.read, static_cast<int>(tried_per_part / 10));
    EXPECT_LT(tally.read, static_cast<int>(tried_per_part * 9 / 10));
    if (!sanitized()) {
        EXPECT_GT(tally.solved, static_cast<int>(tried_per_part / 20));
    }
}

INSTANTIATE_TEST_SUITE_P(Seeds, StudyMutation, ::testing::Range(0, 10));

TEST(StudyMutationBases, AreGood) {
    for (const std::string& base : bases()) {
        Tally tally;
        std::set<std::string> known;
        check_study(base, true, known, tally);
        EXPECT_EQ(tally.read, 1);
    }
    Tally tally;
    std::set<std::string> known;
    check_study(full_and_solvable(), true, known, tally);
    EXPECT_EQ(tally.solved, 1);
}

}  // namespace
}  // namespace wallfoot::hardening

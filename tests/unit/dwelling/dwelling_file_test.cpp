// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/dwelling_file.hpp"

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/unit/dwelling/dwelling_drafts.hpp"

namespace wallfoot {
namespace {

using test::full_dwelling;
using DwellingJson = nlohmann::json;

/// The first fault after one change of the full dwelling, as "code pointer"; "" when it is taken.
std::string dwelling_after(const std::function<void(DwellingJson&)>& change) {
    DwellingJson file = DwellingJson::parse(full_dwelling());
    change(file);
    try {
        read_dwelling(file.dump());
    } catch (const InputFault& fault) {
        for (const Message& told : fault.faults()) {
            EXPECT_EQ(english(told).find('{'), std::string::npos) << english(told);
            EXPECT_TRUE(english(told).find(". ") != std::string::npos || english(told).find("should be") != std::string::npos) << "what would be right: " << english(told);
        }
        return fault.faults().front().code + " " + fault.faults().front().pointer;
    }
    return "";
}
std::string dwelling_with(const std::string& pointer, const DwellingJson& value) {
    return dwelling_after([&](DwellingJson& file) { file[DwellingJson::json_pointer(pointer)] = value; });
}

TEST(DwellingFile, keeps_everything_on_the_way_through_a_file) {
    const auto read = read_dwelling(full_dwelling());
    EXPECT_TRUE(read.warnings.empty()) << english(read.warnings.front());
    const std::string written = write_dwelling(read.dwelling);
    EXPECT_TRUE(read_dwelling(written).dwelling == read.dwelling);
    EXPECT_EQ(write_dwelling(read_dwelling(written).dwelling), written) << "one canonical text";
    EXPECT_EQ(DwellingJson::parse(written), DwellingJson::parse(full_dwelling())) << "nothing lost, nothing added";
}

TEST(DwellingFile, keeps_what_it_does_not_know_and_says_so) {
    DwellingJson file = DwellingJson::parse(full_dwelling());
    for (const char* place : {"", "/junctions/0", "/junctions/0/study", "/junctions/0/study/last", "/junctions/0/study/last/flanking/0", "/junctions/0/study/last/other_pairs/0", "/junctions/0/calculation_U/0",
                              "/junctions/1/elsewhere", "/junctions/2/point", "/envelope/0", "/degree_days", "/energy_price", "/measures/0", "/measures/0/cost"})
        file[DwellingJson::json_pointer(place)]["later"] = {{"x", 1}};
    const auto read = read_dwelling(file.dump());
    EXPECT_EQ(read.warnings.size(), 14u);
    EXPECT_EQ(DwellingJson::parse(write_dwelling(read.dwelling)), file);
}

TEST(DwellingFile, names_the_place_of_each_fault) {
    EXPECT_EQ(dwelling_with("/format", "other"), "dwelling-other-format /format");
    EXPECT_EQ(dwelling_after([](DwellingJson& file) { file.erase("format"); }), "dwelling-other-format /format");
    EXPECT_EQ(dwelling_with("/version", 2), "newer-file /version");
    EXPECT_EQ(dwelling_with("/version", 0.5), "dwelling-version /version");
    EXPECT_EQ(dwelling_with("/lengths", "outside"), "unknown-word /lengths");
    EXPECT_EQ(dwelling_with("/junctions/1/kind", "lintl"), "dwelling-unknown-kind /junctions/1/kind");
    EXPECT_EQ(dwelling_with("/absent/3", "gabel"), "dwelling-unknown-kind /absent/3");
    EXPECT_EQ(dwelling_with("/junctions/1/length", -1), "number-out-of-range /junctions/1/length");
    EXPECT_EQ(dwelling_with("/junctions/1/length", "4 m"), "wrong-type /junctions/1/length");
    EXPECT_EQ(dwelling_with("/junctions/1/id", "foot"), "duplicate-id /junctions/1");
    EXPECT_EQ(dwelling_with("/junctions/0/elsewhere", {{"psi", 1}, {"basis", "default"}, {"source", "x"}}), "dwelling-two-values /junctions/0");
    EXPECT_EQ(dwelling_with("/junctions/2/length", 3), "dwelling-point-with-length /junctions/2/length");
    EXPECT_EQ(dwelling_with("/junctions/1/elsewhere/source", ""), "empty-text /junctions/1/elsewhere/source");
    EXPECT_EQ(dwelling_with("/junctions/1/elsewhere/basis", "guessed"), "unknown-word /junctions/1/elsewhere/basis");
    EXPECT_EQ(dwelling_with("/junctions/1/elsewhere/lower", 0.31), "dwelling-bounds /junctions/1/elsewhere");
    EXPECT_EQ(dwelling_with("/junctions/0/study/last/upper", 0.1), "dwelling-bounds /junctions/0/study/last");
    EXPECT_EQ(dwelling_with("/junctions/0/study/variant", ""), "empty-text /junctions/0/study/variant");
    EXPECT_EQ(dwelling_with("/junctions/0/calculation_U/0/U", 0.2), "dwelling-calculation-u /junctions/0/calculation_U/0");
    EXPECT_EQ(dwelling_with("/junctions/0/calculation_U/0/as", "walls"), "dwelling-unknown-envelope /junctions/0/calculation_U/0/as");
    EXPECT_EQ(dwelling_with("/absent/0", "lintel"), "dwelling-absent-kind-there /absent/0");
    EXPECT_EQ(dwelling_with("/measures/0/junction", "ties"), "dwelling-unknown-row /measures/0/junction");
    EXPECT_EQ(dwelling_with("/measures/0/junction", "nobody"), "dwelling-unknown-row /measures/0/junction");
    EXPECT_EQ(dwelling_with("/energy_price/date", "31.1.2026"), "date-form /energy_price/date");
    EXPECT_EQ(dwelling_with("/energy_price/date", "2026-13-01"), "date-form /energy_price/date");
    EXPECT_EQ(dwelling_after([](DwellingJson& file) { file["energy_price"].erase("source"); }), "missing-field /energy_price");
    EXPECT_EQ(dwelling_with("/efficiency", 0), "number-out-of-range /efficiency");
    EXPECT_EQ(dwelling_with("/degree_days/value", true), "wrong-type /degree_days/value");
    EXPECT_EQ(dwelling_with("/junctions", 3), "wrong-type /junctions");
    EXPECT_EQ(dwelling_after([](DwellingJson& file) { file = DwellingJson::array(); }), "wrong-type ");
}

TEST(DwellingFile, is_saved_whole_and_an_unreadable_one_is_told) {
    char name[] = "/tmp/wallfoot-dwelling-XXXXXX";
    const std::filesystem::path folder = ::mkdtemp(name);
    const auto dwelling = read_dwelling(full_dwelling()).dwelling;
    save_dwelling(dwelling, (folder / "a.dwelling").string());
    EXPECT_TRUE(load_dwelling((folder / "a.dwelling").string()).dwelling == dwelling);
    EXPECT_THROW(save_dwelling(dwelling, (folder / "none" / "a.dwelling").string()), std::runtime_error);
    EXPECT_THROW(load_dwelling((folder / "b.dwelling").string()), InputFault);
    std::filesystem::remove_all(folder);
}

TEST(JunctionKinds, are_told_apart_and_some_are_usual) {
    const auto kinds = junction_kinds();
    EXPECT_GT(std::count_if(kinds.begin(), kinds.end(), [](const JunctionKind& kind) { return kind.usual; }), 8);
    EXPECT_EQ(kind_name(kinds, "eaves"), "Eaves");
    EXPECT_EQ(kind_name(kinds, "unheard"), "unheard");
    EXPECT_THROW(read_junction_kinds(R"({"kinds":[{"id":"a","name":"A"},{"id":"a","name":"B"}]})"), InputFault);
    EXPECT_THROW(read_junction_kinds(R"({"kinds":[{"id":"a"}]})"), InputFault);
}

}  // namespace
}  // namespace wallfoot

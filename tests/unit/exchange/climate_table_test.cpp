// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

#include "core/exchange/climate_table.hpp"
#include "core/text/message.hpp"

namespace wallfoot {
namespace {

std::string twelve(const std::string& row) {
    std::string text;
    for (int i = 1; i <= 12; ++i) text += std::to_string(i) + row + "\n";
    return text;
}

std::string climate_fault(const std::string& text, bool hourly = false) {
    try {
        hourly ? climate_from_epw(text).months : climate_from_table(text);
    } catch (const InputFault& fault) {
        EXPECT_NE(english(fault.faults()[0]).find(' '), std::string::npos) << fault.faults()[0].code;
        return fault.faults()[0].code;
    }
    return "";
}

TEST(ClimateTable, takes_what_people_paste) {
    for (const char* row : {"\t3,5\t86\t20", ";3.5;86;20", ";3,5;86 %;20", ",3.5,86,20", " 3.5 86 20", ", 3.5, 0.86, 20"}) {
        const auto months = climate_from_table(std::string(row[0] == '\t' ? "Month\t°C\t%\tinside\n" : "") + twelve(row));
        ASSERT_EQ(months.size(), 12u) << row;
        EXPECT_DOUBLE_EQ(months[5].outside, 3.5) << row;
        EXPECT_DOUBLE_EQ(months[5].humidity, 0.86) << row;
        EXPECT_EQ(months[5].inside, 20.0) << row;
    }
    std::string named;
    for (const char* month : {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}) named += std::string(month) + ";−1,5;90;\r\n";
    const auto months = climate_from_table("Month;outside;humidity;inside\r\n" + named);
    EXPECT_DOUBLE_EQ(months[0].outside, -1.5);
    EXPECT_FALSE(months[0].inside);
    // Twelve rows without a count of the months: the first column is a temperature.
    std::string bare;
    for (int i = 0; i < 12; ++i) bare += "3;80;20\n";
    EXPECT_DOUBLE_EQ(climate_from_table(bare)[0].outside, 3);
}

TEST(ClimateTable, says_what_is_wrong) {
    EXPECT_EQ(climate_fault("1;2;80\n"), "climate-table-months");
    EXPECT_EQ(climate_fault(""), "climate-table-months");
    EXPECT_EQ(climate_fault(twelve(";3;180")), "climate-table-humidity");
    EXPECT_EQ(climate_fault(twelve(";3;-5")), "climate-table-humidity");
    EXPECT_EQ(climate_fault(twelve(";300;80")), "climate-table-temperature");
    EXPECT_EQ(climate_fault(twelve(";3;wet")), "climate-table-number");
    EXPECT_EQ(climate_fault(twelve("")), "climate-table-row");
    EXPECT_EQ(climate_fault(twelve(";5;;20")), "climate-table-row") << "a missing humidity is not the temperature inside";
    EXPECT_EQ(climate_fault(twelve(";5;nan")), "climate-table-number");
}

std::string weather(double night, double day, double night_humidity, double day_humidity) {
    std::ostringstream text;
    text << "LOCATION,Invented Valley,-,-,made up,0,0,0,0,0\n";
    for (int i = 0; i < 7; ++i) text << "HEAD\n";
    const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    for (int month = 1; month <= 12; ++month)
        for (int date = 1; date <= days[month - 1]; ++date)
            for (int hour = 1; hour <= 24; ++hour)
                text << "2001," << month << ',' << date << ',' << hour << ",60,?9," << (hour <= 12 ? night : day) << ",0," << (hour <= 12 ? night_humidity : day_humidity) << ",101325\n";
    return text.str();
}

// Mean temperature of the hours; the humidity that keeps their mean vapour pressure (values of p_sat: ISO 13788, annex E, from
// memory: 610.5 Pa at 0 °C, 1227.3 at 10, 871.9 at 5).
TEST(ClimateEpw, keeps_mean_temperature_and_mean_vapour_pressure) {
    const Climate climate = climate_from_epw(weather(0, 10, 100, 60));
    EXPECT_EQ(climate.name, "Invented Valley");
    ASSERT_EQ(climate.months.size(), 12u);
    EXPECT_NEAR(climate.months[0].outside, 5, 1e-9);
    EXPECT_NEAR(climate.months[0].humidity, (610.5 + 0.6 * 1227.3) / 2 / 871.9, 1e-4);
    // Hours that are marked as missing are left out.
    std::string text = weather(0, 10, 100, 60);
    const std::string first = ",0,0,100,101325";
    text.replace(text.find(first), first.size(), ",99.9,0,999,101325");
    EXPECT_GT(climate_from_epw(text).months[0].outside, 5);
    EXPECT_EQ(climate_fault("no weather", true), "climate-epw-head");
    EXPECT_EQ(climate_fault(weather(99.9, 99.9, 999, 999), true), "climate-epw-hours");
    EXPECT_EQ(climate_fault(weather(0, 10, 100, 60) + "2001,13,1,1,60,?,1,1,50\n", true), "climate-epw-row");
}

}  // namespace
}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/fields.hpp"

namespace wallfoot::file {

namespace {

constexpr Range shares{0.01, 1};
constexpr Range of_air{-60, 60};  // °C
constexpr Range swings{0, 60};  // K
constexpr Range classes{1, 4};  // class 5 has no upper limit: its humidity is stated
constexpr Range margins{0, 0.2};

ClimateMonth read_month(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    ClimateMonth month;
    month.outside = fields.need_number("outside", of_air);
    month.humidity = fields.need_number("humidity", shares);
    month.inside = fields.number("inside", of_air);
    month.extra = fields.rest();
    return month;
}

IndoorAir read_indoor(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    IndoorAir indoor;
    if (const auto given = fields.number("class", classes)) {
        indoor.humidity_class = static_cast<int>(*given);
        if (*given != *indoor.humidity_class) found.fault("humidity-class-not-whole", fields.at("class"));
    }
    indoor.humidity = fields.number("humidity", shares);
    if (const auto margin = fields.number("margin", margins)) indoor.margin = *margin;
    if (fields.is_object() && indoor.humidity_class.has_value() == indoor.humidity.has_value()) found.fault("indoor-air-one-of-two", where);
    indoor.extra = fields.rest();
    return indoor;
}

YearWave read_year(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    YearWave year;
    year.outside_mean = fields.need_number("outside_mean", of_air);
    year.outside_amplitude = fields.need_number("outside_amplitude", swings);
    year.coldest_month = fields.number("coldest_month", {1, 12}).value_or(year.coldest_month);
    year.inside_amplitude = fields.number("inside_amplitude", swings).value_or(0);
    year.extra = fields.rest();
    return year;
}

}  // namespace

Climate read_climate(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Climate climate;
    climate.name = fields.text("name");
    climate.source = fields.text("source");
    climate.zone = fields.text("zone");
    fields.each("months", [&](const json::Value& item, const Where& place) { climate.months.push_back(read_month(found, item, place)); });
    if (!climate.months.empty() && climate.months.size() != months_of_a_year)
        found.fault("climate-months", fields.at("months"), {{"count", std::to_string(climate.months.size())}});
    if (const auto* year = fields.find("year")) climate.year = read_year(found, *year, fields.at("year"));
    if (climate.year && !climate.months.empty()) found.fault("climate-year-and-months", fields.at("year"));
    if (const auto* indoor = fields.find("indoor")) climate.indoor = read_indoor(found, *indoor, fields.at("indoor"));
    climate.extra = fields.rest();
    return climate;
}

json::Value write_climate(const Climate& climate) {
    json::Object object;
    put_text(object, "name", climate.name);
    put_text(object, "source", climate.source);
    put_text(object, "zone", climate.zone);
    if (!climate.months.empty()) {
        json::Array months;
        for (const ClimateMonth& month : climate.months) {
            json::Object entry{{"outside", month.outside}, {"humidity", month.humidity}};
            if (month.inside) entry["inside"] = *month.inside;
            put_extra(entry, month.extra);
            months.push_back(std::move(entry));
        }
        object["months"] = std::move(months);
    }
    if (climate.year) {
        json::Object year{{"outside_mean", climate.year->outside_mean}, {"outside_amplitude", climate.year->outside_amplitude},
                          {"coldest_month", climate.year->coldest_month}, {"inside_amplitude", climate.year->inside_amplitude}};
        put_extra(year, climate.year->extra);
        object["year"] = std::move(year);
    }
    if (climate.indoor) {
        json::Object indoor;
        if (climate.indoor->humidity_class) indoor["class"] = static_cast<double>(*climate.indoor->humidity_class);
        if (climate.indoor->humidity) {
            indoor["humidity"] = *climate.indoor->humidity;
            indoor["margin"] = climate.indoor->margin;
        }
        put_extra(indoor, climate.indoor->extra);
        object["indoor"] = std::move(indoor);
    }
    put_extra(object, climate.extra);
    return object;
}

}  // namespace wallfoot::file

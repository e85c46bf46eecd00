// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/climate_table.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <sstream>

#include "core/standards/iso13788.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

using TextCells = std::vector<std::string>;

constexpr std::size_t largest_file = 20'000'000;  // bytes; a year of hours has about 1.5 million
constexpr std::size_t head_lines = 8, month_field = 1, temperature_field = 6, humidity_field = 8;
constexpr std::array<int, months_of_a_year> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

[[noreturn]] void refuse_climate(const char* code, std::map<std::string, std::string> args = {}) {
    throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}});
}

std::string cell_text(std::string text) {
    const auto blank = [](char c) { return c == ' ' || c == '\r' || c == '\t' || c == '"'; };
    while (!text.empty() && blank(text.back())) text.pop_back();
    while (!text.empty() && blank(text.front())) text.erase(text.begin());
    return text;
}

TextCells split_at(const std::string& line, char separator) {
    TextCells cells;
    std::stringstream in(line);
    for (std::string cell; std::getline(in, cell, separator);) cells.push_back(cell_text(cell));
    return cells;
}

/// A comma separates when the line has neither tab nor semicolon and a point stands for decimals, or no blank follows it.
TextCells cells_of(const std::string& line) {
    if (line.find('\t') != std::string::npos) return split_at(line, '\t');
    if (line.find(';') != std::string::npos) return split_at(line, ';');
    const bool blanks = cell_text(line).find(' ') != std::string::npos;
    if (line.find(',') != std::string::npos && (!blanks || line.find('.') != std::string::npos || line.find(", ") != std::string::npos)) return split_at(line, ',');
    TextCells cells;
    std::stringstream in(line);
    for (std::string cell; in >> cell;) cells.push_back(cell);
    return cells;
}

std::optional<double> number_in(std::string text) {
    std::replace(text.begin(), text.end(), ',', '.');
    if (text.starts_with("−")) text = "-" + text.substr(std::string("−").size());
    if (text.ends_with("%")) text = cell_text(text.substr(0, text.size() - 1));
    if (text.starts_with("+")) text.erase(text.begin());
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc{} && std::isfinite(value) && end == text.data() + text.size() && !text.empty() ? std::optional(value) : std::nullopt;
}

bool all_months_counted(const std::vector<std::vector<double>>& rows) {
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (rows[i].size() < 3 || rows[i][0] != double(i + 1)) return false;
    return true;
}

/// The numbers of every row that is no head; a first cell in words (a month) is left out.
std::vector<std::vector<double>> number_rows(const std::string& text) {
    std::vector<std::vector<double>> rows;
    std::stringstream in(text);
    std::size_t line_number = 0;
    for (std::string line; std::getline(in, line);) {
        ++line_number;
        if (cell_text(line).empty()) continue;
        TextCells cells = cells_of(line);
        while (!cells.empty() && cells.back().empty()) cells.pop_back();  // no temperature inside
        std::vector<double> numbers;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            if (cells[i].empty() && i > 0) refuse_climate("climate-table-row", {{"line", std::to_string(line_number)}});
            if (const auto value = number_in(cells[i])) {
                numbers.push_back(*value);
            } else if (i > 0 && !numbers.empty()) {
                refuse_climate("climate-table-number", {{"line", std::to_string(line_number)}, {"text", cells[i]}});
            }
        }
        if (numbers.empty() && rows.empty()) continue;  // the head
        if (numbers.size() < 2) refuse_climate("climate-table-row", {{"line", std::to_string(line_number)}});
        rows.push_back(std::move(numbers));
    }
    return rows;
}

}  // namespace

std::vector<ClimateMonth> climate_from_table(const std::string& text) {
    auto rows = number_rows(text);
    if (rows.size() != months_of_a_year) refuse_climate("climate-table-months", {{"count", std::to_string(rows.size())}});
    if (all_months_counted(rows))
        for (auto& row : rows) row.erase(row.begin());
    const bool percent = std::any_of(rows.begin(), rows.end(), [](const auto& row) { return row[1] > 1; });
    std::vector<ClimateMonth> months;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const auto& row = rows[i];
        ClimateMonth month{.outside = row[0], .humidity = percent ? row[1] / 100 : row[1], .inside = {}};
        if (row.size() > 2) month.inside = row[2];
        const auto within = [](double celsius) { return celsius >= -60 && celsius <= 60; };
        if (!within(month.outside) || (month.inside && !within(*month.inside)))
            refuse_climate("climate-table-temperature", {{"month", std::to_string(i + 1)}});
        if (month.humidity < 0.01 || month.humidity > 1) refuse_climate("climate-table-humidity", {{"month", std::to_string(i + 1)}});
        months.push_back(std::move(month));
    }
    return months;
}

Climate climate_from_epw(const std::string& text) {
    struct Sum {
        double temperature = 0, pressure = 0;
        int hours = 0;
    };
    std::array<Sum, months_of_a_year> sums{};
    std::stringstream in(text);
    std::string line;
    Climate climate;
    for (std::size_t number = 1; std::getline(in, line); ++number) {
        const TextCells cells = split_at(line, ',');
        if (number == 1) {
            if (cells.empty() || cells[0] != "LOCATION") refuse_climate("climate-epw-head");
            if (cells.size() > 1) climate.name = cells[1];
        }
        if (number <= head_lines || cell_text(line).empty()) continue;
        if (cells.size() <= humidity_field) refuse_climate("climate-epw-row", {{"line", std::to_string(number)}});
        const auto month = number_in(cells[month_field]), temperature = number_in(cells[temperature_field]), humidity = number_in(cells[humidity_field]);
        if (!month || *month < 1 || *month > 12 || !temperature || !humidity) refuse_climate("climate-epw-row", {{"line", std::to_string(number)}});
        if (*temperature > 70 || *temperature < -70 || *humidity > 110 || *humidity < 0) continue;  // marked as missing
        Sum& sum = sums[static_cast<std::size_t>(*month) - 1];
        sum.temperature += *temperature;
        sum.pressure += *humidity / 100 * iso13788::saturation_pressure(*temperature);
        ++sum.hours;
    }
    for (std::size_t i = 0; i < months_of_a_year; ++i) {
        if (2 * sums[i].hours < 24 * days[i]) refuse_climate("climate-epw-hours", {{"month", std::to_string(i + 1)}, {"hours", std::to_string(sums[i].hours)}});
        const double mean = sums[i].temperature / sums[i].hours;
        climate.months.push_back({.outside = mean, .humidity = std::min(1.0, sums[i].pressure / sums[i].hours / iso13788::saturation_pressure(mean)), .inside = {}});
    }
    climate.source = "hourly weather file (EPW), means of temperature and vapour pressure by month";
    return climate;
}

Climate climate_from_file(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::error_code error;
    if (!in || std::filesystem::is_directory(path, error)) refuse_climate("climate-unreadable", {{"path", path}});
    std::string text;
    std::array<char, 1 << 14> part{};
    while (in.read(part.data(), part.size()), in.gcount() > 0) {
        text.append(part.data(), static_cast<std::size_t>(in.gcount()));
        if (text.size() > largest_file) refuse_climate("climate-unreadable", {{"path", path}});
    }
    if (text.starts_with("LOCATION,")) return climate_from_epw(text);
    Climate climate;
    climate.months = climate_from_table(text);
    climate.source = "table " + std::filesystem::path(path).filename().string();
    return climate;
}

}  // namespace wallfoot

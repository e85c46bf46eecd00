// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "core/foot/foot_report.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/usual_errors.hpp"
#include "solver/report/office_template.hpp"

namespace wallfoot {

// The report of a study as data: what is told, in order. PDF, HTML, CSV and JSON are renderings of the one structure.

struct ReportHeading {
    std::string text;
    int level = 1;  ///< 1 or 2
    bool operator==(const ReportHeading&) const = default;
};

struct ReportText {
    std::string text;
    bool caution = false;
    bool own_words = false;  ///< of the office, not ours
    bool operator==(const ReportText&) const = default;
};

struct ReportTable {
    std::string caption;
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;  ///< each as long as head
    std::vector<bool> figures;                   ///< columns set to the right; as long as head
    bool operator==(const ReportTable&) const = default;
};

/// A picture of one variant; drawn by whoever renders.
struct ReportPicture {
    enum class Shows { section, heat, key };  ///< key: what the hatches of all variants stand for
    Shows shows = Shows::section;
    std::size_t variant = 0;  ///< into ReportSource::findings
    std::string caption;
    std::string words;        ///< what it shows, for who cannot see it
    bool operator==(const ReportPicture&) const = default;
};

using ReportItem = std::variant<ReportHeading, ReportText, ReportTable, ReportPicture>;

struct Report {
    std::string title, variant_line;  ///< of every page's head
    std::string program, date;        ///< as told in the record
    std::string language = "en";
    std::vector<ReportItem> items;
    std::shared_ptr<const OfficeTemplate> office = {};  ///< whose head and foot it has; may be null
};

/// What a report is made of. The findings in the order of their columns, the first is what the others are compared with.
struct ReportSource {
    std::shared_ptr<const Study> study;
    std::string file;   ///< name of the study file, "" = unnamed
    std::string date;   ///< ISO 8601, as it is to be printed
    std::vector<std::shared_ptr<const Findings>> findings;  ///< at least one, none with a fault
    std::vector<WaterReport> water;                          ///< parallel to findings, or empty
    std::vector<FootReport> foot;                            ///< what the rules at the wall foot say; parallel to findings, or empty
    std::vector<UsualErrors> errors = {};                    ///< where they were asked for; parallel to findings, or empty
    std::shared_ptr<const OfficeTemplate> office = {};       ///< whose report it is; may be null
};

/// Works out what a report needs of the variants asked for (all when none are). Throws InputFault with the faults of a
/// drawing, "unknown-variant", "study-without-variant".
ReportSource report_source(std::shared_ptr<const Study> study, const std::string& file, const std::string& date, const std::vector<std::string>& variants,
                           const FindingsOptions& options = {}, const Context& context = {});

/// Fills `water` and `foot` where they are empty. Throws InputFault for a rule set that cannot be used; Cancelled.
void follow_up(ReportSource& source, const Context& context = {});

/// Looks for the usual errors of each variant, where that is not done yet: some ten solves each. Throws as usual_errors.
void add_usual_errors(ReportSource& source, const Context& context = {});

Report make_report(const ReportSource& source);

std::string report_json(const Report& report);
/// The tables only, each under its caption (RFC 4180, UTF-8).
std::string report_csv(const Report& report);
/// One page without outside parts. `picture` gives the whole element of a picture (such as an svg or img).
std::string report_html(const Report& report, const std::function<std::string(const ReportPicture&)>& picture);

}  // namespace wallfoot

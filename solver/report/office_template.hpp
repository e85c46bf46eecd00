// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace wallfoot {

/// A picture as its file held it.
struct OfficeLogo {
    std::string bytes;
    std::string media_type;  ///< image/png, image/jpeg or image/svg+xml
    bool operator==(const OfficeLogo&) const = default;
};

/// What an office puts around its reports and short answers: data of its own, no part of any study.
struct OfficeTemplate {
    std::string office;                ///< its name
    std::vector<std::string> contact;  ///< lines below the name, at most 8
    std::string before_answer, at_end; ///< texts of its own, above the answer and behind all else
    std::string foot;                  ///< one line at the foot of every page
    std::optional<OfficeLogo> logo;
    bool operator==(const OfficeTemplate&) const = default;

    bool empty() const { return *this == OfficeTemplate{}; }
    /// What heads the first page: name, contact or logo.
    bool has_head() const { return !office.empty() || !contact.empty() || logo; }
    /// "data:image/png;base64,…"; "" without a logo.
    std::string logo_address() const;
};

/// Most bytes of a logo, and lines of contact.
constexpr std::size_t most_logo_bytes = 1'000'000, most_contact_lines = 8;

/// Reads a template (resources/schema/template.schema.json): `office`, `contact`, `before_answer`, `at_end`, `foot`, and `logo`,
/// a file as seen from `folder` or the picture itself as a data: address. Throws InputFault with every fault: not JSON, a field
/// that is unknown or of the wrong type, nothing in it, a logo that is missing, too large or none of PNG, JPEG and SVG.
OfficeTemplate read_office_template(const std::string& json, const std::string& folder);
/// The same from a file; its logo lies beside it.
OfficeTemplate load_office_template(const std::string& path);
/// A picture by its bytes. Throws InputFault as above; `name` says which.
OfficeLogo office_logo(std::string bytes, const std::string& name);
/// As JSON with the logo in it; read_office_template(write_office_template(t), "") == t.
std::string write_office_template(const OfficeTemplate& office);

}  // namespace wallfoot

// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/report/office_template.hpp"

#include <algorithm>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>

#include "core/file/attachment.hpp"
#include "core/file/whole_file.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

using TemplateJson = nlohmann::ordered_json;

Message template_fault(const std::string& code, std::map<std::string, std::string> args, const std::string& pointer = {}) { return {Severity::fault, code, std::move(args), {}, pointer}; }

/// By what the bytes are, not by what the file is called; "" for anything else.
std::string media_type_of(const std::string& bytes) {
    if (bytes.starts_with("\x89PNG\r\n\x1a\n")) return "image/png";
    if (bytes.starts_with("\xff\xd8\xff")) return "image/jpeg";
    const std::string begin = bytes.substr(0, 4096);
    const std::size_t first = begin.find_first_not_of("\xef\xbb\xbf \t\r\n");
    return first != std::string::npos && begin[first] == '<' && begin.find("<svg") != std::string::npos ? "image/svg+xml" : "";
}

OfficeLogo logo_of(const std::string& said, const std::string& folder) {
    if (said.starts_with("data:")) {
        const std::size_t comma = said.find(";base64,");
        const auto bytes = comma == std::string::npos ? std::nullopt : bytes_of_base64(std::string_view(said).substr(comma + 8));
        if (!bytes) throw InputFault(template_fault("template-logo-kind", {{"file", said.substr(0, 40)}}));
        return office_logo(*bytes, said.substr(0, comma));
    }
    const std::filesystem::path path = std::filesystem::path(folder) / said;
    std::error_code ignored;
    if (said.empty() || !std::filesystem::is_regular_file(path, ignored)) throw InputFault(template_fault("template-logo-missing", {{"file", path.string()}}));
    if (std::filesystem::file_size(path, ignored) > most_logo_bytes) throw InputFault(template_fault("template-logo-large", {{"file", path.string()}}));
    return office_logo(read_whole(path.string()), path.string());
}

}  // namespace

std::string OfficeTemplate::logo_address() const { return logo ? "data:" + logo->media_type + ";base64," + base64_of(logo->bytes) : std::string(); }

OfficeLogo office_logo(std::string bytes, const std::string& name) {
    if (bytes.size() > most_logo_bytes) throw InputFault(template_fault("template-logo-large", {{"file", name}}));
    std::string type = media_type_of(bytes);
    if (type.empty()) throw InputFault(template_fault("template-logo-kind", {{"file", name}}));
    return {std::move(bytes), std::move(type)};
}

OfficeTemplate read_office_template(const std::string& json, const std::string& folder) {
    const TemplateJson read = TemplateJson::parse(json, nullptr, false);
    if (!read.is_object()) throw InputFault(template_fault("template-unreadable", {}));
    OfficeTemplate office;
    std::vector<Message> faults;
    const std::map<std::string, std::string OfficeTemplate::*> texts{{"office", &OfficeTemplate::office}, {"before_answer", &OfficeTemplate::before_answer}, {"at_end", &OfficeTemplate::at_end}, {"foot", &OfficeTemplate::foot}};
    for (const auto& [name, value] : read.items()) {
        const auto wrong = [&](const char* code) { faults.push_back(template_fault(code, {{"field", name}}, "/" + name)); };
        if (const auto text = texts.find(name); text != texts.end()) {
            if (value.is_string()) office.*(text->second) = value.get<std::string>();
            else wrong("template-not-text");
        } else if (name == "contact") {
            const bool lines = value.is_array() && value.size() <= most_contact_lines && std::all_of(value.begin(), value.end(), [](const TemplateJson& line) { return line.is_string(); });
            if (lines) office.contact = value.get<std::vector<std::string>>();
            else wrong("template-contact");
        } else if (name == "logo") {
            try {
                if (value.is_string()) office.logo = logo_of(value.get<std::string>(), folder);
                else wrong("template-not-text");
            } catch (const InputFault& fault) {
                for (Message message : fault.faults()) {
                    message.pointer = "/logo";
                    faults.push_back(std::move(message));
                }
            }
        } else {
            wrong("template-unknown");
        }
    }
    // Names and lines are lines.
    for (std::string* line : {&office.office, &office.foot}) std::replace(line->begin(), line->end(), '\n', ' ');
    for (std::string& line : office.contact) std::replace(line.begin(), line.end(), '\n', ' ');
    if (faults.empty() && office.empty()) faults.push_back(template_fault("template-empty", {}));
    if (!faults.empty()) throw InputFault(std::move(faults));
    return office;
}

OfficeTemplate load_office_template(const std::string& path) { return read_office_template(read_whole(path), std::filesystem::path(path).parent_path().string()); }

std::string write_office_template(const OfficeTemplate& office) {
    TemplateJson json = TemplateJson::object();
    const auto put = [&](const char* name, const std::string& text) {
        if (!text.empty()) json[name] = text;
    };
    put("office", office.office);
    if (!office.contact.empty()) json["contact"] = office.contact;
    put("before_answer", office.before_answer);
    put("at_end", office.at_end);
    put("foot", office.foot);
    put("logo", office.logo_address());
    return json.dump(2, ' ', false, TemplateJson::error_handler_t::replace) + "\n";
}

}  // namespace wallfoot

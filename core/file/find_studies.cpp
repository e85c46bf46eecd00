// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/find_studies.hpp"

#include <algorithm>
#include <filesystem>

#include "core/file/json_value.hpp"
#include "core/file/study_file.hpp"
#include "core/study/names.hpp"
#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace {

namespace fs = std::filesystem;

/// UTF-8 in small letters, as far as western alphabets go (ASCII and U+00C0 to U+00DE).
std::string small_letters(std::string text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
        auto& c = reinterpret_cast<unsigned char&>(text[i]);
        const bool second = i > 0 && static_cast<unsigned char>(text[i - 1]) == 0xC3;
        if ((c >= 'A' && c <= 'Z') || (second && c >= 0x80 && c <= 0x9E && c != 0x97)) c = static_cast<unsigned char>(c + 0x20);
    }
    return text;
}

void add_name(std::vector<std::string>& names, const std::string& name) {
    if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
}

FoundStudy found_in(const std::string& path, const Study& study) {
    const Project project = study.project.value_or(Project{});
    FoundStudy found{path, study.title, project.name, project.enquiry, project.junction, project.date, {}, {}, {}};
    for (const bool soil : {false, true})
        for (const Variant& variant : study.variants)
            for (const Piece& piece : variant.section->pieces)
                if (const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr; material && (material->kind == MaterialKind::soil) == soil)
                    add_name(found.materials, shown_name(*material));
    for (const Variant& variant : study.variants) found.variants.push_back(variant.name.empty() ? variant.id : variant.name);
    return found;
}

/// All that is searched, in small letters.
std::string searched(const FoundStudy& found, const Study& study) {
    std::string text;
    const auto add = [&](const std::string& part) { text += small_letters(part) + "\n"; };
    for (const std::string& part : {found.title, study.notes, fs::path(found.path).stem().string()}) add(part);
    const Project project = study.project.value_or(Project{});
    for (const std::string& part : {project.name, project.plot, project.drawing, project.revision, project.junction, project.author, project.checker, project.date, project.enquiry, project.contact}) add(part);
    for (const std::string& name : found.materials) add(name);
    for (const Variant& variant : study.variants) {
        add(variant.name);
        add(variant.note);
        for (const Piece& piece : variant.section->pieces) add(piece.name);
    }
    return text;
}

std::vector<std::string> study_files(const std::string& folder) {
    std::vector<std::string> paths;
    std::error_code trouble;
    for (fs::recursive_directory_iterator at(folder, fs::directory_options::skip_permission_denied, trouble), end; at != end; at.increment(trouble)) {
        if (trouble) break;
        std::error_code ignored;
        if (at->path().extension() == ".wallfoot" && at->is_regular_file(ignored)) paths.push_back(at->path().string());
    }
    std::sort(paths.begin(), paths.end());
    return paths;
}

}  // namespace

FoundStudies studies_below(const std::string& folder, const Context& context) {
    std::error_code ignored;
    if (!fs::is_directory(folder, ignored)) throw InputFault(Message{Severity::fault, "find-no-folder", {{"folder", folder}}, {}, {}});
    FoundStudies found;
    const std::vector<std::string> paths = study_files(folder);
    for (std::size_t i = 0; i < paths.size(); ++i) {
        context.check();
        context.report(static_cast<double>(i) / static_cast<double>(paths.size()));
        try {
            const Study study = load_study(paths[i]).study;
            FoundStudy one = found_in(paths[i], study);
            one.text = searched(one, study);
            found.studies.push_back(std::move(one));
        } catch (const InputFault& fault) {
            found.unread.emplace_back(paths[i], fault.faults().front());
        } catch (const std::exception& failure) {
            found.unread.emplace_back(paths[i], Message{Severity::fault, "file-unreadable", {{"reason", failure.what()}}, {}, {}});
        }
    }
    return found;
}

bool is_found(const FoundStudy& study, const std::vector<std::string>& words) {
    return std::all_of(words.begin(), words.end(), [&](const std::string& word) { return study.text.find(small_letters(word)) != std::string::npos; });
}

std::string found_studies_text(const FoundStudies& found) {
    std::string text;
    for (const FoundStudy& study : found.studies) {
        text += study.path + "\n  " + (study.title.empty() ? "–" : study.title) + "\n";
        for (const std::string& part : {study.project, study.junction, study.enquiry, study.date})
            if (!part.empty()) text += "  " + part + "\n";
        std::string materials;
        for (const std::string& name : study.materials) materials += (materials.empty() ? "" : ", ") + name;
        if (!materials.empty()) text += "  " + materials + "\n";
    }
    return text + std::to_string(found.studies.size()) + (found.studies.size() == 1 ? " study\n" : " studies\n");
}

std::string found_studies_json(const FoundStudies& found) {
    json::Array studies, unread;
    for (const FoundStudy& study : found.studies) {
        json::Object one{{"path", study.path}, {"title", study.title}, {"project", study.project}, {"enquiry", study.enquiry}, {"junction", study.junction}, {"date", study.date}};
        one["variants"] = json::Array(study.variants.begin(), study.variants.end());
        one["materials"] = json::Array(study.materials.begin(), study.materials.end());
        studies.emplace_back(std::move(one));
    }
    for (const auto& [path, message] : found.unread) unread.emplace_back(json::Object{{"path", path}, {"message", english(message)}});
    return json::print_line(json::Object{{"studies", std::move(studies)}, {"unread", std::move(unread)}}) + "\n";
}

}  // namespace wallfoot

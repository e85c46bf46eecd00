// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/resources/resources.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "core/resources/embedded.hpp"

namespace wallfoot {

namespace {

std::string& override_folder() {
    static std::string folder;
    return folder;
}

std::string overriding_path(std::string_view path) {
    if (override_folder().empty()) return {};
    const auto candidate = std::filesystem::path(override_folder()) / path;
    std::error_code ignored;
    return std::filesystem::is_regular_file(candidate, ignored) ? candidate.string() : std::string{};
}

}  // namespace

std::string resource(std::string_view path) {
    if (const auto file = overriding_path(path); !file.empty()) {
        std::ifstream in(file, std::ios::binary);
        std::ostringstream bytes;
        bytes << in.rdbuf();
        return bytes.str();
    }
    for (const auto* file = embedded_files; file->path; ++file)
        if (path == file->path) return {file->begin, file->end};
    throw std::out_of_range("no such resource: " + std::string(path));
}

std::vector<std::string> resources_below(std::string_view folder) {
    std::vector<std::string> paths;
    const std::string prefix = folder.empty() ? std::string{} : std::string(folder) + "/";
    for (const auto* file = embedded_files; file->path; ++file)
        if (std::string_view(file->path).starts_with(prefix)) paths.emplace_back(file->path);
    if (!override_folder().empty()) {
        std::error_code ignored;
        const auto root = std::filesystem::path(override_folder());
        for (const auto& entry : std::filesystem::recursive_directory_iterator(root / folder, ignored))
            if (entry.is_regular_file()) paths.push_back(std::filesystem::relative(entry.path(), root).string());
    }
    std::sort(paths.begin(), paths.end());
    paths.erase(std::unique(paths.begin(), paths.end()), paths.end());
    return paths;
}

void use_resources_from(std::string directory) { override_folder() = std::move(directory); }

bool resource_is_overridden(std::string_view path) { return !overriding_path(path).empty(); }

}  // namespace wallfoot

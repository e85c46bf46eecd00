// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/context/context.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// What a study file says of itself.
struct FoundStudy {
    std::string path;
    std::string title, project, enquiry, junction, date;
    std::vector<std::string> variants;   ///< shown names
    std::vector<std::string> materials;  ///< shown names of those that pieces are filled with, soils last
    std::string text;                    ///< all that is searched, in small letters
};

struct FoundStudies {
    std::vector<FoundStudy> studies;  ///< by path
    std::vector<std::pair<std::string, Message>> unread;  ///< files that could not be read, and why
};

/// All studies below a folder. Folders that cannot be read, and links to folders, are left out. Throws InputFault
/// "find-no-folder"; Cancelled.
FoundStudies studies_below(const std::string& folder, const Context& context = {});

/// Whether every one of the words stands in it, in any case and place: title, notes, head of the project, name of the file, names
/// and notes of variants, names of pieces and of the materials they are filled with.
bool is_found(const FoundStudy& study, const std::vector<std::string>& words);

std::string found_studies_text(const FoundStudies& found);
std::string found_studies_json(const FoundStudies& found);

}  // namespace wallfoot

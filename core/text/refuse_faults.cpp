// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/text/refuse_faults.hpp"

namespace wallfoot {

void refuse_faults(const std::vector<Message>& messages) {
    std::vector<Message> faults;
    for (const Message& message : messages)
        if (message.severity == Severity::fault) faults.push_back(message);
    if (!faults.empty()) throw InputFault(std::move(faults));
}

}  // namespace wallfoot

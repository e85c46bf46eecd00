// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/findings.hpp"

#include <algorithm>

namespace wallfoot {

const Psi* Findings::headline_psi() const {
    for (const auto& p : psi)
        if (p.headline) return &p;
    return nullptr;
}

const SurfaceFinding* Findings::headline_surface() const {
    for (const auto& s : surface)
        if (s.headline) return &s;
    return nullptr;
}

bool Findings::has_fault() const {
    return std::any_of(messages.begin(), messages.end(), [](const Message& m) { return m.severity == Severity::fault; });
}

}  // namespace wallfoot

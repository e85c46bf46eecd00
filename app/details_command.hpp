// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace wallfoot {

/// `wallfoot details`: lists the starter details with their parameters and site faults. Returns an ExitStatus.
int details_command(const std::vector<std::string>& arguments);
/// `wallfoot begin DETAIL … --out FILE`: writes the study a starter detail makes. Returns an ExitStatus.
int begin_command(const std::vector<std::string>& arguments);
/// `wallfoot faults DETAIL`: what each site fault does to psi, fRsi, water and rules. Returns an ExitStatus.
int faults_command(const std::vector<std::string>& arguments);

extern const char* const details_usage;

}  // namespace wallfoot

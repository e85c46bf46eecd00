#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The arrows between the rooms: who may know what. usage: rooms.sh ROOT [WALLFOOT-EXECUTABLE]
set -euo pipefail
cd "$1"
status=0

# refuse WHY PATTERN GREP-OPTIONS-AND-PLACES…: no include line may match
refuse() {
    local why=$1 pattern=$2
    shift 2
    if grep -rnE "^[[:space:]]*#[[:space:]]*include[[:space:]]*[<\"]($pattern)" "$@"; then
        echo "^ $why"
        status=1
    fi
}

refuse "core, solver and the command know no Qt" 'Q[A-Z]|Qt' core solver app/main.cpp app/arguments.cpp app/details_command.cpp app/dwelling_command.cpp app/foot_command.cpp app/solve_command.cpp app/water_command.cpp
refuse "core knows no Eigen" 'Eigen' core
refuse "CGAL only in core/geometry/triangulate.cpp" 'CGAL' --exclude=triangulate.cpp core
refuse "CGAL only in core" 'CGAL' solver ui app
refuse "Poppler only in ui/exchange/pdf_file.cpp" 'poppler' --exclude=pdf_file.cpp core solver ui app
refuse "nlohmann only in .cpp files" 'nlohmann' --include='*.hpp' core solver ui app
refuse "core knows nobody" '(solver|ui|app)/' core
refuse "solver knows core only" '(ui|app)/' solver
refuse "ui does not know app" 'app/' ui

if [ $# -gt 1 ] && ldd "$2" | grep -i 'libQt'; then
    echo "^ the command links no Qt"
    status=1
fi
exit $status

#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Every source names its licence in its first lines. usage: spdx.sh ROOT
set -euo pipefail
cd "$1"
find core solver ui app tests resources .ci CMakeLists.txt -type f \
    \( -name '*.cpp' -o -name '*.hpp' -o -name '*.sh' -o -name '*.py' -o -name '*.edp' -o -name CMakeLists.txt -o -name run \) -print0 |
    xargs -0 awk '
        FNR == 1 { all[FILENAME] = 1 }
        FNR <= 3 && /SPDX-License-Identifier: GPL-3.0-or-later/ { named[FILENAME] = 1 }
        END {
            for (file in all) if (!(file in named)) { print file ": its first lines lack SPDX-License-Identifier: GPL-3.0-or-later"; lacking = 1 }
            exit lacking
        }'

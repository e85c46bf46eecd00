#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Every source names its licence in its first lines. usage: spdx.sh ROOT
set -euo pipefail
cd "$1"
status=0
while IFS= read -r -d '' file; do
    if ! head -n 3 "$file" | grep -q 'SPDX-License-Identifier: GPL-3.0-or-later'; then
        echo "$file: its first lines lack 'SPDX-License-Identifier: GPL-3.0-or-later'"
        status=1
    fi
done < <(find core solver ui app tests resources .ci CMakeLists.txt -type f \
    \( -name '*.cpp' -o -name '*.hpp' -o -name '*.sh' -o -name '*.py' -o -name '*.edp' -o -name CMakeLists.txt -o -name run \) -print0)
exit $status

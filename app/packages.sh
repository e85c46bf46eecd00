# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by app/run and tests/run: what the build needs from Debian, and how it is built. Expects $root.
# shellcheck shell=bash disable=SC2154

packages=(
    g++ cmake ninja-build pkgconf                               # compiler and build
    qt6-base-dev qt6-svg-dev qt6-charts-dev libqt6opengl6-dev fonts-dejavu-core  # window, picture, plots
    libpoppler-qt6-dev libqpdf-dev                              # pages of PDF files below the section; language of a report
    libcgal-dev libboost-dev libeigen3-dev                      # geometry, equations
    nlohmann-json3-dev libmd-dev                                # study file, its hash
    libminizip-dev                                              # packs for a checker
    libgtest-dev python3-jsonschema python3-scipy poppler-utils parallel  # tests
    chromium-headless-shell tidy                                # tests of pages in one file
)

say() { printf 'wallfoot: %s\n' "$*"; }

is_installed() { [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null)" = installed ]; }

# Installs what is missing; asks for nothing when everything is there.
install_missing() {
    if ! command -v dpkg-query >/dev/null; then
        say "this is not a Debian system; the build needs what Debian calls: ${packages[*]}"
        return 0
    fi
    # Under Wayland without X, Qt needs its platform plugin for it.
    if [ -n "${WAYLAND_DISPLAY:-}" ] && [ -z "${DISPLAY:-}" ]; then packages+=(qt6-wayland); fi
    local missing=() package
    for package in "${packages[@]}"; do
        is_installed "$package" || missing+=("$package")
    done
    [ ${#missing[@]} -gt 0 ] || return 0
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        if ! command -v sudo >/dev/null; then
            say "missing Debian packages, and neither root nor sudo is at hand. As root, run:" >&2
            printf '  apt-get update && apt-get install --no-install-recommends %s\n' "${missing[*]}" >&2
            return 1
        fi
        as_root=(sudo)
    fi
    local log
    log=$(mktemp)
    say "installing from Debian: ${missing[*]}"
    "${as_root[@]}" apt-get -qq update || say "the package lists could not be refreshed; trying with those at hand" >&2
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
        apt-get -qq -y install --no-install-recommends "${missing[@]}" >"$log" 2>&1 || {
        cat "$log" >&2
        rm -f "$log"
        say "the packages could not be installed" >&2
        return 1
    }
    rm -f "$log"
}

# build FOLDER "CMAKE OPTIONS…" TARGET…
build() {
    local folder=$1 options=$2
    shift 2
    say "building in $folder"
    mkdir -p "$folder"
    # shellcheck disable=SC2086  # options are several words
    cmake -S "$root" -B "$folder" -G Ninja -Wno-dev -DWALLFOOT_TOGETHER=ON $options >"$folder/configure.log" 2>&1 || {
        cat "$folder/configure.log" >&2
        return 1
    }
    cmake --build "$folder" --parallel "$(nproc)" --target "$@"
}
